package plots

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"rimheat/thermal"
)

// onTyreSide is how the assessment writes that a limit is about tube, tape,
// bead or cement and not about the brake track.
const onTyreSide = thermal.OnTyreSide

// footer is the figure's one line of modesty.
const footer = "Central estimate; how well air cools a rim (the film coefficient) is uncertain. Where the rim's maker states a limit, the maker's figure holds."

// tagOf is the short mark that ties a rim's curve, label and verdict
// together: A, B, ...; "" if there is only one rim.
func tagOf(i, rims int) string {
	switch {
	case rims < 2:
		return ""
	case rims <= 26:
		return string(rune('A' + i))
	}
	return strconv.Itoa(i + 1)
}

// rimName is the rim's name as it can be shown, or its number.
func (t *typeface) rimName(r *thermal.RimResult, i int) string {
	for _, s := range []string{r.Name, r.ID} {
		if s = t.shown(s); s != "" {
			return s
		}
	}
	return "Rim " + strconv.Itoa(i+1)
}

// routeName is the route's name as it can be shown.
func (t *typeface) routeName(name string) string {
	switch s := t.shown(name); {
	case s != "":
		return s
	case clean(name) != "":
		return "Route (its name cannot be set in this figure's font)"
	}
	return "Route without a name"
}

// verdictText says in words how the rim stands.
func verdictText(r *thermal.RimResult, u units) string {
	if !finite(r.LimitC) || !finite(r.MarginK) {
		return "no limit to hold it against"
	}
	limit := "limit"
	if r.LimitOn == onTyreSide {
		limit = "tyre-side limit"
	}
	if r.LimitAssumed {
		limit = "assumed " + limit
	}
	limit += " " + u.tempText(r.LimitC)
	gap := u.stepText(math.Abs(r.MarginK))
	if strings.HasPrefix(gap, "0 ") {
		gap = "less than 1" + gap[1:]
	}
	switch r.Verdict {
	case thermal.Over:
		return fmt.Sprintf("over by %s (%s)", gap, limit)
	case thermal.Marginal:
		return fmt.Sprintf("marginal, within by %s (%s)", gap, limit)
	}
	return fmt.Sprintf("%s by %s (%s)", r.Verdict, gap, limit)
}

// peakText says how hot the track gets.
func peakText(r *thermal.RimResult, u units) string {
	if !finite(r.PeakC) {
		return ""
	}
	return "track peaks at " + u.tempText(r.PeakC)
}

// crossingText says where the rim first passes its limit, without its tag. The place is given
// to 100 m, on roads of under 5 km to 10 m.
func crossingText(r *thermal.RimResult, u units, routeM float64) string {
	o := r.Over[0]
	decimals := 1
	if routeM < 5000 {
		decimals = 2
	}
	what := "passes its limit"
	if r.LimitOn == onTyreSide {
		what = "passes its tyre-side limit"
	}
	where := "km " + number(u.dist(o.StartM), decimals)
	if u.imperial {
		where = "mile " + number(u.dist(o.StartM), decimals)
	}
	parts := []string{what + " at " + where}
	if finite(o.StartS) {
		parts = append(parts, number(o.StartS/60, 0)+" min")
	}
	if finite(o.HeightM) {
		parts = append(parts, number(u.height(o.HeightM), 0)+" "+u.heightUnit())
	}
	return strings.Join(parts, ", ")
}

// A limitLine is one distinct limit with the rims that it holds for.
type limitLine struct {
	limitC   float64
	tyreSide bool
	assumed  bool
	rims     []int
}

// limitLines gathers the limits worth a line: every limit of a brake track,
// and a limit of the tyre side only where it decides a rim's verdict.
func limitLines(rims []thermal.RimResult) []limitLine {
	var out []limitLine
	put := func(i int, limitC float64, tyreSide, assumed bool) {
		if !finite(limitC) {
			return
		}
		for k := range out {
			l := &out[k]
			if l.tyreSide == tyreSide && l.assumed == assumed && math.Abs(l.limitC-limitC) < 0.05 {
				if l.rims[len(l.rims)-1] != i {
					l.rims = append(l.rims, i)
				}
				return
			}
		}
		out = append(out, limitLine{limitC, tyreSide, assumed, []int{i}})
	}
	for i := range rims {
		r := &rims[i]
		if r.LimitOn != "" {
			put(i, r.LimitC, r.LimitOn == onTyreSide, r.LimitAssumed)
		}
		for _, l := range r.Limits {
			if l.On != onTyreSide {
				put(i, l.LimitC, false, l.Assumed)
			}
		}
	}
	return out
}

// text is the words beside the line.
func (l limitLine) text(u units, rims int) string {
	s := "limit " + u.tempText(l.limitC)
	if l.tyreSide {
		s = "tyre-side " + s
	}
	if l.assumed {
		s += ", assumed"
	}
	if rims < 2 {
		return s
	}
	tags := make([]string, len(l.rims))
	for i, r := range l.rims {
		tags[i] = tagOf(r, rims)
	}
	return s + " (" + strings.Join(tags, ", ") + ")"
}
