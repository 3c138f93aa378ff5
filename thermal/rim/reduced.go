package rim

import (
	"fmt"

	"rimheat/thermal/air"
)

// A Reduced does what a Solver does with a dozen or so patterns of temperature
// in place of some hundreds of cells; see newBases. Pads, film, flash, time
// stepping and the meaning of every result are the Solver's. It is not safe
// for use by several goroutines; others of its Family may be used meanwhile.
type Reduced struct {
	f          *Family
	p          *reduction // the Family's
	projection            // as tuned
	rub        contact

	z      []float64 // temperatures above reference in patterns
	h      []float64 // enthalpies in patterns, J, half wheel
	h0     float64   // the even one's at Reset
	jac    []float64 // heat capacity at z0, packed: the tangent of enthalpy
	z0     []float64
	track0 float64   // the track's mean at z0, K above reference
	y      []float64 // enthalpies at z by the tangent
	loss   []float64 // conductances with film and radiation, packed
	fac    []float64 // factors of the matrix of a stage, packed
	invD   []float64
	source []float64 // heat flows at reference temperature, W
	lossZ  []float64 // flow to the outside per pattern, W
	loss0  float64   // flow to the outside at reference temperature, W
	// factored is the time of the stage that fac is for, s; 0 if jac or loss
	// have changed since.
	factored float64
	// Of each zone: the slope of its line that loss has and the one at z, W/(m2 K),
	// the heat into it by its line at reference temperature, W/m2, and its
	// temperature above that.
	slope, fresh, into, zoneTh []float64
	// Of a stage in patterns: heat flows, W, a correction of z, and enthalpies, J:
	// due before it, added in it, and to be added.
	flow, x, due, added, bent []float64

	sky    sky
	sweptK float64
	bal    Balance // braked, pads, in and lost, half wheel
}

// sky is what the faces saw last.
type sky struct{ film, q, airK float64 }

// NewReduced makes a reduced solver for one wheel with the rim and the pads, all
// conductivities at their central values, at 20 °C.
func NewReduced(sec Section, pad Pad, opt Options) (*Reduced, error) {
	f, err := newFamily(sec.At(0, 0), pad.At(0), opt, aloneWorstK)
	if err != nil {
		return nil, err
	}
	return f.New(), nil
}

// New makes a wheel as NewFamily's options have it, with central conductivities,
// at 20 °C. It shares the Family and nothing else with other wheels.
func (f *Family) New() *Reduced {
	p := f.p
	m := &Reduced{f: f, p: p, projection: p.newProjection(), rub: f.rub}
	for _, v := range []*[]float64{&m.z, &m.h, &m.invD, &m.source, &m.lossZ, &m.flow, &m.x, &m.y, &m.z0, &m.due, &m.added, &m.bent} {
		*v = make([]float64, p.r)
	}
	for _, v := range []*[]float64{&m.jac, &m.loss, &m.fac} {
		*v = make([]float64, p.pairs())
	}
	for _, v := range []*[]float64{&m.slope, &m.fresh, &m.into, &m.zoneTh} {
		*v = make([]float64, len(p.zones))
	}
	m.moveTo(0, 0)
	m.Reset(air.ZeroCelsiusK + 20)
	return m
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
	m.renewTangent()
	copy(m.h, m.y)
	m.h0 = m.h[0]
	clear(m.slope) // no loss has it
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
	m.sweptK = m.swept(m.trackMean, m.meanInner)
	m.rub.settle(d, m.sweptK, p.sunAreaM2, &m.bal)
	return nil
}

// swept is the surface of a row of the track; the parabola is that of
// Solver.swept.
func (m *Reduced) swept(cell, inner []float64) float64 {
	emissivity, half := m.p.trackSkin.emissivity, m.trackHalf[0]
	c := referenceK + dot(m.z, cell)
	airK := m.sky.airK
	h := m.sky.film + emissivity*air.StefanBoltzmann*(c*c+airK*airK)*(c+airK)
	in := (m.sky.q - h*(c-airK)) / (1 + h*half)
	return c + 2.0/3*half*in + dot(m.z, inner)
}

// Judged tells the part of State that limits are held against at the end of the
// last step, in a third of the time.
func (m *Reduced) Judged() Judged {
	j := Judged{WallK: m.at(m.wall), SweptK: m.sweptK}
	for i := 0; i < len(m.tyreSide); i += m.p.r {
		j.TyreSideK = max(j.TyreSideK, m.at(m.tyreSide[i:]))
	}
	for i := 0; i < len(m.fairing); i += m.p.r {
		j.FairingK = max(j.FairingK, m.at(m.fairing[i:]))
	}
	return j
}

// at is the temperature at a place, K.
func (m *Reduced) at(row []float64) float64 { return referenceK + dot(m.z, row) }

// State tells the temperatures at the end of the last step.
func (m *Reduced) State() State {
	j := m.Judged()
	st := State{
		WallK: j.WallK, SweptK: j.SweptK, TyreSideK: j.TyreSideK, FairingK: j.FairingK, ContactK: m.rub.contact,
		MidWallK: m.at(m.midWall), InnerWallK: m.at(m.innerWall),
		BedCentreK: m.at(m.bedCentre), SpokeBedK: m.at(m.spokeBed),
		TyreAirK: m.at(m.tyreAir), PadK: m.rub.blk.faceK,
	}
	for i := 0; i < len(m.track); i += m.p.r {
		st.HottestK = max(st.HottestK, m.swept(m.track[i:], m.trackInner[i:]))
	}
	return st
}

// Balance tells where the braking energy of both sides of the wheel went
// since Reset.
func (m *Reduced) Balance() Balance {
	b := m.bal
	stored := (m.h[0] - m.h0) * m.p.even
	return Balance{Braked: 2 * b.Braked, Pads: 2 * b.Pads, Sun: 2 * b.Sun, In: 2 * b.In, Stored: 2 * stored, Lost: 2 * b.Lost}
}
