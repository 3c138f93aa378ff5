package rim

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// drawnCase is a wheel and what happens to it.
type drawnCase struct {
	sec  Section
	pad  Pad
	opt  Options
	t0   float64
	duty []Drive
}

// drawCase draws a section inside the bounds of the finite elements' drawn
// cases (testdata/finite_elements/cmd), with heat capacity that rises and with
// radiation, every other one tapered, some with a skin or a fairing, and a duty
// of twenty minutes or so: drags, pulses, jumps, stops, in steps of 0.05 s to
// 10 s.
func drawCase(k int) drawnCase { return drawSeeded(drawnSeed, k) }

const drawnSeed = 1917

func drawSeeded(seed uint64, k int) drawnCase {
	rng := rand.New(rand.NewPCG(seed, uint64(k)))
	in := func(lo, hi float64) float64 { return lo + (hi-lo)*rng.Float64() }
	const mm = 1e-3
	metal := func() Material {
		m := Material{ID: "metal", Name: "metal"}
		m.ConductivityAlong.Value = in(120, 200)
		m.ConductivityThrough = m.ConductivityAlong
		m.Density.Value = 2700
		m.SpecificHeat.Value = in(2.3e6, 2.6e6) / 2700
		m.SpecificHeatRise.Value = in(0, 0.5)
		m.EmissivityTrack.Value, m.EmissivityBody.Value = in(0.05, 0.3), in(0.05, 0.9)
		return m
	}
	laminate := func() Material {
		m := Material{ID: "laminate", Name: "laminate", Composite: true}
		m.ConductivityAlong.Value, m.ConductivityThrough.Value = in(2.5, 6), in(0.5, 0.9)
		m.Density.Value = in(1400, 1800)
		m.SpecificHeat.Value = in(1.35e6, 1.9e6) / m.Density.Value
		m.SpecificHeatRise.Value = in(2, 4.5)
		m.EmissivityTrack.Value, m.EmissivityBody.Value = in(0.7, 0.95), in(0.7, 0.95)
		return m
	}
	isMetal := k%4 == 3
	mat, wall := laminate(), in(2.2*mm, 4.2*mm)
	if isMetal {
		mat, wall = metal(), in(1.6*mm, 2.4*mm)
	}
	mat.AbsorptivityTrack.Value, mat.AbsorptivityBody.Value = in(0.3, 0.9), in(0.3, 0.95)
	g := Geometry{Shape: []Shape{Box, Taper}[k/2%2], OuterWidthM: in(20*mm, 30*mm), DepthM: in(20*mm, 60*mm), TrackHeightM: in(7.5*mm, 11*mm), TrackBelowEdgeM: in(0.5*mm, 2*mm),
		BedBelowEdgeM: in(5.5*mm, 7*mm), BedM: in(0.9*mm, 1.6*mm), FlankM: in(0.8*mm, min(1.6*mm, wall-0.4*mm)), SpokeBedM: in(1.5*mm, 4.5*mm), BeadSeatDiameterM: 0.622}
	g.InnerWidthM = g.OuterWidthM - 2*wall
	g.BedBelowEdgeM = min(g.BedBelowEdgeM, g.TrackHeightM+g.TrackBelowEdgeM-g.BedM-0.4*mm)
	c := drawnCase{sec: Section{ID: fmt.Sprintf("drawn %d", k), Kind: "clincher", Geometry: g, Material: mat}, pad: Pads()[rng.IntN(len(Pads()))], opt: Options{}}
	if k%10 == 5 {
		l := []Material{metal(), laminate()}[rng.IntN(2)]
		c.sec.Surface = Layer{Material: l, ThicknessM: in(0.1*mm, g.FlankM-leastWallM), BondM2KPerW: in(0, 5e-4)}
	}
	if from, to := g.fairingFrom(); k%10 == 7 && to > from+1*mm {
		c.sec.Fairing = Fairing{Material: laminate(), BelowEdgeM: in(from, from+0.5*(to-from)), BondM2KPerW: in(0, 5e-4)}
	}
	c.opt.FilmFactor = in(0.67, 1.5)
	c.t0 = in(263, 313)
	airK, pPa := c.t0, in(75e3, 102e3)
	// The heat that keeps such a wheel near basisRiseK, and its like in pulses.
	watts, dt := in(150, 700), []float64{0.05, 0.2, 1, 1, 2, 5, 10}[rng.IntN(7)]
	end := 1200.0
	if dt < 0.1 {
		end = 240
	}
	sun := in(0, 600) * float64(rng.IntN(2))
	for x := 0.0; x < end; {
		v, wind := in(3, 17), in(-3, 3)
		long := in(20, 200) * end / 1200
		kind := rng.IntN(5)
		airK += in(-1, 1)
		on, period, w := in(2, 8), in(6, 25), watts*in(1.5, 4)
		if kind == 4 {
			v, wind, long = 0, 0, 1.5*long
		}
		for y := 0.0; y < long && x < end; y, x = y+dt, x+dt {
			d := Drive{DtS: dt, RollMps: v, StreamMps: v + wind, AirK: airK, PressurePa: pPa, SunWPerM2: sun}
			switch kind {
			case 0, 1: // drag, steady or unsteady
				d.PowerW, d.OnPart = watts, 1
				if kind == 1 {
					d.PowerW = watts * in(0, 2)
					d.RollMps *= in(0.8, 1.2)
				}
			case 2: // pulses
				if math.Mod(y, period) < on {
					d.PowerW, d.OnPart = w, in(0.5, 1)
				}
			}
			c.duty = append(c.duty, d)
		}
	}
	return c
}

// model is what a Solver and a Reduced have in common.
type model interface {
	Reset(tK float64)
	Step(d Drive) error
	State() State
	Balance() Balance
}

// told lists what State tells.
func told(s State) []float64 {
	return []float64{s.WallK, s.SweptK, s.HottestK, s.ContactK, s.MidWallK, s.InnerWallK, s.TyreSideK, s.FairingK, s.BedCentreK, s.SpokeBedK, s.TyreAirK, s.PadK}
}

var toldNames = []string{"wall", "swept mean", "hottest", "contact", "mid wall", "inner wall", "tyre side", "fairing", "bed centre", "spoke bed", "tyre air", "pad"}

// apart runs both over the duty and gives, per place, the difference of the
// peaks and the largest difference at any time, kelvin, and the largest rise.
func apart(t testing.TB, a, b model, c drawnCase) (peaks, always []float64, rise float64) {
	t.Helper()
	n := len(toldNames)
	peaks, always = make([]float64, n), make([]float64, n)
	topA, topB := make([]float64, n), make([]float64, n)
	a.Reset(c.t0)
	b.Reset(c.t0)
	for i, d := range c.duty {
		if err := a.Step(d); err != nil {
			t.Fatalf("%s, step %d: %v", c.sec.ID, i, err)
		}
		if err := b.Step(d); err != nil {
			t.Fatalf("%s, step %d: %v", c.sec.ID, i, err)
		}
		x, y := told(a.State()), told(b.State())
		for k := range x {
			always[k] = max(always[k], math.Abs(x[k]-y[k]))
			topA[k], topB[k] = max(topA[k], x[k]), max(topB[k], y[k])
		}
	}
	for k := range peaks {
		peaks[k] = math.Abs(topA[k] - topB[k])
	}
	return peaks, always, topA[2] - c.t0
}

// spread is how far cases came out apart, kelvin: of each case's worst place,
// of peaks and at any time, and of each place's worst case.
type spread struct {
	peaks, always, rises, patterns, cells []float64
	byPlace                               [][]float64 // peaks of each place
	everByPlace                           []float64
}

// add runs a case through both.
func (s *spread) add(t testing.TB, full *Solver, reduced *Reduced, c drawnCase) {
	t.Helper()
	p, a, rise := apart(t, full, reduced, c)
	if s.byPlace == nil {
		s.byPlace, s.everByPlace = make([][]float64, len(p)), make([]float64, len(p))
	}
	worst := slices.Max(p)
	s.peaks, s.always, s.rises = append(s.peaks, worst), append(s.always, slices.Max(a)), append(s.rises, rise)
	s.patterns, s.cells = append(s.patterns, float64(reduced.Patterns())), append(s.cells, float64(full.Cells()))
	for i, x := range p {
		s.byPlace[i], s.everByPlace[i] = append(s.byPlace[i], x), max(s.everByPlace[i], a[i])
	}
	if testing.Verbose() && worst > 0.5 {
		t.Logf("%s: rise %.0f K, steps of %g s: peak of %s %.2f K apart", c.sec.ID, rise, c.duty[0].DtS, toldNames[slices.Index(p, worst)], worst)
	}
}

// tell logs it. Cases that are all cool tell nothing, which is an error.
func (s *spread) tell(t testing.TB) {
	t.Helper()
	parts := func(v []float64) func(part float64) float64 {
		v = slices.Sorted(slices.Values(v))
		return func(part float64) float64 { return v[int(part*float64(len(v)-1)+0.5)] }
	}
	for _, x := range []struct {
		name string
		v    []float64
	}{{"peaks apart, K", s.peaks}, {"apart at any time, K", s.always}, {"rise of the hottest row, K", s.rises}, {"patterns", s.patterns}, {"cells", s.cells}} {
		at := parts(x.v)
		t.Logf("%s of %d cases: least %.3g, median %.3g, 90 %% %.3g, 99 %% %.3g, most %.3g", x.name, len(x.v), at(0), at(0.5), at(0.9), at(0.99), at(1))
	}
	for i, v := range s.byPlace {
		at := parts(v)
		t.Logf("%s: peaks apart by %.2f K in the middle, 90 %% %.2f, 99 %% %.2f, most %.2f; at any time %.2f K", toldNames[i], at(0.5), at(0.9), at(0.99), at(1), s.everByPlace[i])
	}
	if slices.Max(s.rises) < 150 {
		t.Errorf("no case is hot")
	}
}
