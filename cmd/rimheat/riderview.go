package main

import (
	"bytes"
	"fmt"
	"math"
	"slices"
	"strconv"

	"rimheat/thermal"
	"rimheat/thermal/ride"
)

// A riderView prints a learned style for people.
type riderView struct {
	units screenUnits
	files []string
}

func (v riderView) print(b *bytes.Buffer, l *thermal.StyleLearned) {
	u := v.units
	down, s := 0.0, 0.0
	for _, d := range l.Descents {
		down += d.EndM - d.StartM
		s += d.RecordedS
	}
	hanging(b, "", fmt.Sprintf("Riding style learned from %s of %s down, ridden in %s without the stops", counted(len(l.Descents), "descent", "descents"), u.road(down), span(s)))
	b.WriteString("\n")
	for i, r := range l.Rides {
		name := clean(r.Name)
		if name == "" {
			name = clean(v.files[i])
		}
		labelled(b, "ride "+strconv.Itoa(i+1), fmt.Sprintf("%s: %s in %s%s; positions off by some %s m from point to point%s",
			name, u.road(r.DistanceM), span(r.DurationS), stopsOf(&r.Replay), fixed(r.Replay.PositionNoiseM, 1), assumedIf(r.Replay.NoiseAssumed)))
		labelled(b, "heights", r.Heights.Text)
		for _, rep := range r.Repairs {
			labelled(b, "in the file", rep.Text)
		}
	}

	weights := "rider, bicycle and luggage " + u.mass(l.TotalKg) + " in all"
	if slices.Contains(l.Assumed, "rider-kg") || slices.Contains(l.Assumed, "bike-kg") {
		weights += " (assumed: brakes, pedals and drag all hang on it)"
	}
	labelled(b, "load", weights)

	b.WriteString("\nOn the descents\n")
	t := table{right: map[int]bool{2: true, 3: true, 4: true, 5: true}}
	t.title("", "", "half", "3 in 4", "9 in 10", "of")
	t.title("", "", "below", "below", "below", "")
	row := func(name, unit string, sp ride.Spread, scale float64, decimals int, of string) {
		if sp.Count == 0 {
			t.row(name, unit, noNumber, noNumber, noNumber, "0 "+of)
			return
		}
		t.row(name, unit, fixed(sp.P50*scale, decimals), fixed(sp.P75*scale, decimals), fixed(sp.P90*scale, decimals), fixed(float64(sp.Count), 0)+" "+of)
	}
	scale, unit := 3.6, "km/h"
	if u.imperial {
		scale, unit = 3600/mPerMile, "mph"
	}
	row("speed on open road", unit, l.SpeedMps, scale, 1, "places")
	row("sideways in bends", "g", l.CornerG, 1, 2, "bends")
	row("slowing, at its hardest", "g", l.BrakeG, 1, 2, "brakings")
	t.print(b, "  ")
	hanging(b, "  ", "Brakes at work "+fixed(100*l.BrakingShare, 0)+" % of the time.")

	b.WriteString("\nThe style\n")
	kept := " (not told, points come too seldom or bends are few: the style " + clean(l.BaseStyle) + "'s)"
	why := func(learned bool, how string) string {
		if learned {
			return how
		}
		return kept
	}
	labelled(b, "cap", u.speed(l.CapMps)+": the one with which the brakes of planned descents take what these took, all together, as far as the time agrees")
	labelled(b, "in bends", brief(l.CornerUsedG, 2)+" g"+why(l.CornerLearned, ", what half of the bends were ridden below"))
	labelled(b, "braking", brief(l.BrakeUsedG, 2)+" g"+why(l.BrakeLearned, ", what half of the brakings stayed below"))
	labelled(b, "habit", habitWords(l.Habit))
	labelled(b, "pedals", brief(l.PedalW, 0)+" W"+why(l.PedalLearned, ", the mean on climbs, without wind and drafting"))
	labelled(b, "front", brief(100*l.FrontShare, 0)+" % of the braking (no recording tells it)")
	d := l.Resistance
	if d.Found {
		labelled(b, "drag", fmt.Sprintf("CdA %s ± %s m2, Crr %s ± %s (95 %%), from %s of coasting", brief(d.CdAM2, 3), brief(2*d.CdASd, 3), brief(d.Crr, 4), brief(2*d.CrrSd, 4), counted(d.Stretches, "stretch", "stretches")))
	} else {
		labelled(b, "drag", fmt.Sprintf("CdA %s m2, Crr %s: kept, as no stretches of coasting agree", brief(d.CdAM2, 3), brief(d.Crr, 4)))
	}

	b.WriteString("\nPlanned in this style, beside what was recorded\n")
	hanging(b, "  ", "part: of what the height gives, how many % points more or less go into the brakes")
	v.beside(b, l)
	b.WriteString("\n")
	if l.Poor {
		hanging(b, "", "Plans in this style are not worth much for the brakes: "+poorWords(l.BrakesOff)+". Give the speed you hold with --cap-kmh, or learn from rides like the one you plan.")
	}
	hanging(b, "", "A style holds for rides like these: the same weight, wind and company. A tail wind, a wheel to follow or traffic is in it as if it were habit. The front brake's share is no recording's to tell, and it decides how hot the front rim gets.")
}

func (v riderView) beside(b *bytes.Buffer, l *thermal.StyleLearned) {
	u := v.units
	t := table{right: map[int]bool{}}
	t.title("ride", "from", "length", "drop", "time", "planned", "", "brakes", "planned", "", "part")
	t.title("", u.roadUnit(), u.roadUnit(), u.heightUnit(), "min:s", "min:s", "%", "kJ", "kJ", "%", "points")
	for i := range t.head[0] {
		t.right[i] = true
	}
	for _, d := range l.Descents {
		t.row(strconv.Itoa(d.Ride+1), u.roadNumber(d.StartM, 1), u.roadNumber(d.EndM-d.StartM, 1), u.heightNumber(d.DropM),
			clock(d.RecordedS), clock(d.PlannedS), change(d.PlannedS, d.RecordedS),
			kilojoules(d.ReplayedJ), kilojoules(d.PlannedJ), change(d.PlannedJ, d.ReplayedJ), signed(100*(d.PlannedJ-d.ReplayedJ)/math.Max(d.PotentialJ, 1), 0))
	}
	t.print(b, "  ")
}

// poorWords says how planned brakes miss the recorded ones.
func poorWords(off float64) string {
	if math.Abs(off) < 0.1 {
		return "those of single descents take far more or less than the recorded ones, although not all together"
	}
	return "they take " + changeWords(off) + " than the recorded ones, all descents together"
}

// changeWords says "20 % more" or "20 % less".
func changeWords(part float64) string {
	word := "more"
	if part < 0 {
		word = "less"
	}
	return fixed(100*math.Abs(part), 0) + " % " + word
}

// change is how far a is from b in per cent of b.
func change(a, b float64) string {
	if !(math.Abs(b) > 0) {
		return noNumber
	}
	return signed(100*(a/b-1), 0)
}

func signed(v float64, decimals int) string {
	s := fixed(v, decimals)
	if v > 0 && s != fixed(0, decimals) && s != noNumber {
		return "+" + s
	}
	return s
}

func counted(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fixed(float64(n), 0) + " " + many
}

func assumedIf(assumed bool) string {
	if assumed {
		return " (assumed)"
	}
	return ""
}
