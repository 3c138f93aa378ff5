package plots

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"rimheat/thermal"
)

// A reportCard is the answer for one rim.
type reportCard struct {
	Rim                 int
	Tag, Name, Material string
	// Verdict is "" where there is no limit to hold the rim against; Word is it for
	// people, Says how sure it is.
	Verdict    thermal.Verdict
	Word, Says string
	Rows       []reportItem
}

// card answers for rim i.
func (r *reporter) card(i int) reportCard {
	rim := &r.a.Rims[i]
	c := reportCard{Rim: i, Tag: r.tag(i), Name: named(r.names[i])}
	if !r.many() {
		c.Material = r.word(rim.Material)
	}
	c.Verdict, c.Word, c.Says = r.verdict(rim)
	add := func(name, text string) {
		if text != "" {
			c.Rows = append(c.Rows, reportItem{name, text})
		}
	}
	add("Limit", r.limitText(rim))
	add("Hottest", r.hottestText(rim))
	add("Margin", r.marginText(rim))
	for _, l := range rim.Limits {
		if l.On != rim.LimitOn {
			add("Besides", r.otherLimit(l))
		}
	}
	if !r.many() {
		add("Hangs on", r.drivers(rim.Risk))
	}
	if rim.Tyre.Over && rim.Tyre.MaxKPa != nil {
		add("Tyre", fmt.Sprintf("its hot pressure, %s, passes the %s that the %s's maker allows", r.pressure(rim.Tyre.HotKPa), r.pressure(*rim.Tyre.MaxKPa), r.word(rim.Tyre.MaxOf)))
	}
	if rim.PeakInDoubt {
		add("In doubt", "the road where this rim is hottest or first over: check the route there first")
	}
	return c
}

// many tells that there are so many rims that their cards say less and the small
// print more.
func (r *reporter) many() bool { return len(r.a.Rims) > 4 }

// verdict says in words what the assessment says, and how sure that is.
func (r *reporter) verdict(rim *thermal.RimResult) (v thermal.Verdict, word, says string) {
	if !finite(rim.LimitC) || !finite(rim.MarginK) {
		return "", "No verdict", "there is no limit to hold this rim against."
	}
	word = capital(r.word(string(rim.Verdict)))
	end := map[thermal.Verdict]string{
		thermal.Over:     "the central estimate passes a limit.",
		thermal.Marginal: "the central estimate only just stays below the limits.",
		thermal.Within:   "the central estimate stays below the limits.",
	}[rim.Verdict]
	switch k := rim.Risk; {
	case k != nil:
		says = "a limit is reached in " + outOf100(k.Chance.P) + " draws."
	case rim.PoorCooling != nil && finite(rim.PoorCooling.MarginK):
		says = end + " How sure that is was not computed" + r.poorCooling(rim) + "."
	default:
		says = end + " How sure that is was not computed."
	}
	return rim.Verdict, word, says
}

// poorCooling says what worse cooling would do to a central estimate.
func (r *reporter) poorCooling(rim *thermal.RimResult) string {
	p := rim.PoorCooling
	side := "below"
	if p.MarginK <= 0 {
		side = "above"
	}
	return fmt.Sprintf("; if air cooled %s times less than assumed it would be %s %s its limit", brief(p.Factor, 1), r.gap(p.MarginK), side)
}

// limitText names the deciding limit, where it holds and whether it is assumed.
func (r *reporter) limitText(rim *thermal.RimResult) string {
	if !finite(rim.LimitC) {
		return ""
	}
	s := r.placeName(rim.LimitOn) + ", " + r.temp(rim.LimitC)
	if !rim.LimitAssumed {
		return s + ", the rim maker's figure as it was given"
	}
	s += ", assumed"
	for _, l := range rim.Limits {
		if l.On == rim.LimitOn && l.LowC < l.HighC && finite(l.LowC) && finite(l.HighC) {
			return s + " (within " + cell(r.u.temp(l.LowC), 0) + " to " + r.temp(l.HighC) + ")"
		}
	}
	return s
}

// hottestText says how hot the rim gets at the place that decides, and on the
// track.
func (r *reporter) hottestText(rim *thermal.RimResult) string {
	if !finite(rim.PeakC) {
		return ""
	}
	at := ""
	switch {
	case rim.PeakInStop:
		at = ", in the stop at the end"
	case finite(rim.PeakAtM):
		at = ", " + r.place(rim.PeakAtM)
	}
	track := strings.TrimSpace(r.word(rim.PeakWheel)+" brake track ") + " " + r.temp(rim.PeakC) + r.nineOfTen(rim.Risk, thermal.OnTrack) + at
	if !offTrack(rim.LimitOn) || !finite(rim.JudgedPeakC) {
		return track
	}
	return r.placeName(rim.LimitOn) + " " + r.temp(rim.JudgedPeakC) + r.nineOfTen(rim.Risk, rim.LimitOn) + "; " + track
}

// nineOfTen is the range of a peak in nine of ten draws, which the terms explain; ""
// if nothing was drawn.
func (r *reporter) nineOfTen(k *thermal.Risk, on string) string {
	if k == nil {
		return ""
	}
	p := thermal.Percentiles{}
	if on == thermal.OnTrack {
		p = k.TrackC
	}
	for _, l := range k.Limits {
		if l.On == on {
			p = l.PeakC
		}
	}
	if !finite(p.P05) || !finite(p.P95) || p.P05 == p.P95 {
		return ""
	}
	return " (" + cell(r.u.temp(p.P05), 0) + " to " + cell(r.u.temp(p.P95), 0) + ")"
}

// marginText says by how much the rim is over or has to spare.
func (r *reporter) marginText(rim *thermal.RimResult) string {
	if !finite(rim.MarginK) {
		return ""
	}
	s := spareText(rim.MarginK, r.u)
	if k := rim.DecidingMarginK(); rim.Risk != nil && finite(k.P05) && finite(k.P95) {
		s += " (" + fromTo(k, r.u) + ")"
	}
	if rim.Verdict == thermal.Over && rim.MarginK > 0 {
		s += " in the central estimate, though most draws are over a limit"
	}
	return s
}

// otherLimit tells of a limit that does not decide.
func (r *reporter) otherLimit(l thermal.LimitResult) string {
	if !finite(l.LimitC) || !finite(l.PeakC) {
		return ""
	}
	assumed := ""
	if l.Assumed {
		assumed = ", assumed"
	}
	return fmt.Sprintf("%s %s, limit %s%s: %s", r.placeName(l.On), r.temp(l.PeakC), r.temp(l.LimitC), assumed, spareText(l.LimitC-l.PeakC, r.u))
}

// mostDrivers is how many of the inputs that an answer hangs on are told.
const mostDrivers = 3

// drivers says in words what an answer hangs on most.
func (r *reporter) drivers(k *thermal.Risk) string {
	if k == nil {
		return ""
	}
	if k.Explained < thermal.ExplainedEnough {
		return "too many things at once to tell apart"
	}
	ds := slices.Clone(k.Drivers)
	slices.SortStableFunc(ds, func(a, b thermal.Driver) int { return cmp.Compare(b.Total, a.Total) })
	var names []string
	for _, d := range ds {
		if len(names) < mostDrivers && d.Total >= leastDriver {
			names = append(names, r.word(d.Name))
		}
	}
	if len(names) == 0 {
		return "no single thing"
	}
	return listed(names)
}

// placeName is the place that a limit is about.
func (r *reporter) placeName(on string) string {
	if offTrack(on) {
		return r.word(on)
	}
	return "brake track"
}
