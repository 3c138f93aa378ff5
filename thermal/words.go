package thermal

import (
	"fmt"
	"math"
)

// Words is what is said of an assessment in one system of units.
type Words struct {
	Advice   string
	Cautions []string
}

// Gap puts a margin into words, without its sign: "26 K", "less than 1 K", or
// in °F.
func Gap(marginK float64, imperial bool) string { return phrasing{imperial}.gap(marginK) }

// phrasing puts numbers into words in one system of units. JSON and the plain
// fields of Assessment are metric.
type phrasing struct{ imperial bool }

// mPerMile is the international mile of 1959, exact.
const mPerMile = 1609.344

// gap is how far a temperature is from a limit, without sign. It is rounded like
// the temperatures beside it, but cut where rounding would make what lies under
// MarginalK read as that.
func (u phrasing) gap(k float64) string {
	unit, v := "K", math.Abs(k)
	if u.imperial {
		unit, v = "°F", 1.8*v
	}
	if v < 1 {
		return "less than 1 " + unit
	}
	shown := math.Round(v)
	if k > 0 && k < MarginalK-1e-9 && shown >= math.Round(MarginalK*v/k) {
		shown = math.Floor(v)
	}
	return fmt.Sprintf("%.0f %s", shown, unit)
}

func (u phrasing) place(m float64) string {
	if u.imperial {
		return fmt.Sprintf("mile %.1f", m/mPerMile)
	}
	return fmt.Sprintf("km %.1f", m/1000)
}

// mPerFoot is the international foot, exact.
const mPerFoot = 0.3048

// height is a difference of heights, from metres.
func (u phrasing) height(m float64) string {
	if u.imperial {
		return fmt.Sprintf("%.0f ft", m/mPerFoot)
	}
	return fmt.Sprintf("%.1f m", m)
}

// speed is from m/s.
func (u phrasing) speed(mps float64) string {
	if u.imperial {
		return fmt.Sprintf("%.1f mph", mps*3600/mPerMile)
	}
	return fmt.Sprintf("%.1f km/h", 3.6*mps)
}

// wholeSpeed is a speed without decimals, from m/s.
func (u phrasing) wholeSpeed(mps float64) string {
	if u.imperial {
		return fmt.Sprintf("%.0f mph", mps*3600/mPerMile)
	}
	return fmt.Sprintf("%.0f km/h", 3.6*mps)
}

// paPerPsi is the pound-force per square inch, exact by the definitions of
// pound, inch and standard gravity to the digits shown.
const paPerPsi = 6894.757

// pressure is a tyre's pressure above the air's, from kPa.
func (u phrasing) pressure(kPa float64) string {
	if u.imperial {
		return fmt.Sprintf("%.0f psi", kPa*1e3/paPerPsi)
	}
	return fmt.Sprintf("%.0f kPa", kPa)
}

func (u phrasing) temp(c float64) string {
	if u.imperial {
		return fmt.Sprintf("%.0f °F", c*1.8+32)
	}
	return fmt.Sprintf("%.0f °C", c)
}

// mass is a weight, whole.
func (u phrasing) mass(kg float64) string {
	if u.imperial {
		return fmt.Sprintf("%.0f lb", kg/0.45359237)
	}
	return fmt.Sprintf("%.0f kg", kg)
}
