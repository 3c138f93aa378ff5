package rim

import (
	"math"
	"math/rand/v2"
	"testing"
)

// extremes draws sections at the very ends of all bounds and between, with any
// layers; most of them no rim can have, which Validate must tell.
type extremes struct{ rng *rand.Rand }

func newExtremes() extremes { return extremes{rand.New(rand.NewPCG(7, 7))} }

func (x extremes) end(lo, hi float64) float64 {
	switch x.rng.IntN(3) {
	case 0:
		return lo
	case 1:
		return hi
	}
	return lo * math.Pow(hi/lo, x.rng.Float64())
}

func (x extremes) matter() Material {
	m := Material{ID: "any", Name: "any", Composite: true}
	m.ConductivityAlong.Value, m.ConductivityThrough.Value = x.end(0.1, 450), x.end(0.1, 450)
	m.Density.Value, m.SpecificHeat.Value, m.SpecificHeatRise.Value = x.end(400, 9000), x.end(300, 2500), x.end(1e-3, 6)
	m.EmissivityTrack.Value, m.EmissivityBody.Value = x.end(1e-3, 1), x.end(1e-3, 1)
	return m
}

func (x extremes) section() Section {
	s := Section{ID: "any", Kind: "clincher", Material: x.matter()}
	for _, n := range rimLengths() {
		*n.at(&s) = shifted(x.end(math.Max(n.lo, 0.01), n.hi), -3)
	}
	s.Geometry.Shape = []Shape{Box, Taper}[x.rng.IntN(2)]
	if x.rng.IntN(2) == 0 {
		s.Surface = Layer{x.matter(), x.end(leastLayerM, 5e-3), x.end(1e-9, mostBond)}
	}
	if x.rng.IntN(2) == 0 {
		s.Fairing = Fairing{x.matter(), x.end(5e-3, 0.1), x.end(1e-9, mostBond)}
	}
	return s
}

// Whatever section passes Validate, at the very ends of its bounds and with
// any layers, the solver takes: it settles, keeps its books and stays above the
// air.
func TestExtremeSectionsAreSolved(t *testing.T) {
	x := newExtremes()
	solved, most := 0, 0
	for solved < 60 {
		s := x.section()
		solver, err := NewSolver(s, Pads()[0], Options{})
		if err != nil {
			continue
		}
		solved++
		most = max(most, solver.Cells())
		solver.Reset(300)
		hottest := 300.0
		for i := range 40 {
			d := Drive{DtS: x.end(0.1, 5), RollMps: 8, StreamMps: 8, AirK: 300, PressurePa: 101325}
			if i%4 < 2 {
				d.PowerW, d.OnPart = 200, 1
			}
			if err := solver.Step(d); err != nil {
				t.Fatalf("%+v: %v", s, err)
			}
			hottest = math.Max(hottest, solver.State().HottestK)
		}
		b := solver.Balance()
		if r := math.Abs(b.In - b.Stored - b.Lost); r > 1e-8*(b.In+math.Abs(b.Stored)) {
			t.Errorf("%+v: books differ by %g J of %g J", s, r, b.In)
		}
		// A second-order step may undershoot by a little of what jumped.
		least := 299.5 - 0.01*(hottest-300)
		if st := solver.State(); !(st.SpokeBedK > least) || !(st.SweptK > least) || math.IsNaN(st.HottestK) {
			t.Errorf("%+v: %+v", s, st)
		}
	}
	t.Logf("%d sections, at most %d cells", solved, most)
}
