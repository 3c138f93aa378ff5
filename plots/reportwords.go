package plots

import (
	"math"
	"strings"

	"golang.org/x/text/unicode/bidi"

	"rimheat/thermal"
)

// Names from files stand in sentences between these two signs, which keep text
// that reads from the right from turning the rest about. Cleaning drops them
// everywhere else.
const (
	isolate    = "\u2068"
	endIsolate = "\u2069"
)

// named marks a name that is not ours.
func named(s string) string { return isolate + s + endIsolate }

// withoutMarks drops the marks of names.
func withoutMarks(s string) string {
	return strings.NewReplacer(isolate, "", endIsolate, "").Replace(s)
}

// longestShown is how many letters of a name a page shows.
const longestShown = 120

// shortened cuts a name for a page.
func shortened(s string) string {
	if rs := []rune(s); len(rs) > longestShown {
		return cut(rs, longestShown)
	}
	return s
}

// told takes a sentence of the assessment over whole. A rim's name in it that
// would spoil the page, as it is very long or reads from the right, is shown as
// elsewhere on the page.
func (r *reporter) told(sentence string) string {
	s := cleanUpTo(sentence, math.MaxInt)
	for i := range r.a.Rims {
		name := cleanUpTo(r.a.Rims[i].Name, math.MaxInt)
		if name != "" && (len([]rune(name)) > longestShown || fromTheRight(name)) {
			s = strings.ReplaceAll(s, name, named(r.names[i]))
		}
	}
	if r.tf.viewerFonts {
		return s
	}
	s = r.tf.without(s)
	// What is shown already must not be turned about twice.
	if strings.Contains(s, isolate) || !fromTheRight(s) {
		return s
	}
	return inDrawingOrder(s)
}

// word takes a name of a part, a place or an input over, shortened like the names of
// rims.
func (r *reporter) word(s string) string {
	s = shortened(r.tf.shown(s))
	if fromTheRight(s) {
		return named(s)
	}
	return s
}

// without puts an ellipsis for letters that the font lacks.
func (t *typeface) without(s string) string {
	return strings.Map(func(c rune) rune {
		if c > 0x7e && !t.has(c) && !strings.ContainsRune(isolate+endIsolate, c) {
			return '…'
		}
		return c
	}, s)
}

// fromTheRight tells whether a text has letters that read from the right.
func fromTheRight(s string) bool {
	for _, c := range s {
		if p, _ := bidi.LookupRune(c); p.Class() == bidi.R || p.Class() == bidi.AL {
			return true
		}
	}
	return false
}

// outOf100 puts a part of the draws into words, as thermal.ChanceWords does.
func outOf100(p float64) string {
	if !finite(p) {
		return "an unknown part"
	}
	n := strings.TrimSuffix(thermal.ChanceWords(p), " %")
	n = strings.Replace(n, "over ", "more than ", 1)
	if rest, under := strings.CutPrefix(n, "under "); under {
		n = "fewer than " + rest
	}
	return n + " of 100"
}

// place names a place on the route, to 100 m, on short roads to 10 m.
func (r *reporter) place(m float64) string {
	if !finite(m) {
		return noFigure
	}
	return r.u.place(m, r.a.Route.DistanceM)
}

// distance writes a length of road.
func (r *reporter) distance(m float64) string {
	return cell(r.u.dist(m), 1) + " " + r.u.distUnit()
}

// height writes a height or a drop.
func (r *reporter) height(m float64) string {
	return cell(r.u.height(m), 0) + " " + r.u.heightUnit()
}

func (r *reporter) temp(c float64) string { return cell(r.u.temp(c), 0) + " " + r.u.tempUnit() }

func (r *reporter) mass(kg float64) string { return brief(r.u.mass(kg), 1) + " " + r.u.massUnit() }

// speed writes m/s as riders say it.
func (r *reporter) speed(mps float64) string {
	if r.u.imperial {
		return brief(mps*3600/metresPerMile, 1) + " mph"
	}
	return brief(3.6*mps, 1) + " km/h"
}

// kPaPerPsi is the pound-force per square inch by pound, inch and standard gravity
// (derived).
const kPaPerPsi = 6.894757

// pressure writes a tyre's pressure above the air's as riders say it.
func (r *reporter) pressure(kPa float64) string {
	if r.u.imperial {
		return cell(kPa/kPaPerPsi, 0) + " psi"
	}
	return brief(kPa/100, 1) + " bar"
}

func (r *reporter) gap(k float64) string { return thermal.Gap(k, r.u.imperial) }

// noFigure stands where the assessment holds no number.
const noFigure = "–"

// cell writes a number, or that there is none.
func cell(v float64, decimals int) string {
	if !finite(v) {
		return noFigure
	}
	return number(v, decimals)
}

// brief writes a number with at most so many decimals.
func brief(v float64, decimals int) string {
	s := cell(v, decimals)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return s
}

// capital begins a sentence.
func capital(s string) string {
	if s == "" || s[0] < 'a' || s[0] > 'z' {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// counted writes a count with its noun: "1 stretch", "4 stretches".
func counted(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return number(float64(n), 0) + " " + many
}

// minutes writes a time without a false exactness.
func minutes(s float64) string {
	if s < 90 {
		return timeText(s)
	}
	return cell(s/60, 0) + " min"
}
