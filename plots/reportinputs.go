package plots

import (
	"slices"
	"strings"
)

// assumed tells whether nobody gave an input, by its name on the command line.
func (r *reporter) assumed(input string) bool { return slices.Contains(r.a.Setup.Assumed, input) }

// inputs lists what the ride was computed with, what somebody gave apart from what
// was assumed.
func (r *reporter) inputs() (given, assumed []string) {
	s := r.a.Setup
	told := map[string]bool{}
	add := func(ok bool, input, text string) {
		told[input] = true
		switch {
		case !ok:
		case r.assumed(input):
			assumed = append(assumed, text)
		default:
			given = append(given, text)
		}
	}
	add(s.RiderKg > 0, "rider-kg", "rider "+r.mass(s.RiderKg))
	add(s.BikeKg > 0, "bike-kg", "bicycle "+r.mass(s.BikeKg))
	add(true, "luggage-kg", "luggage "+r.mass(s.LuggageKg))
	add(true, "air-temp", r.air())
	add(finite(s.AtHeightM), "air-temp-at", "that air at "+r.height(s.AtHeightM))
	add(true, "lapse", r.lapse(s.LapseKPerM))
	wind := "no wind"
	if s.WindMps != 0 {
		wind = "wind " + r.speed(s.WindMps)
	}
	add(true, "wind", wind)
	add(s.WindMps != 0, "wind-from", "from "+cell(s.WindFrom, 0)+"°")
	add(s.Humidity > 0, "humidity", "humidity "+cell(100*s.Humidity, 0)+" %")
	sun := "no sun"
	if s.SunWPerM2 > 0 {
		sun = "sunshine " + cell(s.SunWPerM2, 0) + " W/m²"
	}
	add(true, "sun", sun)
	road := "no hot road"
	if s.RoadAirK > 0 {
		road = "air over the road " + r.gap(s.RoadAirK) + " warmer"
	}
	add(true, "road-air", road)
	add(s.CdAM2 > 0, "cda", "CdA "+brief(s.CdAM2, 3)+" m²")
	add(s.Crr > 0, "crr", "Crr "+brief(s.Crr, 4))
	add(r.word(s.Style) != "", "style", r.word(s.Style)+" style")
	add(s.CapMps > 0, "cap-kmh", "at most "+r.speed(s.CapMps))
	add(s.CornerG > 0, "corner-g", brief(s.CornerG, 2)+" g in bends")
	add(s.BrakeG > 0, "brake-g", brief(s.BrakeG, 2)+" g braking")
	add(s.FrontShare > 0, "front-share", cell(100*s.FrontShare, 0)+" % of it in front")
	add(r.word(s.Habit) != "", "brake-habit", r.habit(s.Habit))
	add(s.PedalW > 0, "pedal-w", cell(s.PedalW, 0)+" W at the pedals")
	add(s.TyreKPa > 0, "tyre-kpa", "tyres "+r.pressure(s.TyreKPa)+" cold")
	var usual []string
	for _, k := range []struct{ input, text string }{{"rim", "rims"}, {"pads", "pads"}, {"tyre-side", "tube and tape"}} {
		told[k.input] = true
		if r.assumed(k.input) {
			usual = append(usual, k.text)
		}
	}
	if len(usual) > 0 {
		assumed = append(assumed, "the usual "+strings.Join(usual, ", "))
	}
	for _, in := range s.Assumed {
		if !told[in] {
			assumed = append(assumed, strings.ReplaceAll(r.word(in), "-", " "))
		}
	}
	return given, assumed
}

// air is the air of the ride.
func (r *reporter) air() string {
	s := r.a.Setup
	d := s.DayAir
	if d == nil {
		return "air " + r.temp(s.AirTempC)
	}
	return "start at " + r.word(d.Start) + ", air of the day " + cell(r.u.temp(d.AirMinC), 0) + " to " + r.temp(d.AirMaxC) +
		", coolest at " + r.word(d.CoolestAt) + " and hottest at " + r.word(d.HottestAt) + " (assumed)"
}

// lapse says how the air cools with height; it stays in K per km.
func (r *reporter) lapse(kPerM float64) string {
	switch {
	case kPerM > 0:
		return "air " + brief(1000*kPerM, 2) + " K cooler per km higher"
	case kPerM < 0:
		return "air " + brief(-1000*kPerM, 2) + " K warmer per km higher"
	}
	return "air the same at every height"
}

// habit says in words how the brakes are used.
func (r *reporter) habit(habit string) string {
	switch habit {
	case "drag":
		return "steady drag on both brakes"
	case "pulse":
		return "brakes in pulses"
	case "alternate":
		return "front and rear brake by turns"
	}
	return "brakes: " + r.word(habit)
}
