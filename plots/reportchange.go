package plots

import (
	"fmt"
	"math"

	"rimheat/thermal"
)

// changeTables lists what one change at a time would do.
func (r *reporter) changeTables(o *thermal.Outlook) []reportTable {
	if len(o.Changes) == 0 {
		return nil
	}
	var out []reportTable
	for _, rims := range r.across() {
		t := reportTable{Caption: "One change at a time, in the central estimate.", Head: []string{"change"}}
		for _, i := range rims {
			t.Head = append(t.Head, capital(r.called(i))+r.now(i))
		}
		for _, c := range o.Changes {
			text := c.Text
			if r.u.imperial {
				text = c.Imperial
			}
			row := []string{capital(r.told(text))}
			for _, i := range rims {
				row = append(row, r.changeCell(c, i))
			}
			t.Rows = append(t.Rows, row)
		}
		out = append(out, t)
	}
	return out
}

// planned is what is left to the nearest limit of rim i without a change, K; NaN where that
// is not told.
func (r *reporter) planned(i int) float64 {
	if o := r.a.Outlook; o != nil && i < len(o.Planned) {
		return o.Planned[i].MarginK
	}
	return math.NaN()
}

// now says how rim i stands without a change.
func (r *reporter) now(i int) string {
	if m := r.planned(i); finite(m) {
		return ", now " + spareText(m, r.u)
	}
	return ""
}

// changeCell says what a change does to rim i, and how the rim then stands where
// it comes to the other side of a limit.
func (r *reporter) changeCell(c thermal.Change, i int) string {
	if i >= len(c.Rims) || !finite(c.Rims[i].CoolerK) {
		return noFigure
	}
	k, now := c.Rims[i], r.planned(i)
	if !k.Applies {
		if t := r.tag(i); t != "" {
			return "not on " + t
		}
		return "not here"
	}
	s := r.gap(k.CoolerK) + " cooler"
	switch {
	case math.Abs(k.CoolerK) < 1:
		s = "about the same"
	case k.CoolerK < 0:
		s = r.gap(k.CoolerK) + " hotter"
	}
	if finite(k.MarginK) && finite(now) && (k.MarginK > 0) != (now > 0) {
		s += ", then " + spareText(k.MarginK, r.u)
	}
	return s
}

// rests says where to let the rims cool.
func (r *reporter) rests(o *thermal.Outlook) []string {
	out := r.toldAll(o.Notes)
	none := r.withoutStops(o)
	if none != "" {
		out = append(out, none)
	}
	found := false
	for _, rest := range o.Rests {
		who := "this rim"
		for i := range r.a.Rims {
			if r.a.Rims[i].ID == rest.RimID {
				who = r.called(i)
			}
		}
		if len(rest.Stops) == 0 {
			continue
		}
		found = true
		var stops []string
		steep := 0
		for _, s := range rest.Stops {
			stops = append(stops, r.stop(s))
			if s.Steep() {
				steep++
			}
		}
		besides := ""
		if len(r.a.Setup.Stops) > 0 {
			besides = " besides those planned"
		}
		text := fmt.Sprintf("Stops for %s%s: %s%s; then a limit is reached in %s draws", who, besides, listed(stops), steepWords(steep, len(stops)), outOf100(rest.Chance.P))
		switch {
		case rest.Serves:
		case rest.Chance.P < thermal.MarginalChance:
			text += fmt.Sprintf(", too near to %.0f of 100 to call it within by so few draws", 100*thermal.MarginalChance)
		default:
			text += ", too many to call it within"
		}
		out = append(out, text+".")
	}
	if found {
		out = append(out, "By a quick search, checked with "+number(float64(o.Rests[0].Draws), 0)+" draws that it has not seen: planning at length may find others, fewer or shorter ones.")
	}
	return out
}

// withoutStops names the rims for which no stops were found, "" for none.
func (r *reporter) withoutStops(o *thermal.Outlook) string {
	var who []string
	for _, rest := range o.Rests {
		for i := range r.a.Rims {
			if r.a.Rims[i].ID == rest.RimID && len(rest.Stops) == 0 {
				who = append(who, r.called(i))
			}
		}
	}
	if len(who) == 0 {
		return ""
	}
	if len(who) > 1 {
		return "For " + listed(who) + " no stops were found that keep them within their limits."
	}
	return "For " + who[0] + " no stops were found that keep it within its limits."
}

// stop says where to stop and for how long.
func (r *reporter) stop(s thermal.CoolStop) string {
	at := minutes(s.S) + " at " + r.place(s.AtM)
	if s.RollMps > 0 {
		at += " (rolling to and fro at " + r.speed(s.RollMps) + ", brakes let go)"
	}
	return at
}

// steepWords says that some of all stops stand on a steep road.
func steepWords(steep, all int) string {
	switch {
	case steep == 0:
		return ""
	case steep == all:
		return ", on a steep road: hold the bicycle"
	}
	return ", some on a steep road: hold the bicycle there"
}

// ideas is what is said of changes that were not computed.
func (r *reporter) ideas() []string {
	return []string{
		"Less weight: what is not carried down need not be braked.",
		"A cooler hour of the day.",
		"Stops on the way down, early, before the rims are hot.",
		"A gentler road to the same place.",
		"Rims with an aluminium brake track, which spreads the heat; their tyre side has limits of its own.",
	}
}
