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
	b.WriteString("  verdict    " + v.verdict(r.Verdict, r.MarginK) + "\n")
	labelled(b, "peak", fmt.Sprintf("wall behind the brake track %s, %s wheel, %s%s", u.temp(r.PeakC), r.PeakWheel, u.place(r.PeakAtM), v.otherPeaks(r)))
	labelled(b, "limit", fmt.Sprintf("%s on the %s, which reaches %s", u.temp(r.LimitC), subject(r.LimitOn, r.ID), u.temp(r.JudgedPeakC)))
	labelled(b, "", source(r.LimitSource, r.LimitAssumed))
	if len(r.Over) > 0 {
		labelled(b, "over", v.stretches(r.Over))
	}
	for _, l := range r.Limits {
		if l.On == r.LimitOn && l.LimitC == r.LimitC && l.Source == r.LimitSource {
			continue
		}
		labelled(b, "also", fmt.Sprintf("%s: %s against %s, %s (%s)", subject(l.On, r.ID), u.temp(l.PeakC), u.temp(l.LimitC), v.plainVerdict(l.Verdict, l.MarginK), source(l.Source, l.Assumed)))
	}
}

// verdict is the word, coloured on a screen, and by how much.
func (v textView) verdict(word thermal.Verdict, marginK float64) string {
	sgr := map[thermal.Verdict]string{thermal.Within: sgrGood, thermal.Marginal: sgrCare, thermal.Over: sgrBad}[word]
	text := v.plainVerdict(word, marginK)
	shown := clean(string(word))
	return v.palette.paint(sgr, shown) + strings.TrimPrefix(text, shown)
}

func (v textView) plainVerdict(word thermal.Verdict, marginK float64) string {
	shown := clean(string(word))
	gap := v.units.gap(math.Abs(marginK))
	switch {
	case strings.HasPrefix(gap, "0 "):
		gap = "less than 1" + gap[1:]
	case gap == noNumber+" K" || gap == noNumber+" °F":
		return shown
	}
	if marginK < 0 || word == thermal.Over {
		return shown + ": " + gap + " above the limit"
	}
	return shown + ": " + gap + " below the limit"
}

// otherPeaks gives the hottest surface, skin under a pad and tyre side.
func (v textView) otherPeaks(r thermal.RimResult) string {
	u := v.units
	return fmt.Sprintf("; its surface %s, the skin under a pad %s; tyre side %s, spoke bed %s", u.temp(r.SurfacePeakC), u.temp(r.ContactPeakC), u.temp(r.TyreSidePeakC), u.temp(r.SpokeBedPeakC))
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

// subject says what a limit of a rim is about. A metal track has no resin.
func subject(on, rimID string) string {
	sec, known := thermal.RimByID(rimID)
	switch {
	case on == thermal.OnTyreSide:
		return "tyre side (tube, tape, bead or cement)"
	case on == thermal.OnTrack && known && sec.Material.Composite:
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
