package rim

import (
	"cmp"
	"math"
	"slices"
)

const (
	// basisRiseK is the size of the answers, each scaled to it at its hottest
	// place. aloneWorstK and familyWorstK are how many kelvin any of them may lose
	// at any place when the patterns are cut: for one section alone, which is held
	// against finite elements, and for all of a family, in which a step must be
	// cheap. Found by trial on drawn sections against the Solver
	// (TestReducedAgainstSolver, TestFamilyAgainstSolver).
	basisRiseK   = 200.0
	aloneWorstK  = 0.3
	familyWorstK = 1.0
	// mostPatterns bounds the cost of a step, which grows with its square to
	// third power.
	mostPatterns = 24
)

// newBases gives patterns of temperature whose sums stand in for the answers of
// some sections alike but for their conductivities. Every pattern is the same
// mixture of answers in all sections, so that it bends smoothly from one to the
// next: the principal components of all answers together, an even number of
// them, as many as the answer that they serve worst needs for worstK. The first
// pattern is even, so that what the patterns take in and give off is energy, to
// rounding. by are the weights of the nodes; the patterns of each section are
// orthonormal in them.
func newBases(by []float64, of []answers, worstK float64) [][][]float64 {
	bases, rests := make([][][]float64, len(of)), make([][][]float64, len(of))
	for k, a := range of {
		even := make([]float64, len(by))
		for i := range even {
			even[i] = 1
		}
		bases[k] = [][]float64{scaled(even, 1/norm(by, even))}
		for _, x := range a.all() {
			rest := scaled(slices.Clone(x), basisRiseK/largest(x))
			takeOut(by, rest, even)
			rests[k] = append(rests[k], rest)
		}
	}
	for _, mixture := range components(by, rests) {
		lost := 0.0
		for _, rest := range rests {
			lost = max(lost, largest(rest...))
		}
		if lost <= worstK && len(bases[0])%2 == 0 {
			break
		}
		for k, rest := range rests {
			v := make([]float64, len(by))
			for j, x := range rest {
				axpy(mixture[j], x, v)
			}
			for _, b := range bases[k] {
				takeOut(by, v, b) // no more than rounding
			}
			scaled(v, 1/norm(by, v))
			for _, x := range rest {
				takeOut(by, x, v)
			}
			bases[k] = append(bases[k], v)
		}
	}
	return bases
}

// orthonormal makes the patterns so in the heat capacities of the nodes, the even
// one still first, in place.
func orthonormal(basis [][]float64, capacity []float64) {
	for i, v := range basis {
		for range 2 { // for rounding
			for _, b := range basis[:i] {
				takeOut(capacity, v, b)
			}
		}
		scaled(v, 1/norm(capacity, v))
	}
}

// placeWeights says how much each node counts when patterns are chosen: by
// its heat capacity, and once more on the track and where the tyre touches,
// whose cells are small but are what is asked for.
func (s *Solver) placeWeights() []float64 {
	const capacity, track, tyre = 0.3, 0.4, 0.3
	by := make([]float64, s.rows)
	var all float64
	for _, c := range s.c0 {
		all += c
	}
	for i, c := range s.c0 {
		by[i] = capacity * c / all
	}
	for _, w := range s.mesh.track {
		by[w.cell] += track * w.w
	}
	for _, c := range s.mesh.tyreFaces {
		by[c] += tyre / float64(len(s.mesh.tyreFaces))
	}
	return by
}

// components gives the principal components of all sections' answers together,
// as mixtures of answers, the strongest first, by the small matrix of inner products.
// They are an odd number, for the even pattern comes before them, and with it no
// more than mostPatterns.
func components(by []float64, of [][][]float64) (mixtures [][]float64) {
	m := len(of[0])
	gram := make([]float64, m*m)
	for _, xs := range of {
		for i, x := range xs {
			for j := range i + 1 {
				gram[i*m+j] += inner(by, x, xs[j])
			}
		}
	}
	for i := range m {
		for j := range i {
			gram[j*m+i] = gram[i*m+j]
		}
	}
	values, vectors := symmetricEigen(gram, m)
	order := make([]int, m)
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(values[b], values[a]) })
	for _, k := range order[:mostPatterns-1] {
		if len(mixtures)%2 == 1 && !(values[k] > 1e-14*values[order[0]]) {
			break // the rest is rounding
		}
		mixture := make([]float64, m)
		for j := range mixture {
			mixture[j] = vectors[j*m+k]
		}
		mixtures = append(mixtures, mixture)
	}
	return mixtures
}

// largest is the largest absolute entry of all of xs.
func largest(xs ...[]float64) float64 {
	var most float64
	for _, x := range xs {
		for _, v := range x {
			if v = math.Abs(v); v > most { // faster than max, which minds NaN
				most = v
			}
		}
	}
	return most
}
