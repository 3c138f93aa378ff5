package rim

import (
	"fmt"
	"math"

	"rimheat/thermal/air"
)

const (
	// gammaStep is the stage weight 1-1/sqrt(2) of the two-stage, L-stable,
	// second-order diagonally implicit method (R. Alexander, SIAM J. Numer.
	// Anal. 14 (1977) 1006, from memory).
	gammaStep = 1 - math.Sqrt2/2

	// The factors of the heat matrix are renewed when the film has moved by
	// this part, the step by this part, or a cell by this many kelvin since
	// they were made. They only steer the iteration; the balance does not
	// depend on them.
	renewFilm = 0.15
	renewDt   = 0.25
	renewK    = 20.0
	// A stage is iterated until the next correction would be below iterateK.
	// firstRate is the shrinking of the corrections that the three bounds
	// above assure, by measurement, before it can be observed.
	iterateK  = 0.1
	firstRate = 0.05
	// slowRate is the shrinking above which a stage gets fresh factors: in a
	// very hard stop specific heat outruns those of the step's start.
	slowRate = 0.3
	// maxIterations bounds one stage; each gains a digit or so.
	maxIterations = 12
	// runawayK is a correction that no sound step can need.
	runawayK = 5000
)

// weather is what the outer faces see during a step: film coefficient
// W/(m2 K), braking flux on the track and sunshine W/m2, air kelvin.
type weather struct{ film, flux, sun, airK float64 }

// advance solves the two stages of one step for the rim.
func (s *Solver) advance(d Drive, film, flux float64) error {
	dt := gammaStep * d.DtS
	w := weather{film, flux, d.SunWPerM2, d.AirK}
	if err := s.renew(dt, film, d.AirK); err != nil {
		return err
	}
	copy(s.h0, s.h)
	copy(s.stage, s.t)
	s.flows(s.f1, w)
	l1, err := s.solveStage(s.f1, dt, w)
	if err != nil {
		return err
	}
	const b1 = 1 - gammaStep
	for i := range s.h0 {
		s.h0[i] = s.h[i] + b1*d.DtS*s.f1[i]
	}
	copy(s.f2, s.f1) // the second stage starts where the first ended
	l2, err := s.solveStage(s.f2, dt, w)
	if err != nil {
		return err
	}
	for i := range s.h {
		s.h[i] = s.h0[i] + dt*s.f2[i]
		s.t[i] = s.temperature(i, s.h[i])
	}
	s.bal.Lost += d.DtS * (b1*l1 + gammaStep*l2)
	return nil
}

// renew factorises the matrix of a stage again if it has drifted.
func (s *Solver) renew(dt, film, airK float64) error {
	if math.Abs(dt-s.refDt) <= renewDt*s.refDt && math.Abs(film-s.refFilm) <= renewFilm*s.refFilm {
		drift := 0.0
		for i, t := range s.t[:s.mesh.n] {
			if x := math.Abs(t - s.ref[i]); x > drift {
				drift = x
			}
		}
		if drift <= renewK {
			return nil
		}
	}
	return s.refactor(dt, film, s.t)
}

// refactor makes the matrix of a stage at the temperatures t and factorises
// it.
func (s *Solver) refactor(dt, film float64, t []float64) error {
	copy(s.a.val, s.base)
	for i, p := range s.diag {
		s.a.val[p] += (s.c0[i] + s.c1[i]*(t[i]-referenceK)) / dt
	}
	for i := range s.mesh.faces {
		f := &s.mesh.faces[i]
		if f.kind > faceOuter {
			continue
		}
		k := t[f.cell]
		h := film + 4*f.emissivity*air.StefanBoltzmann*k*k*k
		s.a.val[s.diag[f.cell]] += f.areaM * h / (1 + h*f.half)
	}
	if err := s.a.factor(); err != nil {
		return err
	}
	copy(s.ref, t)
	s.refDt, s.refFilm = dt, film
	return nil
}

// solveStage finds temperatures in s.stage with h(stage) = h0 + dt f(stage). It
// starts from what s.stage holds, with the heat flows f, W, that belong to it,
// and leaves the flows at the solution in f. It returns the flow lost to the
// outside, W.
// Enthalpy is moved by the flows alone, so the balance closes to rounding
// however far the iteration went.
func (s *Solver) solveStage(f []float64, dt float64, w weather) (lost float64, err error) {
	before := 0.0
	for k := 0; k < maxIterations; k++ {
		for i := range s.rhs {
			s.rhs[i] = f[i] - (s.enthalpy(i, s.stage[i])-s.h0[i])/dt
		}
		s.a.solve(s.rhs)
		worst := 0.0
		for i, x := range s.rhs {
			s.stage[i] += x
			if x = math.Abs(x); !(x <= worst) { // NaN becomes the worst
				worst = x
			}
		}
		if !(worst < runawayK) {
			return 0, fmt.Errorf("heat solution of rim %s ran away", s.sec.ID)
		}
		rate := firstRate + math.Abs(dt-s.refDt)/s.refDt
		if k > 0 {
			rate = worst / before
		}
		if rate > slowRate {
			if err := s.refactor(dt, w.film, s.stage); err != nil {
				return 0, err
			}
		}
		lost = s.flows(f, w)
		if worst*rate <= iterateK {
			return lost, nil
		}
		before = worst
	}
	return 0, fmt.Errorf("heat solution of rim %s does not settle", s.sec.ID)
}

// flows puts the net heat flow into every node at the temperatures of s.stage
// into f, W, and returns the flow to the outside, W.
func (s *Solver) flows(f []float64, w weather) (lost float64) {
	film, flux, sun, airK := w.film, w.flux, w.sun, w.airK
	t := s.stage
	for i := range f {
		f[i] = 0
	}
	for _, l := range s.mesh.links {
		q := l.g * (t[l.a] - t[l.b])
		f[l.a] -= q
		f[l.b] += q
	}
	tc := t[s.cavity]
	var sum float64
	for _, l := range s.cavG {
		q := l.g * (t[l.cell] - tc)
		f[l.cell] -= q
		sum += q
	}
	f[s.cavity] = sum
	tt := t[s.tyre]
	sum = 0
	for _, l := range s.tyreG {
		q := l.g * (t[l.cell] - tt)
		f[l.cell] -= q
		sum += q
	}
	out := tyreLossWPerK / 2 * (tt - airK)
	f[s.tyre] = sum - out
	lost = out
	airK2 := airK * airK
	for i := range s.mesh.faces {
		fc := &s.mesh.faces[i]
		if fc.kind > faceOuter {
			continue
		}
		c := t[fc.cell]
		q := sun * fc.absorptivity
		if fc.kind == faceTrack {
			q += flux
		}
		h := film + fc.emissivity*air.StefanBoltzmann*(c*c+airK2)*(c+airK)
		// Surface balance: q = (Ts-c)/half + h (Ts-air).
		ts := (q*fc.half + c + h*fc.half*airK) / (1 + h*fc.half)
		loss := fc.areaM * h * (ts - airK)
		f[fc.cell] += fc.areaM*q - loss
		lost += loss - fc.areaM*sun*fc.absorptivity
		s.surf[i] = ts
	}
	return lost
}
