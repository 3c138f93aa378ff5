package rim

import "math"

// padCells is the number of cells from a pad's face to its holder. Each is
// padGrowth times as thick as the one before it: the first, 0.08 mm of 8, must
// follow a second of braking, in which heat enters rubber by 0.4 mm; a faster
// growth would take less heat than a half space does.
const (
	padCells  = 15
	padGrowth = 1.25
	padNodes  = padCells + 1 // and the holder
)

const (
	// The holder: a strip of metal with its bolt, and the air on it.
	holderJPerK  = 14.0  // 15 g of aluminium alloy; common practice, no source
	holderAreaM2 = 20e-4 // both faces and edges; common practice, no source
	// holderFilm is the film on holder and block as a part of the rim's: the
	// block sits still in the stream, sheltered by the brake's arm; common
	// practice, no source.
	holderFilm = 0.5

	// Up to the ratio alikeRates two rates of the skin are taken for one trend,
	// from unlikeRates on for none: while it warms with the root of the time they
	// differ by 1.3, and by 2.4 if the first is that of a jump (derived).
	alikeRates, unlikeRates = 1.6, 2.3
)

// A block is one brake block in time: a rod of pad compound from the track to its
// holder, implicit in time. Its state is how strong each of its own patterns of
// cooling is, the modes: its equations then fall apart but for face and holder.
type block struct {
	areaM2 float64
	// faceM is half the first cell, m; conductivity is the compound's, W/(m K).
	faceM, conductivity float64
	// edgePart is the area in the air over heat capacity, m2 K/J, alike in all
	// cells; holderM2 what the holder has in the air beyond that, m2.
	edgePart, holderM2 float64
	modes              padModes

	// v is the strength of each mode, of temperature above airK. faceK is the
	// first cell's temperature.
	v           [padNodes]float64
	airK, faceK float64

	// skinK and dt are those of the last step if the pad touched, else dt is 0;
	// rate is how fast the skin warmed to there, K/s, trust from 0 to 1 how far
	// that was no jump; see trend.
	skinK, dt, rate float64
	trust           float64
}

func newBlock(p Pad) block {
	b := block{areaM2: p.Length.Value * p.Height.Value, conductivity: p.Conductivity.Value}
	var dz [padCells]float64
	var sum float64
	w := 1.0
	for i := range dz {
		dz[i] = w
		sum += w
		w *= padGrowth
	}
	var capacity [padNodes]float64 // J/K, the holder last
	for i := range dz {
		dz[i] *= p.Thickness.Value / sum
		capacity[i] = p.Density.Value * p.SpecificHeat.Value * b.areaM2 * dz[i]
	}
	capacity[padCells] = holderJPerK
	var ties [padCells]float64 // from cell i to i+1, W/K for each W/(m K)
	for i := range ties {
		long := dz[i] / 2
		if i+1 < padCells {
			long += dz[i+1] / 2
		}
		ties[i] = b.areaM2 / long
	}
	b.faceM = dz[0] / 2
	b.edgePart = 2 * (p.Length.Value + p.Height.Value) / (p.Density.Value * p.SpecificHeat.Value * b.areaM2)
	b.holderM2 = holderAreaM2 - b.edgePart*holderJPerK
	b.modes = newPadModes(&capacity, &ties)
	return b
}

func (b *block) reset(tK float64) {
	clear(b.v[:])
	b.airK, b.faceK = tK, tK
	b.skinK, b.dt, b.rate, b.trust = tK, 0, 0, 0
}

// step moves the block by dt seconds. While the pad touches (part on of the
// step) its face sees the temperature skinK through the resistance back of
// the rim's own flash, m2 K/W of pad area; else the air. It returns the heat
// that flowed into the face, joules.
// The two stages are those of advance: second order in time, L-stable. The
// skin's temperature is known at the start of the step alone, so it is taken
// to go on as it came.
func (b *block) step(dt, on, skinK, back, filmH, airK float64) float64 {
	const b1 = 1 - gammaStep
	hAir := holderFilm * filmH
	touch := on * b.areaM2 / (b.faceM/b.conductivity + back)
	rate := b.trend(dt, on, skinK)
	if airK != b.airK {
		for j, e := range b.modes.even {
			b.v[j] += (b.airK - airK) * e
		}
		b.airK = airK
	}
	s := b.modes.stage(gammaStep*dt, b.conductivity, b.edgePart*hAir, touch+(1-on)*b.areaM2*hAir, b.holderM2*hAir)
	from := b.v
	skin := skinK - airK
	face := s.solve(&b.v, &from, touch*(skin+rate*gammaStep*dt))
	first := touch * (skin + rate*gammaStep*dt - face)
	for j, v := range b.v {
		from[j] += b1 / gammaStep * (v - from[j])
	}
	face = s.solve(&b.v, &from, touch*(skin+rate*dt))
	b.faceK = airK + face
	return dt * (b1*first + gammaStep*touch*(skin+rate*dt-face))
}

// trend is how fast the skin can be taken to warm during a step, K/s: the
// slower of its last two rates, as far as they are alike and the earlier one was
// no jump itself. Just after brakes are taken or power jumps nothing is known.
// How far a trend is trusted fades with the ratio of the rates, so that a small
// difference never makes a large one.
func (b *block) trend(dt, on, skinK float64) float64 {
	if on <= 0 {
		b.dt, b.rate, b.trust = 0, 0, 0
		return 0
	}
	var rate, trust float64
	if b.dt > 0 {
		rate = (skinK - b.skinK) / b.dt
	}
	before, trusted := b.rate, b.trust
	ratio := math.Inf(1)
	if before != 0 {
		ratio = rate / before
	}
	alike := func(far float64) float64 {
		return math.Min(math.Max((unlikeRates-far)/(unlikeRates-alikeRates), 0), 1)
	}
	// A rate far above the one before it is a jump, which the next step must
	// not take for a trend; one far below is what follows a jump.
	jumpFree := 0.0
	if ratio > 0 {
		trust, jumpFree = alike(math.Max(ratio, 1/ratio)), alike(ratio)
	}
	b.skinK, b.dt, b.rate, b.trust = skinK, dt, rate, jumpFree
	if trust == 0 {
		return 0
	}
	slower := before
	if ratio < 1 {
		slower = rate * math.Sqrt(ratio)
	}
	return trusted * trust * slower
}

// SpinPart is the speed at which the track passes the pads, as a part of the
// road speed.
func (g Geometry) SpinPart() float64 {
	return g.TrackRadiusM() / (g.BeadSeatDiameterM/2 + tyreHeightM)
}
