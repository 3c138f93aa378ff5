package main

import (
	"math"

	"rimheat/thermal"
	"rimheat/thermal/ride"
)

// A number is one numeric input of an assessment: a flag and a key of the
// setup file under one name.
type number struct {
	name string
	// unit is the metric unit of the flag, dim says what it is with --imperial.
	unit string
	dim  dimension
	// lo and hi bound the value in unit, as the package that takes it does.
	lo, hi float64
	help   string
	// styled is true where a named style sets it.
	styled bool
	// at is the field it sets, which holds (value*per[0]/per[1]) + zero in SI.
	at   func(*thermal.Setup) *float64
	per  [2]float64
	zero float64
}

// kelvinAt0C is 0 °C on the Kelvin scale, exact by definition.
const kelvinAt0C = 273.15

// same is for fields that hold the flag's own unit.
func same() [2]float64 { return [2]float64{1, 1} }

// numbers lists the numeric inputs in the order of the help.
func numbers() []number {
	return []number{
		{name: "rider-kg", unit: "kg", dim: mass, lo: 25, hi: 250, help: "rider, dressed", per: same(),
			at: func(s *thermal.Setup) *float64 { return &s.Load.RiderKg }},
		{name: "bike-kg", unit: "kg", dim: mass, lo: 4, hi: 60, help: "bicycle with bottles and tools", per: same(),
			at: func(s *thermal.Setup) *float64 { return &s.Load.BikeKg }},
		{name: "luggage-kg", unit: "kg", dim: mass, lo: 0, hi: 150, help: "luggage", per: same(),
			at: func(s *thermal.Setup) *float64 { return &s.Load.LuggageKg }},
		{name: "air-temp", unit: "°C", dim: temperature, lo: -30, hi: 55, help: "air temperature", per: same(), zero: kelvinAt0C,
			at: func(s *thermal.Setup) *float64 { return &s.Weather.AirTempK }},
		{name: "air-temp-at", unit: "m", dim: height, lo: -500, hi: 9000, help: "height that it holds at", per: same(),
			at: func(s *thermal.Setup) *float64 { return &s.Weather.AtHeightM }},
		{name: "air-min", unit: "°C", dim: temperature, lo: -30, hi: 55, help: "the day's coolest air, about sunrise, at that height; goes with --start", per: same(), zero: kelvinAt0C,
			at: func(s *thermal.Setup) *float64 { return &s.Weather.Daily.MinK }},
		{name: "air-max", unit: "°C", dim: temperature, lo: -30, hi: 55, help: "the day's hottest air, in the afternoon, at that height; goes with --start", per: same(), zero: kelvinAt0C,
			at: func(s *thermal.Setup) *float64 { return &s.Weather.Daily.MaxK }},
		{name: "lapse", unit: "K/km", lo: -10, hi: 15, help: "how much cooler the air gets with height", per: [2]float64{1, 1000},
			at: func(s *thermal.Setup) *float64 { return &s.Weather.LapseKPerM }},
		{name: "wind", unit: "m/s", dim: windSpeed, lo: 0, hi: 30, help: "wind at rider height", per: same(),
			at: func(s *thermal.Setup) *float64 { return &s.Weather.WindMps }},
		{name: "wind-from", unit: "degrees", lo: -360, hi: 360, help: "where it blows from, clockwise from north", per: [2]float64{math.Pi, 180},
			at: func(s *thermal.Setup) *float64 { return &s.Weather.WindFromRad }},
		{name: "humidity", unit: "percent", lo: 1, hi: 100, help: "relative humidity", per: [2]float64{1, 100},
			at: func(s *thermal.Setup) *float64 { return &s.Weather.Humidity }},
		{name: "sun", unit: "W/m2", lo: 0, hi: 1400, help: "sunshine on a face turned to the sun; warms the rims", per: same(),
			at: func(s *thermal.Setup) *float64 { return &s.Weather.SunWPerM2 }},
		{name: "road-air", unit: "K", dim: warmth, lo: 0, hi: 25, help: "how much warmer the air is that the wheels meet over a hot road", per: same(),
			at: func(s *thermal.Setup) *float64 { return &s.Weather.RoadAirK }},
		{name: "tyre-kpa", unit: "kPa", dim: pressure, lo: 50, hi: 1500, help: "pressure in the tyres, cold: as warm as the air at the start", per: [2]float64{1000, 1},
			at: func(s *thermal.Setup) *float64 { return &s.Tyres.GaugePa }},
		{name: "tyre-max-kpa", unit: "kPa", dim: pressure, lo: 50, hi: 1500, help: "highest pressure that the tyre's maker allows", per: [2]float64{1000, 1},
			at: func(s *thermal.Setup) *float64 { return &s.Tyres.MaxGaugePa }},
		{name: "cap-kmh", unit: "km/h", dim: rideSpeed, lo: 8, hi: 130, help: "speed not exceeded downhill", styled: true, per: [2]float64{1, 3.6},
			at: func(s *thermal.Setup) *float64 { return &s.Style.CapMps }},
		{name: "corner-g", unit: "g", lo: 0.05, hi: 1, help: "sideways acceleration in bends", styled: true, per: same(),
			at: func(s *thermal.Setup) *float64 { return &s.Style.CornerG }},
		{name: "brake-g", unit: "g", lo: 0.05, hi: 0.6, help: "deceleration before bends", styled: true, per: same(),
			at: func(s *thermal.Setup) *float64 { return &s.Style.BrakeG }},
		{name: "front-share", lo: 0, hi: 1, help: "part of the braking at the front wheel", styled: true, per: same(),
			at: func(s *thermal.Setup) *float64 { return &s.Style.FrontShare }},
		{name: "pedal-w", unit: "W", lo: 20, hi: 600, help: "power at the pedals on the flat and uphill", styled: true, per: same(),
			at: func(s *thermal.Setup) *float64 { return &s.Style.PedalW }},
		{name: "cda", unit: "m2", lo: 0.1, hi: 1.5, help: "drag coefficient times frontal area", per: same(),
			at: func(s *thermal.Setup) *float64 { return &s.Resistance.CdAM2 }},
		{name: "crr", unit: "", lo: 0.001, hi: 0.05, help: "rolling resistance coefficient", per: same(),
			at: func(s *thermal.Setup) *float64 { return &s.Resistance.Crr }},
	}
}

// set puts a value in the flag's metric unit into the setup.
func (n number) set(s *thermal.Setup, v float64) { *n.at(s) = v*n.per[0]/n.per[1] + n.zero }

// get reads the value back in the flag's metric unit.
func (n number) get(s *thermal.Setup) float64 { return (*n.at(s) - n.zero) * n.per[1] / n.per[0] }

// rimLimitLo and rimLimitHi bound a rim maker's figure, °C.
const (
	rimLimitLo = 40
	rimLimitHi = 400
)

// inputNames lists every input that a setup has, in the order of the flags:
// the words of Setup.Assumed. Not among them are rim-limit and start, which
// nothing takes the place of.
func inputNames() []string {
	return []string{
		"rider-kg", "bike-kg", "luggage-kg",
		"air-temp", "air-temp-at", "air-min", "air-max", "lapse", "wind", "wind-from", "humidity", "sun", "road-air",
		"rim", "pads", "tyre-side", "tyre-kpa", "tyre-max-kpa",
		"style", "cap-kmh", "corner-g", "brake-g", "front-share", "brake-habit", "pedal-w",
		"cda", "crr",
	}
}

// setByStyle says whether a named style sets an input.
func setByStyle(name string) bool {
	if name == "brake-habit" {
		return true
	}
	for _, n := range numbers() {
		if n.name == name {
			return n.styled
		}
	}
	return false
}

// habits lists the ways to brake.
func habits() []string {
	return []string{string(ride.Drag), string(ride.Pulse), string(ride.Alternate)}
}
