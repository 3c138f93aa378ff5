package rim

import (
	"math"
	"math/rand/v2"
	"testing"
)

// The test compares residuals, not answers: A x - b over many random
// profiles, scaled by the size of A and x.
func TestSkylineResidual(t *testing.T) {
	for seed := range uint64(60) {
		rng := rand.New(rand.NewPCG(seed, 1))
		n := 1 + int(seed)*3
		first := make([]int, n)
		for i := range first {
			first[i] = max(0, i-rng.IntN(12))
		}
		if n > 2 { // one row tied to all, as the cavity is
			first[n-1] = 0
		}
		s := newSkyline(first)
		full := make([][]float64, n)
		for i := range full {
			full[i] = make([]float64, n)
		}
		for i := range n {
			for j := first[i]; j < i; j++ {
				g := rng.Float64()
				full[i][j], full[j][i] = -g, -g
				full[i][i] += g
				full[j][j] += g
			}
			full[i][i] += 0.01 + rng.Float64()
		}
		for i := range n {
			for j := first[i]; j <= i; j++ {
				s.val[s.at(i, j)] = full[i][j]
			}
		}
		b := make([]float64, n)
		x := make([]float64, n)
		for i := range b {
			b[i] = rng.NormFloat64()
			x[i] = b[i]
		}
		if err := s.factor(); err != nil {
			t.Fatal(err)
		}
		s.solve(x)
		for i := range n {
			r, scale := -b[i], math.Abs(b[i])
			for j := range n {
				r += full[i][j] * x[j]
				scale += math.Abs(full[i][j] * x[j])
			}
			if math.Abs(r) > 1e-12*scale {
				t.Fatalf("n=%d row %d: residual %g of %g", n, i, r, scale)
			}
		}
	}
}

func TestSkylineRefusesIndefinite(t *testing.T) {
	s := newSkyline([]int{0, 0})
	copy(s.val, []float64{1, 2, 1}) // [[1 2] [2 1]]
	if s.factor() == nil {
		t.Error("an indefinite matrix was factorised")
	}
}
