package route

import (
	"math"
	"math/rand/v2"
	"testing"
)

func TestLambda(t *testing.T) {
	// The closed form at three wavelengths, four digits (derived).
	for n, want := range map[float64]float64{10: 6.854, 20: 104.36, 40: 1649} {
		if got := lambdaFor(n); math.Abs(got/want-1) > 5e-4 {
			t.Errorf("lambda(%v) = %v, want %v", n, got, want)
		}
	}
}

func TestSmoothingOverHalvesThatWavelength(t *testing.T) {
	const n, wavelength = 4000, 30.0
	src, dst := make([]float64, n+1), make([]float64, n+1)
	for _, c := range []struct{ wave, want, tol float64 }{{30, 0.5, 1e-3}, {300, 1, 2e-3}, {8, 0, 0.02}} {
		for i := range src {
			src[i] = math.Sin(2 * math.Pi * float64(i) / c.wave)
		}
		if err := smoothOver(dst, src, wavelength); err != nil {
			t.Fatal(err)
		}
		most := 0.0
		for _, v := range dst[n/4 : 3*n/4] {
			most = max(most, math.Abs(v))
		}
		// The sampled crest need not fall on a node: compare with the source's.
		crest := 0.0
		for _, v := range src[n/4 : 3*n/4] {
			crest = max(crest, math.Abs(v))
		}
		if math.Abs(most/crest-c.want) > c.tol {
			t.Errorf("wave of %v samples passes at %.4f, want %v", c.wave, most/crest, c.want)
		}
	}
}

// TestSmoothersSolveTheirEquations checks the stationarity of the penalised sum
// at every node instead of comparing answers, for all small sizes too, with
// independent and with correlated noise.
func TestSmoothersSolveTheirEquations(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 0))
	for _, n := range []int{3, 4, 5, 6, 7, 50, 5000} {
		src, z := make([]float64, n), make([]float64, n)
		for i := range src {
			src[i] = 1000 + 50*rng.NormFloat64()
		}
		for _, rho := range []float64{0, 0.95} {
			const v, stiff = 2.0, 500.0
			s := newSmoother(n, 5, rho, v)
			for i := range s.weight {
				s.weight[i] = 0.1 + rng.Float64()
			}
			if !s.solve(z, src, stiff) {
				t.Fatal("no solution")
			}
			second := func(i int) float64 {
				if i < 1 || i+1 >= n {
					return 0
				}
				return s.weight[i] * (z[i-1] - 2*z[i] + z[i+1])
			}
			// The innovation of the noise at node i: the first is the noise itself.
			step := func(i int) float64 {
				if i == 0 {
					return (src[0] - z[0]) * math.Sqrt(1-rho*rho)
				}
				return src[i] - z[i] - rho*(src[i-1]-z[i-1])
			}
			for i := range n {
				pull := step(i)
				if i == 0 {
					pull *= math.Sqrt(1 - rho*rho)
				}
				if i+1 < n {
					pull -= rho * step(i+1)
				}
				r := pull/v - stiff*(second(i-1)-2*second(i)+second(i+1))
				if math.Abs(r) > 1e-6 {
					t.Fatalf("n %d, rho %v: residual %v at node %d", n, rho, r, i)
				}
			}
		}
	}
}

// TestCriterionCountsTheFreedomSpent: the degrees of freedom by the recursion
// are those found by answering to unit heights one by one.
func TestCriterionCountsTheFreedomSpent(t *testing.T) {
	const n, v, stiff = 40, 2.0, 500.0
	for _, rho := range []float64{0, 0.9} {
		s := newSmoother(n, 5, rho, v)
		for i := range s.weight {
			s.weight[i] = 0.2 + 0.02*float64(i)
		}
		src, z := make([]float64, n), make([]float64, n)
		freedom := 0.0
		for i := range src {
			clear(src)
			src[i] = 1
			if !s.solve(z, src, stiff) {
				t.Fatal("no solution")
			}
			freedom += z[i]
		}
		clear(src)
		s.solve(z, src, stiff)
		// All heights zero leave no misfit.
		if got := s.criterion(z, src) / 2; math.Abs(got-freedom) > 1e-9*freedom {
			t.Errorf("rho %v: %v degrees of freedom, one by one %v", rho, got, freedom)
		}
	}
}

func TestStraightLinesPassTheSmoothers(t *testing.T) {
	src, dst := make([]float64, 300), make([]float64, 300)
	for i := range src {
		src[i] = 2000 - 0.4*float64(i)
	}
	check := func(err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		for i := range dst {
			if math.Abs(dst[i]-src[i]) > 2e-5 {
				t.Fatalf("node %d moved by %v m", i, dst[i]-src[i])
			}
		}
	}
	check(smoothOver(dst, src, 30))
	check(newSmoother(300, 5, 0, 1).smooth(dst, src, roughnesses(heightNoise{wanderM: 5})))
	check(newSmoother(300, 5, 0.97, 1).smooth(dst, src, roughnesses(heightNoise{wanderM: 5})))
}

// TestSteadyGradesComeOut: under noise of 5 m that wanders over 200 m, the two
// grades of a road come out nearer than from a smoother of one strength, over
// twenty draws of the noise.
func TestSteadyGradesComeOut(t *testing.T) {
	const n, dx, draws = 2400, 5.0, 20
	noise := heightNoise{whiteM2M: leastWhiteM2M, wanderM: 5}
	rho, v := noise.recursion(dx)
	truth, src, z, plain := make([]float64, n), make([]float64, n), make([]float64, n), make([]float64, n)
	for i := range truth {
		truth[i] = 2000 - 0.06*dx*float64(i) - 0.05*dx*math.Max(0, float64(i-n/2))
	}
	rms := func(h []float64) float64 {
		const half = 40 // the grade is taken over 400 m
		sum, count := 0.0, 0.0
		for i := half; i+half < n; i++ {
			e := (h[i+half] - h[i-half] - truth[i+half] + truth[i-half]) / (2 * half * dx)
			sum += e * e
			count++
		}
		return math.Sqrt(sum / count)
	}
	var own, one, raw float64
	for seed := range uint64(draws) {
		rng := rand.New(rand.NewPCG(3, seed))
		e := 5 * rng.NormFloat64()
		for i := range src {
			src[i] = truth[i] + e
			e = rho*e + math.Sqrt(v)*rng.NormFloat64()
		}
		if err := newSmoother(n, dx, rho, v).smooth(z, src, roughnesses(heightNoise{wanderM: 5})); err != nil {
			t.Fatal(err)
		}
		if err := smoothOver(plain, src, noise.smoothedOverM()/dx); err != nil {
			t.Fatal(err)
		}
		own, one, raw = own+rms(z)/draws, one+rms(plain)/draws, raw+rms(src)/draws
	}
	t.Logf("grade over 400 m off by %.2f %% points rms, %.2f with one strength throughout, %.2f raw", 100*own, 100*one, 100*raw)
	if own > 0.005 || own > 0.8*one {
		t.Error("the grades of the two slopes are not found")
	}
}

func TestSolverAllocatesNothing(t *testing.T) {
	const n = 500
	x, a, b, e := make([]float64, n), make([]float64, n), make([]float64, n), make([]float64, n)
	if got := testing.AllocsPerRun(20, func() {
		for i := range x {
			x[i], a[i], b[i], e[i] = 1, 7, -4, 1
		}
		if !solvePentadiagonal(x, a, b, e) {
			t.Fatal("no solution")
		}
	}); got != 0 {
		t.Errorf("%v allocations", got)
	}
}

func TestSolverRefusesIndefiniteMatrices(t *testing.T) {
	if solvePentadiagonal([]float64{1, 1}, []float64{1, 1}, []float64{2, 0}, []float64{0, 0}) {
		t.Error("accepted")
	}
}
