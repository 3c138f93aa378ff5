package plots

import (
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"unicode"

	"rimheat/thermal"
)

func TestThinKeepsPeaksEndsAndOrder(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 1))
	const n, parts, endM = 80001, 900, 400000.0
	var s series
	for i := range n {
		s.distM = append(s.distM, endM*float64(i)/(n-1))
		s.v = append(s.v, 60+10*rng.Float64())
	}
	s.v[31234], s.v[55555] = 163.7, 12.5 // one step each
	got := s.thin(endM, parts)
	lo, hi := got.bounds()
	if lo != 12.5 || hi != 163.7 {
		t.Errorf("thinned to %g ... %g, want 12.5 ... 163.7", lo, hi)
	}
	if k := len(got.v); k > 4*parts || k < parts {
		t.Errorf("%d entries left of %d", k, n)
	}
	if !slices.IsSorted(got.distM) {
		t.Error("distances out of order")
	}
	if got.distM[0] != 0 || got.distM[len(got.distM)-1] != endM {
		t.Error("an end is missing")
	}
	if few := (series{distM: []float64{0, 1, 2}, v: []float64{5, 4, 6}}).thin(2, 10); len(few.v) != 3 {
		t.Errorf("of 3 entries %d are left", len(few.v))
	}
}

func TestEnvelopeHoldsTheCurve(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	var line []xy
	for i := range 4000 {
		line = append(line, xy{float64(i) * 0.1, 50 + 30*rng.Float64()})
	}
	line[1717].y = 99
	upper, lower := envelope(line)
	if !slices.Contains(upper, line[1717]) {
		t.Error("the peak is not in the upper bound")
	}
	if !sawing(line, upper) {
		t.Error("a saw is not seen as one")
	}
	for i := range lower {
		if lower[i].y > upper[i].y {
			t.Fatalf("bounds cross at %v", lower[i])
		}
	}
	var smooth []xy
	for i := range 4000 {
		smooth = append(smooth, xy{float64(i) * 0.1, 50 + 30*math.Sin(float64(i)/300)})
	}
	if upper, _ := envelope(smooth); sawing(smooth, upper) {
		t.Error("a smooth curve is taken for a saw")
	}
}

func TestHottestTakesTheHotterWheel(t *testing.T) {
	nan := math.NaN()
	r := thermal.RimResult{
		Front: thermal.History{DistM: []float64{0, 10, 20, 30, 40, 40, 40}, TrackC: []float64{20, 50, nan, 60, 70, 75, 30}},
		Rear:  thermal.History{DistM: []float64{0, 10, 20, 30, 40, 40, 40}, TrackC: []float64{21, 45, 55, nan, 65, 60, 30}},
	}
	got := hottest(&r, func(h *thermal.History) []float64 { return h.TrackC })
	// The last entry, cooling at the stop, goes; the soak before it stays.
	if want := []float64{21, 50, 55, 60, 70, 75}; !slices.Equal(got.v, want) {
		t.Errorf("got %v, want %v", got.v, want)
	}
}

func TestSpread(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 3))
	for range 300 {
		n := 1 + rng.IntN(14)
		centre, size := make([]float64, n), make([]float64, n)
		for i := range centre {
			centre[i], size[i] = 200*rng.Float64(), 2+10*rng.Float64()
		}
		slices.Sort(centre)
		got := spread(centre, size, 0, 200)
		for i := range got {
			if got[i]-size[i]/2 < -1e-6 || got[i]+size[i]/2 > 200+1e-6 {
				t.Fatalf("span %d leaves the line: %v", i, got)
			}
			if i > 0 && got[i]-got[i-1] < (size[i]+size[i-1])/2-1e-6 {
				t.Fatalf("spans %d and %d overlap: %v", i-1, i, got)
			}
		}
	}
	if got := spread([]float64{10, 50}, []float64{5, 5}, 0, 100); got[0] != 10 || got[1] != 50 {
		t.Errorf("spans that do not collide were moved: %v", got)
	}
	if got := spread([]float64{50, 50}, []float64{10, 10}, 0, 100); got[0] != 45 || got[1] != 55 {
		t.Errorf("two spans at 50 went to %v, want 45 and 55", got)
	}
}

func TestTicks(t *testing.T) {
	for _, c := range []struct {
		lo, hi   float64
		most     int
		want     []float64
		decimals int
	}{
		{0, 42, 9, []float64{0, 5, 10, 15, 20, 25, 30, 35, 40}, 0},
		{0, 0.2, 9, []float64{0, 0.05, 0.1, 0.15, 0.2}, 2},
		{0, 400, 9, []float64{0, 50, 100, 150, 200, 250, 300, 350, 400}, 0},
		{-12, 31, 5, []float64{-10, 0, 10, 20, 30}, 0},
		{3, 3, 5, nil, 0},
	} {
		got := ticksIn(c.lo, c.hi, c.most)
		if !slices.EqualFunc(got.at, c.want, func(a, b float64) bool { return math.Abs(a-b) < 1e-9 }) || got.decimals != c.decimals {
			t.Errorf("ticks in %g to %g: %v, %d decimals; want %v, %d", c.lo, c.hi, got.at, got.decimals, c.want, c.decimals)
		}
	}
}

func TestNumbersAndUnits(t *testing.T) {
	metric, imperial := units{}, units{imperial: true}
	for _, c := range []struct{ got, want string }{
		{number(1240, 0), "1,240"}, {number(1234567.89, 1), "1,234,567.9"}, {number(-12.4, 0), "−12"},
		{number(-0.2, 0), "0"}, {number(999.6, 0), "1,000"}, {number(0.05, 2), "0.05"},
		{metric.tempText(120), "120 °C"}, {imperial.tempText(120), "248 °F"},
		{number(imperial.dist(1609.344), 3), "1.000"}, {number(imperial.height(304.8), 1), "1,000.0"},
	} {
		if c.got != c.want {
			t.Errorf("got %q, want %q", c.got, c.want)
		}
	}
}

func TestVerdictsInWords(t *testing.T) {
	nan := math.NaN()
	half := &thermal.Risk{Chance: thermal.Chance{P: 0.5}}
	for _, c := range []struct {
		r    thermal.RimResult
		u    units
		want []string
	}{
		{thermal.RimResult{MarginK: -14.2, LimitC: 120, LimitOn: "track", LimitAssumed: true, JudgedPeakC: 134.2, PeakC: 134.2}, units{}, []string{"central estimate 134 °C: 14 K over the assumed limit of 120 °C"}},
		{thermal.RimResult{MarginK: -0.2, LimitC: 150, LimitOn: "track", JudgedPeakC: 150.2}, units{}, []string{"central estimate 150 °C: less than 1 K over the limit of 150 °C"}},
		{thermal.RimResult{MarginK: -10, LimitC: 120, LimitOn: "track", JudgedPeakC: 130}, units{imperial: true}, []string{"central estimate 266 °F: 18 °F over the limit of 248 °F"}},
		{thermal.RimResult{MarginK: 9, LimitC: 130, LimitOn: thermal.OnTyreSide, LimitAssumed: true, JudgedPeakC: 121, PeakC: 122.6}, units{}, []string{"central estimate 121 °C at the tyre side: 9 K below the assumed limit of 130 °C; track 123 °C"}},
		{thermal.RimResult{MarginK: 38, LimitC: 120, LimitOn: "track", JudgedPeakC: 82, PeakC: 82}, units{}, []string{"central estimate 82 °C: 38 K below the limit of 120 °C"}},
		{thermal.RimResult{MarginK: nan, LimitC: 120, PeakC: 88}, units{}, []string{"central estimate 88 °C, no limit to hold it against"}},
		{thermal.RimResult{MarginK: nan, LimitC: nan, PeakC: nan}, units{}, []string{"no limit to hold it against"}},
		{thermal.RimResult{LimitOn: thermal.OnTyreSide, MarginK: -4, LimitC: 130, PeakC: 138, JudgedPeakC: 134, Limits: []thermal.LimitResult{{On: thermal.OnTrack, LimitC: 180, Assumed: true}, {On: thermal.OnTyreSide, LimitC: 130}},
			Over: []thermal.OverSpan{{DurationS: 40}, {DurationS: 70}}}, units{}, []string{"central estimate 134 °C at the tyre side: 4 K over the limit of 130 °C; over for 1 min 50 s in all; track 138 °C (assumed limit 180 °C)"}},
		{thermal.RimResult{Verdict: thermal.Over, MarginK: 2, LimitC: 120, LimitOn: "track", JudgedPeakC: 118, PeakC: 118, PeakInDoubt: true, Risk: half}, units{},
			[]string{"a limit is reached in 50 % of the draws, road in doubt there", "central estimate 118 °C: 2 K below the limit of 120 °C"}},
		{thermal.RimResult{MarginK: 2, LimitC: 120, LimitOn: "track", JudgedPeakC: 118, PeakC: 118, PeakInDoubt: true, Limits: []thermal.LimitResult{{On: thermal.OnTyreSide, Verdict: thermal.Over}}}, units{},
			[]string{"central estimate 118 °C: 2 K below the limit of 120 °C, over on its tyre side too, road in doubt there"}},
	} {
		if got := verdictLines(&c.r, c.u); !slices.Equal(got, c.want) {
			t.Errorf("got %q, want %q", got, c.want)
		}
	}
	for _, c := range []struct {
		s    float64
		want string
	}{{0.2, "less than 1 s"}, {59.6, "1 min"}, {50, "50 s"}, {110, "1 min 50 s"}, {3599.7, "1 h 0 min"}, {4980, "1 h 23 min"}} {
		if got := timeText(c.s); got != c.want {
			t.Errorf("%g s is written %q, want %q", c.s, got, c.want)
		}
	}
	r := thermal.RimResult{LimitOn: "track", Over: []thermal.OverSpan{{StartM: 31240, StartS: 78 * 60, HeightM: 1240}}}
	for _, c := range []struct{ got, want string }{
		{crossingText(&r, units{}, 60000), "passes its limit at km 31.2, 78 min, 1,240 m"}, {placeText(r.Over[0], units{}, 4000), "km 31.24, 78 min, 1,240 m"}, {overText(&r), ""},
	} {
		if c.got != c.want {
			t.Errorf("got %q, want %q", c.got, c.want)
		}
	}
	r.Over[0].DurationS = 40
	if got, want := overText(&r), "over for 40 s"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	r.Over = append(r.Over, thermal.OverSpan{StartM: 33000, DurationS: 70})
	if got, want := overText(&r), "over for 1 min 50 s in all"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	r.LimitOn = thermal.OnTyreSide
	if got, want := crossingText(&r, units{imperial: true}, 60000), "passes its tyre-side limit at mile 19.4, 78 min, 4,068 ft"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
}

func TestAssumedLimitsInWords(t *testing.T) {
	rim := func(assumed ...bool) thermal.RimResult {
		r := thermal.RimResult{}
		for _, a := range assumed {
			r.Limits = append(r.Limits, thermal.LimitResult{Assumed: a})
			r.LimitAssumed = a
		}
		return r
	}
	for _, c := range []struct {
		rims []thermal.RimResult
		want string
	}{
		{[]thermal.RimResult{rim(false)}, ""},
		{[]thermal.RimResult{rim(true)}, "All limits are assumed. "},
		{[]thermal.RimResult{rim(false, true)}, "One of its limits is assumed. "},
		{[]thermal.RimResult{rim(true, true), rim(true)}, "All limits are assumed. "},
		{[]thermal.RimResult{rim(true, true), rim(false), rim(true)}, "The limits of A and C are assumed. "},
		{[]thermal.RimResult{rim(true), rim(false, true), rim(false)}, "Limits of A and B are assumed, if not all of them. "},
	} {
		if got := assumedText(c.rims); got != c.want {
			t.Errorf("got %q, want %q", got, c.want)
		}
	}
}

func TestLimitsInWords(t *testing.T) {
	rims := []thermal.RimResult{
		{LimitOn: thermal.OnTrack, LimitC: 120}, {LimitOn: thermal.OnTrack, LimitC: 120}, {LimitOn: thermal.OnTyreSide, LimitC: 130},
	}
	for _, c := range []struct {
		l    limitLine
		rims []thermal.RimResult
		want string
	}{
		{limitLine{limitC: 120, assumed: true, rims: []int{0}}, rims[:1], "limit 120 °C, assumed"},
		{limitLine{limitC: 120, rims: []int{0, 1}}, rims, "limit of A and B: 120 °C"},
		{limitLine{limitC: 180, rims: []int{2}}, rims, "brake-track limit of C: 180 °C"},
		{limitLine{limitC: 130, tyreSide: true, assumed: true, rims: []int{2}}, rims, "tyre-side limit of C: 130 °C, assumed"},
	} {
		if got := c.l.text(units{}, c.rims); got != c.want {
			t.Errorf("got %q, want %q", got, c.want)
		}
	}
	few := limitLine{limitC: 120, assumed: true, rims: []int{0, 1}}
	if got := few.short(units{}, 3); got != "A and B: 120 °C, assumed" {
		t.Errorf("got %q", got)
	}
	if got := few.short(units{imperial: true}, 1); got != "248 °F, assumed" {
		t.Errorf("got %q", got)
	}
}

func TestClean(t *testing.T) {
	for _, c := range []struct{ in, want string }{
		{"", ""}, {" \t\n ", ""}, {"Two  hot\npasses\u00a0", "Two hot passes"},
		{"a\x1b[31mb\x00\x07c", "a[31mbc"}, {"x\u202ey\u2066z\u200b", "xyz"},
		{"Vr\xffsi\uFFFD", "Vrsi"}, {"e\u0301", "é"}, {"\uFFFE\uE000ok", "ok"},
		{"o" + strings.Repeat("\u0334", 50), "o\u0334\u0334"},
	} {
		if got := clean(c.in); got != c.want {
			t.Errorf("clean(%q) is %q, want %q", c.in, got, c.want)
		}
	}
	if n := len([]rune(clean(strings.Repeat("W", 10000)))); n != longestName {
		t.Errorf("%d letters of a long name kept, want %d", n, longestName)
	}
}

func TestShown(t *testing.T) {
	ours, err := newTypeface(false)
	if err != nil {
		t.Fatal(err)
	}
	viewers, err := newTypeface(true)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ in, ours, viewers string }{
		{"Vršič–Großes Tor", "Vršič–Großes Tor", "Vršič–Großes Tor"},
		{"山の道 over the 峠 pass", "… over the … pass", "山の道 over the 峠 pass"},
		{"山の道", "", "山の道"},
		{"אבג", "גבא", "אבג"},
		{"山 道 pass 山 の", "… pass …", "山 道 pass 山 の"},
		// A number beside a right-to-left word belongs to it.
		{"אבג 42 km", "km 42 גבא", "אבג 42 km"},
	} {
		if got := ours.shown(c.in); got != c.ours {
			t.Errorf("%q is shown as %q, want %q", c.in, got, c.ours)
		}
		if got := viewers.shown(c.in); got != c.viewers {
			t.Errorf("%q is left to the viewer as %q, want %q", c.in, got, c.viewers)
		}
	}
	if got := ours.routeName("山の道"); !strings.HasPrefix(got, "Route (") {
		t.Errorf("a name without a legible letter is shown as %q", got)
	}
	if got := ours.routeName(" \x00"); got != "Route without a name" {
		t.Errorf("an empty name is shown as %q", got)
	}
}

func TestFitAndWrapStayInside(t *testing.T) {
	tf, err := newTypeface(false)
	if err != nil {
		t.Fatal(err)
	}
	st := textStyle{size: 9}
	for _, s := range []string{"short", strings.Repeat("W", 3000), strings.Repeat("a word ", 50), "Carbon with a hot-set resin, 35 mm"} {
		for _, w := range []float64{40, 120, 500} {
			if got := tf.fit(s, st, w); tf.width(got, st) > w {
				t.Errorf("%.20q cut for %g points is %g wide", s, w, tf.width(got, st))
			}
			lines := tf.wrap(s, st, w, 2)
			if len(lines) < 1 || len(lines) > 2 {
				t.Errorf("%.20q is wrapped into %d lines", s, len(lines))
			}
			for _, l := range lines {
				if tf.width(l, st) > w || strings.TrimFunc(l, unicode.IsSpace) == "" {
					t.Errorf("line %q is %g wide, room %g", l, tf.width(l, st), w)
				}
			}
		}
	}
	if got := tf.wrap("over by 38 K (assumed limit 120 °C), over on its tyre side too", textStyle{size: 9}, 140, 3); !slices.Equal(got, []string{"over by 38 K", "(assumed limit 120 °C), over on its", "tyre side too"}) {
		t.Errorf("what follows a list in brackets is not broken: %q", got)
	}
	if got := tf.wrap("tyre-side limit 130 °C, assumed (B, D)", st, 140, 2); !slices.Equal(got, []string{"tyre-side limit 130 °C, assumed", "(B, D)"}) {
		t.Errorf("a list in brackets is broken: %q", got)
	}
}

func TestRimStylesDiffer(t *testing.T) {
	seen := map[string]int{}
	luma := func(i int) float64 {
		c := styleOfRim(i).track.ink
		return 0.299*float64(c.R) + 0.587*float64(c.G) + 0.114*float64(c.B)
	}
	for i := range 20 {
		st := styleOfRim(i)
		var key strings.Builder
		key.WriteString(string(rune(luma(i))))
		for _, d := range st.track.dash {
			key.WriteString(" " + number(d, 1))
		}
		if j, twice := seen[key.String()]; twice {
			t.Errorf("rims %d and %d look the same", j, i)
		}
		seen[key.String()] = i
		if i > 0 && i < 5 && math.Abs(luma(i)-luma(i-1)) < 40 {
			t.Errorf("rims %d and %d are alike in grey: %.0f and %.0f of 255", i-1, i, luma(i-1), luma(i))
		}
	}
}
