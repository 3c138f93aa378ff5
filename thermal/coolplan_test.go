package thermal

import (
	"bytes"
	"context"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"rimheat/route"
	"rimheat/testdata/roads"
	"rimheat/thermal/ride"
)

func planOf(t *testing.T, p *route.Profile, s Setup, easeMps float64) *CoolPlan {
	t.Helper()
	c, err := PlanCooling(context.Background(), p, s, easeMps, nil)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// slopesOf is a straight road.
func slopesOf(t *testing.T, startM float64, slopes ...roads.Slope) *route.Profile {
	t.Helper()
	b := roads.NewBuilder(45, 7, startM, slopes)
	tr, err := route.Read(bytes.NewReader(roads.GPX("test", "test", b.Road().Sample(10, 10, rand.New(rand.NewPCG(1, 1))))), "test", route.Options{})
	if err != nil {
		t.Fatal(err)
	}
	p, err := route.NewProfile(tr, route.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// On a pass where an aluminium rim is marginal a stop makes it fit: where one can
// stop and is seen, no longer than needed, and none too many. The coolest technique
// asks for no more speed than the rider's own.
func TestPlanWithAStop(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	p := demoRoad(t, "two_passes_hot.gpx")
	s := drawing(t, 100, "alu-classic")
	s.Weather.AirTempK = 273.15 + 36
	s.Assumed = []string{"cda", "crr", "wind"}
	c := planOf(t, p, s, 0)
	if c.AsPlanned.Within() || c.Stops == nil || !c.Stops.Within() || !c.Fits {
		t.Fatalf("planned %+v, with stops %+v", c.AsPlanned, c.Stops)
	}
	if n := len(c.Stops.Stops); n < 1 || n > 2 {
		t.Errorf("%d stops", n)
	}
	if c.Coolest.CapMps > s.Style.CapMps+1e-9 {
		t.Errorf("a cap of %g m/s is proposed to a rider who rides at most %g m/s", c.Coolest.CapMps, s.Style.CapMps)
	}
	if c.Coolest.MarginK.P05 <= c.AsPlanned.MarginK.P05 {
		t.Errorf("the coolest technique leaves %.1f K, the own %.1f K", c.Coolest.MarginK.P05, c.AsPlanned.MarginK.P05)
	}
	q, err := newInquiry(p, s)
	if err != nil {
		t.Fatal(err)
	}
	within := func(pauses []ride.Pause) bool {
		in := s
		in.Style.Pauses = pauses
		r, err := q.ask(context.Background(), in)
		if err != nil {
			t.Fatal(err)
		}
		return r.Within()
	}
	var pauses []ride.Pause
	for _, k := range c.Stops.Stops {
		pauses = append(pauses, ride.Pause{AtM: k.AtM, S: k.S, RollMps: k.RollMps})
		if math.Abs(k.Grade) > stopGrade || !seen(p, k.AtM) {
			t.Errorf("nobody can stop at %+v", k)
		}
	}
	if !within(pauses) {
		t.Errorf("asked again the plan does not fit")
	}
	for i := range pauses {
		if without := slices.Delete(slices.Clone(pauses), i, i+1); within(without) {
			t.Errorf("stop %d is not needed", i+1)
		}
		shorter := slices.Clone(pauses)
		k := slices.Index(stopMinutes(), pauses[i].S/60)
		if k > 0 {
			shorter[i].S = 60 * stopMinutes()[k-1]
			if within(shorter) {
				t.Errorf("stop %d may be shorter", i+1)
			}
		}
	}
}

// What serves a rider serves a lighter one, in cooler air too: a plan does not vanish.
func TestPlanServesLighterRiders(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	p := slopesOf(t, 1500, roads.Slope{LengthM: 300}, roads.Slope{LengthM: 3500, Grade: -0.10}, roads.Slope{LengthM: 300})
	fits := false
	for _, kg := range []float64{104, 100, 97, 94, 91} {
		s := drawing(t, 100, "alu-classic")
		s.Load.RiderKg, s.Weather.AirTempK = kg, 273.15+36
		q, err := newInquiry(p, s)
		if err != nil {
			t.Fatal(err)
		}
		r, err := q.ask(context.Background(), s)
		if err != nil {
			t.Fatal(err)
		}
		way, err := q.stops(context.Background(), s)
		if err != nil {
			t.Fatal(err)
		}
		now := r.Within() || way.Within()
		if fits && !now {
			t.Errorf("a rider of %g kg has no plan, and a heavier one has", kg)
		}
		fits = fits || now
	}
	if !fits {
		t.Errorf("nobody has a plan")
	}
}

// A cap that is planned is not beaten by one that heats most, none is below what a
// setup takes, and none above what the rider is at ease with.
func TestComfortCaps(t *testing.T) {
	hot := &HottestSpeed{FromMps: 7, ToMps: 9}
	for _, own := range []float64{8 / 3.6, 10 / 3.6, 12, 25} {
		for _, most := range []float64{0, own, own + 3} {
			for _, v := range comfortCaps(own, most, hot) {
				if v < slowestCapMps || v > max(own, most)+1e-9 || v < own && v >= hot.FromMps && v <= hot.ToMps {
					t.Errorf("own cap %g, at ease up to %g: %g m/s is proposed", own, most, v)
				}
			}
		}
	}
}

// A rim that needs nothing is told nothing, and one that nothing helps is told that.
func TestPlanAtTheEnds(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	p := demoRoad(t, "drag_hill.gpx")
	light := drawing(t, 100, "alu-classic")
	light.Load.RiderKg, light.Weather.AirTempK = 50, 273.15+15
	if c := planOf(t, p, light, 0); !c.AsPlanned.Within() || c.Stops != nil || c.Both != nil || !c.Fits || c.Instead != "" {
		t.Errorf("a light rider in cool air: %+v", c)
	}
	p = slopesOf(t, 1500, roads.Slope{LengthM: 300}, roads.Slope{LengthM: 1800, Grade: -0.13}, roads.Slope{LengthM: 300})
	heavy := drawing(t, 100, "carbon-deep")
	heavy.Load.RiderKg = 120
	if c := planOf(t, p, heavy, 0); c.Fits || !strings.Contains(c.Instead, "aluminium is advised") {
		t.Errorf("a heavy rider on carbon: %+v", c)
	}
	metal := drawing(t, 100, "alu-classic")
	metal.Load.RiderKg = 200
	if c := planOf(t, p, metal, 0); c.Fits || strings.Contains(c.Instead, "aluminium") {
		t.Errorf("a heavy rider on aluminium: %q", c.Instead)
	}
}

// With a level place on the way rolling to and fro there takes less time than
// standing: moving air cools several times better than calm air.
func TestPlanRollsOnTheLevel(t *testing.T) {
	p := slopesOf(t, 1500, roads.Slope{LengthM: 300}, roads.Slope{LengthM: 1600, Grade: -0.08}, roads.Slope{LengthM: 300}, roads.Slope{LengthM: 800, Grade: -0.125}, roads.Slope{LengthM: 300})
	s := drawing(t, 100, "alu-classic")
	s.Load.RiderKg, s.Weather.AirTempK = 105, 273.15+36
	c := planOf(t, p, s, 0)
	if c.Stops == nil {
		t.Fatalf("no stop helps: %+v", c.AsPlanned)
	}
	rolled := false
	for _, k := range c.Stops.Stops {
		if k.RollMps > 0 {
			rolled = true
			if math.Abs(k.Grade) > flatGrade {
				t.Errorf("rolls to and fro on a grade of %g", k.Grade)
			}
		}
	}
	if !rolled {
		t.Errorf("stops %+v", c.Stops.Stops)
	}
}

// The hottest speeds are those of the closed form: of the rider's own terminal speed.
func TestHottestSpeed(t *testing.T) {
	p := slopesOf(t, 1500, roads.Slope{LengthM: 500}, roads.Slope{LengthM: 3000, Grade: -0.10}, roads.Slope{LengthM: 500})
	s := drawing(t, 100, "alu-classic")
	h := hottestSpeed(p, s)
	if h == nil {
		t.Fatal("no speed is told")
	}
	// Forces balance at the terminal speed, by hand: 84 kg on 10 % with Crr 0.005
	// are pulled by 77.9 N, air of 35 °C at 1,350 m has 0.966 kg/m3, CdA is 0.36 m2.
	if want := math.Sqrt(77.9 / (0.5 * 0.966 * 0.36)); math.Abs(h.TerminalMps-want) > 0.02*want {
		t.Errorf("rolls at %.2f m/s by itself, want some %.1f", h.TerminalMps, want)
	}
	if a, b := h.FromMps/h.TerminalMps, h.ToMps/h.TerminalMps; math.Abs(a-0.3015) > 1e-4 || math.Abs(b-0.4472) > 1e-4 {
		t.Errorf("hottest from %.4f to %.4f of it", a, b)
	}
	if h := hottestSpeed(demoRoad(t, "flat_loop.gpx"), s); h != nil {
		t.Errorf("on a flat road: %+v", h)
	}
}
