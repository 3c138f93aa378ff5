package ride

import (
	"fmt"
	"math"

	"rimheat/thermal/air"
)

// A Load is what rolls down the hill, kilograms.
type Load struct {
	RiderKg, BikeKg, LuggageKg float64
}

// TotalKg is the whole system's mass.
func (l Load) TotalKg() float64 { return l.RiderKg + l.BikeKg + l.LuggageKg }

// Weather is the air along the route.
type Weather struct {
	// AirTempK holds at height AtHeightM; NaN there means the route's
	// lowest point.
	AirTempK, AtHeightM float64
	// Daily, if on, takes the place of AirTempK: the air at AtHeightM then
	// goes with the hour.
	Daily Daily
	// LapseKPerM is how fast the air cools with height, positive upwards.
	LapseKPerM float64
	// WindMps blows from WindFromRad (clockwise from north), at rider height.
	WindMps, WindFromRad float64
	// HeadMps is a wind that blows against the rider wherever the road turns, as
	// none does: for asking what a head wind changes. Negative from behind.
	HeadMps float64
	// Humidity is relative, 0 to 1.
	Humidity float64
	// SunWPerM2 is sunshine on a face turned to the sun, W/m2. It warms the
	// rims and nothing else here.
	SunWPerM2 float64
	// RoadAirK is how much warmer the air is that the wheels meet, near the
	// road, than AirTempK says, kelvin.
	RoadAirK float64
}

// Resistance is what slows a coasting rider besides the brakes.
type Resistance struct {
	// CdAM2 is drag coefficient times frontal area, m2; Crr the rolling
	// resistance coefficient, dimensionless.
	CdAM2, Crr float64
}

// Habit is how a rider spreads the braking that a descent demands.
type Habit string

const (
	// Drag holds the cruising cap with a steady pull on both brakes.
	Drag Habit = "drag"
	// Pulse lets the bicycle run up to the cap, brakes down by a fifth of
	// it, and lets go again.
	Pulse Habit = "pulse"
	// Alternate holds the cap like Drag, with one brake at a time.
	Alternate Habit = "alternate"
)

// A Style is how someone rides downhill.
type Style struct {
	ID, Name string
	// CapMps is the speed the rider does not exceed, m/s.
	CapMps float64
	// CornerG is the lateral acceleration accepted in bends and BrakeG the
	// deceleration used before them, both in units of standard gravity.
	CornerG, BrakeG float64
	// FrontShare is the part of the braking force at the front wheel, 0 to 1.
	FrontShare float64
	Habit      Habit
	// PedalW is the power at the pedals on the flat and uphill, watts.
	PedalW float64
	// TurnS is how far into a turn of the brakes the ride begins for a rider who takes
	// them by turns, s: nobody knows it, and which brake works in the hottest bend hangs
	// on it.
	TurnS float64
	// Pauses are the rests planned on this road, in any order.
	Pauses []Pause
	// Source says where the numbers come from.
	Source string
}

// bound is one physical limit of an input.
type bound struct {
	name      string
	v, lo, hi float64
	unit      string
}

func firstOutside(bs []bound) error {
	for _, b := range bs {
		rounding := 1e-12 * max(math.Abs(b.lo), math.Abs(b.hi)) // of units
		if math.IsNaN(b.v) || b.v < b.lo-rounding || b.v > b.hi+rounding {
			return fmt.Errorf("%s %g %s is outside %g to %g %s", b.name, b.v, b.unit, b.lo, b.hi, b.unit)
		}
	}
	return nil
}

// Validate reports the first mass that is out of bounds.
func (l Load) Validate() error {
	return firstOutside([]bound{
		{"rider mass", l.RiderKg, 25, 250, "kg"},
		{"bicycle mass", l.BikeKg, 4, 60, "kg"},
		{"luggage mass", l.LuggageKg, 0, 150, "kg"},
	})
}

// Air of the places that people ride in, °C; common practice, no source.
const coolestAirC, hottestAirC = -30.0, 55.0

// Validate reports the first value of the weather that is out of bounds.
func (w Weather) Validate() error {
	if !math.IsNaN(w.AtHeightM) {
		if err := firstOutside([]bound{{"height of the air temperature", w.AtHeightM, -500, 9000, "m"}}); err != nil {
			return err
		}
	}
	if err := w.Daily.Validate(); err != nil {
		return err
	}
	return firstOutside([]bound{
		{"air temperature", w.AirTempK - air.ZeroCelsiusK, coolestAirC, hottestAirC, "°C"},
		{"lapse rate", w.LapseKPerM * 1000, -10, 15, "K/km"},
		{"wind", w.WindMps, 0, 30, "m/s"},
		{"head wind all along", w.HeadMps, -15, 15, "m/s"},
		{"wind direction", w.WindFromRad * 180 / math.Pi, -360, 360, "degrees"},
		{"humidity", w.Humidity, 0.01, 1, "(0.01 to 1)"},
		{"sunshine", w.SunWPerM2, 0, 1400, "W/m2"},
		{"extra warmth near the road", w.RoadAirK, 0, 25, "K"},
	})
}

// Validate reports the first resistance that is out of bounds.
func (r Resistance) Validate() error {
	return firstOutside([]bound{
		{"CdA", r.CdAM2, 0.1, 1.5, "m2"},
		{"Crr", r.Crr, 0.001, 0.05, "(dimensionless)"},
	})
}

// Validate reports the first habit of the style that is out of bounds.
func (s Style) Validate() error {
	if s.Habit != Drag && s.Habit != Pulse && s.Habit != Alternate {
		return fmt.Errorf("brake habit %q is none of %s, %s, %s", s.Habit, Drag, Pulse, Alternate)
	}
	for _, p := range s.Pauses {
		if err := p.Validate(); err != nil {
			return err
		}
	}
	return firstOutside([]bound{
		{"cruising cap", s.CapMps * 3.6, 8, 130, "km/h"},
		{"cornering acceleration", s.CornerG, 0.05, 1, "g"},
		{"braking deceleration", s.BrakeG, 0.05, 0.6, "g"},
		{"front share", s.FrontShare, 0, 1, "(0 to 1)"},
		{"pedalling power", s.PedalW, 20, 600, "W"},
	})
}
