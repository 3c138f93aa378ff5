package ride

import (
	"fmt"
	"math"

	"rimheat/route"
	"rimheat/thermal/air"
)

const (
	// slowestMps: slower than this on a climb the rider walks; common
	// practice, no source.
	slowestMps = 1.0
	// getGoingMps: below it the rider pedals even downhill; common practice,
	// no source.
	getGoingMps = 4.0
	// pedalGrade: on roads that fall less than this the rider pedals; common
	// practice, no source.
	pedalGrade = -0.01
	// pedalForceMax is the most that reaches the road at walking speed, N;
	// common practice, no source.
	pedalForceMax = 220.0
	// pulseDepth: a pulsing rider brakes down to this part of the cap; common
	// practice, no source.
	pulseDepth = 0.8
	// alternateS is one turn of front and rear brake, s: hairpins follow each
	// other in some 20 s on steep passes (a magazine's observation, 2014).
	alternateS = TurnOfBrakesS
	// rearOnlyG is the braking beyond which a rider who alternates takes both
	// brakes: the rear alone reaches 0.25-0.37 g (N. Famiglietti et al.,
	// maximum braking of eight bicycles, SAE paper 2020-01-0876, published).
	rearOnlyG = 0.2
	// tippingPart keeps planned braking away from lifting the rear wheel;
	// common practice, no source.
	tippingPart = 0.85
	// leastBrakeG: however steep the road, a plan slows by this much; common
	// practice, no source.
	leastBrakeG = 0.03
	// cornerFloorMps: no corner is ridden slower; common practice, no source.
	cornerFloorMps = 2.5
)

// TurnOfBrakesS is one turn of front and rear brake for a rider who takes them by turns,
// s; see alternateS.
const TurnOfBrakesS = 20.0

// A Plan is how the profile is ridden: node values on the profile's grid and
// the energy of each segment between node i and i+1.
type Plan struct {
	profile *route.Profile
	ground  *ground
	near    *nearAir // nil: densities are worked out anew
	weather Weather
	style   Style
	totalKg float64
	// airAtM is the height that the weather's air temperature holds at, m.
	airAtM float64

	// TimeS of arrival since the start and SpeedMps at every node.
	TimeS, SpeedMps []float64
	standS          []float64 // how long the rider stands at every node, nil for never
	standRollMps    []float64 // how fast they roll about there meanwhile, nil for not at all
	// AirK and PressurePa at every node, HeadMps the head wind there.
	AirK, PressurePa, HeadMps []float64

	allow                            []float64 // m/s per node, see allowed
	pedal, air, rolling, front, rear []float64 // J per segment
}

// NewPlan rides the profile. The inputs must have been validated; a profile
// with fewer than two nodes is an error.
func NewPlan(p *route.Profile, load Load, w Weather, r Resistance, st Style) (*Plan, error) {
	n := len(p.DistM)
	if n < 2 {
		return nil, fmt.Errorf("a route of %d grid nodes cannot be ridden", n)
	}
	pl := newPlan(newGround(p), load, w, st)
	pl.plan(r)
	return pl, nil
}

// plan rides as the style says.
func (pl *Plan) plan(r Resistance) {
	pl.pause()
	pl.conditions()
	pl.allowed()
	pl.forward(r)
}

// newPlan is a plan of which only the road is known.
func newPlan(g *ground, load Load, w Weather, st Style) *Plan {
	n := len(g.profile.DistM)
	pl := &Plan{profile: g.profile, ground: g, weather: w, style: st, totalKg: load.TotalKg(), PressurePa: g.pressurePa}
	nodes := make([]float64, 5*n)
	pl.TimeS, pl.SpeedMps, pl.AirK, pl.HeadMps, pl.allow = nodes[:n:n], nodes[n:2*n:2*n], nodes[2*n:3*n:3*n], nodes[3*n:4*n:4*n], nodes[4*n:]
	s := n - 1
	segs := make([]float64, 5*s)
	pl.pedal, pl.air, pl.rolling, pl.front, pl.rear = segs[:s:s], segs[s:2*s:2*s], segs[2*s:3*s:3*s], segs[3*s:4*s:4*s], segs[4*s:]
	return pl
}

// leaveS is when the rider leaves node i, s: later than TimeS where they stand.
func (pl *Plan) leaveS(i int) float64 {
	if pl.standS == nil {
		return pl.TimeS[i]
	}
	return pl.TimeS[i] + pl.standS[i]
}

// AtHeightM is where the weather's air temperature holds on this profile.
func AtHeightM(p *route.Profile, w Weather) float64 {
	if !math.IsNaN(w.AtHeightM) {
		return w.AtHeightM
	}
	low := math.Inf(1)
	for _, z := range p.HeightM {
		low = math.Min(low, z)
	}
	return low
}

// conditions sets the air at every node for the rider who is there at TimeS.
// Where the times are known it is all that is needed; forward, which finds
// them, begins with zeros and sets the temperature again where the hour counts.
func (pl *Plan) conditions() {
	p, w := pl.profile, pl.weather
	pl.airAtM = AtHeightM(p, w)
	sin, cos := math.Sincos(w.WindFromRad)
	north, east := w.WindMps*cos, w.WindMps*sin // where it blows from
	for i := range p.HeightM {
		pl.AirK[i] = pl.airK(i, pl.TimeS[i])
		pl.HeadMps[i] = w.HeadMps + north*pl.ground.cos[i] + east*pl.ground.sin[i]
	}
}

// airK is the air temperature at node i, timeS after the start, K.
func (pl *Plan) airK(i int, timeS float64) float64 {
	w := &pl.weather
	return w.airTempK(timeS) - w.LapseKPerM*(pl.profile.HeightM[i]-pl.airAtM)
}

// allowed finds the speed that cap, corners, the two ends and the backward
// pass leave at every node.
func (pl *Plan) allowed() {
	v, g := pl.allow, pl.ground
	byG := math.Sqrt(pl.style.CornerG)
	for i, oneG := range g.cornerMps {
		v[i] = min(pl.style.CapMps, max(byG*oneG, cornerFloorMps))
	}
	n := len(v)
	v[n-1] = 0
	for i, s := range pl.standS {
		if s > 0 {
			v[i] = min(v[i], pl.standRollMps[i])
		}
	}
	for i := n - 2; i >= 0; i-- {
		reach := v[i+1]*v[i+1] + 2*pl.brakeMps2(i)*g.lengthM[i]
		if reach < v[i]*v[i] {
			v[i] = math.Sqrt(reach)
		}
	}
}

// forward rides from node to node within the allowed speed.
func (pl *Plan) forward(r Resistance) {
	p, g := pl.profile, pl.ground
	m := pl.segment(r)
	pulsing := false
	byHour := pl.weather.Daily.On
	for i := 0; i < len(pl.pedal); i++ {
		if pl.climbing(i) {
			i = pl.climb(i, &m)
			pulsing = false
			continue
		}
		if byHour {
			// When the rider gets to the end of the segment is not known yet. Its
			// start is ten seconds early at most, in 5 m at a walk: 0.05 K in a
			// day that spans all of 85 K, 0.01 K in one of 20 K (derived).
			pl.AirK[i+1] = pl.airK(i+1, pl.leaveS(i))
		}
		m.over(p.SpacingM, g, i)
		m.rho = pl.density(i)
		m.head = (pl.HeadMps[i] + pl.HeadMps[i+1]) / 2
		m.v0 = pl.SpeedMps[i]
		limit := pl.allow[i+1]
		var v1, pedal, brake float64
		free := true // neither brakes nor legs at work
		if m.runsOver(limit) {
			v1, free = limit, false
			// Let go a little under the cap, not at it, if the habit is so.
			if pl.style.Habit == Pulse && limit >= pl.style.CapMps {
				pulsing = true
			}
		} else if coast, rolls := m.coast(g.grade[i]); rolls {
			v1 = coast
		} else {
			pulsing, free = false, false
			var ok bool
			if v1, ok = m.reach(drivetrain * pl.style.PedalW); !ok || v1 < slowestMps {
				v1 = slowestMps // walks; the work is what it takes
			}
			v1 = min(v1, limit)
		}
		if pulsing {
			low := pulseDepth * pl.style.CapMps
			down := math.Sqrt(max(m.v0*m.v0-2*pl.brakeMps2(i)*m.ds, low*low))
			if down < v1 {
				v1, free = down, false
			}
			pulsing = v1 > low
		}
		airJ, rollJ := m.losses(v1)
		// What the balance leaves over is the brakes', what it lacks the
		// legs'.
		over := -m.totalKg*air.StandardGravity*m.dz - airJ - rollJ - 0.5*m.effKg*(v1*v1-m.v0*m.v0)
		switch {
		case free:
			// What is left over is rounding, see TestCoastingObeysTheEquation.
		case over > 0:
			brake = over
		default:
			pedal = -over
		}
		pl.SpeedMps[i+1] = v1
		pl.TimeS[i+1] = pl.leaveS(i) + m.duration(v1)
		if byHour {
			pl.AirK[i+1] = pl.airK(i+1, pl.TimeS[i+1])
		}
		pl.air[i], pl.rolling[i], pl.pedal[i] = airJ, rollJ, pedal
		pl.front[i], pl.rear[i] = pl.split(brake, m, pl.leaveS(i))
	}
}

// split shares the braking energy of a segment between front and rear.
func (pl *Plan) split(brake float64, m segment, t float64) (front, rear float64) {
	f := pl.style.FrontShare
	if pl.style.Habit == Alternate && brake <= rearOnlyG*m.totalKg*air.StandardGravity*m.ds {
		if math.Mod(t+pl.style.TurnS, alternateS) < f*alternateS {
			f = 1
		} else {
			f = 0
		}
	}
	return f * brake, (1 - f) * brake
}

// StopStartS is when the rider begins to slow for the stop at the end of the
// route, s: from then on the speed only falls.
func (pl *Plan) StopStartS() float64 {
	i := len(pl.SpeedMps) - 1
	for i > 0 && pl.SpeedMps[i-1] > pl.SpeedMps[i] {
		i--
	}
	return pl.TimeS[i]
}

// Ledger adds up the energy from node a to node b.
func (pl *Plan) Ledger(a, b int) Energy {
	va, vb := pl.SpeedMps[a], pl.SpeedMps[b]
	e := Energy{
		KineticJ: 0.5 * EffectiveMass(pl.totalKg) * (vb*vb - va*va),
	}
	for i := a; i < b; i++ {
		e.PotentialJ -= pl.totalKg * air.StandardGravity * pl.ground.rise[i]
		e.PedalJ += pl.pedal[i]
		e.AirJ += pl.air[i]
		e.RollingJ += pl.rolling[i]
		e.BrakeFrontJ += pl.front[i]
		e.BrakeRearJ += pl.rear[i]
	}
	return e
}
