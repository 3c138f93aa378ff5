package main

import (
	"bytes"
	"fmt"

	"rimheat/thermal"
)

// lessons prints what readings have taught.
func (v textView) lessons(b *bytes.Buffer, ls []*thermal.Lesson, o learnOrder) {
	u := v.units
	first, last := ls[0], ls[len(ls)-1]
	v.asked(b, first.Route, first.RimID, first.Name, first.Draws, first.Seed)
	for i, l := range ls {
		labelled(b, "reading", o.readings[i])
		labelled(b, "", fmt.Sprintf("foretold %s to %s in nine of ten draws, half below %s; with the reading %s to %s",
			u.degrees(l.ForetoldC.P05), u.temp(l.ForetoldC.P95), u.temp(l.ForetoldC.P50), u.degrees(l.AfterC.P05), u.temp(l.AfterC.P95)))
		if len(l.Inputs) == 0 {
			labelled(b, "says", "nothing that was not known before")
		}
		for k, in := range l.Inputs {
			label := ""
			if k == 0 {
				label = "says"
			}
			labelled(b, label, fmt.Sprintf("%s %s; before %s", clean(in.Text), lessonRange(in, in.After), lessonRange(in, in.Before)))
		}
		b.WriteString("\n")
	}
	labelled(b, "before", v.reply(first.Before.Chance, first.Before.MarginK))
	labelled(b, "after", v.reply(last.After.Chance, last.After.MarginK))
	b.WriteString("\n")
	hanging(b, "", "Nineteen in twenty truths are taken to lie within the brackets. What was learned of cooling, conduction and pads holds for this rim alone; drag, mass and sharing for this rider on any wheels.")
	if o.writePath == "" {
		hanging(b, "", "Nothing was written: --write FILE.toml keeps it for rimheat assess --setup FILE.toml.")
	} else {
		hanging(b, "", "Written to "+o.writePath+": rimheat assess --setup "+o.writePath+" rides with it.")
	}
	v.askedCautions(b, last.Cautions, last.Imperial)
}
