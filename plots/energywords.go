package plots

import (
	"fmt"
	"math"
	"slices"

	"rimheat/thermal"
)

// says is what stands under the bars.
func (s *energySheet) says() []string {
	var out []string
	if s.more > 0 {
		out = append(out, fmt.Sprintf("%d more, together: %s in, %s of it into the brakes%s.", s.more, kJ(s.rest.inJ), kJ(s.rest.brakesJ), partText(s.rest.brakesJ, s.rest.inJ)))
	}
	if len(s.a.Descents) == 0 {
		all := ledgerOf(s.a.Energy)
		out = append(out, "No descent was found on this route: nothing to compare.",
			fmt.Sprintf("On the whole route the brakes took %s%s.", kJ(all.brakesJ), partText(all.brakesJ, all.inJ)))
	} else if s.mostJ <= 0 {
		out = append(out, "No energy came in on any descent.")
	}
	return wrapAll(s.tf, s.text(), 3, append(out, s.closure())...)
}

// closure says how far apart the two sides of the ledgers are.
func (s *energySheet) closure() string {
	worst := 0.0
	of := func(e thermal.Energy) {
		l := ledgerOf(e)
		if l.inJ > 0 {
			worst = max(worst, math.Abs(l.residualJ)/l.inJ)
		} else if l.residualJ != 0 {
			worst = math.Inf(1)
		}
	}
	on := "On the whole route"
	if len(s.a.Descents) > 0 {
		on = "On each descent"
		for i := range s.a.Descents {
			of(s.a.Descents[i].Energy)
		}
	} else {
		of(s.a.Energy)
	}
	switch percent := 100 * worst; {
	case math.IsInf(worst, 0):
		return on + " the two sides should be equal: here they are not."
	case percent < 0.01:
		return on + " the two sides differ by less than 0.01 % of what comes in."
	default:
		// Rounded up: it is a bound.
		return on + " the two sides differ by up to " + number(math.Ceil(100*percent)/100, 2) + " % of what comes in."
	}
}

// kJ writes an energy given in joules.
func kJ(j float64) string {
	if math.Abs(j) < 500 && j != 0 {
		return "less than 1 kJ"
	}
	return number(j/1000, 0) + " kJ"
}

// partText is how much a part is of what came in, in words behind a comma.
func partText(j, ofJ float64) string {
	if !(ofJ > 0) {
		return ""
	}
	return ", " + percentText(j/ofJ)
}

// percentText writes a part, 0 to 1, so that little is not taken for nothing, nor nearly
// all for all.
func percentText(part float64) string {
	switch {
	case part > 0 && part < 0.005:
		return "under 1 %"
	case part > 0.995 && part < 1:
		return "over 99 %"
	}
	return number(100*part, 0) + " %"
}

// A rimShare is how the braking heat was divided between a rim and its pads.
type rimShare struct {
	rim  int
	text string
}

// shares are those of the rims that say so.
func (s *energySheet) shares() []rimShare {
	var out []rimShare
	for i := range s.a.Rims {
		v := s.a.Rims[i].RimShare
		if !finite(v) || v <= 0 || v > 1 || s.a.Energy.BrakesJ() <= 0 && len(s.a.Descents) == 0 {
			continue
		}
		// The pads' part is the rest of the rim's as it is shown.
		pads := 1 - v
		if rim := math.Round(100 * v); rim < 100 {
			pads = 1 - rim/100
		}
		out = append(out, rimShare{i, percentText(v) + " into the rim, " + percentText(pads) + " into the pads"})
	}
	return out
}

// energyFoot says what the bars stand on.
func (s *energySheet) energyFoot() []string {
	set := &s.a.Setup
	mark := func(names ...string) string {
		for _, n := range names {
			if slices.Contains(set.Assumed, n) {
				return " (assumed)"
			}
		}
		return ""
	}
	ride := "as it is planned"
	if s.a.Route.Replay != nil {
		ride = "as it was recorded"
	}
	text := "Central estimate, derived by the energy balance of the ride " + ride
	if set.TotalKg > 0 {
		text += ": " + number(s.u.mass(set.TotalKg), 0) + " " + s.u.massUnit() + " in all" + mark("rider-kg", "bike-kg", "luggage-kg")
	}
	if set.CdAM2 > 0 && set.Crr > 0 {
		text += ", CdA " + number(set.CdAM2, 2) + " m2" + mark("cda") + ", Crr " + number(set.Crr, 4) + mark("crr")
	}
	if set.FrontShare > 0 {
		text += ", " + number(100*set.FrontShare, 0) + " % of the braking in front" + mark("front-share", "style")
	}
	return []string{text + ". Percentages are of what comes in.", "Rolling includes the bearings; a tail wind, and speed that is lost, come in. " + makerHolds}
}
