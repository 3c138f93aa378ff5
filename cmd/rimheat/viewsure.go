package main

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"

	"rimheat/thermal"
)

// sure prints how surely the answers are known: per descent what the draws gave,
// and what was drawn.
func (v textView) sure(b *bytes.Buffer, a *thermal.Assessment) {
	d := a.Sampling
	if d == nil {
		return
	}
	b.WriteString("\nHow sure\n")
	hanging(b, descentIndent, fmt.Sprintf("%s draws of what is not known exactly (seed %d): the brake track's peak on the hotter wheel, %s, that 5, 50 and 95 %% of them stay below, and the chance that a limit is reached", fixed(float64(d.Samples), 0), d.Seed, v.units.degreeUnit()))
	printBeside(b, a.Rims, func(rims []thermal.RimResult) *descentTable { return v.sureTable(a, rims) })
	b.WriteString("\n")
	before := ""
	if len(a.Setup.Readings) > 0 {
		before = ", before the readings moved and narrowed them"
	}
	hanging(b, descentIndent, "Drawn, nineteen in twenty within"+before+": "+v.drawn(d.Inputs)+".")
}

// sureTable has a row per descent and one for the whole ride.
func (v textView) sureTable(a *thermal.Assessment, rims []thermal.RimResult) *descentTable {
	u := v.units
	t := &descentTable{each: 4}
	t.title("no", "from")
	t.title("", u.roadUnit())
	t.road = len(t.head[0])
	for i, d := range a.Descents {
		t.row(strconv.Itoa(i+1), u.roadNumber(d.StartM, 1))
	}
	t.row("all", "")
	for _, r := range rims {
		t.names = append(t.names, clean(r.ID))
		t.head[0] = append(t.head[0], "5 %", "50 %", "95 %", "chance")
		t.head[1] = append(t.head[1], "", "", "", "")
		for i := range t.rows {
			cells := []string{noNumber, noNumber, noNumber, noNumber}
			if r.Risk != nil {
				cells = v.sureCells(r.Risk, i, len(a.Descents))
			}
			t.rows[i] = append(t.rows[i], cells...)
		}
	}
	t.setRight()
	return t
}

func (v textView) sureCells(r *thermal.Risk, i, whole int) []string {
	p, c := r.TrackC, r.Chance
	if i < whole {
		for _, d := range r.Descents {
			if d.Index == i {
				p, c = d.TrackC, d.Chance
			}
		}
	}
	u := v.units
	return []string{u.degrees(p.P05), u.degrees(p.P50), u.degrees(p.P95), thermal.ChanceWords(c.P)}
}

// drawn lists what was drawn, and how widely.
func (v textView) drawn(inputs []thermal.Drawn) string {
	var parts []string
	for _, d := range inputs {
		text := clean(d.Name) + " " + v.spread(d)
		if d.Assumed {
			text += " (assumed)"
		}
		parts = append(parts, text)
	}
	return strings.Join(parts, "; ")
}

// spread is how widely an input was drawn.
func (v textView) spread(d thermal.Drawn) string {
	switch d.Kind {
	case thermal.ByFactor:
		return "×/÷ " + brief(d.Figure, 2)
	case thermal.ByRange:
		if d.Figure == 1 {
			return "over the range of the parts"
		}
		return "over " + brief(100*d.Figure, 0) + " % of the range of the parts"
	}
	u := v.units
	switch d.Unit {
	case "K":
		return "± " + u.warmth(d.Figure)
	case "kg":
		return "± " + u.mass(d.Figure)
	case "m/s":
		return "± " + u.wind(d.Figure) + " each way"
	}
	return "± " + brief(100*d.Figure, 0) + " % of the braking"
}

// risk prints what the draws say of one candidate.
func (v textView) risk(b *bytes.Buffer, r thermal.RimResult) {
	k, u := r.Risk, v.units
	of := subject(r.LimitOn, r.Composite)
	for i, l := range k.Limits {
		if l.On != r.LimitOn {
			continue
		}
		labelled(b, "spread", fmt.Sprintf("in nine of ten draws the %s peaks at %s to %s: from %s to %s", of, u.degrees(l.PeakC.P05), u.temp(l.PeakC.P95),
			beside(u, l.MarginK.P95, assumedLimit(r)), beside(u, l.MarginK.P05, "limit")))
		if w := r.Limits[i]; w.LowC < w.HighC {
			labelled(b, "", fmt.Sprintf("the assumed limit is drawn from %s to %s", u.degrees(w.LowC), u.temp(w.HighC)))
		}
	}
	labelled(b, "chance", fmt.Sprintf("%s that a limit is reached on this ride (by the number of draws alone: %s to %s)",
		thermal.ChanceWords(k.Chance.P), chanceEnd(k.Chance.Low), chanceEnd(k.Chance.High)))
	labelled(b, "hangs on", v.drivers(k))
}

// assumedLimit calls a limit assumed that is.
func assumedLimit(r thermal.RimResult) string {
	if r.LimitAssumed {
		return "assumed limit"
	}
	return "limit"
}

// chanceEnd is a part as per cent with a decimal where it is small.
func chanceEnd(p float64) string {
	if 100*p < 9.95 || 100*p > 90.05 {
		return fixed(100*p, 1) + " %"
	}
	return fixed(100*p, 0) + " %"
}

// driversShown are the inputs worth a word: those that make this part of the
// variance, and no more of them than this.
const driverShownPart, driversShown = 0.03, 6

// drivers says in words on what the margin hangs.
func (v textView) drivers(k *thermal.Risk) string {
	if k.Explained < thermal.ExplainedEnough {
		return "too many things at once: their parts could not be told from " + fmt.Sprintf("these draws (%.0f %% explained)", 100*max(k.Explained, 0))
	}
	var parts []string
	for _, d := range k.Drivers {
		if len(parts) < driversShown && d.Total >= driverShownPart {
			parts = append(parts, clean(d.Name)+" "+fixed(100*d.Total, 0)+" %")
		}
	}
	if len(parts) == 0 {
		return "nothing: the margin is the same in all draws"
	}
	return "parts of the margin's variance, each with what it does together with others: " + strings.Join(parts, ", ")
}
