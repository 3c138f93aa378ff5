package rim

import (
	"fmt"
	"math"

	"rimheat/thermal/air"
)

const (
	// bentK is how far the parabola of enthalpy may leave its tangent within
	// a stage, kelvin at the track, before the stage is iterated with new
	// tangents.
	bentK = 0.05
	// staleK is the same for the tangent that is kept from step to step.
	staleK = 0.02
)

// renewTangent makes the tangent of enthalpy at z: capacities in jac, enthalpies in
// y0, z in z0. Enthalpy is quadratic in z, so it is the capacity half way from
// the reference, times z.
func (m *Reduced) renewTangent(z []float64) {
	p := m.p
	copy(m.z0, z)
	copy(m.jac, p.cap0)
	if p.capRise != nil {
		addRows(m.jac, z, p.capRise)
		for i, c := range m.jac {
			m.fac[i] = 0.5 * (p.cap0[i] + c)
		}
		times(m.y0, m.fac, z)
		return
	}
	times(m.y0, m.jac, z)
}

// enthalpy puts the enthalpies at z into y by the tangent, which it renews
// where it has become stale.
func (m *Reduced) enthalpy(y, z []float64) {
	p := m.p
	for i, v := range z {
		m.x[i] = v - m.z0[i]
	}
	if p.capRise != nil {
		moved := 0.0
		for _, row := range [...][]float64{p.trackMean.cell, p.innerWall, p.spokeBed} {
			moved = max(moved, math.Abs(dot(row, m.x)))
		}
		if 0.5*p.mostRise*moved*moved > staleK {
			m.renewTangent(z)
			copy(y, m.y0)
			return
		}
	}
	times(y, m.jac, m.x)
	for i, v := range m.y0 {
		y[i] += v
	}
}

// lineUp lines up what the faces exchange with the outside about the
// temperatures z: source - loss z into the patterns, loss0 + lossZ z lost.
// Radiation of a zone is a line through that of its mean temperature.
func (m *Reduced) lineUp(z []float64, w weather) {
	p := m.p
	airTh := w.airK - referenceK
	m.loss0 = -tyreLossWPerK / 2 * airTh
	airK2 := w.airK * w.airK
	for i := range p.zones {
		zo := &p.zones[i]
		th := dot(z, zo.mean) / zo.areaM2
		t := referenceK + th
		k := zo.emissivity * air.StefanBoltzmann
		sun := w.sun * zo.absorptivity
		q := sun
		if zo.track {
			q += w.flux
		}
		h := w.film + k*(t*t+airK2)*(t+w.airK)
		over := 1 / (1 + h*zo.half)
		lift := t - w.airK + q*zo.half
		loss := h * over * lift
		slope := h*over + k*(3*t*t+2*t*w.airK+airK2)*over*over*lift
		at0 := loss - slope*th
		m.slope[i], m.into[i] = slope, q-at0
		m.loss0 += zo.areaM2 * (at0 - sun)
	}
	for i, t := range p.tyreOut {
		m.source[i] = t * airTh
	}
	addRows(m.source, m.into, p.zoneMean)
	copy(m.loss, p.cond)
	addRows(m.loss, m.slope, p.zoneSquare)
	copy(m.lossZ, p.tyreOut)
	addRows(m.lossZ, m.slope, p.zoneMean)
}

// flows puts the heat flows at z into f and returns the flow to the outside.
func (m *Reduced) flows(f, z []float64) (lost float64) {
	times(f, m.loss, z)
	for i, s := range m.source {
		f[i] = s - f[i]
	}
	return m.loss0 + dot(z, m.lossZ)
}

// factor factorises the matrix of a stage of dt seconds.
func (m *Reduced) factor(dt float64) error {
	for i, c := range m.jac {
		m.fac[i] = c + dt*m.loss[i]
	}
	return factorPacked(m.fac, m.invD)
}

// advance makes the two stages of Solver.advance. What the faces exchange is a
// line about the start of the step, so that one solution a stage is enough
// unless specific heat bends enthalpy within it. Enthalpy is moved by the flows
// alone, so the balance closes to rounding.
func (m *Reduced) advance(step float64, w weather) error {
	const b1 = 1 - gammaStep
	dt := gammaStep * step
	z, h, f, x := m.z, m.h, m.f, m.x
	m.enthalpy(m.y, z)
	m.lineUp(z, w)
	if err := m.factor(dt); err != nil {
		return err
	}
	m.flows(f, z)
	for i := range x {
		x[i] = h[i] - m.y[i] + dt*f[i]
	}
	solvePacked(m.fac, m.invD, x)
	for i := range z {
		z[i] += x[i]
	}
	dT := dot(x, m.p.trackMean.cell)
	bent := 0.5*m.p.mostRise*dT*dT > bentK
	if bent {
		if err := m.settle(h, dt, w); err != nil {
			return err
		}
	}
	lost := b1 * m.flows(f, z)
	for i := range h {
		h[i] += b1 * step * f[i]
	}
	if bent {
		if err := m.settle(h, dt, w); err != nil {
			return err
		}
	} else {
		for i := range x {
			x[i] = b1 * step * f[i]
		}
		solvePacked(m.fac, m.invD, x)
		for i := range z {
			z[i] += x[i]
		}
	}
	lost += gammaStep * m.flows(f, z)
	for i := range h {
		h[i] += dt * f[i]
	}
	m.bal.Lost += step * lost
	if !(math.Abs(z[0]) < runawayK*m.p.even) {
		return fmt.Errorf("heat solution of rim %s ran away", m.p.sec.ID)
	}
	return nil
}

// settle finds z with enthalpy(z) = h + dt flows(z) by Newton's iteration from z.
func (m *Reduced) settle(h []float64, dt float64, w weather) error {
	z, x := m.z, m.x
	for range maxIterations {
		m.renewTangent(z)
		m.lineUp(z, w)
		if err := m.factor(dt); err != nil {
			return err
		}
		m.flows(m.f, z)
		for i := range x {
			x[i] = h[i] - m.y0[i] + dt*m.f[i]
		}
		solvePacked(m.fac, m.invD, x)
		for i := range z {
			z[i] += x[i]
		}
		if dT := dot(x, m.p.trackMean.cell); 0.5*m.p.mostRise*dT*dT <= bentK/4 {
			return nil
		}
	}
	return fmt.Errorf("heat solution of rim %s does not settle", m.p.sec.ID)
}
