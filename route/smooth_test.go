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

func TestSmootherHalvesItsWavelength(t *testing.T) {
	const n, wavelength = 4000, 30.0
	src, dst := make([]float64, n+1), make([]float64, n+1)
	for _, c := range []struct{ wave, want, tol float64 }{{30, 0.5, 1e-3}, {300, 1, 2e-3}, {8, 0, 0.02}} {
		for i := range src {
			src[i] = math.Sin(2 * math.Pi * float64(i) / c.wave)
		}
		if err := smooth(dst, src, wavelength); err != nil {
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

// TestSmoothSolvesItsEquations checks the stationarity of the penalised sum at
// every inner node instead of comparing answers, for all small sizes too.
func TestSmoothSolvesItsEquations(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 0))
	for _, n := range []int{2, 3, 4, 5, 6, 7, 50, 5000} {
		src, z := make([]float64, n), make([]float64, n)
		for i := range src {
			src[i] = 1000 + 50*rng.NormFloat64()
		}
		const wavelength = 30
		if err := smooth(z, src, wavelength); err != nil {
			t.Fatal(err)
		}
		if z[0] != src[0] || z[n-1] != src[n-1] {
			t.Errorf("n %d: ends moved", n)
		}
		lambda := lambdaFor(wavelength)
		second := func(i int) float64 {
			if i < 1 || i+1 >= n {
				return 0
			}
			return z[i-1] - 2*z[i] + z[i+1]
		}
		for i := 1; i+1 < n; i++ {
			r := z[i] - src[i] + lambda*(second(i-1)-2*second(i)+second(i+1))
			if math.Abs(r) > 1e-6 {
				t.Fatalf("n %d: residual %v m at node %d", n, r, i)
			}
		}
	}
}

func TestStraightLinesPassTheSmoother(t *testing.T) {
	src, dst := make([]float64, 300), make([]float64, 300)
	for i := range src {
		src[i] = 2000 - 0.4*float64(i)
	}
	if err := smooth(dst, src, 30); err != nil {
		t.Fatal(err)
	}
	for i := range dst {
		if math.Abs(dst[i]-src[i]) > 1e-8 {
			t.Fatalf("node %d moved by %v m", i, dst[i]-src[i])
		}
	}
}

func TestSolverAllocatesNothing(t *testing.T) {
	const n = 500
	x, a, b, e := make([]float64, n), make([]float64, n), make([]float64, n), make([]float64, n)
	if got := testing.AllocsPerRun(20, func() {
		for i := range x {
			x[i], a[i], b[i], e[i] = 1, 7, -4, 1
		}
		if err := solvePentadiagonal(x, a, b, e); err != nil {
			t.Fatal(err)
		}
	}); got != 0 {
		t.Errorf("%v allocations", got)
	}
}

func TestSolverRefusesIndefiniteMatrices(t *testing.T) {
	if err := solvePentadiagonal([]float64{1, 1}, []float64{1, 1}, []float64{2, 0}, []float64{0, 0}); err == nil {
		t.Error("accepted")
	}
}
