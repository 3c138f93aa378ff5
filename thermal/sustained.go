package thermal

import "math"

// SustainS is the time constant, s, over which the skin's excess over the wall
// behind it is averaged before the brake track is held against a limit. A
// laminate softens with time, not in the second that hard braking heats its
// skin; ten seconds are what heat takes through half a carbon wall (derived:
// 1.65 mm squared over 4.2e-7 m2/s is 6.5 s) and what a thermometer or label
// needs. Common practice, no source. Where brakes are dragged, and in
// aluminium always, the track is as hot as its surface.
const SustainS = 10.0

// A sustained follows one wheel's brake track as it is held against a limit.
// The zero value is a wheel as warm as the air.
type sustained struct {
	skinK float64 // sustained excess of the surface over the wall
}

// step takes in a wheel's surface and wall at the end of a step of dt seconds, K.
func (s *sustained) step(dt, sweptK, wallK float64) {
	s.skinK += (1 - math.Exp(-dt/SustainS)) * (sweptK - wallK - s.skinK)
}

// trackK is the track's temperature with a wall of wallK, K.
func (s *sustained) trackK(wallK float64) float64 { return wallK + s.skinK }
