package main

import (
	"bytes"
	"fmt"
	"math"
	"strings"

	"rimheat/thermal"
)

// rim prints the answer for one candidate.
func (v textView) rim(b *bytes.Buffer, r thermal.RimResult) {
	u := v.units
	b.WriteString("\n")
	hanging(b, "", fmt.Sprintf("%s: %s", r.ID, r.Name))
	labelled(b, "rim", fmt.Sprintf("%s, %s g, track wall %s mm, pads: %s", r.Material, fixed(1000*r.MassKg, 0), fixed(1000*r.WallM, 1), r.Pad))
	v.verdictLine(b, "  verdict    ", r, assumedLimit(r), inDraws(r))
	at := u.place(r.PeakAtM)
	if r.PeakInStop {
		at = "in the stop at the end"
	}
	labelled(b, "peak", fmt.Sprintf("brake track %s, %s wheel, %s", u.temp(r.PeakC), r.PeakWheel, at))
	labelled(b, "", fmt.Sprintf("tyre side %s, spoke bed %s", u.temp(r.TyreSidePeakC), u.temp(r.SpokeBedPeakC)))
	if r.SurfacePeakC > r.PeakC+shownK || r.ContactPeakC > r.PeakC+shownK {
		labelled(b, "", fmt.Sprintf("for moments, and not what the limit is about: surface %s, skin under a pad some %s", u.temp(r.SurfacePeakC), u.temp(10*math.Round(r.ContactPeakC/10))))
	}
	if r.Risk != nil {
		v.risk(b, r)
	}
	if c := r.PoorCooling; c != nil {
		labelled(b, "less air", fmt.Sprintf("if air cools %s times less than assumed: %s %s against %s, %s", brief(c.Factor, 1), c.On, u.temp(c.PeakC), u.temp(c.LimitC), beside(u, c.MarginK, "limit")))
	}
	labelled(b, "limit", fmt.Sprintf("%s on the %s, which reaches %s%s", u.temp(r.LimitC), subject(r.LimitOn, r.Composite), u.temp(r.JudgedPeakC), v.elsewhere(r)))
	labelled(b, "", source(r.LimitSource, r.LimitAssumed))
	for _, l := range r.Limits {
		if l.AlarmC != nil {
			labelled(b, "bands", fmt.Sprintf("of the resin, assumed: caution from %s, alarm from %s; the %s lies %s", u.temp(l.LimitC), u.temp(*l.AlarmC), subject(l.On, r.Composite), bandWords(l.Band)))
		}
	}
	if len(r.Over) > 0 {
		labelled(b, "over", v.stretches(r.Over))
	}
	v.aside(b, r)
	for _, l := range r.Limits {
		if l.On == r.LimitOn && l.LimitC == r.LimitC && l.Source == r.LimitSource {
			continue
		}
		also := fmt.Sprintf("%s: %s against %s, %s (%s)", subject(l.On, r.Composite), u.temp(l.PeakC), u.temp(l.LimitC), v.plainVerdict(l.Verdict, l.MarginK, "limit"), source(l.Source, l.Assumed))
		if len(l.Over) > 0 {
			also += "; " + v.stretches(l.Over)
		}
		labelled(b, "also", also)
	}
}

// elsewhere says where the place that decides is hottest, if the track peaks at
// another place.
func (v textView) elsewhere(r thermal.RimResult) string {
	for _, l := range r.Limits {
		if l.On != r.LimitOn || l.LimitC != r.LimitC || l.Source != r.LimitSource {
			continue
		}
		if at := v.units.place(l.PeakAtM); at != v.units.place(r.PeakAtM) && !r.PeakInStop {
			return ", " + clean(l.Wheel) + " wheel, " + at
		}
	}
	return ""
}

// aside prints what tyre, pads and a stop add.
func (v textView) aside(b *bytes.Buffer, r thermal.RimResult) {
	u := v.units
	most := ""
	if r.Tyre.MaxKPa != nil {
		most = fmt.Sprintf("; the %s's maker allows %s", clean(r.Tyre.MaxOf), u.pressure(*r.Tyre.MaxKPa))
	}
	labelled(b, "tyre air", fmt.Sprintf("%s at most, pressure %s%s", u.temp(r.Tyre.AirPeakC), u.pressure(r.Tyre.HotKPa), most))
	labelled(b, "pads", fmt.Sprintf("%s at most, friction %s cold and %s there; each some %s mm thinner (order of magnitude)", u.temp(r.Pads.PeakC), brief(r.Pads.FrictionCold, 2), brief(r.Pads.FrictionHot, 2), brief(1000*r.Pads.WearM, 2)))
	if text := soakText(u, r.Soak); text != "" {
		labelled(b, "standing", "after the ride: "+text)
	}
}

// soakText tells which places went on warming, by how much and how long; ""
// for none worth a line.
func soakText(u screenUnits, places []thermal.SoakPlace) string {
	var late []string
	for _, p := range places {
		if p.PeakC-p.ThenC >= soakShownK && p.PeakC >= soakShownC {
			late = append(late, fmt.Sprintf("%s %s to %s after %s", clean(p.Place), u.degrees(p.ThenC), u.temp(p.PeakC), span(p.AfterS)))
		}
	}
	return strings.Join(late, "; ")
}

// soakShownK is the least rise while standing that is worth a line, K, and
// soakShownC the least temperature, °C: below it nothing on a rim suffers.
const soakShownK, soakShownC = 1.0, 50.0

// bandWords says where a peak lies among a resin's bands.
func bandWords(band thermal.Band) string {
	switch band {
	case thermal.Alarm:
		return "in the alarm band"
	case thermal.Caution:
		return "in the caution band"
	}
	return "below both"
}

// verdictLine prints the verdict and what goes with it after lead, wrapped.
func (v textView) verdictLine(b *bytes.Buffer, lead string, r thermal.RimResult, limit, more string) {
	word := clean(string(r.Verdict))
	lines := wrap(clean(v.plainVerdict(r.Verdict, r.MarginK, limit)+more), lineWidth-2-runes(lead))
	lines[0] = v.verdict(r.Verdict, math.NaN(), "") + strings.TrimPrefix(lines[0], word)
	b.WriteString(lead + strings.Join(lines, "\n"+strings.Repeat(" ", runes(lead))) + "\n")
}

// verdict is the word, coloured on a screen, and by how much.
func (v textView) verdict(word thermal.Verdict, marginK float64, limit string) string {
	sgr := map[thermal.Verdict]string{thermal.Within: sgrGood, thermal.Marginal: sgrCare, thermal.Over: sgrBad}[word]
	text := v.plainVerdict(word, marginK, limit)
	shown := clean(string(word))
	return v.palette.paint(sgr, shown) + strings.TrimPrefix(text, shown)
}

func (v textView) plainVerdict(word thermal.Verdict, marginK float64, limit string) string {
	shown := clean(string(word))
	if math.IsNaN(marginK) || math.IsInf(marginK, 0) {
		return shown
	}
	return shown + ": " + beside(v.units, marginK, limit)
}

// shownK is how far surface or skin must pass the track to be worth a line, K.
const shownK = 5

// beside says how far below or above a limit something is.
func beside(u screenUnits, marginK float64, limit string) string {
	if marginK <= 0 {
		return u.gap(marginK) + " above the " + limit
	}
	return u.gap(marginK) + " below the " + limit
}

// limitName names the limit that decides.
func limitName(r thermal.RimResult) string {
	name := "limit"
	if r.LimitAssumed {
		name = "assumed limit"
	}
	switch r.LimitOn {
	case thermal.OnTyreSide:
		name += " of its tyre side"
	case thermal.OnFairing:
		name += " of its fairing"
	}
	return name
}

// stretches says where the limit is first reached and for how long in all.
func (v textView) stretches(over []thermal.OverSpan) string {
	first, total := over[0], 0.0
	for _, o := range over {
		total += o.DurationS
	}
	n := "1 stretch"
	if len(over) > 1 {
		n = fmt.Sprintf("%d stretches", len(over))
	}
	return fmt.Sprintf("first at %s, %s min into the ride, at %s; %s in all, in %s",
		v.units.place(first.StartM), fixed(first.StartS/60, 0), v.units.height(first.HeightM), span(total), n)
}

// inDraws says in what part of the draws a limit is reached.
func inDraws(r thermal.RimResult) string {
	if r.Risk == nil {
		return ""
	}
	return "; reached in " + thermal.ChanceWords(r.Risk.Chance.P) + " of the draws"
}

// alsoOver names what a rim passes besides the deciding limit, and says if the
// road is in doubt where it is hottest or first over.
func alsoOver(r thermal.RimResult) string {
	also := ""
	for _, l := range r.Limits {
		if l.On != r.LimitOn && l.Verdict == thermal.Over {
			also = "; over on its " + clean(l.On) + " too"
			break
		}
	}
	if r.Tyre.Over {
		also += "; tyre pressure over the " + clean(r.Tyre.MaxOf) + "'s maximum"
	}
	if r.PeakInDoubt {
		also += "; the road is in doubt there"
	}
	return also
}

// subject says what a limit is about. A metal track has no resin.
func subject(on string, composite bool) string {
	switch {
	case on == thermal.OnTyreSide:
		return "tyre side (tube, tape, bead or cement)"
	case on == thermal.OnFairing:
		return "fairing and its bond"
	case on == thermal.OnTrack && composite:
		return "resin of the brake track"
	case on == thermal.OnTrack:
		return "brake track"
	}
	return clean(on)
}

// source says where a limit comes from, with the word assumed if it is.
func source(text string, assumed bool) string {
	if assumed && !strings.HasPrefix(text, "assumed") {
		return "assumed: " + text
	}
	return text
}
