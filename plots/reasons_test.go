package plots

import (
	"bytes"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"rimheat/thermal"
)

// inventedDrivers are made-up parts of a variance, in no order.
func inventedDrivers() []thermal.Driver {
	return []thermal.Driver{
		{ID: "wind", Name: "wind", First: 0.05, Total: 0.11, TotalSE: 0.02},
		{ID: "film", Name: "cooling by moving air", First: 0.41, Total: 0.43, TotalSE: 0.03},
		{ID: "crr", Name: "rolling resistance (Crr)", First: 0.004, Total: 0.006, TotalSE: 0.001},
		{ID: "limit", Name: "what the resin bears", First: 0.22, Total: 0.2, TotalSE: 0.01},
		{ID: "front-share", Name: "sharing of the brakes", First: 0.16, Total: 0.31, TotalSE: 0},
		{ID: "pads", Name: "heat into the pads"},
	}
}

// drawn gives an invented assessment that draws were made for.
func drawn(name string) *thermal.Assessment {
	a := cases()[name].assessment()
	a.Sampling = &thermal.SamplingSummary{Samples: 500, Seed: 1}
	for i := range a.Rims {
		r := &a.Rims[i]
		m := r.MarginK
		r.Risk = &thermal.Risk{
			Chance: thermal.Chance{P: 0.43}, MarginK: thermal.Percentiles{P05: m - 30, P50: m, P95: m + 30},
			Drivers: inventedDrivers(), Explained: 0.99,
		}
		r.Limits[0].LowC, r.Limits[0].HighC = r.LimitC-20, r.LimitC+25
	}
	return a
}

// reasonCases are assessments that try the layout.
func reasonCases() map[string]*thermal.Assessment {
	all := map[string]*thermal.Assessment{
		"one":   drawn("one rim"),
		"doubt": drawn("two descents"),
		"two":   drawn("two descents"),
		"five":  drawn("five rims"),
		"dozen": drawn("twelve rims"),
		"stop":  drawn("ends in a stop"),
		"none":  drawn("two descents"),
		"few":   drawn("two descents"),
		"torn":  drawn("five rims"),
		"wide":  drawn("two descents"),
		"same":  drawn("one rim"),
		"whole": drawn("one rim"),
		"names": drawn("two descents"),
	}
	for i := range all["none"].Rims {
		all["none"].Rims[i].Risk.Drivers = nil
	}
	doubt := &all["doubt"].Rims[0]
	doubt.PeakInDoubt, doubt.Tyre.Over, doubt.Risk.Chance.P = true, true, 1
	doubt.Limits = append(doubt.Limits, thermal.LimitResult{On: thermal.OnTyreSide, Verdict: thermal.Over})
	few := all["few"].Rims[0].Risk
	few.Drivers = few.Drivers[2:3]
	all["torn"].Rims[1].Risk.Explained = 0.62
	all["torn"].Rims[4].Risk.Explained = -3
	for i := range all["wide"].Rims[0].Risk.Drivers {
		all["wide"].Rims[0].Risk.Drivers[i].TotalSE = 7
	}
	same := all["same"].Rims[0].Risk
	same.Drivers, same.MarginK = nil, thermal.Percentiles{P05: 5, P50: 5, P95: 5}
	all["whole"].Rims[0].Risk.Drivers = []thermal.Driver{{Name: "wind", First: 1, Total: 1, TotalSE: 0.3}}
	names := all["names"].Rims[0].Risk
	for i, n := range []string{strings.Repeat("W", 10000), "\x1b[31m\u202ered\x00", "הדרך אל ההר", "山の道", "", strings.Repeat("élégant ", 90)} {
		names.Drivers[i].Name, names.Drivers[i].Total = n, 0.1+0.1*float64(i)
	}
	return all
}

func reasonsScene(t *testing.T, a *thermal.Assessment, imperial, viewerFonts bool) *scene {
	t.Helper()
	tf, err := newTypeface(viewerFonts)
	if err != nil {
		t.Fatal(err)
	}
	sc, err := composeReasons(a, units{imperial: imperial}, tf)
	if err != nil {
		t.Fatal(err)
	}
	return sc
}

func TestReasonsGoldenOutlines(t *testing.T) {
	holdGolden(t, "two", "reasons", outline(reasonsScene(t, reasonCases()["two"], false, false)))
	holdGolden(t, "torn", "reasons_imperial", outline(reasonsScene(t, reasonCases()["torn"], true, false)))
}

// Labels lie apart and on the sheet and no line runs through one.
func TestReasonsLayout(t *testing.T) {
	for name, a := range reasonCases() {
		for k := range 4 {
			t.Run(fmt.Sprintf("%s, %d", name, k), func(t *testing.T) {
				sc := reasonsScene(t, a, k&1 > 0, k&2 > 0)
				checkNarrow(t, sc, roleBar, roleShared, roleWhisker, roleKey)
				for _, l := range sc.labels {
					if strings.ContainsAny(l.text, "\x1b\x00\u202e\xff") {
						t.Errorf("%q", l.text)
					}
					if name != "names" && strings.Contains(l.text, "…") {
						t.Errorf("%q is cut", l.text)
					}
				}
			})
		}
	}
	for _, name := range []string{"hostile names", "long word", "right to left", "only missing", "no name"} {
		a := drawn(name)
		for _, viewers := range []bool{false, true} {
			checkNarrow(t, reasonsScene(t, a, false, viewers), roleBar, roleShared, roleWhisker, roleKey)
		}
		for _, format := range Formats() {
			var b bytes.Buffer
			if err := SaveReasons(&b, format, a, Options{}); err != nil {
				t.Fatal(err)
			}
			if format == "svg" {
				checkSVG(t, name, b.Bytes())
			}
		}
	}
}

// Bars are as long as their parts, the strongest highest; each has its number, and
// whiskers reach 1.96 standard errors.
func TestReasonsDrawTheirParts(t *testing.T) {
	sc := reasonsScene(t, reasonCases()["one"], false, false)
	var numbers []label
	for _, l := range sc.labels {
		if l.role == roleBar && strings.HasSuffix(l.text, " %") {
			numbers = append(numbers, l)
		}
	}
	var texts []string
	for i, l := range numbers {
		texts = append(texts, l.text)
		if i > 0 && l.at.y >= numbers[i-1].at.y {
			t.Errorf("%s stands over %s", l.text, numbers[i-1].text)
		}
	}
	if want := []string{"43 %", "31 %", "20 %", "11 %"}; !slices.Equal(texts, want) {
		t.Errorf("bars of %v, want %v", texts, want)
	}
	bars := sc.boxes(roleBar)
	if len(bars) != 4 {
		t.Fatalf("%d bars", len(bars))
	}
	zero := bars[0].x0
	scale := (bars[0].x1 - zero) / 0.41
	for i, first := range []float64{0.41, 0.16, 0.2, 0.05} {
		if got := (bars[i].x1 - zero) / scale; math.Abs(got-first) > 1e-9 {
			t.Errorf("bar %d shows %.3f by itself, want %.3f", i, got, first)
		}
	}
	reach := map[string]float64{}
	for _, b := range sc.boxes(roleWhisker) {
		if b.x1 > b.x0 {
			reach[number(b.x0, 3)] = (b.x1 - b.x0) / scale
		}
	}
	var got []float64
	for _, v := range reach {
		got = append(got, v)
	}
	slices.Sort(got)
	for i, se := range []float64{0.01, 0.02, 0.03} {
		if len(got) != 3 || math.Abs(got[i]-2*1.96*se) > 1e-9 {
			t.Fatalf("whiskers %v", got)
		}
	}
	shared := 0.0
	for _, b := range sc.boxes(roleShared) {
		shared = max(shared, (b.x1-b.x0)/scale)
	}
	if math.Abs(shared-0.15) > 1e-9 {
		t.Errorf("the longest continuation shows %.3f, want 0.15", shared)
	}
}

func TestReasonsWords(t *testing.T) {
	all := reasonCases()
	maker := drawn("one rim")
	maker.Rims[0].LimitAssumed = false
	all["maker's"] = maker
	for _, c := range []struct {
		name     string
		imperial bool
		want     string
		times    int
	}{
		{"two", false, "a limit is reached in 43 % of the draws", 2},
		{"two", false, "deciding limit: brake track, 120 °C, assumed (believed to lie from 100 to 145 °C)", 1},
		{"two", false, "deciding limit: tyre side, 130 °C, assumed", 1},
		{"two", true, "deciding limit: brake track, 248 °F, assumed (believed to lie from 212 to 293 °F)", 1},
		{"two", false, "2 more under 1 %; the fit behind the bars accounts for 99 % of the variance", 2},
		{"two", false, "500 draws, seed 1", 1},
		{"two", false, "no source", 1},
		{"maker's", false, "deciding limit: brake track, 120 °C, the rim maker's figure as it was given", 1},
		{"maker's", false, "assumed", 0},
		{"torn", false, "Too many things at once", 2},
		{"torn", false, "the fit behind the bars", 3},
		{"none", false, "On no input that would make 1 % of the variance.", 2},
		{"none", false, "by itself", 0},
		{"few", false, "On no input that would make 1 % of the variance.", 1},
		{"same", false, "On nothing: the margin is the same in all draws.", 1},
		{"same", true, "nine of ten draws end 9 °F to spare", 1},
		{"whole", false, "100 %", 2}, // the bar's and the axis'
	} {
		if n := said(reasonsScene(t, all[c.name], c.imperial, false), c.want); n != c.times {
			t.Errorf("%s: %q stands there %d times, want %d", c.name, c.want, n, c.times)
		}
	}
	if one, five := reasonsScene(t, all["one"], false, false).h, reasonsScene(t, all["five"], false, false).h; five < 3*one {
		t.Errorf("the sheet does not grow: %g, %g", one, five)
	}
}

func TestFromTo(t *testing.T) {
	for _, c := range []struct {
		lo, hi   float64
		imperial bool
		want     string
	}{
		{-71, -7, false, "71 K to 7 K over"}, {-6, 48, false, "6 K over to 48 K to spare"}, {5, 50, true, "9 °F to 90 °F to spare"},
		{-0.2, 0.2, false, "less than 1 K over to less than 1 K to spare"}, {0, 0, false, "less than 1 K over"},
	} {
		if got := fromTo(thermal.Percentiles{P05: c.lo, P95: c.hi}, units{imperial: c.imperial}); got != c.want {
			t.Errorf("%v: %q, want %q", c, got, c.want)
		}
	}
}

func TestSaveReasons(t *testing.T) {
	good := reasonCases()["five"]
	for format, begin := range map[string]string{"png": "\x89PNG", "svg": "<?xml", "pdf": "%PDF"} {
		var a, b bytes.Buffer
		if err := SaveReasons(&a, format, good, Options{}); err != nil {
			t.Fatal(err)
		}
		if err := SaveReasons(&b, format, good, Options{}); err != nil {
			t.Fatal(err)
		}
		if !strings.HasPrefix(a.String(), begin) || !bytes.Equal(a.Bytes(), b.Bytes()) {
			t.Errorf("%s: begins with %q, or two figures differ", format, a.String()[:8])
		}
	}
	spoilt := func(spoil func(a *thermal.Assessment)) *thermal.Assessment {
		a := drawn("two descents")
		spoil(a)
		return a
	}
	none := "what was drawn for rim 2 holds a number that is none"
	checkRefusals(t, SaveReasons, []refusal{
		{"gif", good, `figure format "gif" is none of png, svg, pdf`},
		{"png", nil, "no assessment to draw a figure of"},
		{"png", &thermal.Assessment{}, "the assessment has no rim to draw"},
		{"png", cases()["one rim"].assessment(), "nothing was drawn: what an answer hangs on comes from draws"},
		{"png", spoilt(func(a *thermal.Assessment) { a.Rims[1].Risk = nil }), "nothing was drawn for rim 2: what an answer hangs on comes from draws"},
		{"svg", spoilt(func(a *thermal.Assessment) { a.Rims[1].Risk.Explained = math.NaN() }), none},
		{"svg", spoilt(func(a *thermal.Assessment) { a.Rims[1].Risk.MarginK.P95 = math.Inf(1) }), none},
		{"svg", spoilt(func(a *thermal.Assessment) { a.Rims[1].Risk.Drivers[3].Total = math.NaN() }), none},
		{"svg", spoilt(func(a *thermal.Assessment) { a.Rims[1].Risk.Drivers[5].TotalSE = math.Inf(1) }), none},
	})
}
