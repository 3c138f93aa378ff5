package rim

import (
	"flag"
	"math"
	"math/rand/v2"
	"slices"
	"sync"
	"testing"
)

var familySeed = flag.Uint64("family-seed", drawnSeed, "TestFamilyAgainstSolverAtLength draws its cases with it")

// drawFamily is a drawn case whose materials' conductivities have ranges, some
// far from even, and a run of it. Metals vary less, and alike both ways.
func drawFamily(seed uint64, k int) (c drawnCase, run Tuning) {
	c = drawSeeded(seed, k)
	rng := rand.New(rand.NewPCG(seed+1, uint64(k)))
	in := func(lo, hi float64) float64 { return lo + (hi-lo)*rng.Float64() }
	around := func(q *Quantity, most float64) {
		q.Low, q.High = q.Value/in(1.05, most), q.Value*in(1.05, most)
	}
	for _, m := range []*Material{&c.sec.Material, &c.sec.Surface.Material, &c.sec.Fairing.Material} {
		if m.Composite {
			around(&m.ConductivityAlong, 1.6)
			around(&m.ConductivityThrough, 1.5)
		} else {
			around(&m.ConductivityAlong, 1.2)
			m.ConductivityThrough = m.ConductivityAlong
		}
	}
	c.opt = Options{}
	return c, Tuning{FilmFactor: in(0.5, 2), Along: in(-1, 1), Through: in(-1, 1), Pad: in(-1, 1)}
}

func mustFamily(t testing.TB, c drawnCase) *Family {
	t.Helper()
	f, err := NewFamily(c.sec, c.pad, c.opt)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func mustTune(t testing.TB, m *Reduced, run Tuning) {
	t.Helper()
	if err := m.Tune(run); err != nil {
		t.Fatal(err)
	}
}

// compareFamily runs n drawn runs through their Family and through a Solver each.
func compareFamily(t *testing.T, seed uint64, n int) {
	t.Helper()
	var s spread
	for k := range n {
		c, run := drawFamily(seed, k)
		full, err := NewSolver(c.sec.At(run.Along, run.Through), c.pad.At(run.Pad), Options{FilmFactor: run.FilmFactor})
		if err != nil {
			t.Fatal(err)
		}
		m := mustFamily(t, c).New()
		mustTune(t, m, run)
		s.add(t, full, m, c)
	}
	s.tell(t)
	if worst := slices.Max(s.peaks); !(worst < 1) {
		t.Errorf("a peak is %.2f K apart", worst)
	}
}

// One model stands in for all conductivities, films and pads: no peak of any
// place is further than 1 K from that of a Solver made for the run.
func TestFamilyAgainstSolver(t *testing.T) { compareFamily(t, drawnSeed, 40) }

func TestFamilyAgainstSolverAtLength(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	compareFamily(t, *familySeed, 200)
}

// Of the built-in rims, on the corners of all ranges and beyond the film's
// spread, where errors are the largest.
func TestFamilyOfBuiltInRims(t *testing.T) {
	duty := drawCase(0).duty
	for _, sec := range Rims() {
		f, err := NewFamily(sec, padFor(sec), Options{})
		if err != nil {
			t.Fatal(err)
		}
		m := f.New()
		worst := 0.0
		for i, corner := range [][2]float64{{-1, -1}, {-1, 1}, {1, -1}, {1, 1}, {0, 0}, {0.5, -0.5}} {
			film := []float64{0.5, 2}[i%2]
			full, err := NewSolver(sec.At(corner[0], corner[1]), padFor(sec).At(corner[0]), Options{FilmFactor: film})
			if err != nil {
				t.Fatal(err)
			}
			mustTune(t, m, Tuning{FilmFactor: film, Along: corner[0], Through: corner[1], Pad: corner[0]})
			peaks, _, _ := apart(t, full, m, drawnCase{sec: sec, t0: 300, duty: duty})
			worst = max(worst, slices.Max(peaks))
		}
		t.Logf("%s, %d patterns: peaks at most %.2f K apart", sec.ID, m.Patterns(), worst)
		if !(worst < 1) {
			t.Errorf("%s: a peak is %.2f K apart", sec.ID, worst)
		}
	}
}

// Energy in = stored + lost to rounding, wherever in its ranges a wheel is.
func TestFamilyBalanceCloses(t *testing.T) {
	for k := range 12 {
		c, run := drawFamily(drawnSeed, k)
		m := mustFamily(t, c).New()
		for _, run := range []Tuning{run, {}, {FilmFactor: 2, Along: 1, Through: -1, Pad: 1}, {FilmFactor: 0.5, Along: -0.3, Through: 0.7, Pad: -1}} {
			mustTune(t, m, run)
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
}

// trail is what a wheel does over a duty, for comparing bit by bit.
func trail(t testing.TB, m *Reduced, c drawnCase, steps int) (states []State, b Balance) {
	t.Helper()
	m.Reset(c.t0)
	for _, d := range c.duty[:steps] {
		if err := m.Step(d); err != nil {
			t.Fatal(err)
		}
		st := m.State()
		if m.Judged() != st.judged() {
			t.Fatalf("judged %+v of %+v", m.Judged(), st)
		}
		states = append(states, st)
	}
	return states, m.Balance()
}

// A run comes out the same to the last bit whatever its wheel did before, and
// whatever others of the Family do meanwhile. Places beyond a range are its ends,
// no tuning is the central section with the plain film.
func TestFamilyRunsStandAlone(t *testing.T) {
	c, run := drawFamily(drawnSeed, 4)
	f := mustFamily(t, c)
	fresh := f.New()
	mustTune(t, fresh, run)
	want, books := trail(t, fresh, c, 300)

	used := f.New()
	mustTune(t, used, Tuning{FilmFactor: 1.7, Along: -1, Through: 0.2, Pad: 1})
	trail(t, used, c, 77)
	mustTune(t, used, run)
	if got, b := trail(t, used, c, 300); !slices.Equal(got, want) || b != books {
		t.Errorf("a used wheel ends with %+v, a fresh one with %+v", got[299], want[299])
	}
	if got, b := trail(t, used, c, 300); !slices.Equal(got, want) || b != books {
		t.Error("the same run again comes out otherwise")
	}
	// A step in the same weather at other conductivities must leave nothing.
	mustTune(t, used, Tuning{FilmFactor: run.FilmFactor, Along: -run.Along, Through: -run.Through, Pad: -run.Pad})
	idle := c
	idle.duty = slices.Clone(c.duty[:1])
	idle.duty[0].PowerW = 0
	trail(t, used, idle, 1)
	mustTune(t, used, run)
	if got, b := trail(t, used, c, 300); !slices.Equal(got, want) || b != books {
		t.Errorf("after one step of another run it ends with %+v, fresh with %+v", got[299], want[299])
	}

	var wg sync.WaitGroup
	for i := range 4 {
		wg.Go(func() {
			m := f.New()
			for j := range 3 {
				r := run
				if (i+j)%2 == 1 {
					r = Tuning{FilmFactor: 0.6 + 0.1*float64(i), Along: 0.5, Through: -0.5}
				}
				if err := m.Tune(r); err != nil {
					t.Error(err)
				}
				if got, b := trail(t, m, c, 300); (i+j)%2 == 0 && (!slices.Equal(got, want) || b != books) {
					t.Error("a run beside others comes out otherwise")
				}
			}
		})
	}
	wg.Wait()

	mustTune(t, used, Tuning{FilmFactor: 1, Along: 4, Through: -1.01, Pad: math.Inf(1)})
	beyond, _ := trail(t, used, c, 300)
	mustTune(t, used, Tuning{FilmFactor: 1, Along: 1, Through: -1, Pad: 1})
	if end, _ := trail(t, used, c, 300); !slices.Equal(beyond, end) {
		t.Error("a place beyond its range is not its end")
	}
	mustTune(t, used, Tuning{})
	plain, _ := trail(t, used, c, 300)
	if central, _ := trail(t, f.New(), c, 300); !slices.Equal(plain, central) {
		t.Error("no tuning is not the central section")
	}
	if d := plain[299].SweptK - want[299].SweptK; math.Abs(d) < 1 {
		t.Errorf("tuning moves the track by %g K only", d)
	}
}

// A film factor does what one made with it does: it works the same through
// tuning as through options.
func TestFamilyFilmFactor(t *testing.T) {
	c, _ := drawFamily(drawnSeed, 4)
	one := mustFamily(t, c).New()
	mustTune(t, one, Tuning{FilmFactor: 1.4})
	tuned, books := trail(t, one, c, 300)
	c.opt.FilmFactor = 1.4
	made, b := trail(t, mustFamily(t, c).New(), c, 300)
	if !slices.Equal(tuned, made) || b != books {
		t.Errorf("tuned to a film factor: %+v, made with it: %+v", tuned[299], made[299])
	}
	mustTune(t, one, Tuning{})
	if plain, _ := trail(t, one, c, 300); !(plain[299].SweptK-tuned[299].SweptK > 1) {
		t.Errorf("1.4 times the film cools the track from %g to %g K only", plain[299].SweptK, tuned[299].SweptK)
	}
}

func TestTuneRefuses(t *testing.T) {
	m, err := NewReduced(byID(t, "alu-classic"), Pads()[0], Options{})
	if err != nil {
		t.Fatal(err)
	}
	nan := math.NaN()
	for _, bad := range []Tuning{{FilmFactor: -1}, {FilmFactor: nan}, {FilmFactor: math.Inf(1)}, {Along: nan}, {Through: nan}, {Pad: nan}} {
		if m.Tune(bad) == nil {
			t.Errorf("%+v was taken", bad)
		}
	}
	sec := byID(t, "carbon-deep")
	sec.Material.ConductivityThrough.Low = 0.01
	if _, err := NewFamily(sec, Pads()[0], Options{}); err == nil {
		t.Error("a range that reaches where no solid is was taken")
	}
	if _, err := NewFamily(byID(t, "carbon-deep"), Pads()[0], Options{FilmFactor: -1}); err == nil {
		t.Error("a film factor of -1 was taken")
	}
}

func TestTuneAllocatesNothing(t *testing.T) {
	sec := byID(t, "carbon-basalt")
	f, err := NewFamily(sec, padFor(sec), Options{})
	if err != nil {
		t.Fatal(err)
	}
	m, x := f.New(), 0.0
	if n := testing.AllocsPerRun(100, func() {
		x += 0.1
		mustTune(t, m, Tuning{FilmFactor: 1 + x/100, Along: math.Sin(x), Through: math.Cos(x), Pad: math.Sin(2 * x)})
		m.Reset(300)
		for range 5 {
			if err := m.Step(Drive{DtS: 1, PowerW: 900, OnPart: 1, RollMps: 9, StreamMps: 9, AirK: 300, PressurePa: 95e3}); err != nil {
				t.Fatal(err)
			}
			m.Judged()
		}
	}); n != 0 {
		t.Errorf("%g allocations", n)
	}
}

func BenchmarkFamily(b *testing.B) {
	for _, id := range []string{"carbon-deep", "carbon-basalt", "alu-classic", "alu-track"} {
		sec := byID(b, id)
		pad := padFor(sec)
		b.Run(id+"/new", func(b *testing.B) {
			for b.Loop() {
				if _, err := NewFamily(sec, pad, Options{}); err != nil {
					b.Fatal(err)
				}
			}
		})
		f, err := NewFamily(sec, pad, Options{})
		if err != nil {
			b.Fatal(err)
		}
		m, x := f.New(), 0.0
		b.Run(id+"/tune", func(b *testing.B) {
			for b.Loop() {
				x += 0.1
				mustTune(b, m, Tuning{FilmFactor: 1.1, Along: math.Sin(x), Through: math.Cos(x), Pad: 0.2})
			}
		})
		m.Reset(300)
		b.Run(id+"/step", func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				x++
				v := 9 + 3*math.Sin(x/3)
				if err := m.Step(Drive{DtS: 1, PowerW: 300 + 200*math.Sin(x), OnPart: 1, RollMps: v, StreamMps: v, AirK: 300, PressurePa: 95e3}); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(m.Patterns()), "patterns")
		})
		b.Run(id+"/judged", func(b *testing.B) {
			for b.Loop() {
				m.Judged()
			}
		})
	}
}
