package rim

import "slices"

const (
	// warmK is the temperature at which an evenly warm section has its
	// heat capacity, kelvin.
	warmK = referenceK + 40
	// shortestAirS is the time from which warmth of the air is looked at,
	// seconds: it has no fast changes.
	shortestAirS = 10.0
)

// basisTausS are the times, s, after which a wheel is looked at. They
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

// basisWeathers are those under which a wheel is looked at: nearly calm, and fast.
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

// answers are what a section does: solutions of (C/tau + K + film) x = input for
// all times and weathers, which are the temperatures, K, tau seconds after flux
// on the track, or after warmth of the air set in, more or less (a rational
// Krylov family).
type answers struct {
	// braking has a list for each weather, in the order of basisTausS.
	braking [][][]float64
	warmth  [][]float64
}

// answers makes those of s. Specific heat rises so much that hot track and cold
// flank need answers of their own.
func (s *Solver) answers() (a answers, err error) {
	braked, err := s.longBraked()
	if err != nil {
		return a, err
	}
	even := make([]float64, s.rows)
	for i := range even {
		even[i] = warmK
		braked[i] += referenceK
	}
	for _, w := range s.basisWeathers() {
		at := even
		if w.braked {
			at = braked
		}
		var braking [][]float64
		for _, tau := range basisTausS() {
			if err := s.refactor(tau, w.film, at); err != nil {
				return a, err
			}
			x := s.trackInput()
			s.a.solve(x)
			braking = append(braking, x)
			if tau >= shortestAirS {
				x := s.airInput(w.film)
				s.a.solve(x)
				a.warmth = append(a.warmth, x)
			}
		}
		a.braking = append(a.braking, braking)
	}
	s.refDt = 0 // the factors are not those of a step
	return a, nil
}

// all lists them in one order.
func (a answers) all() [][]float64 { return append(slices.Concat(a.braking...), a.warmth...) }

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
