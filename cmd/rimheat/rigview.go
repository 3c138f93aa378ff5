package main

import (
	"bytes"
	"fmt"
	"math"
	"slices"

	"rimheat/thermal"
)

// A rigView prints a bench run for people. It computes nothing.
type rigView struct{ palette palette }

// print prints the whole of it.
func (v rigView) print(b *bytes.Buffer, r *thermal.BenchResult) {
	title := r.Rim.ID + ": " + r.Rim.Name
	if r.Rim.ID == r.Rim.Name {
		title = r.Rim.Name
	}
	hanging(b, "", title+", on a bench")
	p := r.Peaks
	labelled(b, "peak", fmt.Sprintf("swept band %s °C in the mean, after %s; its hottest place %s °C; tyre %s kPa",
		fixed(p.SweptMeanC, 0), span(p.SweptMeanAtS), fixed(p.HottestC, 0), fixed(p.TyreKPa, 0)))
	for _, l := range r.Limits {
		v.limit(b, l, r.Inputs.DurationS)
	}
	for _, l := range r.Limits {
		if l.AlarmC != nil {
			labelled(b, "bands", fmt.Sprintf("of the resin, assumed: caution from %s °C, alarm from %s °C; the %s lies %s", fixed(l.LimitC, 0), fixed(*l.AlarmC, 0), clean(l.On), bandWords(l.Band)))
		}
	}
	if track := r.Limits[0].PeakC; r.Limits[0].On == thermal.OnTrack && p.SweptMeanC > track+shownK {
		labelled(b, "", fmt.Sprintf("The track is held against its limit by its wall and what its surface keeps above that for ten seconds, %s °C; its surface is hotter for moments.", fixed(track, 0)))
	}
	v.aside(b, r)
	b.WriteString("\n")
	v.inputs(b, r)
	v.samples(b, r)
	v.energy(b, r.Energy)
	b.WriteString("\nCautions:\n")
	for _, c := range r.Cautions {
		hanging(b, "  - ", c)
	}
}

// aside prints what tyre, pads and a wait after the braking add.
func (v rigView) aside(b *bytes.Buffer, r *thermal.BenchResult) {
	if most := r.Tyre.MaxKPa; most != nil {
		labelled(b, "tyre", fmt.Sprintf("%s kPa when hottest; the %s's maker allows %s kPa", fixed(r.Tyre.HotKPa, 0), clean(r.Tyre.MaxOf), fixed(*most, 0)))
	}
	if p := r.Pads; p != nil {
		labelled(b, "pads", fmt.Sprintf("%s °C at most, friction %s cold and %s there; each some %s mm thinner (order of magnitude)", fixed(p.PeakC, 0), brief(p.FrictionCold, 2), brief(p.FrictionHot, 2), brief(1000*p.WearM, 2)))
	}
	if text := soakText(screenUnits{}, r.Soak); text != "" {
		labelled(b, "after it", "brake off: "+text)
	}
}

// limit says whether a limit was reached, and when.
func (v rigView) limit(b *bytes.Buffer, l thermal.BenchLimit, lengthS float64) {
	assumed := ""
	if l.Assumed {
		assumed = " (assumed)"
	}
	lead := fmt.Sprintf("  limit      %s °C on the %s%s: ", fixed(l.LimitC, 0), clean(l.On), assumed)
	peak := fixed(l.PeakC, 0)
	if l.ReachedS == nil && peak == fixed(l.LimitC, 0) {
		peak = fixed(l.PeakC, 1)
	}
	word, rest, sgr := "not reached", "; it gets to "+peak+" °C", sgrGood
	if l.Verdict == thermal.Marginal {
		word, sgr = "not reached, but close", sgrCare
	}
	switch {
	case l.ReachedS != nil && *l.ReachedS == 0:
		word, rest, sgr = "reached", " before any braking; it gets to "+fixed(l.PeakC, 0)+" °C", sgrBad
	case l.ReachedS != nil && *l.ReachedS > lengthS:
		word, rest, sgr = "reached", fmt.Sprintf(" %s after the run, standing; it gets to %s °C", span(*l.ReachedS-lengthS), fixed(l.PeakC, 0)), sgrBad
	case l.ReachedS != nil:
		word, rest, sgr = "reached", fmt.Sprintf(" after %s; it gets to %s °C", span(*l.ReachedS), fixed(l.PeakC, 0)), sgrBad
	}
	b.WriteString(lead + v.palette.paint(sgr, word) + rest + "\n")
	labelled(b, "", source(l.Source, l.Assumed))
}

// inputs prints what was done to which wheel, and what of it is assumed.
func (v rigView) inputs(b *bytes.Buffer, r *thermal.BenchResult) {
	in := r.Inputs
	note := func(text, name string) string {
		if slices.Contains(in.Assumed, name) {
			return text + " (assumed)"
		}
		return text
	}
	labelled(b, "rim", fmt.Sprintf("%s, %s g by geometry and density, track wall %s mm, swept area %s cm2 on both sides",
		r.Rim.Material, fixed(1e3*r.Rim.MassKg, 0), fixed(1e3*r.Rim.WallM, 1), fixed(1e4*r.Rim.SweptAreaM2, 0)))
	pads := in.Pads
	if pads == noPads {
		pads = "none, all heat goes into the rim"
	}
	labelled(b, "pads", note(pads, "pads"))
	if in.Preset != "" {
		labelled(b, "programme", fmt.Sprintf("%s: %s", in.Preset, in.PresetText))
		labelled(b, "", in.PresetSource)
	}
	power := fixed(in.MostWatts, 0) + " W"
	if in.Flux != nil {
		power += fmt.Sprintf(" (%s W/m2 on the swept band)", fixed(*in.Flux, 0))
	}
	if math.Abs(in.MostWatts-in.MeanWatts) > 0.5 {
		power = fmt.Sprintf("up to %s, %s W in the mean over the run", power, fixed(in.MeanWatts, 0))
	}
	labelled(b, "braking", power)
	length := note(span(in.DurationS), "minutes")
	if in.DurationS-in.BrakingS > 1e-6 {
		length = span(in.BrakingS) + " of " + length
	}
	labelled(b, "", fmt.Sprintf("for %s, at %s", length, note(speeds(in.KmH, in.KmHRange), "kmh")))
	var flow string
	switch {
	case in.Film != nil:
		flow = "film coefficient " + brief(*in.Film, 2) + " W/(m2 K), given"
	case *in.AirflowKmH == 0:
		flow = note("no fan", "airflow-kmh")
	default:
		flow = "moving at " + speeds(*in.AirflowKmH, *in.AirflowRange)
		if slices.Contains(in.Assumed, "airflow-kmh") {
			flow = "moving as fast as the wheel (assumed)"
		}
	}
	if f := in.FilmFactor; f != nil && *f != 1 {
		flow += ", cooling " + brief(*f, 2) + " times as well as assumed"
	}
	labelled(b, "air", note(brief(in.AirTempC, 1)+" °C", "air-temp")+", "+flow)
	if in.Emissivity != nil {
		labelled(b, "radiation", "emissivity "+brief(*in.Emissivity, 3)+", given")
	}
	if in.SunWPerM2 > 0 {
		labelled(b, "sun", brief(in.SunWPerM2, 0)+" W/m2 on one side of the wheel")
	}
	labelled(b, "tyre side", note(clean(in.TyreSide), "tyre-side"))
	labelled(b, "tyre", note(fixed(in.TyreKPa, 0)+" kPa above the air's pressure at the start", "tyre-kpa")+", its volume constant")
}

// speeds tells a speed that is the mean of those in a range, km/h.
func speeds(mean float64, r [2]float64) string {
	lo, hi := brief(r[0], 1), brief(r[1], 1)
	if lo == hi {
		return lo + " km/h"
	}
	return fmt.Sprintf("%s to %s km/h, %s in the mean", lo, hi, brief(mean, 1))
}

// moments writes the times of the samples, with so many decimals that no two
// are told as one, and gives the head of their column: seconds if they are a
// part of a second apart.
func moments(samples []thermal.BenchSample, everyS float64) (texts []string, unitName string) {
	places, scale := 0, 1.0
	for off := func(s thermal.BenchSample) bool {
		return math.Abs(s.TimeS*scale-math.Round(s.TimeS*scale)) > 1e-6*scale
	}; places < 3 && slices.ContainsFunc(samples, off); places++ {
		scale *= 10
	}
	whole := everyS == math.Trunc(everyS)
	for _, s := range samples {
		if !whole {
			texts = append(texts, fixed(s.TimeS, places))
			continue
		}
		n := math.Round(s.TimeS * scale)
		text := clock(math.Floor(n / scale))
		if places > 0 {
			text += fmt.Sprintf(".%0*d", places, int(math.Mod(n, scale)))
		}
		texts = append(texts, text)
	}
	if whole {
		return texts, "min:s"
	}
	return texts, "s"
}

// samples prints one row per sample.
func (v rigView) samples(b *bytes.Buffer, r *thermal.BenchResult) {
	fmt.Fprintf(b, "\nOver time, °C\n")
	t := table{right: map[int]bool{}}
	t.title("time", "power", "speed", "swept", "hot", "mid", "inner", "rim", "tyre", "spoke", "tyre", "tyre", "pad", "rim")
	times, unitName := moments(r.Samples, r.Inputs.SampleEvery)
	t.title(unitName, "W", "km/h", "mean", "spot", "wall", "wall", "bed", "side", "bed", "air", "kPa", "face", "part %")
	for i := range t.head[0] {
		t.right[i] = true
	}
	for i, s := range r.Samples {
		pad, share := noNumber, noNumber
		if s.PadC != nil {
			pad = fixed(*s.PadC, 0)
		}
		if s.RimShare != nil {
			share = fixed(100**s.RimShare, 1)
		}
		row := []string{times[i], fixed(s.Watts, 0), brief(s.KmH, 1)}
		for _, c := range []float64{s.SweptMeanC, s.HottestC, s.MidWallC, s.InnerWallC, s.BedCentreC, s.TyreSideC, s.SpokeBedC, s.TyreAirC} {
			row = append(row, fixed(c, 1))
		}
		t.row(append(row, fixed(s.TyreKPa, 0), pad, share)...)
	}
	p := r.Peaks
	row := []string{"peak", "", ""}
	for _, c := range []float64{p.SweptMeanC, p.HottestC, p.MidWallC, p.InnerWallC, p.BedCentreC, p.TyreSideC, p.SpokeBedC, p.TyreAirC} {
		row = append(row, fixed(c, 1))
	}
	pad := noNumber
	if p.PadC != nil {
		pad = fixed(*p.PadC, 0)
	}
	t.row(append(row, fixed(p.TyreKPa, 0), pad, "")...)
	t.print(b, "  ")
	hanging(b, "  ", "Power and speed are those up to that moment; the rim's part is that of all braking so far. Peaks are of the whole run, not of these moments alone."+standing(r.StandS))
}

// standing says what the standing after the run is for; nothing without it.
func standing(s float64) string {
	if s <= 0 {
		return ""
	}
	return " Limits and hot tyre above also cover " + span(s) + " of standing after it."
}

// energy prints where the braking energy went.
func (v rigView) energy(b *bytes.Buffer, e thermal.BenchEnergy) {
	b.WriteString("\nEnergy, kJ, and % of what was braked\n")
	t := table{right: map[int]bool{1: true, 2: true}}
	type line struct {
		name string
		j    float64
	}
	rows := []line{{"braked", e.BrakedJ}}
	if e.SunJ > 0 {
		rows = append(rows, line{"from the sun", e.SunJ})
	}
	for _, row := range append(rows, []line{
		{"into the pads", e.PadsJ}, {"into the rim", e.InJ},
		{"  stored in rim and tyre", e.StoredJ}, {"  lost to the air", e.LostJ},
	}...) {
		t.row(row.name, fixed(row.j/1e3, 1), percent(row.j, e.BrakedJ))
	}
	t.print(b, "  ")
}
