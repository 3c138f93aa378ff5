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

// compare runs the first n drawn cases through both and tells how far they lie
// apart.
func compare(t testing.TB, n int) (peaks, always []float64) {
	t.Helper()
	var s spread
	for k := range n {
		c := drawCase(k)
		full, err := NewSolver(c.sec, c.pad, c.opt)
		if err != nil {
			t.Fatal(err)
		}
		reduced, err := NewReduced(c.sec, c.pad, c.opt)
		if err != nil {
			t.Fatal(err)
		}
		s.add(t, full, reduced, c)
	}
	s.tell(t)
	return s.peaks, s.always
}

// The patterns stand in for the cells: no peak of any place is further than
// 1 K from the Solver's. BenchmarkReducedAgainstSolver does the same on all
// cases.
func TestReducedAgainstSolver(t *testing.T) {
	peaks, _ := compare(t, 40)
	if worst := slices.Max(peaks); !(worst < 1) {
		t.Errorf("a peak is %.2f K apart", worst)
	}
}

func BenchmarkReducedAgainstSolver(b *testing.B) {
	var peaks, always []float64
	for b.Loop() {
		peaks, always = compare(b, 200)
	}
	worst := slices.Max(peaks)
	if !(worst < 1) {
		b.Errorf("a peak is %.2f K apart", worst)
	}
	b.ReportMetric(worst, "K_worst_peak")
	b.ReportMetric(slices.Max(always), "K_worst_ever")
}

// Energy in = stored + lost to rounding, on drawn wheels and duties.
func TestReducedBalanceCloses(t *testing.T) {
	for k := range 12 {
		c := drawCase(k)
		m, err := NewReduced(c.sec, c.pad, c.opt)
		if err != nil {
			t.Fatal(err)
		}
		m.Reset(c.t0)
		for _, d := range c.duty {
			if err := m.Step(d); err != nil {
				t.Fatal(err)
			}
		}
		b := m.Balance()
		size := b.In + math.Abs(b.Stored) + math.Abs(b.Lost)
		if r := math.Abs(b.In-b.Stored-b.Lost) / size; !(r < 1e-11) || size < 1e4 {
			t.Errorf("%s: %+v: %.1e of it is missing", c.sec.ID, b, r)
		}
		if r := math.Abs(b.Braked-b.Pads+b.Sun-b.In) / size; !(r < 1e-11) {
			t.Errorf("%s: %+v: %.1e of the input is missing", c.sec.ID, b, r)
		}
	}
}

// After steps that bend enthalpy hard, what the wheel holds is what belongs to
// its temperatures, to bentK on the track.
func TestReducedHoldsItsEnthalpy(t *testing.T) {
	for k := range 12 {
		c := drawCase(k)
		m, err := NewReduced(c.sec, c.pad, c.opt)
		if err != nil {
			t.Fatal(err)
		}
		m.Reset(c.t0)
		worst := 0.0
		for _, d := range c.duty {
			d.PowerW *= 2
			if err := m.Step(d); err != nil {
				t.Fatal(err)
			}
			m.renewTangent() // y is exact at z
			off := slices.Clone(m.h)
			axpy(-1, m.y, off)
			worst = max(worst, math.Abs(dot(m.trackMean, off)))
		}
		// In kelvin by the heat capacity at the reference, which is less than
		// that of a hot track.
		if worst > 1.2*bentK {
			t.Errorf("%s: %g K more or less than its temperatures", c.sec.ID, worst)
		}
		if k < 3 && worst < bentK/10 {
			t.Errorf("%s: %g K: nothing bends", c.sec.ID, worst)
		}
	}
}

// A wheel at the air's temperature stays there.
func TestReducedRests(t *testing.T) {
	m, err := NewReduced(byID(t, "carbon-deep"), Pads()[0], Options{})
	if err != nil {
		t.Fatal(err)
	}
	m.Reset(320)
	for range 100 {
		if err := m.Step(Drive{DtS: 5, RollMps: 8, StreamMps: 8, AirK: 320, PressurePa: 95e3}); err != nil {
			t.Fatal(err)
		}
	}
	for i, v := range told(m.State()) {
		if toldNames[i] != "fairing" && math.Abs(v-320) > 1e-6 {
			t.Errorf("%s went from 320 K to %g K by itself", toldNames[i], v)
		}
	}
}

// The error of a step falls with its square, as the Solver's.
func TestReducedStepHalved(t *testing.T) {
	m, err := NewReduced(byID(t, "alu-classic"), Pads()[0], Options{NoPads: true, FilmWPerM2K: 50})
	if err != nil {
		t.Fatal(err)
	}
	at := func(dt float64) float64 {
		m.Reset(300)
		for x := 0.0; x < 96-dt/2; x += dt {
			// From nothing and smoothly, so that the order shows; at the spoke
			// bed, where power held over a step is not felt as steps.
			d := Drive{DtS: dt, PowerW: 800 * (1 - math.Cos((x+dt/2)/15)), OnPart: 1, RollMps: 9, StreamMps: 9, AirK: 300, PressurePa: 95e3}
			if err := m.Step(d); err != nil {
				t.Fatal(err)
			}
		}
		return m.State().SpokeBedK
	}
	best := at(0.125)
	e8, e4, e2 := math.Abs(at(8)-best), math.Abs(at(4)-best), math.Abs(at(2)-best)
	t.Logf("spoke bed %.3f K; off by %.4f K with 8 s, %.4f with 4 s, %.4f with 2 s", best, e8, e4, e2)
	if e4 > e8/3 || e2 > e4/3 {
		t.Errorf("errors %g, %g, %g K of steps of 8, 4 and 2 s do not fall like the square", e8, e4, e2)
	}
}

func TestReducedStepAllocatesNothing(t *testing.T) {
	m, err := NewReduced(byID(t, "carbon-deep"), Pads()[0], Options{})
	if err != nil {
		t.Fatal(err)
	}
	i := 0
	if n := testing.AllocsPerRun(200, func() {
		i++
		// Hard enough at times that stages are iterated.
		d := Drive{DtS: 1, PowerW: 3000 * float64(i%3/2), OnPart: 1, RollMps: 9, StreamMps: 9, AirK: 300, PressurePa: 95e3}
		if err := m.Step(d); err != nil {
			t.Fatal(err)
		}
		m.State()
	}); n != 0 {
		t.Errorf("%g allocations a step", n)
	}
	if m.Step(Drive{}) == nil || m.Step(Drive{DtS: math.NaN()}) == nil {
		t.Error("a step of no time was taken")
	}
	if err := m.Step(Drive{DtS: 1, PowerW: math.Inf(1), OnPart: 1, RollMps: 9, AirK: 300, PressurePa: 95e3}); err == nil {
		t.Error("infinite power was taken")
	}
}

// Whatever section passes Validate, at the very ends of its bounds, is taken,
// and its peaks lie within 1 % of the rise, or 1 K.
func TestReducedExtremes(t *testing.T) {
	x := newExtremes()
	var parts []float64
	for len(parts) < 12 {
		s := x.section()
		full, err := NewSolver(s, Pads()[0], Options{})
		if err != nil {
			continue
		}
		m, err := NewReduced(s, Pads()[0], Options{})
		if err != nil {
			t.Fatalf("%+v: %v", s, err)
		}
		c := drawnCase{sec: s, t0: 300}
		for i := range 120 {
			d := Drive{DtS: x.end(0.1, 5), RollMps: 8, StreamMps: 8, AirK: 300, PressurePa: 101325}
			if i%4 < 2 {
				d.PowerW, d.OnPart = 200, 1
			}
			c.duty = append(c.duty, d)
		}
		peaks, _, rise := apart(t, full, m, c)
		parts = append(parts, slices.Max(peaks)/max(rise, 100))
		b := m.Balance()
		if r := math.Abs(b.In - b.Stored - b.Lost); !(r < 1e-9*(b.In+math.Abs(b.Stored))) {
			t.Errorf("%+v: books differ by %g J of %g J", s, r, b.In)
		}
	}
	slices.Sort(parts)
	if worst := parts[len(parts)-1]; worst > 0.01 {
		t.Errorf("a peak is %.2g of the rise (of 100 K at least) apart", worst)
	}
	t.Logf("%d sections: peaks apart by %.2g of the rise in the middle, %.2g at most", len(parts), parts[len(parts)/2], parts[len(parts)-1])
}

func BenchmarkReduced(b *testing.B) {
	for _, id := range []string{"carbon-deep", "alu-classic"} {
		sec := byID(b, id)
		pad := padFor(sec)
		b.Run(id+"/new", func(b *testing.B) {
			for b.Loop() {
				if _, err := NewReduced(sec, pad, Options{}); err != nil {
					b.Fatal(err)
				}
			}
		})
		reduced, err := NewReduced(sec, pad, Options{})
		if err != nil {
			b.Fatal(err)
		}
		full, err := NewSolver(sec, pad, Options{})
		if err != nil {
			b.Fatal(err)
		}
		for _, m := range []struct {
			name string
			m    model
			size int
		}{{"step", reduced, reduced.Patterns()}, {"solver", full, full.Cells()}} {
			b.Run(id+"/"+m.name, func(b *testing.B) {
				b.ReportAllocs()
				m.m.Reset(300)
				x := 0.0
				for b.Loop() {
					x++
					v := 9 + 3*math.Sin(x/3)
					if err := m.m.Step(Drive{DtS: 1, PowerW: 300 + 200*math.Sin(x), OnPart: 1, RollMps: v, StreamMps: v, AirK: 300, PressurePa: 95e3}); err != nil {
						b.Fatal(err)
					}
				}
				b.ReportMetric(float64(m.size), "unknowns")
			})
		}
	}
}
