package plots

import (
	"math"
	"strconv"
	"strings"
)

// units converts what the assessment holds to what the reader wants.
type units struct{ imperial bool }

const (
	metresPerMile = 1609.344   // international mile, exact by definition
	metresPerFoot = 0.3048     // international foot, exact by definition
	kgPerPound    = 0.45359237 // international pound, exact by definition
)

// dist converts metres to kilometres or miles.
func (u units) dist(m float64) float64 {
	if u.imperial {
		return m / metresPerMile
	}
	return m / 1000
}

// place is a point of a route of routeM metres: "km 12.3", or in miles. It is given to 100
// m, on routes of under 5 km to 10 m.
func (u units) place(m, routeM float64) string {
	lead, decimals := "km ", 1
	if u.imperial {
		lead = "mile "
	}
	if routeM < 5000 {
		decimals = 2
	}
	return lead + number(u.dist(m), decimals)
}

// distUnit names the unit of dist.
func (u units) distUnit() string {
	if u.imperial {
		return "mi"
	}
	return "km"
}

// height converts metres to metres or feet.
func (u units) height(m float64) float64 {
	if u.imperial {
		return m / metresPerFoot
	}
	return m
}

func (u units) heightUnit() string {
	if u.imperial {
		return "ft"
	}
	return "m"
}

// temp converts °C to °C or °F.
func (u units) temp(c float64) float64 {
	if u.imperial {
		return c*9/5 + 32
	}
	return c
}

func (u units) tempUnit() string {
	if u.imperial {
		return "°F"
	}
	return "°C"
}

// tempText writes a temperature given in °C to the whole degree.
func (u units) tempText(c float64) string { return number(u.temp(c), 0) + " " + u.tempUnit() }

// mass converts kilograms to kilograms or pounds.
func (u units) mass(kg float64) float64 {
	if u.imperial {
		return kg / kgPerPound
	}
	return kg
}

func (u units) massUnit() string {
	if u.imperial {
		return "lb"
	}
	return "kg"
}

// gapK is so many of the reader's degrees of difference, in kelvin.
func (u units) gapK(degrees float64) float64 {
	if u.imperial {
		return degrees * 5 / 9
	}
	return degrees
}

func (u units) gapUnit() string {
	if u.imperial {
		return "°F"
	}
	return "K"
}

// number writes v with the given decimals, a comma between thousands and a
// true minus sign.
func number(v float64, decimals int) string {
	s := strconv.FormatFloat(math.Abs(v), 'f', decimals, 64)
	whole, frac, _ := strings.Cut(s, ".")
	for i := len(whole) - 3; i > 0; i -= 3 {
		whole = whole[:i] + "," + whole[i:]
	}
	if frac != "" {
		whole += "." + frac
	}
	if v < 0 && strings.Trim(whole, "0.,") != "" {
		whole = "−" + whole
	}
	return whole
}
