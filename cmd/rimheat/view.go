package main

import (
	"bytes"
	"fmt"
	"slices"
	"strings"

	"rimheat/thermal"
)

// A textView prints an assessment for people. It converts units and computes
// nothing.
type textView struct {
	units   screenUnits
	palette palette
}

// labelWidth is the column of labels at the left.
const labelWidth = 11

// assessment prints the whole of it.
func (v textView) assessment(b *bytes.Buffer, a *thermal.Assessment) {
	v.answer(b, a)
	v.route(b, a.Route)
	v.setup(b, a)
	v.descents(b, a)
	v.sure(b, a)
	v.outlook(b, a)
	v.ledger(b, a)
	for _, r := range a.Rims {
		v.rim(b, r)
	}
	say := thermal.Words{Advice: a.Advice, Cautions: a.Cautions}
	if v.units.imperial {
		say = a.Imperial
	}
	b.WriteString("\n")
	hanging(b, "", "Advice: "+say.Advice)
	if len(say.Cautions) > 0 {
		b.WriteString("\nCautions:\n")
		for _, c := range say.Cautions {
			hanging(b, "  - ", c)
		}
	}
}

// answer prints the name of the road and what came out, a line per candidate.
func (v textView) answer(b *bytes.Buffer, a *thermal.Assessment) {
	name := strings.TrimSpace(clean(a.Route.Name))
	if name == "" {
		name = "Route without a name"
	}
	hanging(b, "", name)
	widest := 0
	for _, r := range a.Rims {
		widest = max(widest, runes(clean(r.ID)))
	}
	for _, r := range a.Rims {
		id := clean(r.ID)
		v.verdictLine(b, "  "+id+strings.Repeat(" ", widest-runes(id)+2), r, limitName(r), inDraws(r)+alsoOver(r))
	}
	b.WriteString("\n")
}

// route prints what road it is and what was repaired in it.
func (v textView) route(b *bytes.Buffer, r thermal.RouteSummary) {
	u := v.units
	labelled(b, "road", fmt.Sprintf("%s, climb %s, drop %s, lowest %s, highest %s", u.road(r.DistanceM), u.height(r.ClimbM), u.height(r.DropM), u.height(r.LowestM), u.height(r.HighestM)))
	how := ", ending in a stop"
	if r.Replay != nil {
		how = " as recorded" + stopsOf(r.Replay)
	}
	labelled(b, "ride", fmt.Sprintf("%s%s, then %s of standing; from %s points in the file", span(r.DurationS), how, span(thermal.StandS), fixed(float64(r.Points), 0)))
	if r.Heights.Text != "" {
		labelled(b, "heights", r.Heights.Text)
	}
	for _, rep := range r.Repairs {
		labelled(b, "in the file", rep.Text)
	}
}

// stopsOf says how often and how long a recorded rider stood.
func stopsOf(r *thermal.Replay) string {
	switch r.Stops {
	case 0:
		return ", without a stop"
	case 1:
		return ", standing " + span(r.StoodS) + " of it in one stop"
	}
	return fmt.Sprintf(", standing %s of it in %s stops", span(r.StoodS), fixed(float64(r.Stops), 0))
}

// setup prints who rides what in which weather, and what of it is assumed.
func (v textView) setup(b *bytes.Buffer, a *thermal.Assessment) {
	u, s := v.units, a.Setup
	note := func(text, name string) string {
		if slices.Contains(s.Assumed, name) {
			return text + " (assumed)"
		}
		return text
	}
	b.WriteString("\n")
	labelled(b, "load", fmt.Sprintf("%s, %s, %s; %s in all",
		note("rider "+u.mass(s.RiderKg), "rider-kg"), note("bicycle "+u.mass(s.BikeKg), "bike-kg"), note("luggage "+u.mass(s.LuggageKg), "luggage-kg"), u.mass(s.TotalKg)))

	at := "at " + u.height(s.AtHeightM)
	if slices.Contains(s.Assumed, "air-temp-at") {
		at = "at the lowest point, " + u.height(s.AtHeightM)
	}
	warm := note(u.airTemp(s.AirTempC), "air-temp") + " " + note(at, "air-temp-at")
	if d := s.DayAir; d != nil {
		warm = u.dayAir(d) + "; the day's " + note(at, "air-temp-at") + ", coolest at " + clean(d.CoolestAt) + " and hottest at " + clean(d.HottestAt) + " (assumed)"
	}
	labelled(b, "air", warm+"; "+note(lapse(s.LapseKPerM), "lapse"))
	wind := note("no wind", "wind")
	if s.WindMps != 0 {
		wind = note("wind "+u.wind(s.WindMps), "wind") + " " + note("from "+brief(s.WindFrom, 0)+"°", "wind-from")
	}
	labelled(b, "", wind+"; "+note("humidity "+brief(100*s.Humidity, 0)+" %", "humidity"))
	sun := note("no sun on the rims", "sun")
	if s.SunWPerM2 > 0 {
		sun = note("sunshine "+brief(s.SunWPerM2, 0)+" W/m2", "sun")
	}
	road := note("air over the road no warmer", "road-air")
	if s.RoadAirK > 0 {
		road = note("air over the road "+u.warmth(s.RoadAirK)+" warmer", "road-air")
	}
	labelled(b, "", sun+"; "+road)
	labelled(b, "drag", note("CdA "+brief(s.CdAM2, 3)+" m2", "cda")+", "+note("Crr "+brief(s.Crr, 4), "crr"))
	v.riding(b, s, a.Route.Replay != nil, note)
	for i, k := range s.Stops {
		label := ""
		if i == 0 {
			label = "rests"
		}
		labelled(b, label, span(k.S)+" at "+u.place(k.AtM)+", "+u.height(k.HeightM))
	}
	labelled(b, "tyres", note(u.pressure(s.TyreKPa)+" cold, as warm as the air at the start", "tyre-kpa"))
	v.learned(b, s)
	var kit []string
	for _, k := range []struct{ name, text string }{{"rim", "rims"}, {"pads", "pads"}, {"tyre-side", "tyre side"}} {
		if slices.Contains(s.Assumed, k.name) {
			kit = append(kit, k.text)
		}
	}
	if len(kit) > 0 {
		labelled(b, "wheels", listed(kit)+" not named: the usual ones are taken (assumed)")
	}
}

// learned prints what measured temperatures have moved.
func (v textView) learned(b *bytes.Buffer, s thermal.SetupSummary) {
	if len(s.Readings) == 0 {
		return
	}
	var parts []string
	for _, l := range s.Learned {
		in := thermal.LessonInput{Kind: l.Kind, Unit: l.Unit}
		text := clean(l.Name) + " " + lessonMiddle(in, l.Value)
		if l.RimID != "" {
			text += " (" + clean(l.RimID) + " alone)"
		}
		parts = append(parts, text)
	}
	labelled(b, "learned", strings.Join(parts, "; ")+"; from "+strings.Join(s.Readings, " and "))
}

// dayAir says what air the ride meets, and of which day.
func (u screenUnits) dayAir(d *thermal.DayAir) string {
	met := u.temp(d.WarmestMetC)
	if coolest := u.degrees(d.CoolestMetC); coolest != u.degrees(d.WarmestMetC) {
		met = coolest + " to " + met
	}
	least, _ := u.in(d.AirMinC, temperature, "°C")
	return fmt.Sprintf("%s over the ride (day's %s to %s, starting %s)", met, brief(least, 1), u.airTemp(d.AirMaxC), clean(d.Start))
}

// lapse says how the air cools with height; it stays in K per km.
func lapse(kPerM float64) string {
	switch {
	case kPerM > 0:
		return brief(kPerM*1000, 2) + " K cooler per km higher"
	case kPerM < 0:
		return brief(-kPerM*1000, 2) + " K warmer per km higher"
	}
	return "the same at every height"
}

// riding prints the technique. What a named style sets is not assumed.
func (v textView) riding(b *bytes.Buffer, s thermal.SetupSummary, replayed bool, note func(text, name string) string) {
	u := v.units
	if replayed {
		labelled(b, "style", fmt.Sprintf("speeds as recorded; %s, %s",
			note(brief(100*s.FrontShare, 0)+" % of the braking in front", "front-share"), note(sharedBrakes(s.Habit), "brake-habit")))
		return
	}
	labelled(b, "style", note(clean(s.Style), "style"))
	labelled(b, "", fmt.Sprintf("%s, %s in bends, %s before them",
		note("at most "+u.speed(s.CapMps), "cap-kmh"), note(brief(s.CornerG, 2)+" g", "corner-g"), note(brief(s.BrakeG, 2)+" g", "brake-g")))
	labelled(b, "", fmt.Sprintf("%s, %s, %s",
		note(brief(100*s.FrontShare, 0)+" % of the braking in front", "front-share"), note(habitWords(s.Habit), "brake-habit"), note(brief(s.PedalW, 0)+" W at the pedals on the flat and uphill", "pedal-w")))
}

// sharedBrakes says how a replay's braking goes to the wheels; the rest of a habit
// is in the recording.
func sharedBrakes(habit string) string {
	if habit == "alternate" {
		return habitWords(habit)
	}
	return "both brakes together"
}

// habitWords says in words how the brakes are used.
func habitWords(habit string) string {
	switch habit {
	case "drag":
		return "a steady drag on both brakes"
	case "pulse":
		return "brakes in pulses"
	case "alternate":
		return "front and rear brake by turns"
	}
	return "brakes: " + clean(habit)
}

// labelled prints a label and a text wrapped beside it. Lines without a label
// continue the one above.
func labelled(b *bytes.Buffer, label, text string) {
	hanging(b, "  "+label+strings.Repeat(" ", max(1, labelWidth-runes(label))), text)
}

// hanging prints a text that starts after lead and wraps below its start.
func hanging(b *bytes.Buffer, lead, text string) {
	indent := "\n" + strings.Repeat(" ", runes(lead))
	b.WriteString(lead + strings.Join(wrap(clean(text), proseWidth-runes(lead)), indent) + "\n")
}
