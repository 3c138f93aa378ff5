package rim

import (
	"math"
	"math/rand/v2"
	"testing"
)

// Factors and solution against the matrix times the solution, and that against
// plain sums.
func TestPackedSolves(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 1))
	for n := 2; n <= mostPatterns; n += 2 {
		a := make([]float64, n*(n+1)/2)
		for range 2 * n {
			v := make([]float64, n)
			for i := range v {
				v[i] = rng.NormFloat64()
			}
			addSquare(a, math.Exp(3*rng.NormFloat64()), v)
		}
		x, b, sum := make([]float64, n), make([]float64, n), make([]float64, n)
		for i := range x {
			x[i] = rng.NormFloat64()
		}
		times(b, a, x)
		for i := range n {
			for j := range n {
				sum[i] += a[packed(i, j)] * x[j]
			}
		}
		size := largest(b)
		axpy(-1, b, sum)
		if e := largest(sum); e > 1e-13*size {
			t.Errorf("%d rows: the product is off by %g of %g", n, e, size)
		}
		fac, invD, y := append([]float64(nil), a...), make([]float64, n), append([]float64(nil), b...)
		if err := factorPacked(fac, invD); err != nil {
			t.Fatal(err)
		}
		solvePacked(fac, invD, y)
		times(sum, a, y)
		axpy(-1, b, sum)
		if e := largest(sum); e > 1e-10*size {
			t.Errorf("%d rows: a residual of %g of %g", n, e, size)
		}
		a[len(a)-1] = -1
		if factorPacked(a, invD) == nil {
			t.Errorf("%d rows: a matrix that is not positive was factorised", n)
		}
	}
}
