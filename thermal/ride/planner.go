package ride

import (
	"fmt"
	"slices"

	"rimheat/route"
	"rimheat/thermal/air"
)

// A Planner rides one profile many times, by riders and in weather that differ a
// little, in memory that it keeps. What it gives is what NewPlan or NewReplay
// give, except that air density is a parabola in temperature about that of the
// weather it was made for, off by less than 1e-3 of it 20 K away
// (TestPlannerDensity), and that climbs are ridden in longer pieces. It is not
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
	pl.plan(res)
	return pl
}

// nearAir is air density as a parabola in temperature, per segment, and where a
// piece of climbing begins.
type nearAir struct {
	atK, rho, perK, perK2 []float64
	climbs                []bool
}

const (
	// climbSegments make a piece of climbing, of pieceGrade at least all
	// along: nobody brakes there, and the time that it takes is all that counts.
	climbSegments = 6
	pieceGrade    = 0.005
)

// withAir works out the densities in the plan's weather, as it is at the start.
func (pl *Plan) withAir() *Plan {
	pl.conditions()
	s := len(pl.pedal)
	v := make([]float64, 4*s)
	a := &nearAir{v[:s:s], v[s : 2*s : 2*s], v[2*s : 3*s : 3*s], v[3*s:], make([]bool, s)}
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
	for i, run := 0, 0; i < s; i++ {
		if run++; pl.ground.grade[i] < pieceGrade {
			run = 0
		}
		if run == climbSegments {
			a.climbs[i+1-climbSegments], run = true, 0
		}
	}
	pl.near = a
	return pl
}

func (a *nearAir) density(i int, airK float64) float64 {
	x := airK - a.atK[i]
	return a.rho[i] + x*(a.perK[i]+x*a.perK2[i])
}

// climbing says whether a piece of climbing without a pause begins with segment i.
func (pl *Plan) climbing(i int) bool {
	if pl.near == nil || !pl.near.climbs[i] {
		return false
	}
	return pl.standS == nil || slices.Max(pl.standS[i:i+climbSegments+1]) == 0
}

// climb rides the piece that begins with segment i and answers its last one.
// Speed and time within it are lines.
func (pl *Plan) climb(i int, m *segment) int {
	const k = climbSegments
	g := pl.ground
	if pl.weather.Daily.On {
		// As in forward: what stands there is another ride's.
		for j := i; j < i+k; j++ {
			pl.AirK[j+1] = pl.airK(j+1, pl.leaveS(i))
		}
	}
	m.dx, m.dz, m.ds = 0, 0, 0
	limit := pl.allow[i+1]
	for j := i; j < i+k; j++ {
		m.dx += pl.profile.SpacingM
		m.dz += g.rise[j]
		m.ds += g.lengthM[j]
		limit = min(limit, pl.allow[j+1])
	}
	m.rho, m.head, m.v0 = pl.density(i+k/2), (pl.HeadMps[i]+pl.HeadMps[i+k])/2, pl.SpeedMps[i]
	v1, ok := m.reach(drivetrain * pl.style.PedalW)
	if !ok {
		v1 = slowestMps
	}
	v1 = min(max(v1, slowestMps), limit)
	airJ, rollJ := m.losses(v1)
	over := -m.totalKg*air.StandardGravity*m.dz - airJ - rollJ - 0.5*m.effKg*(v1*v1-m.v0*m.v0)
	start, takes := pl.leaveS(i), m.duration(v1)
	for j := i; j < i+k; j++ {
		part := float64(j+1-i) / k
		pl.SpeedMps[j+1] = m.v0 + part*(v1-m.v0)
		pl.TimeS[j+1] = start + part*takes
		if pl.weather.Daily.On {
			pl.AirK[j+1] = pl.airK(j+1, pl.TimeS[j+1])
		}
		pl.air[j], pl.rolling[j], pl.pedal[j] = airJ/k, rollJ/k, max(-over, 0)/k
		pl.front[j], pl.rear[j] = pl.split(max(over, 0)/k, *m, start)
	}
	return i + k - 1
}
