package rim

import (
	"math"
	"math/rand/v2"
	"testing"
)

// Whatever section passes Validate, at the very ends of its bounds and with
// any layers, the solver takes: it settles, keeps its books and stays above the
// air.
func TestExtremeSectionsAreSolved(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 7))
	end := func(lo, hi float64) float64 {
		switch rng.IntN(3) {
		case 0:
			return lo
		case 1:
			return hi
		}
		return lo * math.Pow(hi/lo, rng.Float64())
	}
	matter := func() Material {
		m := Material{ID: "any", Name: "any", Composite: true}
		m.ConductivityAlong.Value, m.ConductivityThrough.Value = end(0.1, 450), end(0.1, 450)
		m.Density.Value, m.SpecificHeat.Value, m.SpecificHeatRise.Value = end(400, 9000), end(300, 2500), end(1e-3, 6)
		m.EmissivityTrack.Value, m.EmissivityBody.Value = end(1e-3, 1), end(1e-3, 1)
		return m
	}
	solved, most := 0, 0
	for solved < 60 {
		s := Section{ID: "any", Kind: "clincher", Material: matter()}
		for _, n := range rimLengths() {
			*n.at(&s) = shifted(end(math.Max(n.lo, 0.01), n.hi), -3)
		}
		s.Geometry.Shape = []Shape{Box, Taper}[rng.IntN(2)]
		if rng.IntN(2) == 0 {
			s.Surface = Layer{matter(), end(leastLayerM, 5e-3), end(1e-9, mostBond)}
		}
		if rng.IntN(2) == 0 {
			s.Fairing = Fairing{matter(), end(5e-3, 0.1), end(1e-9, mostBond)}
		}
		solver, err := NewSolver(s, Pads()[0], Options{})
		if err != nil {
			continue
		}
		solved++
		most = max(most, solver.Cells())
		solver.Reset(300)
		hottest := 300.0
		for i := range 40 {
			d := Drive{DtS: end(0.1, 5), RollMps: 8, StreamMps: 8, AirK: 300, PressurePa: 101325}
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
