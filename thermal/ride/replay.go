package ride

import (
	"fmt"
	"math"

	"rimheat/route"
	"rimheat/thermal/air"
)

// NewReplay takes the speeds and stops of the recorded ride that the profile
// holds, and asks the same energy balance as NewPlan what the brakes took: where
// the bicycle is slowed more than air and rolling resistance explain, the brakes
// did it; where less, the rider pedalled. Of the style only the sharing between
// front and rear counts. The inputs must have been validated; a profile without
// a recorded ride is an error.
func NewReplay(p *route.Profile, load Load, w Weather, r Resistance, st Style) (*Plan, error) {
	n := len(p.DistM)
	if n < 2 {
		return nil, fmt.Errorf("a route of %d grid nodes cannot be ridden", n)
	}
	if p.Ride == nil {
		return nil, fmt.Errorf("the route holds no recorded ride")
	}
	pl := newPlan(newGround(p), load, w, st)
	pl.replay(r)
	return pl, nil
}

// replay takes the recorded times and speeds and balances the energies.
func (pl *Plan) replay(r Resistance) {
	rec := pl.profile.Ride
	copy(pl.TimeS, rec.TimeS)
	copy(pl.SpeedMps, rec.SpeedMps)
	pl.standS = rec.StandS
	pl.conditions()
	for range replayRounds {
		pl.balance(pl.profile, r)
	}
}

// replayRounds is how often speeds and energies are made to agree: air and
// rolling resistance hang on the speed, but little.
const replayRounds = 2

// playSigmas is how many standard deviations of the speed's noise are left to
// speed before brakes or legs are taken to have worked: common practice, no
// source; chosen on simulated recordings.
const playSigmas = 1.3

// balance finds the work of brakes and legs from the speeds. Noise of the speeds
// must not become both braking and pedalling: of all ways to stay within the
// noise of the kinetic energy the one with the least of both is taken, which is
// to change nothing until forced (the play of hysteresis). What that leaves over
// is given to the speed, so that the books close.
func (pl *Plan) balance(p *route.Profile, r Resistance) {
	m := pl.segment(r)
	measured, played := 0.0, 0.0 // work of the brakes less that of the legs, J
	before := 0.0
	for i := range pl.pedal {
		m.over(p.SpacingM, pl.ground, i)
		m.rho = pl.density(i)
		m.head = (pl.HeadMps[i] + pl.HeadMps[i+1]) / 2
		m.v0 = pl.SpeedMps[i]
		v0, v1 := p.Ride.SpeedMps[i], p.Ride.SpeedMps[i+1]
		airJ, rollJ := m.losses(pl.SpeedMps[i+1])
		measured += -m.totalKg*air.StandardGravity*m.dz - airJ - rollJ - 0.5*m.effKg*(v1*v1-v0*v0)
		// The speed is known to playSigmas times its noise, and no standing
		// bicycle is given any.
		slack := math.Min(m.effKg*v1*playSigmas*p.Ride.SpeedNoiseMps, 0.4*m.effKg*v1*v1)
		played = math.Min(math.Max(played, measured-slack), measured+slack)
		work := played - before
		before = played
		pl.air[i], pl.rolling[i], pl.pedal[i] = airJ, rollJ, math.Max(-work, 0)
		pl.front[i], pl.rear[i] = pl.split(math.Max(work, 0), m, pl.TimeS[i])
		pl.SpeedMps[i+1] = math.Sqrt(math.Max(0, v1*v1+2*(measured-played)/m.effKg))
	}
}
