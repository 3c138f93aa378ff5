package rim

import (
	"math"
	"math/rand/v2"
	"testing"
)

// rod is the block cell by cell, by Thomas' algorithm: what the modes must
// agree with.
type rod struct {
	b          *block
	cap, edge  [padNodes]float64
	link       [padCells]float64
	face       float64
	t, from    [padNodes]float64
	upper, rhs [padNodes]float64
}

func newRod(p Pad, b *block) *rod {
	r := &rod{b: b}
	var dz [padCells]float64
	for i := range dz {
		dz[i] = p.Thickness.Value * math.Pow(padGrowth, float64(i)) * (padGrowth - 1) / (math.Pow(padGrowth, padCells) - 1)
		r.cap[i] = p.Density.Value * p.SpecificHeat.Value * b.areaM2 * dz[i]
		r.edge[i] = 2 * (p.Length.Value + p.Height.Value) * dz[i]
	}
	r.cap[padCells], r.edge[padCells] = holderJPerK, holderAreaM2
	for i := range r.link {
		long := dz[i] / 2
		if i+1 < padCells {
			long += dz[i+1] / 2
		}
		r.link[i] = p.Conductivity.Value * b.areaM2 / long
	}
	r.face = dz[0] / 2 / p.Conductivity.Value
	return r
}

func (r *rod) step(dt, on, skinK, rate, back, filmH, airK float64) float64 {
	h := holderFilm * filmH
	g, free := on*r.b.areaM2/(r.face+back), (1-on)*r.b.areaM2*h
	r.from = r.t
	r.implicit(gammaStep*dt, g, free, skinK+rate*gammaStep*dt, h, airK)
	first := g * (skinK + rate*gammaStep*dt - r.t[0])
	const b1 = 1 - gammaStep
	for i, t := range r.t {
		r.from[i] += b1 / gammaStep * (t - r.from[i])
	}
	r.implicit(gammaStep*dt, g, free, skinK+rate*dt, h, airK)
	return dt * (b1*first + gammaStep*g*(skinK+rate*dt-r.t[0]))
}

func (r *rod) implicit(dt, g, free, skinK, h, airK float64) {
	for i := range r.t {
		diag := r.cap[i]/dt + r.edge[i]*h
		rhs := r.cap[i]/dt*r.from[i] + r.edge[i]*h*airK
		if i == 0 {
			diag, rhs = diag+g+free, rhs+g*skinK+free*airK
		} else {
			lower := r.link[i-1]
			diag += lower * (1 - r.upper[i-1])
			rhs += lower * r.rhs[i-1]
		}
		if i < padCells {
			diag += r.link[i]
			r.upper[i] = r.link[i] / diag
		}
		r.rhs[i] = rhs / diag
	}
	r.t[padCells] = r.rhs[padCells]
	for i := padCells - 1; i >= 0; i-- {
		r.t[i] = r.rhs[i] + r.upper[i]*r.t[i+1]
	}
}

// The block in its modes does what its cells do, to rounding, touching and
// free, in steps short and long, for every compound.
func TestBlockModes(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 1))
	for _, p := range Pads() {
		for _, place := range []float64{-1, 0, 1} {
			p := p.At(place)
			b := newBlock(p)
			cells := newRod(p, &b)
			b.reset(290)
			for i := range cells.t {
				cells.t[i] = 290
			}
			var sum float64
			for i := range 2000 {
				dt := []float64{0.05, 0.5, 1, 10}[rng.IntN(4)]
				on := []float64{0, 0, 0.4, 1, 1}[rng.IntN(5)]
				skinK, film, airK := 290+300*rng.Float64(), 10+90*rng.Float64(), 270+40*rng.Float64()
				before := b // trend is told what it was told
				rate := before.trend(dt, on, skinK)
				got, want := b.step(dt, on, skinK, 1e-4, film, airK), cells.step(dt, on, skinK, rate, 1e-4, film, airK)
				sum += math.Abs(want)
				if math.Abs(got-want) > 1e-9*(1+math.Abs(want)) || math.Abs(b.faceK-cells.t[0]) > 1e-8 {
					t.Fatalf("%s, step %d of %g s: %g J, face at %g K; cells %g J, %g K", p.ID, i, dt, got, b.faceK, want, cells.t[0])
				}
			}
			if sum < 1e4 {
				t.Errorf("%s: %g J in all, nothing to compare", p.ID, sum)
			}
		}
	}
}
