package rim

import "fmt"

// A Material is what a rim is made of. Conductivities follow the wall: Along
// is in the plane of the fibres (from edge to spoke bed), Through is across
// the wall. For a metal both are the same.
type Material struct {
	ID, Name string
	// Composite is true for fibre and resin: such a rim has a resin limit.
	Composite bool
	// ConductivityAlong and ConductivityThrough, W/(m K).
	ConductivityAlong, ConductivityThrough Quantity
	// Density, kg/m3.
	Density Quantity
	// SpecificHeat at 25 °C, J/(kg K), and its rise per kelvin, J/(kg K2).
	SpecificHeat, SpecificHeatRise Quantity
	// EmissivityTrack and EmissivityBody are total hemispherical
	// emissivities of the swept track and of all other outer faces.
	EmissivityTrack, EmissivityBody Quantity
	// AbsorptivityTrack and AbsorptivityBody are the parts of sunshine that
	// the same faces take in.
	AbsorptivityTrack, AbsorptivityBody Quantity
}

// at is the material with its conductivities at two places of their ranges (see
// Quantity.At), which they then have no more. What is no composite conducts
// alike in all directions: through holds for both.
func (m Material) at(along, through float64) Material {
	if !m.Composite {
		along = through
	}
	m.ConductivityAlong = m.ConductivityAlong.fixedAt(along)
	m.ConductivityThrough = m.ConductivityThrough.fixedAt(through)
	return m
}

// Validate reports the first value outside what solids have.
func (m Material) Validate() error {
	for _, c := range []struct {
		name   string
		v      float64
		lo, hi float64
	}{
		{"conductivity along the wall", m.ConductivityAlong.Value, 0.1, 450},
		{"conductivity through the wall", m.ConductivityThrough.Value, 0.1, 450},
		{"density", m.Density.Value, 400, 9000},
		{"specific heat", m.SpecificHeat.Value, 300, 2500},
		{"rise of specific heat", m.SpecificHeatRise.Value, 0, 6},
		{"emissivity of the track", m.EmissivityTrack.Value, 0, 1},
		{"emissivity of the body", m.EmissivityBody.Value, 0, 1},
		{"absorptivity of the track", m.AbsorptivityTrack.Value, 0, 1},
		{"absorptivity of the body", m.AbsorptivityBody.Value, 0, 1},
	} {
		if !(c.v >= c.lo && c.v <= c.hi) {
			return fmt.Errorf("%s of %s is %g, outside %g to %g", c.name, m.Name, c.v, c.lo, c.hi)
		}
	}
	// All solids but foams store much the same in a volume.
	if v := m.Density.Value * m.SpecificHeat.Value; !(v >= leastHeatPerM3K && v <= mostHeatPerM3K) {
		return fmt.Errorf("density times specific heat of %s is %.3g J/(m3 K), outside %g to %g", m.Name, v, float64(leastHeatPerM3K), float64(mostHeatPerM3K))
	}
	return nil
}

// leastHeatPerM3K and mostHeatPerM3K bound what a solid stores, J/(m3 K):
// metals and laminates lie between 1.2e6 and 4e6 (from memory), with some room.
const leastHeatPerM3K, mostHeatPerM3K = 8e5, 4.5e6
