package plots

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"rimheat/thermal"
)

// offTrack tells that a limit is not about the brake track but about tube,
// tape, bead or cement on the tyre's side, or about a fairing.
func offTrack(on string) bool { return on != "" && on != thermal.OnTrack }

// limitOf names a limit by the place that it is about.
func limitOf(on string) string {
	switch {
	case on == thermal.OnTyreSide:
		return "tyre-side limit"
	case offTrack(on):
		return on + " limit"
	}
	return "limit"
}

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
	limit := limitOf(r.LimitOn)
	if r.LimitAssumed {
		limit = "assumed " + limit
	}
	limit += " " + u.tempText(r.LimitC)
	gap := thermal.Gap(r.MarginK, u.imperial)
	switch r.Verdict {
	case thermal.Over:
		return fmt.Sprintf("over by %s (%s)", gap, limit) + besides(r)
	case thermal.Marginal:
		return fmt.Sprintf("marginal, %s below (%s)", gap, limit) + besides(r)
	}
	return fmt.Sprintf("%s by %s (%s)", r.Verdict, gap, limit) + besides(r)
}

// besides names what a rim passes besides the deciding limit, and says if the
// road is in doubt where it is hottest or first over.
func besides(r *thermal.RimResult) string {
	s := ""
	for _, l := range r.Limits {
		if l.On != r.LimitOn && l.Verdict == thermal.Over {
			s = ", over on its " + l.On + " too"
			break
		}
	}
	if r.Tyre.Over {
		s += ", tyre pressure too high"
	}
	if r.PeakInDoubt {
		s += ", road in doubt there"
	}
	return s
}

// peakText says how hot the rim gets: at the place that it is judged by, and
// on the track, there with a limit that does not decide.
func peakText(r *thermal.RimResult, u units) string {
	if !finite(r.PeakC) {
		return ""
	}
	if !offTrack(r.LimitOn) || !finite(r.JudgedPeakC) {
		return "track peaks at " + u.tempText(r.PeakC)
	}
	there, track := u.tempText(r.JudgedPeakC), u.tempText(r.PeakC)
	s := r.LimitOn + " peaks at " + there + ", track at " + track
	if there == track {
		s = r.LimitOn + " and track peak at " + there
	}
	for _, l := range r.Limits {
		if l.On == thermal.OnTrack && finite(l.LimitC) {
			limit := "limit "
			if l.Assumed {
				limit = "assumed limit "
			}
			s += " (" + limit + u.tempText(l.LimitC) + ")"
		}
	}
	return s
}

// crossingText says where the rim first passes its limit and for how long it
// is over in all, without its tag. The place is given to 100 m, on roads of
// under 5 km to 10 m.
func crossingText(r *thermal.RimResult, u units, routeM float64) string {
	o := r.Over[0]
	decimals := 1
	if routeM < 5000 {
		decimals = 2
	}
	what := "passes its " + limitOf(r.LimitOn)
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
	s := strings.Join(parts, ", ")
	overS := 0.0
	for _, o := range r.Over {
		overS += o.DurationS
	}
	if finite(overS) && overS > 0 {
		s += "; over for " + timeText(overS)
		if len(r.Over) > 1 {
			s += " in all"
		}
	}
	return s
}

// timeText writes seconds as s, as min and s, or from an hour on as h and
// min.
func timeText(s float64) string {
	if s < 0.5 {
		return "less than 1 s"
	}
	n := int(math.Round(s))
	switch {
	case n < 60:
		return fmt.Sprintf("%d s", n)
	case n < 3600 && n%60 == 0:
		return fmt.Sprintf("%d min", n/60)
	case n < 3600:
		return fmt.Sprintf("%d min %d s", n/60, n%60)
	}
	n = int(math.Round(s / 60))
	return fmt.Sprintf("%d h %d min", n/60, n%60)
}
