package ride

import (
	"math"
	"testing"

	"rimheat/route"
	"rimheat/thermal/air"
)

// A planner gives what NewPlan gives, for another rider and another day too, and
// whatever it rode before; only the time of climbs is a little off.
func TestPlannerRidesAsNewPlan(t *testing.T) {
	p := rolling(t)
	w := Weather{AirTempK: 305, AtHeightM: math.NaN(), LapseKPerM: StandardLapse, Humidity: 0.4}
	r, err := NewPlanner(p, w)
	if err != nil {
		t.Fatal(err)
	}
	other := r.Clone()
	steady, brisk := Styles()[1], Styles()[2]
	for _, c := range []struct {
		name   string
		load   Load
		airK   float64
		wind   float64
		res    Resistance
		style  Style
		within float64
	}{
		{"the weather it was made for", Load{RiderKg: 75, BikeKg: 9}, 305, 0, Resistance{0.36, 0.005}, steady, 1e-9},
		{"heavier, hotter, windy", Load{RiderKg: 95, BikeKg: 9}, 320, 3, Resistance{0.30, 0.004}, brisk, 1e-3},
		{"cooler", Load{RiderKg: 60, BikeKg: 9}, 290, 1, Resistance{0.40, 0.007}, brisk, 1e-3},
		{"as at first", Load{RiderKg: 75, BikeKg: 9}, 305, 0, Resistance{0.36, 0.005}, steady, 1e-9},
	} {
		w := w
		w.AirTempK, w.WindMps, w.WindFromRad = c.airK, c.wind, 1
		want, err := NewPlan(p, c.load, w, c.res, c.style)
		if err != nil {
			t.Fatal(err)
		}
		for name, pl := range map[string]*Plan{"planner": r.Ride(c.load, w, c.res, c.style), "clone": other.Ride(c.load, w, c.res, c.style)} {
			last := len(p.DistM) - 1
			a, b := want.Ledger(0, last), pl.Ledger(0, last)
			if d := math.Abs(a.BrakesJ() - b.BrakesJ()); d > c.within*a.BrakesJ() {
				t.Errorf("%s, %s: brakes take %g J, planned by itself %g J", c.name, name, b.BrakesJ(), a.BrakesJ())
			}
			if d := math.Abs(want.TimeS[last] - pl.TimeS[last]); d > max(c.within, 1e-4)*want.TimeS[last] {
				t.Errorf("%s, %s: takes %g s, planned by itself %g s", c.name, name, pl.TimeS[last], want.TimeS[last])
			}
			if res := math.Abs(b.ResidualJ()); res > 1e-6*b.BrakesJ() {
				t.Errorf("%s, %s: the ledger is open by %g J", c.name, name, res)
			}
		}
	}
}

// The parabola stands for the density as far away as the doc comment says.
func TestPlannerDensity(t *testing.T) {
	p := rolling(t)
	w := Weather{AirTempK: 308, AtHeightM: math.NaN(), LapseKPerM: StandardLapse, Humidity: 0.6}
	r, err := NewPlanner(p, w)
	if err != nil {
		t.Fatal(err)
	}
	worst := 0.0
	for i := range r.pl.pedal {
		pa := (r.pl.PressurePa[i] + r.pl.PressurePa[i+1]) / 2
		for dT := -20.0; dT <= 20; dT++ {
			at := r.pl.near.atK[i] + dT
			exact := air.MoistDensity(at, pa, w.Humidity)
			worst = max(worst, math.Abs(r.pl.near.density(i, at)/exact-1))
		}
	}
	t.Logf("densities within %.1e of themselves 20 K away", worst)
	if worst > 1e-3 {
		t.Errorf("a density is off by %.1e of itself", worst)
	}
}

// rolling is a road with a climb, a descent of 8 % with bends, and a flat end.
func rolling(t testing.TB) *route.Profile {
	t.Helper()
	const n, dx = 1601, 5.0
	p := &route.Profile{SpacingM: dx}
	z := 800.0
	for i := range n {
		x := float64(i) * dx
		grade := 0.0
		switch {
		case x < 2500:
			grade = 0.06
		case x < 7000:
			grade = -0.08 + 0.03*math.Sin(x/300)
		}
		radius := math.Inf(1)
		if i%80 < 4 && x > 2500 {
			radius = 12
		}
		p.DistM = append(p.DistM, x)
		p.HeightM = append(p.HeightM, z)
		p.Grade = append(p.Grade, grade)
		p.HeadingRad = append(p.HeadingRad, x/900)
		p.CornerRadiusM = append(p.CornerRadiusM, radius)
		z += grade * dx
	}
	p.DistanceM = float64(n-1) * dx
	return p
}

func BenchmarkPlanner(b *testing.B) {
	p := rolling(b)
	w := Weather{AirTempK: 305, AtHeightM: math.NaN(), LapseKPerM: StandardLapse, Humidity: 0.4}
	r, err := NewPlanner(p, w)
	if err != nil {
		b.Fatal(err)
	}
	w.WindMps = 2
	b.ReportAllocs()
	for b.Loop() {
		r.Ride(Load{RiderKg: 75, BikeKg: 9}, w, Resistance{0.36, 0.005}, Styles()[1])
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(len(p.DistM)), "ns/node")
}
