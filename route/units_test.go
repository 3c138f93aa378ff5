package route_test

import (
	"bytes"
	"math"
	"strings"
	"testing"
	"time"

	"rimheat/route"
	"rimheat/testdata/roads"
)

// TestFastClimbs: with recorded times heights in feet show as a rate of climb
// that nobody rides; without, and at rates that riders reach, nothing is said.
func TestFastClimbs(t *testing.T) {
	timed := func(grade, kmh, perMetre float64) *route.Track {
		tr := slope(1000, 10, grade)
		for i := range tr.Points {
			tr.Points[i].HeightM *= perMetre
			tr.Points[i].Time = roads.AwkwardStart.Add(time.Duration(float64(i) * 10 / (kmh / 3.6) * float64(time.Second)))
		}
		return tr
	}
	const inFeet = 1 / 0.3048
	for _, c := range []struct {
		grade, kmh, perMetre float64
		want                 int
	}{
		{0.06, 12, 1, 0}, {0.06, 12, inFeet, 1}, {0.03, 12, inFeet, 0}, {0.08, 22, 1, 0}, {0.08, 26, 1, 0}, {0.11, 20, 1, 1}, {0.06, 40, inFeet, 0},
		{-0.06, 20, inFeet, 0}, // downhill a rate tells nothing
	} {
		p := profiled(t, timed(c.grade, c.kmh, c.perMetre))
		if n := repaired(p.Repairs, "fast-climb"); n != c.want {
			t.Errorf("%+v: %v", c, p.Repairs)
		}
	}
	tr := timed(0.06, 12, inFeet)
	wantText(t, profiled(t, tr), "fast-climb", "climbs by 2,362 m an hour for 20 min up to km ")
	for i := range tr.Points { // a clock that starts anew every ten minutes
		tr.Points[i].Time = roads.AwkwardStart.Add(time.Duration(i%200) * 3 * time.Second)
	}
	if p := profiled(t, tr); repaired(p.Repairs, "fast-climb") != 0 {
		t.Errorf("a clock going back: %v", p.Repairs)
	}
	for i := range tr.Points {
		tr.Points[i].Time = time.Time{}
	}
	if p := profiled(t, tr); repaired(p.Repairs, "fast-climb") != 0 {
		t.Errorf("no times: %v", p.Repairs)
	}
}

// TestFeetPattern: only heights that are all whole metres in feet, and enough
// different ones, tell of feet.
func TestFeetPattern(t *testing.T) {
	const foot = 0.3048
	made := func(n int, height func(i int) float64) *route.Profile {
		tr := slope(n, 50, 0)
		for i := range tr.Points {
			tr.Points[i].HeightM = height(i)
		}
		return profiled(t, tr)
	}
	round := func(v, to float64) float64 { return to * math.Round(v/to) }
	for name, c := range map[string]struct {
		p    *route.Profile
		want int
	}{
		"metres in feet":                 {made(40, func(i int) float64 { return float64(300+i) / foot }), 40},
		"rounded to a centimetre":        {made(40, func(i int) float64 { return round(float64(300+i)/foot, 0.01) }), 40},
		"rounded to a tenth":             {made(40, func(i int) float64 { return round(float64(300+i)/foot, 0.1) }), 40},
		"rounded to whole feet":          {made(40, func(i int) float64 { return round(float64(300+i)/foot, 1) }), 40},
		"too few":                        {made(11, func(i int) float64 { return float64(300+i) / foot }), 0},
		"too few different ones":         {made(40, func(i int) float64 { return float64(300+min(i%20, 20-i%20)) / foot }), 0},
		"one that is none":               {made(40, func(i int) float64 { return float64(300+i+i/39)/foot + 0.7*float64(i/39) }), 0},
		"whole metres":                   {made(40, func(i int) float64 { return float64(300 + i) }), 0},
		"tens of metres":                 {made(40, func(i int) float64 { return float64(300 + 10*i) }), 0},
		"level":                          {made(40, func(i int) float64 { return 300 }), 0},
		"whole feet turned into metres":  {made(40, func(i int) float64 { return float64(300+i) * foot }), 0},
		"tenths of metres all different": {made(40, func(i int) float64 { return 300 + 0.1*float64(i) }), 0},
	} {
		if n := repaired(c.p.Repairs, "feet-pattern"); n != c.want {
			t.Errorf("%s: %v, want %d", name, c.p.Repairs, c.want)
		}
	}
}

func TestVeryHighRoads(t *testing.T) {
	at := func(h float64) *route.Profile {
		tr := slope(300, 10, -0.05)
		for i := range tr.Points {
			tr.Points[i].HeightM += h - 1500
		}
		return profiled(t, tr)
	}
	if p := at(5000); len(p.Repairs) != 0 {
		t.Errorf("%v", p.Repairs)
	}
	p := at(5001)
	wantText(t, p, "very-high", "heights of up to 5,001 m, higher than nearly all public roads: are the heights in feet?")
	if n := repaired(p.Repairs, "very-high"); n != 2 {
		t.Errorf("%d points above 5,000 m", n)
	}
}

// TestNoQuestionAfterConversion: heights that show whole feet in metres are not
// asked whether they are in feet.
func TestNoQuestionAfterConversion(t *testing.T) {
	tr := slope(400, 10, -0.21)
	for i := range tr.Points {
		tr.Points[i].HeightM = 0.3048 * math.Round(tr.Points[i].HeightM/0.3048)
	}
	if got := textOf(t, profiled(t, tr), "very-steep"); strings.Contains(got, "in feet?") || !strings.HasSuffix(got, "They are whole feet turned into metres") {
		t.Error(got)
	}
}

// TestBrokenUTF8: every byte that is not UTF-8 is read as Windows-1252, also
// where reading stops inside of a letter, and nothing else changes.
func TestBrokenUTF8(t *testing.T) {
	for in, want := range map[string]string{
		"\xe9t\xe9":                      "été",
		"é\xe9é":                         "ééé",
		"\x80\x93\x94":                   "€“”",
		"\xf0\x9f":                       "ðŸ",
		"\xe2\x82":                       "â‚",
		"\xe2\x82\xac and \xe2\x82":      "€ and â‚",
		strings.Repeat("€", 66) + "\xe9": strings.Repeat("€", 66) + "é",
	} {
		for pad := range 5 { // moves the letters over the ends of the buffers
			head := strings.Repeat("<!-- € -->", 4096/12) + strings.Repeat(" ", pad)
			text := `<?xml version="1.0" encoding='utf-8'?>` + head + doc(strings.Replace(body, "invented", in, 1))
			tr, err := route.Read(&oneByte{bytes.NewReader([]byte(text))}, "r.gpx", route.Options{})
			if err != nil || tr.Name != want {
				t.Errorf("%q: %v, %v", in, err, tr)
				continue
			}
			if n := repaired(tr.Repairs, "not-utf-8"); n < 1 || len(tr.Repairs) != 1 {
				t.Errorf("%q: %v", in, tr.Repairs)
			}
		}
	}
}

// A oneByte reader gives a byte at a time.
type oneByte struct{ r *bytes.Reader }

func (o *oneByte) Read(p []byte) (int, error) { return o.r.Read(p[:min(len(p), 1)]) }
