package rim

import (
	"fmt"
	"math"

	"rimheat/thermal/air"
)

// A Reduced does what a Solver does with a dozen or so patterns of temperature
// in place of some hundreds of cells; see newBasis. Pads, film, flash, time
// stepping and the meaning of every result are the Solver's. It is not safe
// for use by several goroutines; clones are.
type Reduced struct {
	p   *reduction
	rub contact

	z      []float64 // temperatures above reference in patterns
	h      []float64 // enthalpies in patterns, J, half wheel
	h0     []float64 // h at Reset
	jac    []float64 // heat capacity at z0, packed
	z0, y0 []float64 // where jac holds, and the enthalpies there
	loss   []float64 // conductances with film and radiation, packed
	fac    []float64 // factors of a stage's matrix, packed
	invD   []float64
	source []float64 // heat flows at reference temperature, W
	lossZ  []float64 // flow to the outside per pattern, W
	loss0  float64   // flow to the outside at reference temperature, W
	f      []float64
	x, y   []float64
	slope  []float64 // of each zone's loss, W/(m2 K)
	into   []float64 // heat into each zone at reference temperature, W/m2

	sky    sky
	sweptK float64
	bal    Balance // braked, pads, in and lost, half wheel
}

// sky is what the faces saw last.
type sky struct{ film, q, airK float64 }

// NewReduced makes a reduced solver for one wheel with the rim and the pads,
// at 20 °C.
func NewReduced(sec Section, pad Pad, opt Options) (*Reduced, error) {
	s, err := NewSolver(sec, pad, opt)
	if err != nil {
		return nil, err
	}
	p, err := s.project()
	if err != nil {
		return nil, err
	}
	return newReduced(p, s.rub), nil
}

// newReduced makes one with its own pads, like those of rub.
func newReduced(p *reduction, rub contact) *Reduced {
	rub.sec = &p.sec
	m := &Reduced{p: p, rub: rub}
	for _, v := range []*[]float64{&m.z, &m.h, &m.h0, &m.invD, &m.source, &m.lossZ, &m.f, &m.x, &m.y, &m.z0, &m.y0} {
		*v = make([]float64, p.r)
	}
	for _, v := range []*[]float64{&m.jac, &m.loss, &m.fac} {
		*v = make([]float64, len(p.cap0))
	}
	m.slope, m.into = make([]float64, len(p.zones)), make([]float64, len(p.zones))
	m.Reset(air.ZeroCelsiusK + 20)
	return m
}

// Clone makes another one of the same wheel, at 20 °C, that shares all that
// never changes. Either may be used while the other is.
func (m *Reduced) Clone() *Reduced { return newReduced(m.p, m.rub) }

// SetFilmFactor changes what multiplies the film coefficient from here on. A
// fixed film stays as it is.
func (m *Reduced) SetFilmFactor(f float64) error {
	if !(f > 0) || math.IsInf(f, 1) {
		return fmt.Errorf("film factor is %g; give a positive number", f)
	}
	m.rub.filmFactor = f
	return nil
}

// Patterns is the number of temperature patterns.
func (m *Reduced) Patterns() int { return m.p.r }

// MassKg is the mass of the whole rim that geometry and density give.
func (m *Reduced) MassKg() float64 { return m.p.massKg }

// SweptAreaM2 is the area of both swept bands of the wheel.
func (m *Reduced) SweptAreaM2() float64 { return 2 * m.p.trackAreaM2 }

// Reset puts everything at tK and clears the balance.
func (m *Reduced) Reset(tK float64) {
	clear(m.z)
	m.z[0] = (tK - referenceK) * m.p.even
	m.renewTangent(m.z)
	copy(m.h, m.y0)
	copy(m.h0, m.h)
	m.bal = Balance{}
	m.sky = sky{airK: tK}
	m.rub.reset(tK)
	m.sweptK = tK
}

// Step moves the wheel by d.DtS seconds.
func (m *Reduced) Step(d Drive) error {
	if !(d.DtS > 0) {
		return fmt.Errorf("heat step of %g s", d.DtS)
	}
	p := m.p
	m.rub.divide(d, m.sweptK)
	flux := m.rub.rimW / p.trackAreaM2
	if err := m.advance(d.DtS, weather{m.rub.film, flux, d.SunWPerM2, d.AirK}); err != nil {
		return err
	}
	m.sky = sky{m.rub.film, flux + d.SunWPerM2*p.trackSkin.absorptivity, d.AirK}
	m.sweptK = m.swept(&p.trackMean)
	m.rub.settle(d, m.sweptK, p.sunAreaM2, &m.bal)
	return nil
}

// swept is the surface of one row of the track; the parabola is that of
// Solver.swept.
func (m *Reduced) swept(w *trackRow) float64 {
	z := &m.p.trackSkin
	c := referenceK + dot(w.cell, m.z)
	airK := m.sky.airK
	h := m.sky.film + z.emissivity*air.StefanBoltzmann*(c*c+airK*airK)*(c+airK)
	in := (m.sky.q - h*(c-airK)) / (1 + h*z.half)
	return c + 2.0/3*z.half*in + dot(w.inner, m.z)
}

// State tells the temperatures at the end of the last step.
func (m *Reduced) State() State {
	p := m.p
	at := func(row []float64) float64 { return referenceK + dot(row, m.z) }
	st := State{
		WallK: at(p.wall), SweptK: m.sweptK, ContactK: m.rub.contact,
		MidWallK: at(p.midWall), InnerWallK: at(p.innerWall),
		BedCentreK: at(p.bedCentre), SpokeBedK: at(p.spokeBed),
		TyreAirK: at(p.tyreAir), PadK: m.rub.blk.t[0],
	}
	for i := range p.track {
		st.HottestK = math.Max(st.HottestK, m.swept(&p.track[i]))
	}
	for _, row := range p.tyreSide {
		st.TyreSideK = math.Max(st.TyreSideK, at(row))
	}
	for _, row := range p.fairing {
		st.FairingK = math.Max(st.FairingK, at(row))
	}
	return st
}

// Balance tells where the braking energy of both sides of the wheel went
// since Reset.
func (m *Reduced) Balance() Balance {
	b := m.bal
	stored := (m.h[0] - m.h0[0]) * m.p.even
	return Balance{Braked: 2 * b.Braked, Pads: 2 * b.Pads, Sun: 2 * b.Sun, In: 2 * b.In, Stored: 2 * stored, Lost: 2 * b.Lost}
}
