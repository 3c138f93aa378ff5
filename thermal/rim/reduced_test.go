package rim

import (
	"math"
	"slices"
	"testing"
)

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
