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

// footer is a bench figure's one line of modesty.
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

// listed joins parts: "a", "a and b", "a, b and c".
func listed(parts []string) string {
	n := len(parts)
	if n < 2 {
		return strings.Join(parts, "")
	}
	return strings.Join(parts[:n-1], ", ") + " and " + parts[n-1]
}
