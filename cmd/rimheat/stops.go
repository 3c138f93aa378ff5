package main

import (
	"rimheat/route"
	"rimheat/thermal"
	"rimheat/thermal/ride"
)

// stopName is the input that plans a rest.
const stopName = "stop"

// Bounds of a rest, minutes, and of its place, km; see ride.Pause.
const leastStopMin, mostStopMin, farthestStopKm = 0.5, 180.0, 2000.0

// takeStops takes a list of texts such as "63.5=10".
func (l *layer) takeStops(value any) error {
	wrong := badInput("%s: wants a list of texts", l.where(stopName)).hint(`for example stop = ["63.5=10"]`)
	list, ok := value.([]any)
	if !ok || len(list) == 0 {
		return wrong
	}
	for _, v := range list {
		s, ok := v.(string)
		if !ok {
			return wrong
		}
		k, err := parseStop(l.where(stopName), s)
		if err != nil {
			return err
		}
		l.stops = append(l.stops, k)
	}
	return nil
}

// stops takes the rests of the strongest layer that plans any.
func (a answers) stops(s *thermal.Setup) error {
	for _, l := range a.layers() {
		if len(l.stops) == 0 {
			continue
		}
		for _, k := range l.stops {
			m := k.at * 1000
			unit, most := "km", farthestStopKm
			if l.imperial {
				m, unit, most = k.at*mPerMile, "mi", farthestStopKm*1000/mPerMile
			}
			switch {
			case !(k.at >= 0 && k.at <= most):
				return badInput("%s: the place is outside 0 to %.0f %s", k.where, most, unit)
			case !(k.minutes >= leastStopMin && k.minutes <= mostStopMin):
				return badInput("%s: the rest is outside %g to %g minutes", k.where, leastStopMin, mostStopMin)
			}
			s.Style.Pauses = append(s.Style.Pauses, ride.Pause{AtM: m, S: 60 * k.minutes})
		}
		return nil
	}
	return nil
}

// stopsFit reports a planned rest that the road has no place for.
func (o order) stopsFit(s thermal.Setup, p *route.Profile) error {
	if len(s.Style.Pauses) > 0 && p.Ride != nil {
		return badInput("--%s: a recorded ride has rests of its own", stopName).hint("leave it out, or plan the ride without --replay")
	}
	u := screenUnits{imperial: o.inputs.flags.imperial}
	for _, k := range s.Style.Pauses {
		if k.AtM > p.DistanceM {
			return badInput("--%s: %s lies beyond the end of the route, %s", stopName, u.place(k.AtM), u.road(p.DistanceM))
		}
	}
	return nil
}
