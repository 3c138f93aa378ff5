package route

import (
	"math/rand/v2"
	"strings"
	"testing"

	"rimheat/testdata/roads"
)

// TestNoiseIsFound: what was added to the heights of invented roads is found
// again, at the spacings of recordings and of planners.
func TestNoiseIsFound(t *testing.T) {
	if testing.Short() {
		t.Skip("takes some seconds")
	}
	add := map[string]struct {
		noise  func([]roads.Point, *rand.Rand)
		found  string
		lo, hi float64
		// to is the widest spacing at which it can be told: 50 m apart, a metre
		// of scatter may as well be wandering, and wandering comes out a third
		// too small.
		to float64
	}{
		"nothing":     {func([]roads.Point, *rand.Rand) {}, HeightsQuiet, 0, 0, 50},
		"white 0.1 m": {func(p []roads.Point, r *rand.Rand) { roads.AddWhiteHeight(p, 0.1, r) }, HeightsQuiet, 0, 0, 25},
		"white 1 m":   {func(p []roads.Point, r *rand.Rand) { roads.AddWhiteHeight(p, 1, r) }, HeightsScatter, 0.9, 1.25, 25},
		"white 3 m":   {func(p []roads.Point, r *rand.Rand) { roads.AddWhiteHeight(p, 3, r) }, HeightsScatter, 2.7, 3.4, 50},
		"wander 5 m":  {func(p []roads.Point, r *rand.Rand) { roads.AddCorrelatedHeight(p, 5, 200, r) }, HeightsWander, 3.8, 6.2, 25},
		"wander 2 m":  {func(p []roads.Point, r *rand.Rand) { roads.AddCorrelatedHeight(p, 2, 200, r) }, HeightsWander, 1.6, 2.5, 25},
		"stairs 1 m":  {func(p []roads.Point, _ *rand.Rand) { roads.StairSteps(p, 1) }, HeightsRounded, 1, 1, 50},
		"stairs 4 m":  {func(p []roads.Point, _ *rand.Rand) { roads.StairSteps(p, 4.2) }, HeightsSteps, 4, 6, 10},
	}
	for name, r := range map[string]*roads.Road{"two passes": roads.TwoPassesHot().Road, "drag hill": roads.DragHill().Road, "mountain": roads.Mountain(40_000, 10, 1).Road} {
		for what, a := range add {
			for _, spacing := range []float64{5, 10, 25, 50} {
				if spacing > a.to {
					continue
				}
				pts := r.Sample(0.8*spacing, 1.2*spacing, rand.New(rand.NewPCG(1, 1)))
				a.noise(pts, rand.New(rand.NewPCG(2, 1)))
				tr := &Track{File: "x"}
				for _, p := range pts {
					tr.Points = append(tr.Points, Point{LatDeg: p.LatDeg, LonDeg: p.LonDeg, HeightM: p.HeightM, HasHeight: true})
				}
				p, err := NewProfile(tr, Options{})
				if err != nil {
					t.Errorf("%s, %s, %v m: %v", name, what, spacing, err)
					continue
				}
				if h := p.Heights; h.Found != a.found || h.NoiseM < a.lo || h.NoiseM > a.hi {
					t.Errorf("%s, %s, points %v m apart: %+v, want %s of %v to %v m", name, what, spacing, h, a.found, a.lo, a.hi)
				}
			}
		}
	}
}

// TestHeightsAsAsked: raw heights stay to the bit, and a length asked for is used.
func TestHeightsAsAsked(t *testing.T) {
	tr := &Track{File: "x"}
	for _, p := range roads.DragHill().Points {
		tr.Points = append(tr.Points, Point{LatDeg: p.LatDeg, LonDeg: p.LonDeg, HeightM: p.HeightM, HasHeight: true})
	}
	raw, err := NewProfile(tr, Options{RawHeights: true})
	if err != nil {
		t.Fatal(err)
	}
	for i := range raw.HeightM {
		if raw.HeightM[i] != raw.RawHeightM[i] {
			t.Fatalf("node %d: %v became %v", i, raw.RawHeightM[i], raw.HeightM[i])
		}
	}
	if !raw.Heights.Asked || !strings.Contains(raw.Heights.Text, "raw") || raw.Heights.SmoothedOverM != 0 {
		t.Errorf("%+v", raw.Heights)
	}
	p, err := NewProfile(tr, Options{SmoothM: 400})
	if err != nil {
		t.Fatal(err)
	}
	if !p.Heights.Asked || p.Heights.SmoothedOverM != 400 || !strings.Contains(p.Heights.Text, "400 m, as asked") {
		t.Errorf("%+v", p.Heights)
	}
	if p.ClimbM+p.DropM >= raw.ClimbM+raw.DropM {
		t.Error("smoothing took no noise away")
	}
	for _, m := range []float64{-1, 19, 5001} {
		if _, err := NewProfile(tr, Options{SmoothM: m}); err == nil || !strings.Contains(err.Error(), "outside 20 to 5,000 m") {
			t.Errorf("%v m: %v", m, err)
		}
	}
}

// TestRampsAreNoNoise: a road whose grade changes every 100 to 150 m, rounded or
// scattered or not, is not taken for heights that wander, and keeps its ramps; nor
// does a level start hide the noise of the hill behind it.
func TestRampsAreNoNoise(t *testing.T) {
	ramps := func(lengthM, a, b float64) *roads.Road {
		var slopes []roads.Slope
		for range 30 {
			slopes = append(slopes, roads.Slope{LengthM: lengthM, Grade: a}, roads.Slope{LengthM: lengthM, Grade: b})
		}
		return roads.NewBuilder(-0.3, -22, 3000, slopes).Road()
	}
	profile := func(pts []roads.Point) *Profile {
		tr := &Track{File: "x"}
		for _, p := range pts {
			tr.Points = append(tr.Points, Point{LatDeg: p.LatDeg, LonDeg: p.LonDeg, HeightM: p.HeightM, HasHeight: true})
		}
		p, err := NewProfile(tr, Options{})
		if err != nil {
			t.Fatal(err)
		}
		return p
	}
	for _, lengthM := range []float64{150, 200, 300} {
		r := ramps(lengthM, -0.02, -0.16)
		for what, spoil := range map[string]func(p []roads.Point){
			"exact":   func([]roads.Point) {},
			"rounded": func(p []roads.Point) { roads.StairSteps(p, 1) },
			"±0.3 m":  func(p []roads.Point) { roads.AddWhiteHeight(p, 0.3, rand.New(rand.NewPCG(1, 1))) },
		} {
			pts := r.Sample(8, 12, rand.New(rand.NewPCG(1, 1)))
			spoil(pts)
			p := profile(pts)
			steepest := 0.0
			for _, g := range p.Grade {
				steepest = min(steepest, g)
			}
			if p.Heights.Found == HeightsWander || steepest > -0.14 {
				t.Errorf("ramps of %v m, %s: %s, steepest %.1f %%", lengthM, what, p.Heights.Text, 100*steepest)
			}
		}
	}
	lake := roads.NewBuilder(-0.3, -22, 1000, []roads.Slope{{LengthM: 30_000}, {LengthM: 8000, Grade: -0.08}}).Road()
	pts := lake.Sample(8, 12, rand.New(rand.NewPCG(1, 1)))
	for i := range pts {
		if pts[i].M > 30_000 {
			pts[i].HeightM += 3 * rand.New(rand.NewPCG(uint64(i), 1)).NormFloat64()
		}
	}
	if h := profile(pts).Heights; h.Found != HeightsScatter || h.NoiseM < 2.4 || h.NoiseM > 3.6 {
		t.Errorf("level, then ±3 m: %+v", h)
	}
}
