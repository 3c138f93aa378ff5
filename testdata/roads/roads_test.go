package roads

import (
	"bytes"
	"math"
	"testing"
)

// TestRoadIsConsistent: height is the integral of grade and position that of
// heading, by the midpoint rule.
func TestRoadIsConsistent(t *testing.T) {
	for _, d := range append(Committed(), Mountain(30_000, 10, 8)) {
		r := d.Road
		const step = 0.5
		h := r.HeightAt(0)
		east, north := 0.0, 0.0
		climb, drop := 0.0, 0.0
		for i := 0; float64(i+1)*step <= r.LengthM(); i++ {
			m := (float64(i) + 0.5) * step
			dh := step * r.GradeAt(m)
			climb += max(0, dh)
			drop += max(0, -dh)
			h += dh
			sin, cos := math.Sincos(r.HeadingAt(m))
			east += step * sin
			north += step * cos
			if i%2000 == 0 {
				at := float64(i+1) * step
				x, y := r.PlaneAt(at)
				if math.Abs(h-r.HeightAt(at)) > 0.05 || math.Hypot(east-x, north-y) > 0.5 {
					t.Fatalf("%s at %v m: height off by %v m, position by %v m", d.File, at, h-r.HeightAt(at), math.Hypot(east-x, north-y))
				}
			}
		}
		if math.Abs(climb-r.ClimbM()) > 0.5 || math.Abs(drop-r.DropM()) > 0.5 {
			t.Errorf("%s: climb %v and drop %v, stated %v and %v", d.File, climb, drop, r.ClimbM(), r.DropM())
		}
	}
}

func TestDemosAreAsDescribed(t *testing.T) {
	hot := TwoPassesHot()
	if l := hot.Road.LengthM(); l < 75_000 || l > 90_000 {
		t.Errorf("length %v", l)
	}
	if d := hot.Road.DropM(); math.Abs(d-2000) > 50 {
		t.Errorf("drop %v", d)
	}
	if c := LongRideMild().Road; math.Abs(c.ClimbM()-2000) > 50 || math.Abs(c.LengthM()-90_000) > 1 {
		t.Errorf("climb %v over %v", c.ClimbM(), c.LengthM())
	}
	hairpins := 0
	for _, c := range hot.Road.Corners() {
		if c.RadiusM < 16 {
			hairpins++
		}
	}
	if hairpins < 15 {
		t.Errorf("%d hairpins", hairpins)
	}
	for _, d := range Committed() {
		for i := 1; i < len(d.Points); i++ {
			if step := d.Points[i].M - d.Points[i-1].M; step < 4 || step > 29.01 {
				t.Fatalf("%s: step of %v m", d.File, step)
			}
		}
	}
	loop := FlatLoop().Road
	if x, y := loop.PlaneAt(loop.LengthM()); math.Hypot(x, y) > 0.01 {
		t.Errorf("the loop ends %v m from its start", math.Hypot(x, y))
	}
}

func TestSameSeedSameBytes(t *testing.T) {
	a, b, c := Mountain(20_000, 8, 4).GPX(), Mountain(20_000, 8, 4).GPX(), Mountain(20_000, 8, 5).GPX()
	if !bytes.Equal(a, b) || bytes.Equal(a, c) {
		t.Error("the seed does not decide the bytes")
	}
}

func TestMountainSize(t *testing.T) {
	d := Mountain(150_000, 5, 1)
	if n := len(d.Points); math.Abs(float64(n)-30_000) > 300 || math.Abs(d.Road.LengthM()-150_000) > 1 {
		t.Errorf("%d points, %v m", n, d.Road.LengthM())
	}
}
