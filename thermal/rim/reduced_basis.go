package rim

import (
	"cmp"
	"math"
	"slices"
)

const (
	// basisRiseK is the size of the family's temperatures, each member scaled
	// to it at its hottest place, and basisWorstK how many kelvin any of them
	// may lose at any place when the patterns are cut. Found by trial on
	// drawn sections against the Solver (BenchmarkReducedAgainstSolver).
	basisRiseK  = 200.0
	basisWorstK = 0.3
	// mostPatterns bounds the cost of a step, which grows with its square to
	// third power.
	mostPatterns = 24
	// warmK is the temperature at which the family's even members have their
	// heat capacity, kelvin.
	warmK = referenceK + 40
	// shortestAirS is the time from which warmth of the air is looked at,
	// seconds: it has no fast changes.
	shortestAirS = 10.0
)

// basisTausS are the times, s, after which the family looks at a wheel. They
// are closest where heat crosses from wall to bed.
func basisTausS() []float64 {
	return []float64{0.5, 1, 2, 4, 8, 16, 32, 64, 128, 300, 1000, 3000}
}

// basisWeather is a film, W/(m2 K), and whether the section is as after long
// braking or evenly warm.
type basisWeather struct {
	film   float64
	braked bool
}

// basisWeathers are those under which the family looks: nearly calm, and fast.
func (s *Solver) basisWeathers() []basisWeather {
	slow, fast := 15.0, 80.0
	if s.rub.fixedFilm != 0 {
		slow, fast = s.rub.fixedFilm, s.rub.fixedFilm
	}
	return []basisWeather{{slow, false}, {fast, true}}
}

// midFilm is a film in the middle of what occurs, W/(m2 K).
func (s *Solver) midFilm() float64 {
	if s.rub.fixedFilm != 0 {
		return s.rub.fixedFilm
	}
	return 40
}

// family solves (C/tau + K + film) x = input for all times and weathers: the
// temperatures tau seconds after flux on the track or warmth of the air set in,
// more or less (a rational Krylov family). Specific heat rises so much that hot
// track and cold flank need members of their own.
func (s *Solver) family() ([][]float64, error) {
	braked, err := s.longBraked()
	if err != nil {
		return nil, err
	}
	even := make([]float64, s.rows)
	for i := range even {
		even[i] = warmK
		braked[i] += referenceK
	}
	var family [][]float64
	add := func(x []float64) {
		s.a.solve(x)
		most := 0.0
		for _, v := range x {
			most = max(most, math.Abs(v))
		}
		family = append(family, scaled(x, basisRiseK/most))
	}
	for _, w := range s.basisWeathers() {
		at := even
		if w.braked {
			at = braked
		}
		for _, tau := range basisTausS() {
			if err := s.refactor(tau, w.film, at); err != nil {
				return nil, err
			}
			add(s.trackInput())
			if tau >= shortestAirS {
				add(s.airInput(w.film))
			}
		}
	}
	s.refDt = 0 // the factors are not those of a step
	return family, nil
}

// trackInput is the heat flow, W, that 1 W/m2 on the track gives.
func (s *Solver) trackInput() []float64 {
	b := make([]float64, s.rows)
	for i := range s.mesh.faces {
		if f := &s.mesh.faces[i]; f.kind == faceTrack {
			b[f.cell] += f.areaM
		}
	}
	return b
}

// airInput is the heat flow, W, that air 1 K warmer gives.
func (s *Solver) airInput(film float64) []float64 {
	b := make([]float64, s.rows)
	for i := range s.mesh.faces {
		if f := &s.mesh.faces[i]; f.kind <= faceOuter {
			b[f.cell] += f.areaM * film / (1 + film*f.half)
		}
	}
	b[s.tyre] += tyreLossWPerK / 2
	return b
}

// longBraked is the section after minutes of braking, kelvin above the air
// and basisRiseK at its hottest place.
func (s *Solver) longBraked() ([]float64, error) {
	at := make([]float64, s.rows)
	for i := range at {
		at[i] = referenceK
	}
	const minutes = 300.0
	if err := s.refactor(minutes, s.midFilm(), at); err != nil {
		return nil, err
	}
	s.refDt = 0 // the factors are not those of a step
	x := s.trackInput()
	s.a.solve(x)
	return scaled(x, basisRiseK/slices.Max(x)), nil
}

// newBasis gives patterns of temperature whose sums stand in for all that the
// section does: the principal components of the family, as many as are needed
// for basisWorstK. The first pattern is even, so that what the patterns take
// in and give off is energy, to rounding; all are orthonormal in heat capacity.
func (s *Solver) newBasis() ([][]float64, error) {
	family, err := s.family()
	if err != nil {
		return nil, err
	}
	by := s.placeWeights()
	even := make([]float64, s.rows)
	for i := range even {
		even[i] = 1
	}
	basis := [][]float64{scaled(even, 1/norm(by, even))}
	for _, x := range family {
		takeOut(by, x, basis[0])
	}
	for _, v := range components(by, family) {
		if len(basis) == mostPatterns || largest(family) <= basisWorstK {
			break
		}
		for _, b := range basis {
			takeOut(by, v, b)
		}
		size := norm(by, v)
		if !(size > 0) {
			break
		}
		basis = append(basis, scaled(v, 1/size))
		for _, x := range family {
			takeOut(by, x, v)
		}
	}
	// From place weights to heat capacity, the even one still first; twice,
	// for rounding.
	for i, v := range basis {
		for range 2 {
			for _, b := range basis[:i] {
				takeOut(s.c0, v, b)
			}
		}
		scaled(v, 1/norm(s.c0, v))
	}
	return basis, nil
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

// components gives the principal components of the family, not scaled, the
// strongest first, by the small matrix of inner products.
func components(by []float64, family [][]float64) [][]float64 {
	m := len(family)
	gram := make([]float64, m*m)
	for i := range m {
		for j := range i + 1 {
			g := inner(by, family[i], family[j])
			gram[i*m+j], gram[j*m+i] = g, g
		}
	}
	values, vectors := symmetricEigen(gram, m)
	order := make([]int, m)
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(values[b], values[a]) })
	var all [][]float64
	for _, k := range order {
		if !(values[k] > 1e-14*values[order[0]]) || len(all) == mostPatterns {
			break // the rest is rounding
		}
		v := make([]float64, len(by))
		for j, x := range family {
			axpy(vectors[j*m+k], x, v)
		}
		all = append(all, v)
	}
	return all
}

// largest is the largest absolute entry of all of xs.
func largest(xs [][]float64) float64 {
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
