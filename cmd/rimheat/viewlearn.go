package main

import (
	"bytes"
	"fmt"

	"rimheat/thermal"
)

// lesson prints what readings have taught; massAssumed tells that nobody gave the
// rider's weight.
func (v textView) lesson(b *bytes.Buffer, l *thermal.Lesson, o learnOrder, massAssumed bool) {
	u := v.units
	v.asked(b, l.Route, l.RimID, l.Name, l.Draws, l.Seed, l.Limits)
	for i, r := range l.Readings {
		labelled(b, "reading", o.readings[i])
		labelled(b, "", fmt.Sprintf("foretold %s to %s in nine of ten draws, half below %s; with all that was read %s to %s",
			u.degrees(r.BeforeC.P05), u.temp(r.BeforeC.P95), u.temp(r.BeforeC.P50), u.degrees(r.AfterC.P05), u.temp(r.AfterC.P95)))
	}
	if len(l.Inputs) == 0 {
		labelled(b, "says", "hardly anything that was not known before")
	}
	for k, in := range l.Inputs {
		label := ""
		if k == 0 {
			label = "says"
		}
		labelled(b, label, fmt.Sprintf("%s %s; before %s", clean(in.Text), lessonRange(in, in.After), lessonRange(in, in.Before)))
	}
	b.WriteString("\n")
	labelled(b, "before", v.reply(l.Before.Chance, l.Before.MarginK))
	labelled(b, "after", v.reply(l.After.Chance, l.After.MarginK))
	b.WriteString("\n")
	hanging(b, "", "Nineteen in twenty truths are taken to lie within the brackets. What was learned of cooling, conduction and pads holds for this rim and these pads alone; drag and sharing for this rider on any wheels. The day's weather, technique and load are not learned.")
	if massAssumed {
		hanging(b, "", "The rider's weight is assumed, and that hides much of what a reading says: give --rider-kg.")
	}
	if o.writePath == "" {
		hanging(b, "", "Nothing was written: --write FILE.toml keeps it for rimheat assess --setup FILE.toml.")
	} else {
		hanging(b, "", "Written to "+o.writePath+": rimheat assess --setup "+o.writePath+" rides with it; give it the weather.")
	}
	v.askedCautions(b, l.Cautions, l.Imperial)
}
