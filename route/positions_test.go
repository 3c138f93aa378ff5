package route_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"rimheat/route"
	"rimheat/testdata/roads"
)

// windingRoad is 30 km of a style of the demonstration roads.
func windingRoad(s roads.Style) *roads.Road {
	b := roads.NewBuilder(-0.3, -22, 3000, []roads.Slope{{LengthM: 30_000, Grade: -0.05}})
	b.Wind(29_000, s, seeded(1))
	return b.Road()
}

func saying(repairs []route.Repair, kind string) string {
	for _, r := range repairs {
		if r.Kind == kind {
			return r.Text
		}
	}
	return ""
}

// TestLengthWithNoise: white noise of positions is taken out of the length of
// winding roads and hairpins, and said; slow wander, which adds little, stays.
func TestLengthWithNoise(t *testing.T) {
	for name, style := range map[string]roads.Style{"valley": roads.Valley, "winding": roads.Winding, "hairpins": roads.Hairpins} {
		r := windingRoad(style)
		for _, c := range []struct {
			noise    jitter
			spacing  float64
			most     float64 // error, part of the length
			repaired bool
		}{
			{jitter{3, 0}, 10, 0.005, true}, {jitter{3, 0}, 5, 0.005, true}, {jitter{3, 0}, 3, 0.005, true},
			{jitter{2, 0}, 10, 0.003, true}, {jitter{1, 0}, 10, 0.003, true}, {jitter{1, 0}, 5, 0.003, true},
			{jitter{0.7, 80}, 10, 0.002, false}, {jitter{0.7, 80}, 5, 0.002, false}, {jitter{}, 10, 0.002, false}, {jitter{}, 3, 0.001, false},
		} {
			for seed := range uint64(2) {
				pts := c.noise.sample(r, c.spacing, seed)
				p := profileOf(t, pts)
				off := p.DistanceM/r.LengthM() - 1
				t.Logf("%s, %v, every %v m: length %+.2f %%", name, c.noise, c.spacing, 100*off)
				if math.Abs(off) > c.most {
					t.Errorf("%s, %v, every %v m: length off by %+.2f %%", name, c.noise, c.spacing, 100*off)
				}
				if text := saying(p.Repairs, "position-noise"); (text != "") != c.repaired {
					t.Errorf("%s, %v, every %v m: %q", name, c.noise, c.spacing, text)
				}
			}
		}
	}
}

// TestJitterIsSaid: the repair tells how large the noise was and what it did.
func TestJitterIsSaid(t *testing.T) {
	pts := jitter{3, 0}.sample(windingRoad(roads.Winding), 10, 1)
	p := profileOf(t, pts)
	text := saying(p.Repairs, "position-noise")
	if !strings.HasPrefix(text, "positions jitter by some 3.") && !strings.HasPrefix(text, "positions jitter by some 2.9") || !strings.Contains(text, "shorter than point to point") {
		t.Errorf("%q", text)
	}
	n := len(p.LatDeg)
	if p.LatDeg[0] != pts[0].LatDeg || p.LonDeg[n-1] != pts[len(pts)-1].LonDeg {
		t.Error("the ends moved")
	}
}

// TestCleanPositionsStay: without noise worth it, points are left where they
// are, to the bit: the nodes at both ends of a step of exactly the grid's are
// those of the file.
func TestCleanPositionsStay(t *testing.T) {
	for _, d := range roads.Committed() {
		p := profileOf(t, d.Points)
		if len(p.Repairs) != 0 {
			t.Errorf("%s: %v", d.File, p.Repairs)
		}
		whole := 0.0
		for i := 1; i < len(d.Points); i++ {
			a, err := route.NewProfile(line(d.Points[i-1].LatDeg, d.Points[i-1].LonDeg, d.Points[i].LatDeg, d.Points[i].LonDeg), route.Options{})
			if err != nil {
				t.Fatal(err)
			}
			whole += a.DistanceM
			if i == 200 { // enough, and quick
				break
			}
		}
		q := profileOf(t, d.Points[:201])
		if q.DistanceM != whole {
			t.Errorf("%s: %v m, the sum of the steps is %v", d.File, q.DistanceM, whole)
		}
	}
}

// TestHairpinsSurviveSmoothing: with white noise of 3 m every 10 m, hairpins of
// 8 to 15 m keep their radius within 40 % on nine of ten.
func TestHairpinsSurviveSmoothing(t *testing.T) {
	for _, radius := range []float64{8, 10, 12, 15} {
		r := bendRoad(radius, math.Pi, 60)
		got := found(t, r, jitter{3, 0}.sample(r, 10, 3))
		n := len(got)
		t.Logf("R %v m: %.2f %.2f %.2f", radius, got[n/20], got[n/2], got[n-1-n/20])
		if got[n/20] < 0.6 || got[n-1-n/20] > 1.4 {
			t.Errorf("R %v m: %.2f to %.2f of the true radius", radius, got[n/20], got[n-1-n/20])
		}
	}
}

// standing puts n points around point k that wander by sdM metres on each
// axis, each keeping the part keep of where the one before was.
func standing(r *roads.Road, pts []roads.Point, k, n int, sdM, keep float64, seed uint64) []roads.Point {
	rng := seeded(seed)
	here := pts[k]
	const perDegreeM = 111_000
	east, north := sdM*rng.NormFloat64(), sdM*rng.NormFloat64()
	var stay []roads.Point
	for range n {
		p := here
		p.LatDeg += north / perDegreeM
		p.LonDeg += east / perDegreeM
		stay = append(stay, p)
		fresh := sdM * math.Sqrt(1-keep*keep)
		east, north = keep*east+fresh*rng.NormFloat64(), keep*north+fresh*rng.NormFloat64()
	}
	return slices.Concat(pts[:k+1], stay, pts[k+1:])
}

// TestStandstill: a recording that stands still adds next to no road and no
// corner, at the start, on the way and at the end.
func TestStandstill(t *testing.T) {
	b := roads.NewBuilder(-0.3, -22, 100, []roads.Slope{{LengthM: 4000, Grade: -0.01}})
	b.Straight(4000)
	r := b.Road()
	for _, spacing := range []float64{3, 8, 20} {
		for _, wander := range []struct{ sdM, keep float64 }{{3, 0}, {3, 0.98}, {1, 0}, {1, 0.9}} {
			pts := r.Sample(0.9*spacing, 1.1*spacing, seeded(1))
			for _, k := range []int{len(pts) - 1, len(pts) / 2, 0} {
				pts = standing(r, pts, k, 300, wander.sdM, wander.keep, uint64(k))
			}
			p := profileOf(t, pts)
			long := p.DistanceM - r.LengthM()
			sharp := slices.Min(p.CornerRadiusM)
			t.Logf("every %v m, %v: %+.1f m, sharpest %.0f m: %s", spacing, wander, long, sharp, saying(p.Repairs, "standstill"))
			if math.Abs(long) > 25 || repaired(p.Repairs, "standstill") < 600 {
				t.Errorf("every %v m, %v: %+.1f m of road, repairs %v", spacing, wander, long, p.Repairs)
			}
			if sharp < 60 {
				t.Errorf("every %v m, %v: a corner of %.0f m", spacing, wander, sharp)
			}
		}
	}
}

// TestNoStandstillOnTheWay: no road is taken for a standstill: not dense points,
// not tight hairpins, not slow riding with much noise.
func TestNoStandstillOnTheWay(t *testing.T) {
	hairpins := bendRoad(8, math.Pi, 20)
	for _, c := range []struct {
		r       *roads.Road
		noise   jitter
		spacing float64
	}{
		{hairpins, jitter{}, 0.5}, {hairpins, jitter{}, 2}, {hairpins, jitter{0.7, 80}, 1}, {hairpins, jitter{1, 0}, 3}, {hairpins, jitter{3, 0}, 3},
		{bendRoad(5, math.Pi, 20), jitter{}, 1}, {straightRoad(50_000), jitter{3, 0}, 2}, {straightRoad(50_000), jitter{1, 0}, 1},
	} {
		if p := profileOf(t, c.noise.sample(c.r, c.spacing, 2)); repaired(p.Repairs, "standstill") != 0 {
			t.Errorf("%v, every %v m: %v", c.noise, c.spacing, p.Repairs)
		}
	}
}

// TestNothingButStanding: a file of nothing but a standstill is left as it is.
func TestNothingButStanding(t *testing.T) {
	b := roads.NewBuilder(-0.3, -22, 100, []roads.Slope{{LengthM: 20, Grade: 0}})
	b.Straight(20)
	pts := standing(b.Road(), b.Road().Sample(20, 20, seeded(1))[:1], 0, 400, 3, 0, 1)
	p, err := route.NewProfile(trackOf(pts), route.Options{})
	if err != nil {
		t.Fatal(err)
	}
	sound(t, p)
}

// TestReversingNoisyTracks: jitter is measured and smoothed alike from both
// ends.
func TestReversingNoisyTracks(t *testing.T) {
	r := windingRoad(roads.Hairpins)
	for _, noise := range []jitter{{1, 0}, {3, 0}} {
		tr := trackOf(noise.sample(r, 8, 1))
		a, err := route.NewProfile(tr, route.Options{})
		if err != nil {
			t.Fatal(err)
		}
		b, err := route.NewProfile(reversed(tr), route.Options{})
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(a.DistanceM/b.DistanceM-1) > 1e-7 || len(a.HairpinM) != len(b.HairpinM) || len(a.HairpinM) == 0 {
			t.Errorf("%v: %v m with %d hairpins, reversed %v m with %d", noise, a.DistanceM, len(a.HairpinM), b.DistanceM, len(b.HairpinM))
		}
	}
}

// TestZigzagIsNoNoise: switchbacks drawn by their corners alone turn to alternate
// sides as noise does, and are the shape of the road.
func TestZigzagIsNoNoise(t *testing.T) {
	tr := &route.Track{File: "zigzag"}
	for i := range 200 {
		east := 0.0
		if i%2 == 1 {
			east = 45
		}
		tr.Points = append(tr.Points, route.Point{LatDeg: float64(i) * 22 / 110_574, LonDeg: -20 + east/111_319, HeightM: 1500 - 4*float64(i), HasHeight: true})
	}
	p, err := route.NewProfile(tr, route.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if want := 199 * math.Hypot(45, 22); math.Abs(p.DistanceM/want-1) > 0.05 || repaired(p.Repairs, "position-noise") > 0 {
		t.Errorf("%.0f m of %.0f, repairs %v", p.DistanceM, want, p.Repairs)
	}
}
