package risk

import (
	"fmt"
	"math"
	"testing"

	"gonum.org/v1/gonum/integrate/quad"
)

// The polynomials are orthonormal on (0,1): Gauss-Legendre rules of 13 nodes
// integrate products up to degree 25 exactly.
func TestLegendreOrthonormal(t *testing.T) {
	for j := range mostDegree + 1 {
		for k := range j + 1 {
			got := quad.Fixed(func(u float64) float64 {
				var p [mostDegree + 1]float64
				legendre(p[:], u)
				return p[j] * p[k]
			}, 0, 1, mostDegree+1, nil, 0)
			want := 0.0
			if j == k {
				want = 1
			}
			near(t, fmt.Sprintf("degrees %d and %d", j, k), got, want, 1e-12)
		}
	}
}

// Their values at 1 are sqrt(2k+1), and the first three are known by formula.
func TestLegendreValues(t *testing.T) {
	for _, u := range []float64{0, 0.1, 0.5, 0.83, 1} {
		var p [mostDegree + 1]float64
		legendre(p[:], u)
		x := 2*u - 1
		near(t, "degree 0", p[0], 1, 0)
		near(t, "degree 1", p[1], math.Sqrt(3)*x, 1e-15)
		near(t, "degree 2", p[2], math.Sqrt(5)*(3*x*x-1)/2, 1e-14)
		near(t, "degree 3", p[3], math.Sqrt(7)*(5*x*x*x-3*x)/2, 1e-14)
		if u == 1 {
			near(t, "degree 12 at 1", p[12], 5, 1e-13)
		}
	}
}

// Terms come once each, within the bounds, and never without those that they
// stand on; with 14 inputs it is what the constant's comment says.
func TestCandidates(t *testing.T) {
	for _, c := range []struct{ dims, most int }{{1, 1700}, {2, 1700}, {3, 1700}, {6, 1700}, {14, 1700}, {14, 130}, {40, 1700}, {14, 15}} {
		terms := candidates(c.dims, c.most)
		if len(terms) > c.most || len(terms) <= c.dims {
			t.Errorf("%v: %d terms", c, len(terms))
		}
		seen := map[string]bool{}
		key := func(degrees []int) string { return fmt.Sprint(degrees) }
		for _, term := range terms {
			degrees, sum := make([]int, c.dims), 0
			for _, f := range term {
				if degrees[f.dim] != 0 {
					t.Errorf("%v: %v has an input twice", c, term)
				}
				degrees[f.dim] = f.degree
				sum += f.degree
			}
			if len(term) > mostTogether || sum > mostDegree {
				t.Errorf("%v: %v", c, term)
			}
			if seen[key(degrees)] {
				t.Errorf("%v: %v comes twice", c, term)
			}
			for dim := range degrees {
				if degrees[dim] > 0 {
					degrees[dim]--
					if !seen[key(degrees)] {
						t.Errorf("%v: %v comes without %v", c, term, degrees)
					}
					degrees[dim]++
				}
			}
			seen[key(degrees)] = true
		}
	}
	// The constant, 12 of each input, and of each of 91 pairs: 3 shapes of equal
	// degrees once and 7 of others twice.
	pairs := map[string]int{}
	for _, term := range candidates(14, mostCandidates) {
		if len(term) == 2 {
			pairs[fmt.Sprint(term[0].degree, "+", term[1].degree)]++
		}
	}
	for shape, want := range map[string]int{
		"1+1": 91, "2+1": 182, "2+2": 91, "3+1": 182, "3+2": 182, "4+1": 182, "4+2": 182, "5+1": 182, "6+1": 182, "3+3": 0, "7+1": 0,
	} {
		if pairs[shape] != want {
			t.Errorf("%d pairs of degrees %s, want %d", pairs[shape], shape, want)
		}
	}
	// With three inputs nothing is left out: 15 over 3 are all up to degree 12.
	if got := len(candidates(3, mostCandidates)); got != 455 {
		t.Errorf("%d terms in three inputs, want 455", got)
	}
}
