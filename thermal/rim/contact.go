package rim

import (
	"math"

	"rimheat/thermal/air"
)

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
func (m Material) Effusivity(tK float64) float64 { return m.across().effusivity(tK) }

// conductor is what a material does with heat that enters its face.
type conductor struct {
	k        float64 // W/(m K)
	heat     float64 // at the reference temperature, J/(m3 K)
	heatRise float64 // J/(m3 K2)
}

func (m *Material) across() conductor {
	rho := m.Density.Value
	return conductor{m.ConductivityThrough.Value, rho * m.SpecificHeat.Value, rho * m.SpecificHeatRise.Value}
}

func (c conductor) heatAt(tK float64) float64 { return c.heat + c.heatRise*(tK-referenceK) }

func (c conductor) effusivity(tK float64) float64 { return math.Sqrt(c.k * c.heatAt(tK)) }

// rubbed is what a pad slides on: a skin, if skinM is not 0, on the wall under it.
type rubbed struct {
	skin, wall  conductor
	skinM       float64
	bondM2KPerW float64
}

func (s *Section) rubbed() rubbed {
	return rubbed{s.Surface.Material.across(), s.Material.across(), s.Surface.ThicknessM, s.Surface.BondM2KPerW}
}

// effusivity is what a pad's pass of passS seconds meets at tK, W s^0.5/(m2 K). A
// skin so thin that the pass warms it through counts for less than a half
// space: as a lump in the limit, which gives the factor
// 1/sqrt(1 + pi/4 alpha t/d^2) (derived). The wall under it takes part and sets
// a floor: the lower one of both effusivities, less with a bond's resistance.
// Skins of 0.2 mm and more come out within 45 % of a two-layer solution, on the
// hot side; thinner ones up to twice as hot.
func (r *rubbed) effusivity(tK, passS float64) float64 {
	wall := r.wall.effusivity(tK)
	if r.skinM == 0 {
		return wall
	}
	skin := r.skin.effusivity(tK)
	spread := r.skin.k / r.skin.heatAt(tK) * passS
	lump := skin / math.Sqrt(1+math.Pi/4*spread/(r.skinM*r.skinM))
	// The bond's resistance stands before the wall's own rise in the pass,
	// 2 sqrt(t/pi)/e.
	floor := 1 / (1/math.Min(skin, wall) + r.bondM2KPerW/(2*math.Sqrt(passS/math.Pi)))
	return math.Max(lump, floor)
}

// A contact divides the braking heat of one side of a wheel between its pad and
// its rim. Solver and Reduced share it.
type contact struct {
	track                         rubbed
	filmFactor, fixedFilm         float64
	padLengthM, radiusM, spinPart float64
	noPads                        bool

	blk     block
	flash   Flash
	film    float64 // of the last step, W/(m2 K)
	rimW    float64 // into this side of the rim, mean over the last step, W
	padJ    float64
	on      float64
	contact float64 // the skin under the pad's trailing edge, K
}

func newContact(sec Section, pad Pad, opt Options) contact {
	c := contact{
		track: sec.rubbed(), filmFactor: opt.FilmFactor, fixedFilm: opt.FilmWPerM2K, noPads: opt.NoPads, blk: newBlock(pad),
		padLengthM: pad.Length.Value, radiusM: sec.Geometry.TrackRadiusM(), spinPart: sec.Geometry.SpinPart(),
	}
	if c.filmFactor == 0 {
		c.filmFactor = 1
	}
	return c
}

func (c *contact) reset(tK float64) {
	c.blk.reset(tK)
	c.contact = tK
}

// divide finds film and heat of a step that begins with the track's surface at
// sweptK: what the pad takes at the shared contact temperature, the rest is
// the rim's.
func (c *contact) divide(d Drive, sweptK float64) {
	c.film = c.fixedFilm
	if c.film == 0 {
		c.film = c.filmFactor * air.RimFilm(d.StreamMps, c.spinPart*d.RollMps, c.radiusM, sweptK, d.AirK, d.PressurePa)
	}
	brake := d.PowerW / 2 // per side
	c.flash, c.on, c.padJ = Flash{}, 0, 0
	if !c.noPads {
		skin := sweptK
		if brake > 0 && d.OnPart > 0 {
			c.on = d.OnPart
			speed := c.spinPart * d.RollMps
			c.flash = FlashRise(c.track.effusivity(sweptK, c.padLengthM/math.Max(speed, 1e-9)), c.padLengthM, c.radiusM, speed)
			// Flux into the rim while the pad touches lifts the skin.
			skin += c.flash.Mean * brake / c.on / c.blk.areaM2
		}
		c.padJ = c.blk.step(d.DtS, c.on, skin, c.flash.Mean, c.film, d.AirK)
	}
	c.rimW = brake - c.padJ/d.DtS
}

// settle takes in the track's surface at the end of the step and books it.
func (c *contact) settle(d Drive, sweptK, sunAreaM2 float64, bal *Balance) {
	bal.Braked += d.PowerW / 2 * d.DtS
	bal.Pads += c.padJ
	sunJ := d.SunWPerM2 * sunAreaM2 * d.DtS
	bal.Sun += sunJ
	bal.In += c.rimW*d.DtS + sunJ
	bal.Lost += sunJ // the steps have counted it as a loss that was negative
	c.contact = sweptK
	if c.on > 0 {
		c.contact += c.flash.Max * math.Max(c.rimW, 0) / c.on / c.blk.areaM2
	}
}
