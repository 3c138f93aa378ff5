package rim

// padCells is the number of cells from a pad's face to its holder. Each is
// padGrowth times as thick as the one before it: the first, 0.08 mm of 8, must
// follow a second of braking, in which heat enters rubber by 0.4 mm.
const (
	padCells  = 8
	padGrowth = 1.7
)

const (
	// The holder: a strip of metal with its bolt, and the air on it.
	holderJPerK  = 14.0  // 15 g of aluminium alloy; common practice, no source
	holderAreaM2 = 20e-4 // both faces and edges; common practice, no source
	// holderFilm is the film on holder and block as a part of the rim's: the
	// block sits still in the stream, sheltered by the brake's arm; common
	// practice, no source.
	holderFilm = 0.5
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

	c, d [padCells + 1]float64
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
}

// step moves the block by dt seconds. While the pad touches (part on of the
// step) its face sees the temperature skinK through the resistance back of
// the rim's own flash, m2 K/W of pad area; else the air. It returns the heat
// that flowed into the face, joules.
func (b *block) step(dt, on, skinK, back, filmH, airK float64) float64 {
	g := on * b.areaM2 / (b.face + back)
	hAir := holderFilm * filmH
	free := (1 - on) * b.areaM2 * hAir
	n := padCells + 1
	// Thomas' algorithm on the backward Euler system.
	var lower float64
	for i := range n {
		diag := b.cap[i] / dt
		rhs := diag * b.t[i]
		var upper float64
		if i < padCells {
			upper = b.link[i]
			diag += upper + b.edge[i]*hAir
			rhs += b.edge[i] * hAir * airK
		} else {
			diag += holderAreaM2 * hAir
			rhs += holderAreaM2 * hAir * airK
		}
		diag += lower
		if i == 0 {
			diag += g + free
			rhs += g*skinK + free*airK
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
	return g * (skinK - b.t[0]) * dt
}

// SpinPart is the speed at which the track passes the pads, as a part of the
// road speed.
func (g Geometry) SpinPart() float64 {
	return g.TrackRadiusM() / (g.BeadSeatDiameterM/2 + tyreHeightM)
}
