package ride

import (
	"math"

	"rimheat/thermal/air"
)

// segment is one step of the grid as the forward pass meets it.
type segment struct {
	totalKg, effKg, cda, crr float64
	dx, dz, ds               float64 // run, rise and length along the road, m
	rho, head                float64 // kg/m3, m/s
	v0                       float64 // speed at its start, m/s
	toMps                    float64 // how closely speeds are found, m/s
}

// losses gives the work of air and of rolling resistance, J, when the segment
// is left at v1; both are taken at the mean speed.
func (m *segment) losses(v1 float64) (airJ, rollJ float64) {
	v := (m.v0 + v1) / 2
	airJ = AirForce(m.rho, m.cda, v, m.head) * m.ds
	// RollingForce, without its root: the cosine of the slope is dx/ds.
	rollJ = m.crr*m.totalKg*air.StandardGravity*m.dx + BearingForce(v)*m.ds
	return airJ, rollJ
}

// duration is the time, s, that the segment takes when left at v1.
func (m *segment) duration(v1 float64) float64 {
	return 2 * m.ds / max(m.v0+v1, slowestMps)
}

// over puts the segment on the road from node i to i+1, dx metres on.
func (m *segment) over(dx float64, g *ground, i int) {
	m.dx, m.dz, m.ds = dx, g.rise[i], g.lengthM[i]
}

// excess is how much more kinetic energy a speed of v1 at the end would be than
// the forces give when power watts push at the wheel, J. It rises with v1.
func (m *segment) excess(v1, power float64) float64 {
	a, r := m.losses(v1)
	e := 0.5*m.effKg*(v1*v1-m.v0*m.v0) + m.totalKg*air.StandardGravity*m.dz + a + r
	if power > 0 {
		e -= min(power/max((m.v0+v1)/2, slowestMps/2), pedalForceMax) * m.ds
	}
	return e
}

// runsOver says whether the bicycle, left to itself, ends faster than limit.
func (m *segment) runsOver(limit float64) bool { return m.excess(limit, 0) < 0 }

// coast gives the speed at the segment's end with nobody braking or pedalling.
// ok is false where the rider pedals: on the flat and uphill, until the bicycle
// is going, and where it would come to a stand.
func (m *segment) coast(grade float64) (v1 float64, ok bool) {
	if grade >= pedalGrade || m.v0 < getGoingMps {
		return 0, false
	}
	return m.reach(0)
}

// reach gives the speed at the segment's end when power watts push at the
// wheel and nothing brakes. ok is false when the bicycle would come to a
// stand before the end.
func (m *segment) reach(power float64) (v1 float64, ok bool) {
	// A safeguarded Newton iteration finds the one root of the excess.
	if m.excess(0, power) > 0 {
		return 0, false
	}
	const fastest = 100.0 // m/s, beyond any bicycle
	lo, hi := 0.0, fastest
	v1 = max(m.v0, slowestMps)
	for range 100 {
		f := m.excess(v1, power)
		if f > 0 {
			hi = v1
		} else {
			lo = v1
		}
		v := max((m.v0+v1)/2, slowestMps/2)
		slope := m.effKg*v1 + 0.5*m.ds*(m.rho*m.cda*math.Abs(v+m.head)+bearingPerSpeed)
		if power/v < pedalForceMax {
			slope += 0.5 * m.ds * power / (v * v)
		}
		next := v1 - f/slope
		if !(next > lo && next < hi) {
			next = (lo + hi) / 2
		}
		if math.Abs(next-v1) < m.toMps {
			return next, true
		}
		v1 = next
	}
	return v1, true
}
