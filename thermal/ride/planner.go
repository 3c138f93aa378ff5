package ride

import (
	"fmt"

	"rimheat/route"
	"rimheat/thermal/air"
)

// A Planner rides one profile many times, by riders and in weather that differ a
// little, in memory that it keeps. What it gives is what NewPlan or NewReplay
// give, except that air density is a parabola in temperature about that of the
// weather it was made for: off by less than 1e-3 of it 20 K away (TestPlannerDensity). It is not
// safe for use by several goroutines; clones are.
type Planner struct{ pl Plan }

// NewPlanner makes one for the profile, in much the weather w. A profile with a
// recorded ride is replayed.
func NewPlanner(p *route.Profile, w Weather) (*Planner, error) {
	if len(p.DistM) < 2 {
		return nil, fmt.Errorf("a route of %d grid nodes cannot be ridden", len(p.DistM))
	}
	return &Planner{*newPlan(newGround(p), Load{}, w, Style{}).withAir()}, nil
}

// Clone makes another one that shares all that never changes.
func (r *Planner) Clone() *Planner {
	c := newPlan(r.pl.ground, Load{}, r.pl.weather, Style{})
	c.near = r.pl.near
	return &Planner{*c}
}

// Ride rides the profile. The inputs must have been validated. The plan is
// overwritten by the next ride.
func (r *Planner) Ride(load Load, w Weather, res Resistance, st Style) *Plan {
	pl := &r.pl
	pl.weather, pl.style, pl.totalKg = w, st, load.TotalKg()
	if pl.profile.Ride != nil {
		pl.replay(res)
		return pl
	}
	clear(pl.TimeS[:1])
	clear(pl.SpeedMps[:1])
	pl.conditions()
	pl.allowed()
	pl.forward(res)
	return pl
}

// nearAir is air density as a parabola in temperature, per segment.
type nearAir struct{ atK, rho, perK, perK2 []float64 }

// withAir works out the densities in the plan's weather, as it is at the start.
func (pl *Plan) withAir() *Plan {
	pl.conditions()
	s := len(pl.pedal)
	v := make([]float64, 4*s)
	a := &nearAir{v[:s:s], v[s : 2*s : 2*s], v[2*s : 3*s : 3*s], v[3*s:]}
	for i := range s {
		const stepK = 15.0
		at := (pl.AirK[i] + pl.AirK[i+1]) / 2
		rho := func(tK float64) float64 {
			return air.MoistDensity(tK, (pl.PressurePa[i]+pl.PressurePa[i+1])/2, pl.weather.Humidity)
		}
		lo, mid, hi := rho(at-stepK), rho(at), rho(at+stepK)
		a.atK[i], a.rho[i] = at, mid
		a.perK[i], a.perK2[i] = (hi-lo)/(2*stepK), (hi+lo-2*mid)/(2*stepK*stepK)
	}
	pl.near = a
	return pl
}

func (a *nearAir) density(i int, airK float64) float64 {
	x := airK - a.atK[i]
	return a.rho[i] + x*(a.perK[i]+x*a.perK2[i])
}
