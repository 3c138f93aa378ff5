package main

import (
	"bytes"
	"fmt"

	"rimheat/thermal"
)

// outlook prints what would change the answer.
func (v textView) outlook(b *bytes.Buffer, a *thermal.Assessment) {
	o := a.Outlook
	if o == nil {
		return
	}
	u := v.units
	b.WriteString("\nWhat would change it\n")
	hanging(b, descentIndent, "One thing at a time, central estimate: how much cooler the place that decides peaks, and what is then to spare to the nearest limit (less than nothing: over it), "+u.gapUnit())
	printBeside(b, a.Rims, func(rims []thermal.RimResult) *descentTable { return v.outlookTable(o, rims) })
	b.WriteString("\n")
	for _, n := range o.Notes {
		hanging(b, descentIndent, n)
	}
	for _, r := range o.Rests {
		b.WriteString("\n")
		labelled(b, clean(r.RimID), v.rests(r, len(a.Setup.Stops) > 0))
		for _, k := range r.Stops {
			labelled(b, "", v.stop(k))
		}
	}
}

// outlookTable has a row per change.
func (v textView) outlookTable(o *thermal.Outlook, rims []thermal.RimResult) *descentTable {
	u := v.units
	t := &descentTable{each: 2}
	t.title("")
	t.road = 1
	t.row("as planned")
	for _, c := range o.Changes {
		text := c.Text
		if u.imperial {
			text = c.Imperial
		}
		t.row(clean(text))
	}
	for _, r := range rims {
		t.names = append(t.names, clean(r.ID))
		t.head[0] = append(t.head[0], "cooler", "spare")
		planned := noNumber
		for _, k := range o.Planned {
			if k.RimID == r.ID {
				planned = u.signedGap(k.MarginK)
			}
		}
		t.rows[0] = append(t.rows[0], "", planned)
		for i, c := range o.Changes {
			cooler, left := noNumber, noNumber
			for _, k := range c.Rims {
				if k.RimID == r.ID && k.Applies {
					cooler, left = u.signedGap(k.CoolerK), u.signedGap(k.MarginK)
				}
			}
			t.rows[i+1] = append(t.rows[i+1], cooler, left)
		}
	}
	t.setRight()
	t.right[0] = false
	return t
}

// rests says what stops would do.
func (v textView) rests(r thermal.RestAdvice, planned bool) string {
	if len(r.Stops) == 0 {
		return "no stops that keep it within its limits were found by a quick search; rimheat plan searches further"
	}
	with := "with these stops"
	if planned {
		with = "with these stops besides those planned"
	}
	s := fmt.Sprintf("%s a limit is reached in %s of %s draws that the search has not seen (%s to %s %% by their number alone)", with,
		thermal.ChanceWords(r.Chance.P), fixed(float64(r.Draws), 0), brief(100*r.Chance.Low, 1), brief(100*r.Chance.High, 1))
	switch {
	case r.Serves:
	case r.Chance.P < thermal.MarginalChance:
		s += fmt.Sprintf(", too near to %.0f %% to call it within by so few draws", 100*thermal.MarginalChance)
	default:
		s += ", too many to call it within"
	}
	return s + "; by a quick search, rimheat plan searches further:"
}
