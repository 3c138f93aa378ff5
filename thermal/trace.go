package thermal

import (
	"rimheat/route"
	"rimheat/thermal/air"
	"rimheat/thermal/ride"
)

// traceOf is the ride as figures take it.
func traceOf(p *route.Profile, plan *ride.Plan, w ride.Weather) Trace {
	t := Trace{
		DistM: p.DistM, HeightM: p.HeightM, Grade: p.Grade, TimeS: plan.TimeS, SpeedMps: plan.SpeedMps,
		LatDeg: p.LatDeg, LonDeg: p.LonDeg, HairpinM: p.HairpinM,
		AirC: make([]float64, len(plan.AirK)),
	}
	for i, k := range plan.AirK {
		t.AirC[i] = k + w.RoadAirK - air.ZeroCelsiusK
	}
	t.FrontBrakeW, t.RearBrakeW = plan.BrakeW()
	for _, s := range plan.Stands() {
		t.Stands = append(t.Stands, Stand{AtM: s.AtM, HeightM: heightAt(p, s.AtM), S: s.S, RollMps: s.RollMps, Recorded: p.Ride != nil})
	}
	return t
}
