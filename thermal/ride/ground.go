package ride

import (
	"math"

	"rimheat/route"
	"rimheat/thermal/air"
)

// A ground is what a profile is to whoever rides it, the same for every rider and
// all weather: values per segment between node i and i+1, and per node.
type ground struct {
	profile *route.Profile
	// rise, m, grade, rise over run, and lengthM along the road, of each segment.
	// tipG is TippingG there, on the level where the road climbs.
	rise, grade, lengthM, tipG []float64
	// pressurePa is the standard atmosphere's, cornerMps the speed at which a
	// bend takes 1 g, +Inf on a straight road; both at the nodes.
	pressurePa, cornerMps []float64
	// sin and cos of the heading at the nodes.
	sin, cos []float64
}

func newGround(p *route.Profile) *ground {
	n := len(p.DistM)
	v := make([]float64, 8*n)
	g := &ground{profile: p, rise: v[: n-1 : n], grade: v[n : 2*n-1 : 2*n], lengthM: v[2*n : 3*n-1 : 3*n], pressurePa: v[3*n : 4*n : 4*n], cornerMps: v[4*n : 5*n : 5*n], tipG: v[5*n : 6*n-1 : 6*n], sin: v[6*n : 7*n : 7*n], cos: v[7*n:]}
	// A step that no road has is a wrong height (the profile says so
	// among its repairs): it must not become heat.
	most := route.MaxGrade * p.SpacingM
	for i := range g.rise {
		g.rise[i] = min(max(p.HeightM[i+1]-p.HeightM[i], -most), most)
		g.grade[i] = g.rise[i] / p.SpacingM
		g.lengthM[i] = math.Hypot(p.SpacingM, g.rise[i])
		g.tipG[i] = TippingG(min(g.grade[i], 0))
	}
	for i, z := range p.HeightM {
		g.pressurePa[i] = air.PressureAt(z)
		g.cornerMps[i] = math.Sqrt(air.StandardGravity * p.CornerRadiusM[i])
		g.sin[i], g.cos[i] = math.Sincos(p.HeadingRad[i])
	}
	return g
}

// brakeMps2 is the deceleration planned on segment i, m/s2.
func (pl *Plan) brakeMps2(i int) float64 {
	g := min(pl.style.BrakeG, tippingPart*pl.ground.tipG[i])
	return max(g, leastBrakeG) * air.StandardGravity
}

// density is that of the air on segment i, kg/m3.
func (pl *Plan) density(i int) float64 {
	airK := (pl.AirK[i] + pl.AirK[i+1]) / 2
	if pl.near != nil {
		return pl.near.density(i, airK)
	}
	return air.MoistDensity(airK, (pl.PressurePa[i]+pl.PressurePa[i+1])/2, pl.weather.Humidity)
}

// How closely speeds are found, m/s: in a planner a segment may be off by some
// 0.01 J by it.
const exactMps, nearMps = 1e-11, 1e-6

// segment is one of the plan's, to be put on its road.
func (pl *Plan) segment(r Resistance) segment {
	to := exactMps
	if pl.near != nil {
		to = nearMps
	}
	return segment{totalKg: pl.totalKg, effKg: EffectiveMass(pl.totalKg), cda: r.CdAM2, crr: r.Crr, toMps: to}
}
