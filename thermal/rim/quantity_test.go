package rim

import (
	"math"
	"testing"
)

func TestQuantityAt(t *testing.T) {
	for _, c := range []struct {
		q    Quantity
		half float64 // at 0.5
	}{
		{Quantity{Value: 4, Low: 2.5, High: 6}, 4.9375}, // 4 + 1.75/2 + 0.25/4
		{Quantity{Value: 10, Low: 8, High: 12}, 11},
		{Quantity{Value: 4, Low: 3, High: 7}, 5.25},  // the parabola only just does not turn back
		{Quantity{Value: 4, Low: 3.9, High: 7}, 5.5}, // it would: two lines
		{Quantity{Value: 4, Low: 4, High: 4}, 4},
	} {
		near(t, "low", c.q.At(-1), c.q.Low, 1e-15)
		near(t, "middle", c.q.At(0), c.q.Value, 1e-15)
		near(t, "high", c.q.At(1), c.q.High, 1e-15)
		near(t, "half", c.q.At(0.5), c.half, 1e-15)
		near(t, "beyond", c.q.At(7), c.q.High, 1e-15)
		near(t, "beyond", c.q.At(math.Inf(-1)), c.q.Low, 1e-15)
		for x := -1.0; x < 1; x += 0.01 {
			if a, b := c.q.At(x), c.q.At(x+0.01); b < a-1e-12 {
				t.Errorf("%+v falls from %g to %g at %g", c.q, a, b, x)
			}
		}
	}
	if q := (Quantity{Value: 3}); q.At(-1) != 3 || q.At(0.3) != 3 {
		t.Error("a number without a range moves")
	}
}

// Conductivities go to their places, along and through the wall each by itself,
// of a metal by one alone; nothing else moves, and nothing without a range.
func TestSectionAt(t *testing.T) {
	for _, sec := range Rims() {
		at := sec.At(1, -1)
		for _, m := range []struct{ was, is Material }{
			{sec.Material, at.Material}, {sec.Surface.Material, at.Surface.Material}, {sec.Fairing.Material, at.Fairing.Material},
		} {
			along := m.was.ConductivityThrough.Low
			if m.was.Composite {
				along = m.was.ConductivityAlong.High
			}
			if a, b := m.is.ConductivityAlong.Value, m.is.ConductivityThrough.Value; a != along || b != m.was.ConductivityThrough.Low {
				t.Errorf("%s: %s conducts %g and %g W/(m K)", sec.ID, m.was.ID, a, b)
			}
			m.is.ConductivityAlong, m.is.ConductivityThrough = m.was.ConductivityAlong, m.was.ConductivityThrough
			if m.is != m.was {
				t.Errorf("%s: %s changes otherwise", sec.ID, m.was.ID)
			}
		}
		if again := at.At(-1, 1); again != at {
			t.Errorf("%s: moves again, without a range", sec.ID)
		}
	}
	own := byID(t, "carbon-deep")
	own.Material.ConductivityAlong = Quantity{Value: 5, Basis: GivenByUser}
	if at := own.At(1, 1); at.Material.ConductivityAlong.Value != 5 || at.Material.ConductivityThrough.Value != own.Material.ConductivityThrough.High {
		t.Errorf("a number without a range moves: %+v", at.Material)
	}
	for _, p := range Pads() {
		if at := p.At(-1); at.Conductivity.Value != p.Conductivity.Low || at.Density != p.Density || at.At(1) != at {
			t.Errorf("%s: %+v", p.ID, at)
		}
	}
}
