package main

// A dimension is a kind of number that has both a metric and an imperial unit
// on the command line and on the screen.
type dimension int

const (
	plain dimension = iota // the same number in both
	mass
	temperature
	windSpeed
	rideSpeed
	height
	pressure
	warmth // a difference of temperatures
)

// A unit is one way to write a dimension: metric = (imperial - zero) * size.
type unit struct {
	name       string
	zero, size float64
}

// Sizes of the imperial units, exact by definition: pound, foot and mile by
// the international yard and pound agreement of 1959, degree Fahrenheit by its
// fixed points 32 and 212 at 0 and 100 °C, psi by pound, inch and standard gravity
// (from memory).
const (
	kgPerPound = 0.45359237
	mPerFoot   = 0.3048
	mPerMile   = 1609.344
	kPerF      = 5.0 / 9
	zeroF      = 32
	kPaPerPsi  = 6.894757
)

// imperialUnit gives the imperial unit of a dimension.
func imperialUnit(d dimension) unit {
	switch d {
	case mass:
		return unit{"lb", 0, kgPerPound}
	case temperature:
		return unit{"°F", zeroF, kPerF}
	case windSpeed:
		return unit{"mph", 0, mPerMile / 3600}
	case rideSpeed:
		return unit{"mph", 0, mPerMile / 1000}
	case height:
		return unit{"ft", 0, mPerFoot}
	case pressure:
		return unit{"psi", 0, kPaPerPsi}
	case warmth:
		return unit{"°F", 0, kPerF}
	}
	return unit{"", 0, 1}
}

func (u unit) metric(v float64) float64   { return (v - u.zero) * u.size }
func (u unit) imperial(v float64) float64 { return v/u.size + u.zero }
