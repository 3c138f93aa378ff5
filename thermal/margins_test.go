package thermal

import (
	"context"
	"errors"
	"math"
	"slices"
	"testing"

	"rimheat/thermal/risk"
)

func marginsOf(t *testing.T, road string, s Setup, withMap bool) *Margins {
	t.Helper()
	m, err := FindMargins(context.Background(), demoRoad(t, road), s, withMap, nil)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func roomOf(t *testing.T, m *Margins, id string) Room {
	t.Helper()
	i := slices.IndexFunc(m.Rooms, func(r Room) bool { return r.ID == id })
	if i < 0 {
		t.Fatalf("no answer about %s", id)
	}
	return m.Rooms[i]
}

// What is found holds: asked again the rim stays within at the value, and no longer
// a little beyond it.
func TestMarginsHold(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	p := demoRoad(t, "drag_hill.gpx")
	s := drawing(t, 200, "alu-classic")
	m := marginsOf(t, "drag_hill.gpx", s, false)
	q, err := newInquiry(p, s)
	if err != nil {
		t.Fatal(err)
	}
	crossed := 0
	for _, k := range questions(p, s) {
		r := roomOf(t, m, k.id)
		if r.Side != risk.Crosses {
			continue
		}
		crossed++
		at := func(x float64) bool {
			a, err := q.ask(context.Background(), k.with(s, x))
			if err != nil {
				t.Fatal(err)
			}
			return a.Within()
		}
		beyond := 3 * k.tol
		if !r.HotterUp {
			beyond = -beyond
		}
		if in, out := at(*r.Value), at(*r.Value+beyond); !in || out {
			t.Errorf("%s: within %v at %g %s and %v beyond it", k.id, in, *r.Value, k.unit, out)
		}
		if r.Value != nil && !(r.Within95 > 0) {
			t.Errorf("%s: no error of sampling is told", k.id)
		}
	}
	if crossed < 3 {
		t.Errorf("only %d questions have an answer on this road", crossed)
	}
}

// Hotter air, more load and less head wind leave less margin, all along.
func TestMarginsFallWithHeat(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	m := marginsOf(t, "drag_hill.gpx", drawing(t, 100, "carbon-deep"), true)
	for _, id := range []string{"air-temp", "mass", "head-wind"} {
		r := roomOf(t, m, id)
		if r.Wavers {
			t.Errorf("%s: the margin goes up and down", id)
		}
		for i, a := range r.Asked[1:] {
			rises := a.MarginK > r.Asked[i].MarginK
			if rises != (id == "head-wind") {
				t.Errorf("%s: margin %.1f K at %g, %.1f K at %g", id, r.Asked[i].MarginK, r.Asked[i].Value, a.MarginK, a.Value)
			}
		}
	}
	g := m.Map
	if len(g.AirC) != mapRows || len(g.TotalKg) != mapColumns || !slices.IsSorted(g.AirC) || !slices.IsSorted(g.TotalKg) {
		t.Fatalf("map %+v", g)
	}
	for i, row := range g.MarginK {
		for j, k := range row {
			if i > 0 && k >= g.MarginK[i-1][j] || j > 0 && k >= row[j-1] {
				t.Errorf("margin %.1f K at %g °C and %g kg is not less than in cooler air or with less load", k, g.AirC[i], g.TotalKg[j])
			}
		}
	}
}

// The questions' bounds stay within what a setup can be, for odd setups too.
func TestQuestionsAreValid(t *testing.T) {
	p := demoRoad(t, "drag_hill.gpx")
	for name, change := range map[string]func(*Setup){
		"plain":        func(*Setup) {},
		"slowest cap":  func(s *Setup) { s.Style.CapMps = 8 / 3.6 },
		"fastest cap":  func(s *Setup) { s.Style.CapMps = 130 / 3.6 },
		"freezing":     func(s *Setup) { s.Weather.AirTempK = 273.15 - 20 },
		"very hot":     func(s *Setup) { s.Weather.AirTempK = 273.15 + 55 },
		"heavy packed": func(s *Setup) { s.Load.LuggageKg = 150 },
		"small rider":  func(s *Setup) { s.Load.RiderKg = 26 },
		"a cool day": func(s *Setup) {
			s.Weather.Daily.On, s.Weather.Daily.StartS, s.Weather.Daily.MinK, s.Weather.Daily.MaxK = true, 36000, 276, 290
		},
		"by the hour": func(s *Setup) {
			s.Weather.Daily.On, s.Weather.Daily.StartS, s.Weather.Daily.MinK, s.Weather.Daily.MaxK = true, 36000, 283, 313
		},
	} {
		s := drawing(t, 100, "alu-classic")
		change(&s)
		for _, k := range questions(p, s) {
			if !(k.lo+k.tol < k.hi) {
				t.Errorf("%s, %s: nothing to search from %g to %g", name, k.id, k.lo, k.hi)
			}
			for _, x := range []float64{k.lo, k.planned, k.hi} {
				if err := k.with(s, x).Validate(); err != nil {
					t.Errorf("%s, %s at %g: %v", name, k.id, x, err)
				}
			}
			if back := k.with(s, k.planned); math.Abs(back.Load.TotalKg()-s.Load.TotalKg()) > 1e-9 || math.Abs(back.Weather.AirTempK-s.Weather.AirTempK) > 1e-9 {
				t.Errorf("%s, %s: the planned value is another setup", name, k.id)
			}
		}
	}
}

// A context that is done ends the questions with its error.
func TestMarginsEnd(t *testing.T) {
	ctx, stop := context.WithCancel(context.Background())
	asked := 0
	_, err := FindMargins(ctx, demoRoad(t, "drag_hill.gpx"), drawing(t, 100, "alu-classic"), true, func(int, int) {
		if asked++; asked == 2 {
			stop()
		}
	})
	if !errors.Is(err, context.Canceled) || asked > 2 {
		t.Errorf("error %v after %d answers", err, asked)
	}
}
