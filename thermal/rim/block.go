package rim

import "math"

// padCells is the number of cells from a pad's face to its holder. Each is
// padGrowth times as thick as the one before it: the first, 0.08 mm of 8, must
// follow a second of braking, in which heat enters rubber by 0.4 mm; a faster
// growth would take less heat than a half space does.
const (
	padCells  = 15
	padGrowth = 1.25
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

// block is one brake block in time: a rod of pad compound from the track to
// its holder, implicit in time.
type block struct {
	areaM2 float64
	dz     [padCells]float64
	cap    [padCells + 1]float64 // J/K, the holder last
	link   [padCells]float64     // W/K from cell i to i+1 (the holder)
	edge   [padCells]float64     // side area in the air, m2
	face   float64               // m2 K/W of the first half cell
	t      [padCells + 1]float64

	// skinK and dt are those of the last step if the pad touched, else dt is 0;
	// rate is how fast the skin warmed to there, K/s, trust from 0 to 1 how far
	// that was no jump; see trend.
	skinK, dt, rate float64
	trust           float64
	from            [padCells + 1]float64
	c, d            [padCells + 1]float64
}

func newBlock(p Pad) block {
	b := block{areaM2: p.Length.Value * p.Height.Value}
	var sum float64
	w := 1.0
	for i := range b.dz {
		b.dz[i] = w
		sum += w
		w *= padGrowth
	}
	k := p.Conductivity.Value
	around := 2 * (p.Length.Value + p.Height.Value)
	for i := range b.dz {
		b.dz[i] *= p.Thickness.Value / sum
		b.cap[i] = p.Density.Value * p.SpecificHeat.Value * b.areaM2 * b.dz[i]
		b.edge[i] = around * b.dz[i]
	}
	b.cap[padCells] = holderJPerK
	for i := range padCells {
		r := b.dz[i] / 2 / k
		if i+1 < padCells {
			r += b.dz[i+1] / 2 / k
		}
		b.link[i] = b.areaM2 / r
	}
	b.face = b.dz[0] / 2 / k
	return b
}

func (b *block) reset(tK float64) {
	for i := range b.t {
		b.t[i] = tK
	}
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
	f := touch{g: on * b.areaM2 / (b.face + back), skinK: skinK, airK: airK, hAir: holderFilm * filmH}
	f.free = (1 - on) * b.areaM2 * f.hAir
	rate := b.trend(dt, on, skinK)
	b.from = b.t
	f.skinK = skinK + rate*gammaStep*dt
	b.implicit(gammaStep*dt, f)
	first := f.g * (f.skinK - b.t[0])
	const b1 = 1 - gammaStep
	for i, t := range b.t {
		b.from[i] += b1 / gammaStep * (t - b.from[i])
	}
	f.skinK = skinK + rate*dt
	b.implicit(gammaStep*dt, f)
	return dt * (b1*first + gammaStep*f.g*(f.skinK-b.t[0]))
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

// touch is what a block meets during a step: the conductance g, W/K, to a skin
// of skinK, and the air, W/(m2 K) and W/K on its free face.
type touch struct{ g, free, hAir, skinK, airK float64 }

// implicit puts into t the temperatures whose flows lead there from those of
// from within dt seconds, by Thomas' algorithm.
func (b *block) implicit(dt float64, f touch) {
	n := padCells + 1
	var lower float64
	for i := range n {
		diag := b.cap[i] / dt
		rhs := diag * b.from[i]
		var upper float64
		if i < padCells {
			upper = b.link[i]
			diag += upper + b.edge[i]*f.hAir
			rhs += b.edge[i] * f.hAir * f.airK
		} else {
			diag += holderAreaM2 * f.hAir
			rhs += holderAreaM2 * f.hAir * f.airK
		}
		diag += lower
		if i == 0 {
			diag += f.g + f.free
			rhs += f.g*f.skinK + f.free*f.airK
			b.c[0], b.d[0] = upper/diag, rhs/diag
		} else {
			m := diag - lower*b.c[i-1]
			b.c[i] = upper / m
			b.d[i] = (rhs + lower*b.d[i-1]) / m
		}
		lower = upper
	}
	b.t[n-1] = b.d[n-1]
	for i := n - 2; i >= 0; i-- {
		b.t[i] = b.d[i] + b.c[i]*b.t[i+1]
	}
}

// SpinPart is the speed at which the track passes the pads, as a part of the
// road speed.
func (g Geometry) SpinPart() float64 {
	return g.TrackRadiusM() / (g.BeadSeatDiameterM/2 + tyreHeightM)
}
