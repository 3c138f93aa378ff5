package main

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"rimheat/thermal"
)

// screenUnits writes numbers for people: metric or, with --imperial, in lb,
// °F, mph, ft and mi. It takes SI units and °C.
type screenUnits struct{ imperial bool }

// noNumber stands where there is none.
const noNumber = "-"

// fixed writes a number with thousands separated by commas and no minus zero.
func fixed(v float64, decimals int) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return noNumber
	}
	s := strconv.FormatFloat(math.Abs(v), 'f', decimals, 64)
	whole, rest, _ := strings.Cut(s, ".")
	for i := len(whole) - 3; i > 0; i -= 3 {
		whole = whole[:i] + "," + whole[i:]
	}
	if rest != "" {
		whole += "." + rest
	}
	if v < 0 && strings.Trim(s, "0.") != "" {
		return "-" + whole
	}
	return whole
}

// brief writes a number with at most that many decimals, trailing zeros off.
func brief(v float64, decimals int) string {
	s := fixed(v, decimals)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return s
}

// in converts a metric value to what is shown and gives the unit's name.
func (u screenUnits) in(v float64, d dimension, metric string) (float64, string) {
	if !u.imperial {
		return v, metric
	}
	i := imperialUnit(d)
	return i.imperial(v), i.name
}

// degrees is a temperature in whole degrees, without its unit.
func (u screenUnits) degrees(c float64) string {
	v, _ := u.in(c, temperature, "°C")
	return fixed(v, 0)
}

func (u screenUnits) degreeUnit() string {
	_, name := u.in(0, temperature, "°C")
	return name
}

// temp is a temperature in whole degrees.
func (u screenUnits) temp(c float64) string { return u.degrees(c) + " " + u.degreeUnit() }

// airTemp is a temperature as it was given, to a tenth.
func (u screenUnits) airTemp(c float64) string {
	v, name := u.in(c, temperature, "°C")
	return brief(v, 1) + " " + name
}

// gap is how far from a limit something is, in whole K or °F, without sign.
func (u screenUnits) gap(k float64) string { return thermal.Gap(k, u.imperial) }

func (u screenUnits) mass(kg float64) string {
	v, name := u.in(kg, mass, "kg")
	return brief(v, 1) + " " + name
}

// heightNumber is a height or a drop, whole, without its unit.
func (u screenUnits) heightNumber(m float64) string {
	v, _ := u.in(m, height, "m")
	return fixed(v, 0)
}

func (u screenUnits) heightUnit() string {
	_, name := u.in(0, height, "m")
	return name
}

func (u screenUnits) height(m float64) string { return u.heightNumber(m) + " " + u.heightUnit() }

// roadNumber is a distance along the road in km or mi, without its unit.
func (u screenUnits) roadNumber(m float64, decimals int) string {
	if u.imperial {
		return fixed(m/mPerMile, decimals)
	}
	return fixed(m/1000, decimals)
}

func (u screenUnits) roadUnit() string {
	if u.imperial {
		return "mi"
	}
	return "km"
}

func (u screenUnits) road(m float64) string { return u.roadNumber(m, 1) + " " + u.roadUnit() }

// place is a point of the route: "km 12.3" or "mile 7.6".
func (u screenUnits) place(m float64) string {
	if u.imperial {
		return "mile " + u.roadNumber(m, 1)
	}
	return "km " + u.roadNumber(m, 1)
}

func (u screenUnits) wind(mps float64) string {
	v, name := u.in(mps, windSpeed, "m/s")
	return brief(v, 1) + " " + name
}

// pressure is a tyre's pressure above the air's, whole, from kPa.
func (u screenUnits) pressure(kPa float64) string {
	v, name := u.in(kPa, pressure, "kPa")
	return fixed(v, 0) + " " + name
}

// warmth is a difference of temperatures as it was given.
func (u screenUnits) warmth(k float64) string {
	v, name := u.in(k, warmth, "K")
	return brief(v, 1) + " " + name
}

func (u screenUnits) speed(mps float64) string {
	v, name := u.in(mps*3.6, rideSpeed, "km/h")
	return brief(v, 1) + " " + name
}

// span is a time in words: "2 h 05 min", "14 min 20 s", "35 s".
func span(s float64) string {
	if math.IsNaN(s) || math.IsInf(s, 0) {
		return noNumber
	}
	n := int(math.Round(s))
	switch {
	case n >= 3600:
		n = int(math.Round(s / 60))
		return fmt.Sprintf("%d h %02d min", n/60, n%60)
	case n >= 60 && n%60 == 0:
		return fmt.Sprintf("%d min", n/60)
	case n >= 60:
		return fmt.Sprintf("%d min %02d s", n/60, n%60)
	}
	return fmt.Sprintf("%d s", n)
}

// clock is a time for a column: "14:20", "1:02:05".
func clock(s float64) string {
	if math.IsNaN(s) || math.IsInf(s, 0) {
		return noNumber
	}
	n := int(math.Round(s))
	if n >= 3600 {
		return fmt.Sprintf("%d:%02d:%02d", n/3600, n/60%60, n%60)
	}
	return fmt.Sprintf("%d:%02d", n/60, n%60)
}

// kilojoules is an energy in whole kJ, without its unit.
func kilojoules(j float64) string { return fixed(j/1000, 0) }

// percent is a part of a whole in whole percent, without its unit.
func percent(part, whole float64) string {
	if !(whole > 0) {
		return noNumber
	}
	return fixed(100*part/whole, 0)
}

// gapUnit names the unit of a difference of temperatures.
func (u screenUnits) gapUnit() string {
	_, name := u.in(0, warmth, "K")
	return name
}

// signedGap is a difference of temperatures, whole, without its unit.
func (u screenUnits) signedGap(k float64) string {
	d, _ := u.in(k, warmth, "K")
	return fixed(d, 0)
}
