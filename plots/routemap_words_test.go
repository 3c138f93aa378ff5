package plots

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"rimheat/thermal"
)

func TestWorstPlaced(t *testing.T) {
	rim := func(chance, margin float64) thermal.RimResult {
		r := thermal.RimResult{MarginK: margin}
		if chance >= 0 {
			r.Risk = &thermal.Risk{Chance: thermal.Chance{P: chance}}
		}
		return r
	}
	for _, c := range []struct {
		rims []thermal.RimResult
		want int
	}{
		{[]thermal.RimResult{rim(0.2, -5), rim(0.9, 10)}, 1},
		{[]thermal.RimResult{rim(1, 3), rim(1, -40), rim(0.2, -90)}, 1},
		{[]thermal.RimResult{rim(-1, 30), rim(-1, 5), rim(-1, 5)}, 1},
		{[]thermal.RimResult{rim(math.NaN(), 5), rim(0, 60)}, 1},
		{[]thermal.RimResult{rim(-1, math.NaN()), rim(-1, 80)}, 1},
		{[]thermal.RimResult{rim(-1, math.NaN())}, 0},
	} {
		if got := worstPlaced(c.rims); got != c.want {
			t.Errorf("%+v: rim %d, want %d", c.rims, got, c.want)
		}
	}
	// The figure says so.
	a := cases()["five rims"].whole()
	a.Rims[3].Risk.Chance.P = 0.8
	sc := layMap(t, a, Options{}, false).sc
	if said(sc, "Wide aluminium, heavy") != 1 || said(sc, "the worst placed of 5 rims") != 1 || said(sc, "a limit is reached in 80 % of the draws") != 1 {
		t.Error("the sheet does not say which rim it is about, and why")
	}
	if !slices.ContainsFunc(sc.labels, func(l label) bool { return l.role == roleVerdict && l.text == "D" }) {
		t.Error("the rim has lost its tag")
	}
}

func TestRouteMapWords(t *testing.T) {
	recorded := cases()["two descents"].whole()
	recorded.Trace.Stands = nil
	for i := range 9 {
		recorded.Trace.Stands = append(recorded.Trace.Stands, thermal.Stand{AtM: 3000 + 4000*float64(i), S: 20 + 10*float64(i), Recorded: true})
	}
	advised := cases()["two descents"].whole()
	advised.Trace.Stands = nil
	advised.Outlook = &thermal.Outlook{Rests: []thermal.RestAdvice{
		{RimID: "rim-2", Stops: []thermal.CoolStop{{AtM: 5000, S: 1200}}},
		{RimID: "rim-1", Stops: []thermal.CoolStop{{AtM: 32000, S: 600}, {AtM: 8000, S: 300, RollMps: 4}}},
	}}
	both := cases()["two descents"].whole()
	both.Outlook = advised.Outlook
	tyre := cases()["one tyre side"].whole()
	tyre.Rims[0].LimitAssumed, tyre.Rims[0].Limits[0].Assumed = false, false
	two := cases()["two limits"].whole()
	for _, c := range []struct {
		what  string
		a     *thermal.Assessment
		opt   Options
		want  string
		times int
	}{
		{"plan", cases()["two descents"].whole(), Options{}, "rest 10 min", 1},
		{"plan", cases()["two descents"].whole(), Options{}, "advised", 0},
		{"plan", cases()["two descents"].whole(), Options{Imperial: true}, "mile ", 2},
		{"plan", cases()["two descents"].whole(), Options{Imperial: true}, "km", 0},
		{"plan", cases()["two descents"].whole(), Options{Imperial: true}, "°C", 0},
		{"plan", cases()["two descents"].whole(), Options{}, "hairpin (26 in all)", 1},
		{"recorded", recorded, Options{}, "rest 1 min 40 s", 1},
		{"recorded", recorded, Options{}, "rest 50 s", 0},
		{"recorded", recorded, Options{}, "4 rests under 1 min are not shown", 1},
		{"advised", advised, Options{}, "advised stop, 10 min", 1},
		{"advised", advised, Options{}, "advised: roll for 5 min", 1},
		{"advised", advised, Options{}, "20 min", 0},
		{"both", both, Options{}, "advised", 0},
		{"tyre side", tyre, Options{}, "first over its tyre-side limit", 1},
		{"tyre side", tyre, Options{}, "assumed", 0},
		{"tyre side", tyre, Options{}, "limit of 1", 1}, // in the verdict alone: the bar is the track's
		{"tyre side", tyre, Options{}, "limit 1", 0},
		{"two limits", two, Options{}, "limit 180 °C", 2}, // in the verdict and on the bar
		{"bare", two, Options{bare: true}, "limit 180 °C", 1},
		{"bare", two, Options{bare: true}, "Central estimate", 0},
		{"bare", two, Options{bare: true}, "Two limits (invented)", 0},
		{"whole", two, Options{}, "the maker's figure holds", 1},
	} {
		if n := said(layMap(t, c.a, c.opt, false).sc, c.want); n != c.times {
			t.Errorf("%s: %q stands there %d times, want %d", c.what, c.want, n, c.times)
		}
	}
}

// What has no words is counted in the key.
func TestRouteMapCountsWhatIsNotLabelled(t *testing.T) {
	m := layMap(t, cases()["sixty descents"].whole(), Options{}, false)
	numbered := 0
	for _, l := range m.sc.labels {
		if l.role == roleDescent {
			numbered++
		}
	}
	if numbered == 0 || numbered == 60 {
		t.Fatalf("%d of 60 descents are numbered: the case does not show what it should", numbered)
	}
	if want := fmt.Sprintf("(%d of 60 not numbered)", 60-numbered); said(m.sc, want) != 1 {
		t.Errorf("the key does not say %q", want)
	}
}
