package ride

import (
	"math"
	"slices"

	"rimheat/thermal/air"
)

// Rules for finding stretches of coasting. Common practice, no source.
const (
	// A stretch is coastS long, falls by coastGrade or more, is open road, and is
	// ridden at coastMps or faster: there few riders pedal.
	coastS     = 8.0
	coastGrade = -0.03
	coastMps   = 9.0
	// coastBand is how far apparent drag areas may lie from the commonest one to
	// be taken for the same coasting, as a part of it, and leastCoasts how many
	// must.
	coastBand   = 0.20
	leastCoasts = 12
	// coastShare is the least part of all stretches that must lie in the band: where
	// a rider brakes all along, nothing is common to the stretches.
	coastShare = 0.25
	// crrSpread is the standard deviation that Crr is known to beforehand:
	// between smooth 0.003 and rough 0.010 asphalt (from memory).
	crrSpread = 0.002
	// A rider who holds one speed on one slope with the brakes looks like one who
	// coasts against more drag. Only where speeds differ can the two be told apart:
	// the dynamic pressure nine in ten stretches stay below must be pressureRatio
	// times the one that one in ten does, and how the force grows with it must give
	// the same drag area as the force itself, within slopeSigmas standard
	// deviations and those be no more than slopePart of it.
	pressureRatio          = 1.5
	slopeSigmas, slopePart = 2.5, 0.30
	// Drag areas of single bicycles lie between these, m2: loaded tourers reach 0.65
	// (from memory).
	leastCdA, mostCdA = 0.15, 0.65
)

// A Coasting is drag and rolling resistance as stretches of coasting tell them,
// with their standard deviations.
type Coasting struct {
	Found          bool
	CdAM2, CdASd   float64
	Crr, CrrSd     float64
	Stretches, Out int // stretches in the band, and beside it
}

// stretch is one fast stretch of open descent: what slowed the bicycle, N, at a
// dynamic pressure, Pa.
type stretch struct{ force, pressure float64 }

// coasting looks for the drag area that the most fast stretches have in common:
// braking only adds to what slows a bicycle and pedalling only takes off, each by
// ever different amounts, while coasting gives the same each time. CdA and Crr
// then follow by least squares from the stretches near it, Crr being known
// beforehand to crrSpread.
func coasting(rides []Recorded, load Load, w Weather, r Resistance) Coasting {
	weight := load.TotalKg() * air.StandardGravity
	var all []stretch
	for _, rec := range rides {
		all = append(all, rec.stretches(load, w)...)
	}
	apparent := make([]float64, 0, len(all))
	for _, s := range all {
		apparent = append(apparent, (s.force-r.Crr*weight)/s.pressure)
	}
	slices.Sort(apparent)
	common, n := 0.0, 0
	for i, a := range apparent {
		if a < leastCdA || a > mostCdA {
			continue
		}
		// The band from a on: how many lie in it.
		j := i
		for j < len(apparent) && apparent[j] <= a*(1+coastBand)/(1-coastBand) {
			j++
		}
		if j-i > n {
			n, common = j-i, (apparent[i]+apparent[j-1])/2
		}
	}
	c := Coasting{Stretches: n, Out: len(all) - n}
	if n < leastCoasts || float64(n) < coastShare*float64(len(all)) {
		return c
	}
	// Normal equations of force = CdA pressure + Crr weight, in units of the
	// scatter of the stretches, with the prior on Crr.
	var in []stretch
	var pp, pw, ww, pf, wf float64
	for _, s := range all {
		if a := (s.force - r.Crr*weight) / s.pressure; math.Abs(a-common) <= coastBand*common {
			in = append(in, s)
			pp += s.pressure * s.pressure
			pw += s.pressure * weight
			ww += weight * weight
			pf += s.pressure * s.force
			wf += weight * s.force
		}
	}
	scatter := 0.0
	cda, crr := common, r.Crr
	for range 3 {
		scatter = 0
		for _, s := range in {
			e := s.force - cda*s.pressure - crr*weight
			scatter += e * e / float64(len(in))
		}
		prior := scatter / (crrSpread * crrSpread)
		det := pp*(ww+prior) - pw*pw
		cda = (pf*(ww+prior) - pw*(wf+prior*r.Crr)) / det
		crr = (pp*(wf+prior*r.Crr) - pw*pf) / det
		c.CdASd, c.CrrSd = math.Sqrt(scatter*(ww+prior)/det), math.Sqrt(scatter*pp/det)
	}
	c.CdAM2, c.Crr = cda, crr
	c.Found = cda > leastCdA && cda < mostCdA && crr > 0.001 && crr < 0.02 && growsWithSpeed(in, cda)
	return c
}

// growsWithSpeed tells whether force grows with pressure as the drag area says.
func growsWithSpeed(in []stretch, cda float64) bool {
	n := float64(len(in))
	pressures := make([]float64, len(in))
	var p, f float64
	for i, s := range in {
		pressures[i] = s.pressure
		p, f = p+s.pressure/n, f+s.force/n
	}
	slices.Sort(pressures)
	if pressures[len(in)*9/10] < pressureRatio*pressures[len(in)/10] {
		return false
	}
	var pp, pf, left float64
	for _, s := range in {
		pp += (s.pressure - p) * (s.pressure - p)
		pf += (s.pressure - p) * (s.force - f)
	}
	slope := pf / pp
	for _, s := range in {
		e := s.force - f - slope*(s.pressure-p)
		left += e * e / (n - 2)
	}
	sd := math.Sqrt(left / pp)
	return math.Abs(slope-cda) <= slopeSigmas*sd && sd <= slopePart*cda
}

// stretches are the fast stretches of open road on the descents of a ride.
func (rec Recorded) stretches(load Load, w Weather) []stretch {
	pl, p := rec.Plan, rec.Profile
	mass := EffectiveMass(load.TotalKg())
	var out []stretch
	for _, d := range p.Descents {
		for i := d.Start; i < d.End; {
			j, open := i, true
			for j < d.End && pl.TimeS[j]-pl.TimeS[i] < coastS {
				open = open && p.CornerRadiusM[j] >= openRadiusM && pl.leaveS(j) == pl.TimeS[j]
				j++
			}
			dx := float64(j-i) * p.SpacingM
			rise := 0.0
			for k := i; k < j; k++ {
				rise += pl.ground.rise[k]
			}
			v0, v1 := p.Ride.SpeedMps[i], p.Ride.SpeedMps[j]
			mean := dx / math.Max(pl.TimeS[j]-pl.TimeS[i], 1e-3)
			if open && pl.TimeS[j]-pl.TimeS[i] >= coastS && rise < coastGrade*dx && mean >= coastMps {
				ds := math.Hypot(dx, rise)
				work := -load.TotalKg()*air.StandardGravity*rise - 0.5*mass*(v1*v1-v0*v0)
				k := (i + j) / 2
				rho := air.MoistDensity(pl.AirK[k], pl.PressurePa[k], w.Humidity)
				u := mean + pl.HeadMps[k]
				out = append(out, stretch{work/ds - BearingForce(mean), 0.5 * rho * u * math.Abs(u)})
			}
			i = max(j, i+1)
		}
	}
	return out
}
