package rim

import "fmt"

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
}

// A ResinClass is a family of resins and the track temperature that a rim
// made with it is taken to bear when its maker gives no figure.
type ResinClass struct {
	ID, Name string
	// LimitC is the central limit of the brake track, LowC and HighC the
	// spread that it is later sampled over, °C.
	LimitC, LowC, HighC float64
	Source              string
	Basis               Basis
}

// A TyreSide is what the tyre side of the rim carries: tube, tape or cement,
// and the temperature that it bears at the rim.
type TyreSide struct {
	ID, Name string
	// Kind is that of the rims that it is for: "clincher" or "tubular".
	Kind   string
	LimitC float64
	Source string
	Basis  Basis
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
	} {
		if !(c.q.Value >= c.lo && c.q.Value <= c.hi) {
			return fmt.Errorf("pad %s: %s is %g %s, outside %g to %g", p.ID, c.name, c.q.Value, c.q.Unit, c.lo, c.hi)
		}
	}
	return nil
}

// Validate reports a limit that nothing on a tyre's side has.
func (t TyreSide) Validate() error {
	if !(t.LimitC >= 40 && t.LimitC <= 400) {
		return fmt.Errorf("tyre side %s: limit is %g °C, outside 40 to 400 °C", t.ID, t.LimitC)
	}
	return nil
}
