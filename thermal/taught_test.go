package thermal

import (
	"context"
	"errors"
	"math"
	"strings"
	"testing"
)

// A reading moves by its mean and narrows along its direction alone: there the
// standard deviation becomes sqrt(1-a.a), across it stays 1.
func TestTaughtMovesAndNarrows(t *testing.T) {
	k := Taught{Mean: []Named{{"film", 0.5}}, Along: []Named{{"film", 0.6}, {"cda", -0.48}}}
	if err := k.Validate(); err != nil {
		t.Fatal(err)
	}
	if got := k.apply(numbers{}); got[drawFilm] != 0.5 || got[drawCdA] != 0 {
		t.Errorf("the middle moved to %v", got)
	}
	size := math.Hypot(0.6, 0.48)
	var along, across numbers
	along[drawFilm], along[drawCdA] = 0.6/size, -0.48/size
	across[drawFilm], across[drawCdA] = 0.48/size, 0.6/size
	left := func(z numbers) float64 {
		got := k.apply(z)
		return (got[drawFilm]-0.5)*z[drawFilm] + got[drawCdA]*z[drawCdA]
	}
	if got, want := left(along), math.Sqrt(1-size*size); math.Abs(got-want) > 1e-12 {
		t.Errorf("along: %g of it is left, want %g", got, want)
	}
	if got := left(across); math.Abs(got-1) > 1e-12 {
		t.Errorf("across: %g of it is left", got)
	}
	var air numbers
	air[drawAir] = 2
	if got := k.apply(air); got[drawAir] != 2 {
		t.Errorf("another day's air became %g", got[drawAir])
	}
	for name, bad := range map[string]Taught{
		"air-temp":  {Mean: []Named{{"air-temp", 1}}},
		"twice":     {Mean: []Named{{"film", 1}, {"film", 1}}},
		"moved":     {Mean: []Named{{"film", 7}}},
		"less than": {Along: []Named{{"film", 0.8}, {"cda", 0.7}}},
	} {
		if err := bad.Validate(); err == nil || !strings.Contains(err.Error(), name) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// Readings on one rim teach nothing of another rim's film, conduction and pads, but
// the rider's drag and sharing on any.
func TestTaughtStaysWithItsRim(t *testing.T) {
	s := drawing(t, 100, "carbon-deep", "alu-classic")
	s.Readings = []Taught{{RimID: "alu-classic", Mean: []Named{{"film", 1}, {"cda", 1}, {"pads", 0.5}}}}
	w := newDoubts(&s, false).central()
	if w.heat[0].film != 1 || w.heat[0].pads != 0 {
		t.Errorf("the other rim's film is %g, its pads %g", w.heat[0].film, w.heat[0].pads)
	}
	if w.heat[1].film <= 1.1 || w.heat[1].pads <= 0 || w.resistance.CdAM2 <= s.Resistance.CdAM2 {
		t.Errorf("film %g, pads %g, CdA %g", w.heat[1].film, w.heat[1].pads, w.resistance.CdAM2)
	}
}

func thermometer(m, c float64) Reading {
	return Reading{AtM: m, AfterS: DefaultReadAfterS, On: OnTrack, C: c, SdC: DefaultReadingSd, OverC: math.NaN(), UnderC: math.NaN()}
}

// A reading where the draws are densest moves nothing and narrows; a hotter one
// says that air cools worse; one that no draw explains is refused; a second reading
// builds on the first.
func TestLearn(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	ctx, p := context.Background(), demoRoad(t, "drag_hill.gpx")
	s := drawing(t, 300, "carbon-deep")
	at := 0.7 * p.DistM[len(p.DistM)-1]
	first, err := Learn(ctx, p, s, thermometer(at, 120))
	if err != nil {
		t.Fatal(err)
	}
	expected, err := Learn(ctx, p, s, thermometer(at, first.Readings[0].BeforeC.P50))
	if err != nil {
		t.Fatal(err)
	}
	film := func(l *Lesson) float64 {
		for _, n := range l.Taught[0].Mean {
			if n.Name == "film" {
				return n.Value
			}
		}
		return 0
	}
	if m := film(expected); math.Abs(m) > 0.25 {
		t.Errorf("a reading as foretold moved the film by %.2f standard deviations", m)
	}
	if w, v := expected.Readings[0].AfterC.P95-expected.Readings[0].AfterC.P05, expected.Readings[0].BeforeC.P95-expected.Readings[0].BeforeC.P05; w > 0.7*v {
		t.Errorf("after a reading as foretold the place is known to %.0f K, before to %.0f K", w, v)
	}
	hot, err := Learn(ctx, p, s, thermometer(at, first.Readings[0].BeforeC.P95))
	if err != nil {
		t.Fatal(err)
	}
	cold, err := Learn(ctx, p, s, thermometer(at, first.Readings[0].BeforeC.P05))
	if err != nil {
		t.Fatal(err)
	}
	if !(film(hot) < -0.5 && film(cold) > 0.5) {
		t.Errorf("film moved by %.2f for a hot reading, %.2f for a cold one", film(hot), film(cold))
	}
	if !(hot.After.MarginK.P50 < hot.Before.MarginK.P50 && cold.After.MarginK.P50 > cold.Before.MarginK.P50) {
		t.Errorf("margins went from %.0f to %.0f K after a hot reading, to %.0f K after a cold one", hot.Before.MarginK.P50, hot.After.MarginK.P50, cold.After.MarginK.P50)
	}
	for _, c := range []float64{30, 300} {
		var no *Contradiction
		if _, err := Learn(ctx, p, s, thermometer(at, c)); !errors.As(err, &no) || no.Above != (c == 300) {
			t.Errorf("a reading of %g °C: %v", c, err)
		}
	}
	s.Readings = hot.Taught
	second, err := Learn(ctx, p, s, thermometer(at, hot.Readings[0].AfterC.P50))
	if err != nil {
		t.Fatal(err)
	}
	if w, v := second.Readings[0].AfterC.P95-second.Readings[0].AfterC.P05, hot.Readings[0].AfterC.P95-hot.Readings[0].AfterC.P05; w > v {
		t.Errorf("a second reading alike leaves %.1f K, the first %.1f K", w, v)
	}
	// On another day its air, wind and technique are not known again.
	if f := second.Readings[0].BeforeC.P50; !(f > first.Readings[0].BeforeC.P50+2 && f < hot.Readings[0].AfterC.P50+1) {
		t.Errorf("the second reading was foretold at %.1f °C, the first at %.1f °C before and %.1f °C after it was known", f, first.Readings[0].BeforeC.P50, hot.Readings[0].AfterC.P50)
	}
}

// A label that turned says as much as its two temperatures let it, and one with one
// end less.
func TestLearnFromLabel(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	ctx, p := context.Background(), demoRoad(t, "drag_hill.gpx")
	s := drawing(t, 300, "carbon-deep")
	end := p.DistM[len(p.DistM)-1]
	label := func(over, under float64) Reading {
		return Reading{AtM: end, On: OnTyreSide, OverC: over, UnderC: under}
	}
	both, err := Learn(ctx, p, s, label(116, 121))
	if err != nil {
		t.Fatal(err)
	}
	one, err := Learn(ctx, p, s, label(116, math.NaN()))
	if err != nil {
		t.Fatal(err)
	}
	if both.Readings[0].AfterC.P05 < 112 || both.Readings[0].AfterC.P95 > 125 {
		t.Errorf("reached 116 and not 121: %.0f to %.0f °C", both.Readings[0].AfterC.P05, both.Readings[0].AfterC.P95)
	}
	if one.Readings[0].AfterC.P05 < 112 || one.Readings[0].AfterC.P95 < both.Readings[0].AfterC.P95+5 {
		t.Errorf("reached 116: %.0f to %.0f °C", one.Readings[0].AfterC.P05, one.Readings[0].AfterC.P95)
	}
	var no *Contradiction
	if _, err := Learn(ctx, p, s, label(260, math.NaN())); !errors.As(err, &no) || !no.Above {
		t.Errorf("reached 260 °C: %v", err)
	}
	if _, err := Learn(ctx, p, s, label(math.NaN(), 40)); !errors.As(err, &no) || no.Above {
		t.Errorf("stayed below 40 °C: %v", err)
	}
}

// Readings of one ride are weighed together: the day's air is the same for all of
// them, so that two at once teach less than two one after the other, which take the
// day for two days. Each narrows a direction, at right angles.
func TestLearnFromSeveral(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	ctx, p := context.Background(), demoRoad(t, "drag_hill.gpx")
	s := drawing(t, 300, "carbon-deep")
	end := p.DistM[len(p.DistM)-1]
	a, b := thermometer(0.5*end, 128), thermometer(0.8*end, 126)
	b.Rear, b.C = true, 74
	together, err := Learn(ctx, p, s, a, b)
	if err != nil {
		t.Fatal(err)
	}
	if len(together.Taught) != 2 || len(together.Readings) != 2 || len(together.Taught[1].Mean) != 0 {
		t.Fatalf("taught %+v", together.Taught)
	}
	dot := 0.0
	for _, x := range together.Taught[0].Along {
		for _, y := range together.Taught[1].Along {
			if x.Name == y.Name {
				dot += x.Value * y.Value
			}
		}
	}
	if math.Abs(dot) > 0.02 {
		t.Errorf("the directions are at no right angle: %g", dot)
	}
	first, err := Learn(ctx, p, s, a)
	if err != nil {
		t.Fatal(err)
	}
	width := func(p Percentiles) float64 { return p.P95 - p.P05 }
	if w, v := width(together.After.MarginK), width(first.After.MarginK); w > 1.02*v {
		t.Errorf("two readings leave margins over %.1f K, one over %.1f K", w, v)
	}
	// One after the other takes the day for two days: it is surer than it may be.
	second := s
	second.Readings = first.Taught
	chained, err := Learn(ctx, p, second, b)
	if err != nil {
		t.Fatal(err)
	}
	if w, v := width(together.After.MarginK), width(chained.After.MarginK); w < 0.9*v {
		t.Errorf("together they leave margins over %.1f K, one after the other over %.1f K", w, v)
	}
	// Each may be, both cannot.
	a.SdC, b.SdC, b.Rear = 0.5, 0.5, false
	b.AtM, a.C, b.C = a.AtM+300, first.Readings[0].BeforeC.P95, first.Readings[0].BeforeC.P05
	var no *Contradiction
	if _, err := Learn(ctx, p, s, a, b); err == nil || errors.As(err, &no) {
		t.Errorf("%.0f and %.0f °C 300 m apart: %v", a.C, b.C, err)
	}
}

// A late reading at the end of the ride is of a cool wheel, and one after all that is
// reckoned is an error and not the last temperature.
func TestLateReading(t *testing.T) {
	p := demoRoad(t, "drag_hill.gpx")
	s := drawing(t, 100, "carbon-deep")
	q, err := newInquiry(p, s)
	if err != nil {
		t.Fatal(err)
	}
	before := math.Inf(1)
	for _, afterS := range []float64{30, 590, 1200, 1800} {
		r := thermometer(p.DistM[len(p.DistM)-1], 50)
		r.AfterS = afterS
		c, err := q.foretold(context.Background(), r)
		if err != nil {
			t.Fatal(err)
		}
		if c[0] >= before {
			t.Errorf("%g s after the end: %g °C, earlier %g °C", afterS, c[0], before)
		}
		before = c[0]
	}
}
