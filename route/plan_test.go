package route_test

import (
	"math"
	"slices"
	"testing"

	"rimheat/route"
	"rimheat/testdata/roads"
)

func straightRoad(lengthM float64) *roads.Road {
	b := roads.NewBuilder(-0.3, -22, 100, []roads.Slope{{LengthM: lengthM, Grade: 0}})
	b.Straight(300)
	return b.Road()
}

// TestJitterIsNoCorner: independent position noise of 1 m on each axis on a
// straight road shows no corner below 60 m; nor does 2 m where the points are
// dense enough for the noise to be seen as such.
func TestJitterIsNoCorner(t *testing.T) {
	r := straightRoad(50_000)
	for _, c := range []struct{ noise, spacing float64 }{
		{1, 4}, {1, 5}, {1, 8}, {1, 10}, {1, 15}, {1, 20}, {1, 40}, {2, 5}, {2, 8}, {2, 10},
	} {
		least := math.Inf(1)
		for seed := range uint64(4) {
			pts := r.Sample(0.8*c.spacing, 1.2*c.spacing, seeded(seed))
			r.AddPositionNoise(pts, c.noise, 0, seeded(100+seed))
			least = min(least, slices.Min(profileOf(t, pts).CornerRadiusM))
		}
		if least < 60 {
			t.Errorf("noise %v m, spacing %v m: a straight road shows a corner of %.0f m", c.noise, c.spacing, least)
		}
	}
}

// hairpinRoad has hairpins of the given radius between straights of 120 m.
func hairpinRoad(radiusM float64, hairpins int) *roads.Road {
	length := float64(hairpins)*(120+math.Pi*radiusM) + 120
	b := roads.NewBuilder(-0.3, -22, 3000, []roads.Slope{{LengthM: length, Grade: -0.08}})
	side := math.Pi
	for range hairpins {
		b.Straight(120)
		b.Arc(radiusM, side)
		side = -side
	}
	return b.Road()
}

// found is the least radius the profile shows at each corner, over the true one.
func found(t *testing.T, r *roads.Road, pts []roads.Point) []float64 {
	p := profileOf(t, pts)
	corners := r.Corners()
	least := make([]float64, len(corners))
	for i := range least {
		least[i] = math.Inf(1)
	}
	const besideM = 20
	for i, m := range onRoad(pts, p) {
		for k, c := range corners {
			if m > c.StartM-besideM && m < c.EndM+besideM {
				least[k] = min(least[k], p.CornerRadiusM[i]/c.RadiusM)
			}
		}
	}
	slices.Sort(least)
	return least
}

// TestHairpinsComeOut: hairpins of 8 to 15 m radius at 5 to 20 m spacing, at
// every phase of the points: all within 30 % without noise, and with noise as
// planned routes have it nine of ten are.
func TestHairpinsComeOut(t *testing.T) {
	for _, radius := range []float64{8, 10, 12, 15} {
		for _, spacing := range []float64{5, 10, 15, 20} {
			r := hairpinRoad(radius, 60)
			pts := r.Sample(0.8*spacing, 1.2*spacing, seeded(3))
			clean := found(t, r, pts)
			r.AddPositionNoise(pts, 0.7, 80, seeded(4))
			noisy := found(t, r, pts)
			n := len(clean)
			t.Logf("R %2.0f m, spacing %2.0f m: clean %.2f to %.2f, noisy 5-50-95 %%: %.2f %.2f %.2f", radius, spacing, clean[0], clean[n-1], noisy[n/20], noisy[n/2], noisy[n-1-n/20])
			if clean[0] < 0.7 || clean[n-1] > 1.3 {
				t.Errorf("R %v m at %v m spacing: %.2f to %.2f of the true radius", radius, spacing, clean[0], clean[n-1])
			}
			if noisy[n/20] < 0.7 || noisy[n-1-n/20] > 1.3 {
				t.Errorf("R %v m at %v m spacing, noisy: %.2f to %.2f of the true radius", radius, spacing, noisy[n/20], noisy[n-1-n/20])
			}
		}
	}
}

// TestWideBends: bends of 20 to 100 m that turn by 60 degrees are within 15 %,
// those about as long as the points are apart within 40 %.
func TestWideBends(t *testing.T) {
	for _, radius := range []float64{20, 35, 60, 100} {
		b := roads.NewBuilder(-0.3, -22, 3000, []roads.Slope{{LengthM: 12_000, Grade: 0}})
		for i := range 30 {
			b.Straight(200)
			b.Arc(radius, math.Copysign(math.Pi/3, float64(i%2)-0.5))
		}
		r := b.Road()
		for _, spacing := range []float64{5, 20} {
			got := found(t, r, r.Sample(0.8*spacing, 1.2*spacing, seeded(3)))
			least, most := 0.85, 1.15
			if radius*math.Pi/3 < 2*spacing {
				least, most = 0.7, 1.4
			}
			t.Logf("R %v m, spacing %v m: %.2f to %.2f", radius, spacing, got[0], got[len(got)-1])
			if got[0] < least || got[len(got)-1] > most {
				t.Errorf("R %v m at %v m spacing: %.2f to %.2f of the true radius", radius, spacing, got[0], got[len(got)-1])
			}
		}
	}
}

func TestHeadings(t *testing.T) {
	b := roads.NewBuilder(-0.3, -22, 100, []roads.Slope{{LengthM: 2000, Grade: 0}})
	b.Straight(500)
	b.Arc(100, math.Pi/2)
	b.Straight(500)
	b.Arc(100, -math.Pi)
	r := b.Road()
	pts := r.Sample(9, 11, seeded(1))
	p := profileOf(t, pts)
	for i, m := range onRoad(pts, p) {
		if e := math.Remainder(p.HeadingRad[i]-r.HeadingAt(m), 2*math.Pi); math.Abs(e) > 0.06 || p.HeadingRad[i] < 0 || p.HeadingRad[i] >= 2*math.Pi {
			t.Fatalf("heading %.3f at %.0f m, true %.3f", p.HeadingRad[i], m, r.HeadingAt(m))
		}
	}
}

func TestTurningRoundOnTheSpot(t *testing.T) {
	p, err := route.NewProfile(line(0, -20, 0, -19.999, 0, -19.998, 0, -19.997, 0, -19.998, 0, -19.999, 0, -20), route.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if r := slices.Min(p.CornerRadiusM); r < 4 || r > 8 {
		t.Errorf("least radius %v m", r)
	}
}
