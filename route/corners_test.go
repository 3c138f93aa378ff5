package route_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"rimheat/route"
	"rimheat/testdata/roads"
)

// bendRoad has bends of one radius and turn, by turns to either side, 150 m of
// straight between them.
func bendRoad(radiusM, turnRad float64, bends int) *roads.Road {
	const straightM = 150.0
	b := roads.NewBuilder(-0.3, -22, 3000, []roads.Slope{{LengthM: float64(bends)*(straightM+radiusM*turnRad) + straightM, Grade: -0.05}})
	for i := range bends {
		b.Straight(straightM)
		b.Arc(radiusM, math.Copysign(turnRad, float64(i%2)-0.5))
	}
	return b.Road()
}

// A jitter is noise of positions: standard deviation on each axis and length of
// correlation, metres, 0 for white noise.
type jitter struct{ sdM, lengthM float64 }

func (j jitter) String() string {
	switch {
	case j.sdM == 0:
		return "clean"
	case j.lengthM == 0:
		return fmt.Sprintf("%v m white", j.sdM)
	}
	return fmt.Sprintf("%v m over %v m", j.sdM, j.lengthM)
}

func (j jitter) sample(r *roads.Road, spacingM float64, seed uint64) []roads.Point {
	pts := r.Sample(0.8*spacingM, 1.2*spacingM, seeded(seed))
	if j.sdM > 0 {
		r.AddPositionNoise(pts, j.sdM, j.lengthM, seeded(100+seed))
	}
	return pts
}

// TestBendsByTheirVertices: clean points tell the radius of a bend even where
// few lie on it, or none: within 15 % on the median, at most 40 % off on nine
// bends of ten. Not so where a bend is less than half as long as the points
// are apart, here 21 m at 50 m: it comes out up to 90 % too wide there.
func TestBendsByTheirVertices(t *testing.T) {
	for _, c := range []struct{ radiusM, turnRad float64 }{
		{20, math.Pi / 3}, {20, math.Pi / 2}, {35, math.Pi / 3}, {60, math.Pi / 3}, {100, math.Pi / 3},
	} {
		for _, spacing := range []float64{5, 10, 20, 35, 50} {
			r := bendRoad(c.radiusM, c.turnRad, 60)
			got := found(t, r, jitter{}.sample(r, spacing, 3))
			n := len(got)
			low, mid, high := got[n/20], got[n/2], got[n-1-n/20]
			t.Logf("R %3.0f m, %2.0f degrees, every %2.0f m: %.2f %.2f %.2f", c.radiusM, c.turnRad*180/math.Pi, spacing, low, mid, high)
			most, off := 1.4, 0.15
			if arc := c.radiusM * c.turnRad; arc < 0.75*spacing {
				most, off = 1.9, 0.45
			}
			if low < 0.7 || high > most || math.Abs(mid-1) > off {
				t.Errorf("R %v m at %v m: %.2f %.2f %.2f of the true radius", c.radiusM, spacing, low, mid, high)
			}
		}
	}
}

// TestNoFalseCorner: noise on a straight road makes no corner below 60 m.
func TestNoFalseCorner(t *testing.T) {
	if testing.Short() {
		t.Skip("takes some seconds")
	}
	r := straightRoad(50_000)
	for _, noise := range []jitter{{0.7, 80}, {1, 0}, {3, 0}, {3, 100}} {
		for _, spacing := range []float64{1.5, 3, 5, 10, 15, 20, 35, 50} {
			least := math.Inf(1)
			for seed := range uint64(3) {
				least = min(least, slices.Min(profileOf(t, noise.sample(r, spacing, seed)).CornerRadiusM))
			}
			if least < 60 {
				t.Errorf("%v, every %v m: a corner of %.0f m", noise, spacing, least)
			}
		}
	}
}

// TestHairpinsCount: hairpins of 8 to 15 m radius are each counted once, at
// every spacing and noise up to 1 m; with noise of 3 m, one of twenty may be
// missed.
func TestHairpinsCount(t *testing.T) {
	for _, radius := range []float64{8, 12, 15} {
		r := bendRoad(radius, math.Pi, 60)
		for _, noise := range []jitter{{}, {0.7, 80}, {1, 0}, {3, 0}, {3, 100}} {
			for _, spacing := range []float64{5, 10, 20, 35, 50} {
				got := len(profileOf(t, noise.sample(r, spacing, 3)).HairpinM)
				lost := 0
				if noise.sdM == 3 {
					lost = 3
				}
				if got > 60 || got < 60-lost {
					t.Errorf("R %v m, %v, every %v m: %d hairpins of 60", radius, noise, spacing, got)
				}
			}
		}
	}
}

// hairpinsOf counts the hairpins of a road made of straights and arcs: pairs of
// a radius, metres, and a turn, degrees; radius 0 for a straight of that many
// metres.
func hairpinsOf(t *testing.T, spacingM float64, parts ...[2]float64) int {
	t.Helper()
	length := 600.0
	for _, p := range parts {
		length += math.Abs(p[0]*p[1]) * math.Pi / 180
		if p[0] == 0 {
			length += p[1]
		}
	}
	b := roads.NewBuilder(-0.3, -22, 3000, []roads.Slope{{LengthM: length, Grade: -0.08}})
	b.Straight(300)
	for _, p := range parts {
		if p[0] == 0 {
			b.Straight(p[1])
		} else {
			b.Arc(p[0], p[1]*math.Pi/180)
		}
	}
	r := b.Road()
	return len(profileOf(t, r.Sample(0.9*spacingM, 1.1*spacingM, seeded(5))).HairpinM)
}

func TestWhatIsAHairpin(t *testing.T) {
	for _, c := range []struct {
		what  string
		want  int
		parts [][2]float64
	}{
		{"a right angle", 0, [][2]float64{{10, 90}}},
		{"120 degrees", 0, [][2]float64{{12, 120}}},
		{"150 degrees", 1, [][2]float64{{12, 150}}},
		{"half a circle of 20 m", 1, [][2]float64{{20, 180}}},
		{"half a circle of 35 m", 0, [][2]float64{{35, 180}}},
		{"two to the same side, 60 m apart", 2, [][2]float64{{12, 170}, {0, 60}, {12, 150}}},
		{"two to either side, nothing between", 2, [][2]float64{{12, 180}, {12, -180}}},
		{"two right angles with 3 m between", 1, [][2]float64{{10, 90}, {0, 3}, {10, 90}}},
		{"two right angles with 20 m between", 0, [][2]float64{{10, 90}, {0, 20}, {10, 90}}},
		{"a bend that tightens", 1, [][2]float64{{22, 70}, {12, 100}}},
		{"a straight", 0, nil},
	} {
		for _, spacing := range []float64{3, 5, 8} {
			if got := hairpinsOf(t, spacing, c.parts...); got != c.want {
				t.Errorf("%s, points every %v m: %d hairpins, want %d", c.what, spacing, got, c.want)
			}
		}
	}
}

// TestDescentsTellTheirBends: the demo's descents hold as many hairpins as the
// road has between their ends, and their sharpest corner is the profile's.
func TestDescentsTellTheirBends(t *testing.T) {
	d := roads.TwoPassesHot()
	p := profileOf(t, d.Points)
	m := onRoad(d.Points, p)
	for i, got := range p.Descents {
		want := 0
		for _, c := range d.Road.Corners() {
			middle := (c.StartM + c.EndM) / 2
			if math.Abs(c.TurnRad) >= route.HairpinTurnRad && c.RadiusM < route.HairpinRadiusM && middle > m[got.Start] && middle < m[got.End] {
				want++
			}
		}
		if got.Hairpins != want || want == 0 && i == 0 {
			t.Errorf("descent %d: %d hairpins, the road has %d", i+1, got.Hairpins, want)
		}
		if least := slices.Min(p.CornerRadiusM[got.Start : got.End+1]); got.SharpestCornerM != least || least > 20 {
			t.Errorf("descent %d: sharpest corner %v m, least radius %v", i+1, got.SharpestCornerM, least)
		}
	}
	straight := roads.NewBuilder(-0.3, -22, 3000, []roads.Slope{{LengthM: 3000, Grade: -0.06}})
	straight.Straight(3000)
	r := straight.Road()
	if p := profileOf(t, r.Sample(9, 11, seeded(1))); len(p.Descents) != 1 || !math.IsInf(p.Descents[0].SharpestCornerM, 1) || p.Descents[0].Hairpins != 0 {
		t.Errorf("a straight descent: %+v", p.Descents)
	}
}
