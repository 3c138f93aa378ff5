package rim

import (
	"fmt"

	"rimheat/thermal/air"
)

// A Pad is a brake pad compound and the block made of it.
type Pad struct {
	ID, Name string
	// ForComposite says whether the compound is meant for composite tracks.
	ForComposite bool
	// Conductivity W/(m K), Density kg/m3, SpecificHeat J/(kg K).
	Conductivity, Density, SpecificHeat Quantity
	// Length along the track, Height across it and Thickness from face to
	// holder of one block, metres.
	Length, Height, Thickness Quantity
	// Friction is that of the dry, cold compound on its track. It holds up to
	// FadeFromC, falls in a line to FadePart of itself at FadeToC, °C, and
	// stays there. The division of heat does not need it; the hand does.
	Friction, FadeFromC, FadeToC, FadePart Quantity
	// Wear is the volume lost per braking energy at the block, m3/J.
	Wear Quantity
}

// FrictionAt is the friction coefficient with the pad's face at tK.
func (p Pad) FrictionAt(tK float64) float64 {
	from, to := p.FadeFromC.Value, p.FadeToC.Value
	if to <= from {
		return p.Friction.Value
	}
	part := (tK - air.ZeroCelsiusK - from) / (to - from)
	return p.Friction.Value * (1 - (1-p.FadePart.Value)*min(max(part, 0), 1))
}

// WearM is how much thinner each of a wheel's two blocks gets when the wheel
// takes brakedJ joules, metres.
func (p Pad) WearM(brakedJ float64) float64 {
	return p.Wear.Value * brakedJ / 2 / (p.Length.Value * p.Height.Value)
}

// At is the pad with the compound's conductivity at a place of its range (see
// Quantity.At), which it then has no more.
func (p Pad) At(place float64) Pad {
	p.Conductivity = p.Conductivity.fixedAt(place)
	return p
}

// Validate reports the first value that no pad has.
func (p Pad) Validate() error {
	for _, c := range []struct {
		name   string
		q      Quantity
		lo, hi float64
	}{
		{"conductivity", p.Conductivity, 0.01, 200}, {"density", p.Density, 100, 9000}, {"specific heat", p.SpecificHeat, 100, 4000},
		{"length", p.Length, 0.01, 0.2}, {"height", p.Height, 0.002, 0.03}, {"thickness", p.Thickness, 0.001, 0.05},
		{"friction", p.Friction, 0, 2}, {"start of fading", p.FadeFromC, 0, 1000}, {"end of fading", p.FadeToC, 0, 1000},
		{"friction left when faded", p.FadePart, 0, 1}, {"wear", p.Wear, 0, 1e-10},
	} {
		if !(c.q.Value >= c.lo && c.q.Value <= c.hi) {
			return fmt.Errorf("pad %s: %s is %g %s, outside %g to %g", p.ID, c.name, c.q.Value, c.q.Unit, c.lo, c.hi)
		}
	}
	return nil
}
