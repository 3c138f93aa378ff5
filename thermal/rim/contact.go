package rim

import "math"

// zetaHalf is the Riemann zeta function at 1/2, from memory to all digits
// shown; see Flash.
const zetaHalf = -1.4603545088

// A Flash is how much hotter the skin of the track is under the pad than the
// track's mean over the turn, kelvin per W/m2 of flux into the rim while the
// pad passes.
type Flash struct {
	// Max at the pad's trailing edge, Mean over its length.
	Max, Mean float64
}

// FlashRise gives the rise of a moving band of heat on a half space at high
// Peclet number: 2 sqrt(L/(pi v))/e at the trailing edge, with L the pad's
// length, v the track's speed and e the effusivity sqrt(k rho c) of the rim,
// and two thirds of it in the mean (J. C. Jaeger, Proc. R. Soc. N.S.W. 76
// (1942) 203, from memory).
//
// The track's mean temperature, to which this is added, already holds the
// same heat smeared over the turn. For heat that comes once a turn for the
// part f of it, the sum over all earlier passes less the smeared heat's own
// skin gradient leaves the factor 1 + sqrt(f) zeta(1/2)/2 at the trailing edge
// (derived), about 0.88 for a 50 mm pad.
func FlashRise(effusivity, padLengthM, trackRadiusM, speedMps float64) Flash {
	if speedMps <= 0 {
		return Flash{}
	}
	band := 2 * math.Sqrt(padLengthM/(math.Pi*speedMps)) / effusivity
	f := padLengthM / (2 * math.Pi * trackRadiusM)
	back := math.Sqrt(f) * zetaHalf / 2
	return Flash{Max: band * (1 + back), Mean: band * (2.0/3 + back)}
}

// Effusivity is sqrt(k rho c) into the wall at tK, W s^0.5/(m2 K).
func (m Material) Effusivity(tK float64) float64 {
	c := m.SpecificHeat.Value + m.SpecificHeatRise.Value*(tK-referenceK)
	return math.Sqrt(m.ConductivityThrough.Value * m.Density.Value * c)
}

// passEffusivity is the effusivity that a pad's pass of passS seconds meets at
// tK, W s^0.5/(m2 K). A skin so thin that the pass warms it through counts for
// less than a half space: as a lump in the limit, which gives the factor
// 1/sqrt(1 + pi/4 alpha t/d^2) (derived; within 45 % of a two-layer solution,
// on the hot side, and never below what lies under it).
func (s *Section) passEffusivity(tK, passS float64) float64 {
	d := s.Surface.ThicknessM
	if d == 0 {
		return s.Material.Effusivity(tK)
	}
	m := &s.Surface.Material
	skin, under := m.Effusivity(tK), s.Material.Effusivity(tK)
	c := m.SpecificHeat.Value + m.SpecificHeatRise.Value*(tK-referenceK)
	spread := m.ConductivityThrough.Value / (m.Density.Value * c) * passS
	return math.Max(skin/math.Sqrt(1+math.Pi/4*spread/(d*d)), math.Min(skin, under))
}
