package rim

import (
	"fmt"
	"math"

	"rimheat/thermal/air"
)

const (
	// bentK is how far the parabola of enthalpy may be from its tangent at the
	// end of a stage, kelvin at the track, before the stage is iterated with a
	// new tangent.
	bentK = 0.1
	// staleK is the same, at any of three places, for the tangent that a step
	// begins with.
	staleK = 0.05
	// keptSlope is by what part the slope of a zone's loss may move before the
	// lines get new slopes. They go through what the zones lose at the start of
	// each step whatever their slopes are.
	keptSlope = 0.01
)

// renewTangent makes the tangent of enthalpy at z: capacities in jac,
// enthalpies in y. Enthalpy is quadratic in z, so it is the capacity half way
// from the reference, times z.
func (m *Reduced) renewTangent() {
	m.touch()
	clear(m.jac)
	if m.p.mostRise > 0 {
		addRows(m.jac, m.z, m.capRise)
	}
	times(m.y, m.jac, m.z)
	q := 0
	for i, v := range m.z {
		m.y[i] = v + 0.5*m.y[i]
		q += i + 1
		m.jac[q-1]++ // heat capacity at the reference
	}
}

// touch notes that the tangent touches at z, and that it has changed.
func (m *Reduced) touch() {
	copy(m.z0, m.z)
	m.track0 = dot(m.z, m.trackMean)
	m.factored = 0
}

// turnTangent takes the tangent on to z and adds to added by what the parabola is
// above the old one there.
func (m *Reduced) turnTangent() {
	for i, v := range m.z {
		m.x[i] = v - m.z0[i]
	}
	m.touch()
	clear(m.fac)
	addRows(m.fac, m.x, m.capRise)
	times(m.bent, m.fac, m.x)
	for i, b := range m.bent {
		m.added[i] += 0.5 * b
	}
	for i, c := range m.fac {
		m.jac[i] += c
	}
}

// freshen renews the tangent if it has become stale at z.
func (m *Reduced) freshen() {
	if m.p.mostRise == 0 {
		return
	}
	for i, v := range m.z {
		m.x[i] = v - m.z0[i]
	}
	moved := 0.0
	for _, row := range [...][]float64{m.trackMean, m.innerWall, m.spokeBed} {
		moved = max(moved, math.Abs(dot(row, m.x)))
	}
	if 0.5*m.p.mostRise*moved*moved > staleK {
		m.renewTangent()
	}
}

// store adds the enthalpy that x adds by the tangent, J, to added.
func (m *Reduced) store(x []float64) {
	in := x // 1 J/K for each pattern
	if m.p.mostRise > 0 {
		in = m.bent
		times(in, m.jac, x)
	}
	for i, v := range in {
		m.added[i] += v
	}
}

// lineUp lines up what the faces exchange with the outside about z: source -
// loss z into the patterns, loss0 + lossZ z lost. What a zone radiates, k times
// T^4 less the air's, is a line through that at its mean temperature and what
// the variance of its temperature adds, 6 k T^2 times that, which is taken to
// grow with the square of the track's rise.
func (m *Reduced) lineUp(w weather) {
	p := m.p
	airTh := w.airK - referenceK
	airK2 := w.airK * w.airK
	trackK := dot(m.z, m.trackMean) - airTh
	renew := false
	for i := range p.zones {
		zo := &p.zones[i]
		half := m.zoneHalf[i]
		th := dot(m.z, m.zoneMean[i*p.r:]) * zo.perM2
		t := referenceK + th
		k := zo.emissivity * air.StefanBoltzmann
		bend := 6 * k * zo.variance * trackK * trackK
		q := w.sun * zo.absorptivity
		if zo.track {
			q += w.flux
		}
		h := w.film + k*(t*t+airK2)*(t+w.airK)
		over := 1 / (1 + h*half)
		lift := t - w.airK + q*half
		loss := over * (h*lift + bend*t*t)
		slope := over * (h + k*(3*t*t+2*t*w.airK+airK2)*over*lift + 2*bend*t)
		m.zoneTh[i], m.into[i], m.fresh[i] = th, q-loss, slope
		renew = renew || !(math.Abs(slope-m.slope[i]) <= keptSlope*m.slope[i])
	}
	if renew {
		copy(m.slope, m.fresh)
		copy(m.loss, m.cond)
		addRows(m.loss, m.slope, m.zoneSquare)
		copy(m.lossZ, m.tyreOut)
		addRows(m.lossZ, m.slope, m.zoneMean)
		m.factored = 0
	}
	m.loss0 = p.trackAreaM2*w.flux - tyreLossWPerK/2*airTh
	for i := range p.zones {
		m.into[i] += m.slope[i] * m.zoneTh[i]
		m.loss0 -= p.zones[i].areaM2 * m.into[i]
	}
	for i, t := range m.tyreOut {
		m.source[i] = t * airTh
	}
	addRows(m.source, m.into, m.zoneMean)
}

// flows puts the heat flows at z into f, W.
func (m *Reduced) flows(f []float64) {
	times(f, m.loss, m.z)
	for i, s := range m.source {
		f[i] = s - f[i]
	}
}

// lost is the flow to the outside, W.
func (m *Reduced) lost() float64 { return m.loss0 + dot(m.z, m.lossZ) }

// factor factorises the matrix of a stage of dt seconds, if that is not done yet.
func (m *Reduced) factor(dt float64) error {
	if m.factored == dt {
		return nil
	}
	for i, c := range m.jac {
		m.fac[i] = c + dt*m.loss[i]
	}
	m.factored = 0
	if err := factorPacked(m.fac, m.invD); err != nil {
		return err
	}
	m.factored = dt
	return nil
}

// advance makes the two stages of Solver.advance. What the faces exchange is a
// line about the start of the step. Enthalpy is moved by the flows alone, so the
// balance closes to rounding.
func (m *Reduced) advance(step float64, w weather) error {
	const b1 = 1 - gammaStep
	dt := gammaStep * step
	m.freshen()
	m.lineUp(w)
	m.flows(m.flow)
	for _, part := range [...]float64{b1 * step, dt} {
		for i, h := range m.h {
			m.due[i] = h - m.y[i]
		}
		if err := m.stage(dt, w); err != nil {
			return err
		}
		for i, f := range m.flow {
			m.y[i] += m.added[i]
			m.h[i] += part * f
		}
		m.bal.Lost += part * m.lost()
	}
	if !(math.Abs(m.z[0]) < runawayK*m.p.even) {
		return fmt.Errorf("heat solution of rim %s ran away", m.p.id)
	}
	return nil
}

// stage moves z and flow to where what is stored in dt seconds, added, is what
// is due and the flows there. Where the parabola of enthalpy leaves its tangent
// on the way, tangent and lines are taken anew at the end and what is left is
// made up for: Newton's iteration.
func (m *Reduced) stage(dt float64, w weather) error {
	x := m.x
	clear(m.added)
	for range maxIterations {
		for i, due := range m.due {
			x[i] = due - m.added[i] + dt*m.flow[i]
		}
		if err := m.factor(dt); err != nil {
			return err
		}
		solvePacked(m.fac, m.invD, x)
		m.store(x)
		for i, v := range x {
			m.z[i] += v
		}
		if dT := dot(m.z, m.trackMean) - m.track0; 0.5*m.p.mostRise*dT*dT <= bentK {
			per := 1 / dt
			for i, due := range m.due {
				m.flow[i] = per * (m.added[i] - due)
			}
			return nil
		}
		m.turnTangent()
		m.lineUp(w)
		m.flows(m.flow)
	}
	return fmt.Errorf("heat solution of rim %s does not settle", m.p.id)
}
