package risk

import (
	"cmp"
	"math"
	"slices"
)

const (
	// mostDegree is the highest degree of a polynomial, mostTogether the most
	// inputs that a term multiplies: four that act only together are rare, and
	// there are too many such terms to tell them from noise.
	mostDegree, mostTogether = 12, 3
)

// A factor is the polynomial of one degree, 1 or more, in one input.
type factor struct{ dim, degree int }

// A term of the expansion is a product of factors in different inputs, by
// falling degree; the empty one is the constant.
type term []factor

// A shape is the degrees of a term, falling, without the inputs.
type shape []int

// size orders shapes: the sum of the cube roots of the degrees, which is the
// hyperbolic norm of G. Blatman and B. Sudret, Adaptive sparse polynomial chaos
// expansion based on least angle regression, J. Comput. Phys. 230 (2011) 2345,
// with q = 1/3. What inputs do alone gets high degrees before what two do
// together gets any, and pairs come long before triples.
func (s shape) size() float64 {
	var sum float64
	for _, degree := range s {
		sum += math.Cbrt(float64(degree))
	}
	return sum
}

// above says that s is no lower than t in any degree.
func (s shape) above(t shape) bool {
	if len(s) < len(t) {
		return false
	}
	for i, degree := range t {
		if s[i] < degree {
			return false
		}
	}
	return true
}

// shapes are all shapes of up to dims inputs, by size.
func shapes(dims int) []shape {
	var all []shape
	var grow func(s shape, highest, left int)
	grow = func(s shape, highest, left int) {
		for degree := 1; degree <= min(highest, left) && len(s) < min(dims, mostTogether); degree++ {
			longer := append(slices.Clone(s), degree)
			all = append(all, longer)
			grow(longer, degree, left-degree)
		}
	}
	grow(nil, mostDegree, mostDegree)
	slices.SortStableFunc(all, func(a, b shape) int {
		return cmp.Or(cmp.Compare(a.size(), b.size()), cmp.Compare(len(a), len(b)))
	})
	return all
}

// candidates are the terms that an expansion in dims inputs may have, at most
// this many, the constant first: shape by shape, all of a shape or none. One
// that does not fit is left out, and so are those above it.
func candidates(dims, most int) []term {
	terms := []term{nil}
	var left []shape
next:
	for _, s := range shapes(dims) {
		for _, t := range left {
			if s.above(t) {
				continue next
			}
		}
		placed, ok := s.place(dims, most-len(terms))
		if !ok {
			left = append(left, s)
			continue
		}
		terms = append(terms, placed...)
	}
	return terms
}

// place gives the shape's degrees to inputs in every way; false if there are
// more than most.
func (s shape) place(dims, most int) ([]term, bool) {
	var all []term
	var add func(t term) bool
	add = func(t term) bool {
		k := len(t)
		if k == len(s) {
			all = append(all, slices.Clone(t))
			return len(all) <= most
		}
		first := 0
		if k > 0 && s[k] == s[k-1] {
			first = t[k-1].dim + 1 // equal degrees by rising input, so that each term comes once
		}
		for dim := first; dim < dims; dim++ {
			if slices.ContainsFunc(t, func(f factor) bool { return f.dim == dim }) {
				continue
			}
			if !add(append(t, factor{dim, s[k]})) {
				return false
			}
		}
		return true
	}
	ok := add(make(term, 0, len(s)))
	return all, ok
}

// legendre puts the shifted Legendre polynomials of degrees 0 to len(dst)-1 at u
// into dst, each scaled to mean square 1 over u in (0,1), by their recurrence
//
//	(k+1) P[k+1] = (2k+1) x P[k] - k P[k-1],  x = 2u-1,
//
// and the norm 1/(2k+1) of P[k] (M. Abramowitz and I. A. Stegun, Handbook of
// Mathematical Functions, 1964, 22.7.10 and 22.2.10).
func legendre(dst []float64, u float64) {
	x := 2*u - 1
	before, p := 0.0, 1.0
	for k := range dst {
		dst[k] = p * math.Sqrt(float64(2*k+1))
		before, p = p, (float64(2*k+1)*x*p-float64(k)*before)/float64(k+1)
	}
}
