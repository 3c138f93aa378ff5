package main

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"rimheat/thermal"
)

// A layer is what one source says, the flags or the setup file, in the units
// that it was said in and under the names of the flags.
type layer struct {
	imperial bool
	numbers  map[string]float64
	// texts holds pads, tyre-side, style, brake-habit and track.
	texts  map[string]string
	rims   []string
	limits []rimLimit
	stops  []plannedStop
	// spreads are figures of uncertain inputs, by identifier; setup file only.
	spreads map[string]float64
	// readings are what rimheat learn has written; setup file only.
	readings []thermal.Taught
	// dir is the folder that rim files are looked for in, "" for the working
	// folder.
	dir string
	// where says where an input stands, for messages: "--rider-kg" or
	// "setup.toml:3: rider-kg".
	where func(name string) string
}

// A rimLimit is a rim maker's own figure, °C or, in an imperial layer, °F.
type rimLimit struct {
	rim   string
	value float64
	// where is the input as it stands, without the value.
	where string
}

// A plannedStop is a rest, at so many km or, in an imperial layer, miles.
type plannedStop struct {
	at, minutes float64
	// where is the input as it stands.
	where string
}

// newFlagLayer is the empty layer that the flags write to.
func newFlagLayer() *layer {
	return &layer{
		numbers: map[string]float64{}, texts: map[string]string{}, spreads: map[string]float64{},
		where: func(name string) string { return "--" + name },
	}
}

// has says whether the layer gives an input.
func (l *layer) has(name string) bool {
	if name == "rim" {
		return len(l.rims) > 0
	}
	_, isNumber := l.numbers[name]
	_, isText := l.texts[name]
	return isNumber || isText
}

// number gives the layer's value of n in n's metric unit.
func (l *layer) number(n number) (v float64, given bool, err error) {
	v, given = l.numbers[n.name]
	if !given {
		return 0, false, nil
	}
	m, err := l.metric(v, n.dim, n.unit, n.lo, n.hi, l.where(n.name))
	return m, true, err
}

// metric converts a value of the layer and holds it against its bounds, which
// are metric; the message speaks the layer's unit.
func (l *layer) metric(v float64, d dimension, unitName string, lo, hi float64, where string) (float64, error) {
	u := unit{unitName, 0, 1}
	if l.imperial && d != plain {
		u = imperialUnit(d)
	}
	m := u.metric(v)
	// The conversion may miss a bound by its rounding alone.
	if snap := 1e-9 * (hi - lo); math.Abs(m-lo) < snap {
		m = lo
	} else if math.Abs(m-hi) < snap {
		m = hi
	}
	if !(m >= lo && m <= hi) {
		f := badInput("%s %s: outside %s to %s", where, exact(v), inward(u.imperial(lo), math.Ceil), inward(u.imperial(hi), math.Floor))
		if u.name != "" {
			f.what += " " + u.name
		}
		return 0, f
	}
	return m, nil
}

// exact writes a number as the user would.
func exact(v float64) string { return strconv.FormatFloat(v, 'g', -1, 64) }

// inward writes a bound with at most one decimal, rounded so that what it
// says is allowed; finer bounds are metric and written as they are.
func inward(v float64, round func(float64) float64) string {
	if math.Abs(v) < 1 || v == math.Trunc(v) {
		return exact(v)
	}
	nudge := 1e-9
	if round(0.5) == 0 {
		return exact(round(v*10+nudge) / 10)
	}
	return exact(round(v*10-nudge) / 10)
}

// parseNumber reads a number as people type it.
func parseNumber(where, s string) (float64, error) {
	v, err := strconv.ParseFloat(s, 64)
	switch {
	case s == "":
		return 0, badInput("%s: the value is empty", where)
	case err == nil:
		return v, nil
	}
	f := badInput("%s %s: not a number", where, quoted(s))
	if p, err := strconv.ParseFloat(withPoint(s), 64); err == nil {
		f.hint("write the decimals with a point: %s", exact(p))
	}
	return 0, f
}

// withPoint turns a single decimal comma into a point.
func withPoint(s string) string {
	b, commas := []byte(s), 0
	for i, c := range b {
		if c == ',' {
			b[i] = '.'
			commas++
		}
	}
	if commas != 1 {
		return s
	}
	return string(b)
}

// parseRimLimit reads "carbon-deep=160".
func parseRimLimit(flag, s string) (rimLimit, error) {
	for i := range len(s) {
		if s[i] == '=' && i > 0 {
			where := fmt.Sprintf("%s %s", flag, s[:i])
			v, err := parseNumber(where, s[i+1:])
			return rimLimit{rim: s[:i], value: v, where: where}, err
		}
	}
	return rimLimit{}, badInput("%s %s: not of the form ID=VALUE", flag, quoted(s)).hint("for example %s carbon-deep=160", flag)
}

// parseStop reads "63.5=10": km, or miles, and minutes.
func parseStop(flag, s string) (plannedStop, error) {
	at, minutes, ok := strings.Cut(s, "=")
	if !ok || at == "" || minutes == "" {
		return plannedStop{}, badInput("%s %s: not of the form KM=MINUTES", flag, quoted(s)).hint("for example 63.5=10")
	}
	where := flag + " " + s
	k := plannedStop{where: where}
	var err error
	if k.at, err = parseNumber(where, at); err == nil {
		k.minutes, err = parseNumber(where, minutes)
	}
	return k, err
}
