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
}

// losses gives the work of air and of rolling resistance, J, when the segment
// is left at v1; both are taken at the mean speed.
func (m *segment) losses(v1 float64) (airJ, rollJ float64) {
	v := (m.v0 + v1) / 2
	airJ = AirForce(m.rho, m.cda, v, m.head) * m.ds
	rollJ = (RollingForce(m.totalKg, m.crr, m.dz/m.dx) + BearingForce(v)) * m.ds
	return airJ, rollJ
}

// duration is the time, s, that the segment takes when left at v1.
func (m *segment) duration(v1 float64) float64 {
	return 2 * m.ds / math.Max(m.v0+v1, slowestMps)
}

// reach gives the speed at the segment's end when power watts push at the
// wheel and nothing brakes. ok is false when the bicycle would come to a
// stand before the end.
func (m *segment) reach(power float64) (v1 float64, ok bool) {
	// The excess of kinetic energy over what the forces give rises with v1
	// throughout, so a safeguarded Newton iteration finds the one root.
	excess := func(v1 float64) float64 {
		a, r := m.losses(v1)
		v := math.Max((m.v0+v1)/2, slowestMps/2)
		push := math.Min(power/v, pedalForceMax) * m.ds
		return 0.5*m.effKg*(v1*v1-m.v0*m.v0) + m.totalKg*air.StandardGravity*m.dz + a + r - push
	}
	if excess(0) > 0 {
		return 0, false
	}
	const (
		fastest   = 100.0 // m/s, beyond any bicycle
		tolerance = 1e-11 // m/s
	)
	lo, hi := 0.0, fastest
	v1 = math.Max(m.v0, slowestMps)
	for range 100 {
		f := excess(v1)
		if f > 0 {
			hi = v1
		} else {
			lo = v1
		}
		v := math.Max((m.v0+v1)/2, slowestMps/2)
		slope := m.effKg*v1 + 0.5*m.ds*(m.rho*m.cda*math.Abs(v+m.head)+bearingPerSpeed)
		if power/v < pedalForceMax {
			slope += 0.5 * m.ds * power / (v * v)
		}
		next := v1 - f/slope
		if !(next > lo && next < hi) {
			next = (lo + hi) / 2
		}
		if math.Abs(next-v1) < tolerance {
			return next, true
		}
		v1 = next
	}
	return v1, true
}
