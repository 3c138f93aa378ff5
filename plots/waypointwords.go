package plots

import (
	"fmt"
	"math"
	"strings"

	"rimheat/thermal"
)

// Letters of a rim's name in a sentence, and in a list of several rims.
const (
	rimLetters    = 60
	listedLetters = 40
)

// cutLetters shortens a text to so many letters.
func cutLetters(s string, letters int) string {
	n := 0
	for i := range s {
		if n++; n == letters {
			if rest := []rune(s[i:]); len(rest) > 1 {
				return strings.TrimRight(s[:i], " ,.;:-") + "…"
			}
		}
	}
	return s
}

// plainRim is a rim's name in running text.
func plainRim(r *thermal.RimResult, i, letters int) string {
	for _, s := range []string{r.Name, r.ID} {
		if s = clean(s); s != "" {
			return cutLetters(s, letters)
		}
	}
	return fmt.Sprintf("rim %d", i+1)
}

// who names a rim with its tag.
func (m *wayMarker) who(i int) string {
	name := plainRim(&m.a.Rims[i], i, rimLetters)
	if t := tagOf(i, len(m.a.Rims)); t != "" {
		return "Rim " + t + " (" + name + ")"
	}
	return "The rim (" + name + ")"
}

func (m *wayMarker) at(atM float64) string {
	return m.u.place(atM, m.a.Route.DistanceM)
}

// limitedPart names what a limit is about.
func limitedPart(on string) string {
	switch on {
	case thermal.OnTrack, "":
		return "brake track"
	case thermal.OnTyreSide:
		return "tyre side (tube, tape, bead or cement)"
	}
	return cutLetters(clean(on), rimLetters)
}

func limitNoun(assumed bool) string {
	if assumed {
		return "assumed limit"
	}
	return "limit"
}

// limitWords says of a limit where and for how long it is reached, and how surely.
func (m *wayMarker) limitWords(i int, l thermal.LimitResult, over []thermal.OverSpan, chance *thermal.Chance) string {
	r := &m.a.Rims[i]
	s := fmt.Sprintf("%s: its %s first reaches its %s of %s here, at %s", m.who(i), limitedPart(l.On), limitNoun(l.Assumed), m.u.tempText(l.LimitC), m.at(over[0].StartM))
	if t := over[0].StartS; finite(t) {
		s += ", " + timeText(t) + " into the ride"
	}
	if total, ok := totalOverS(over); ok {
		s += "; it is over for " + timeText(total) + " in all"
	}
	s += ". Central estimate"
	if chance != nil && finite(chance.P) {
		s += "; this limit is reached in " + thermal.ChanceWords(chance.P) + " of the draws"
	}
	return s + "." + doubtWords(r)
}

func doubtWords(r *thermal.RimResult) string {
	if r.PeakInDoubt {
		return " The road is in doubt where this rim is hottest or first over its limit."
	}
	return ""
}

// hottestWords says how hot a rim gets, and what that is against its deciding limit.
func (m *wayMarker) hottestWords(i int) string {
	r := &m.a.Rims[i]
	s := fmt.Sprintf("%s is hottest here, at %s: brake track %s", m.who(i), m.at(r.PeakAtM), m.u.tempText(r.PeakC))
	if w := clean(r.PeakWheel); w != "" {
		s += ", " + w + " wheel"
	}
	if r.PeakInStop {
		s += ", while stopping at the end"
	}
	if finite(r.LimitC) && finite(r.MarginK) && finite(r.JudgedPeakC) {
		it := "This is "
		if offTrack(r.LimitOn) {
			it = fmt.Sprintf("Its %s comes to %s%s, ", limitedPart(r.LimitOn), m.u.tempText(r.JudgedPeakC), m.elsewhere(r))
		}
		side := "below"
		if r.MarginK <= 0 {
			side = "above"
		}
		s += fmt.Sprintf(". %s%s %s the %s of %s", it, thermal.Gap(r.MarginK, m.u.imperial), side, limitNoun(r.LimitAssumed), m.u.tempText(r.LimitC))
	}
	s += ". Central estimate"
	if k := r.Risk; k != nil && finite(k.TrackC.P05) && finite(k.TrackC.P95) && finite(k.Chance.P) {
		s += fmt.Sprintf("; nine draws in ten give the track %s to %s, and %s of the draws reach a limit", number(m.u.temp(k.TrackC.P05), 0), m.u.tempText(k.TrackC.P95), thermal.ChanceWords(k.Chance.P))
	}
	return s + "." + doubtWords(r)
}

// elsewhere says where the place of the deciding limit is hottest, if not with the track.
func (m *wayMarker) elsewhere(r *thermal.RimResult) string {
	for _, l := range r.Limits {
		if l.On == r.LimitOn && finite(l.PeakAtM) && m.at(l.PeakAtM) != m.at(r.PeakAtM) {
			return " at " + m.at(l.PeakAtM)
		}
	}
	return ""
}

// descentWords describes a descent and how hot each rim gets on it.
func (m *wayMarker) descentWords(i int) string {
	d := &m.a.Descents[i]
	s := fmt.Sprintf("Descent %d of %d, from %s", i+1, len(m.a.Descents), m.at(d.StartM))
	if finite(d.DropM) && finite(d.EndM) {
		s += fmt.Sprintf(": %s %s down over %s %s", number(m.u.height(d.DropM), 0), m.u.heightUnit(), number(m.u.dist(d.EndM-d.StartM), 1), m.u.distUnit())
	}
	if finite(d.MeanGrade) && d.MeanGrade != 0 {
		s += ", " + number(100*math.Abs(d.MeanGrade), 1) + " % in the mean"
	}
	var parts []string
	for k := range m.a.Rims {
		if p := m.descentRim(k, i); p != "" {
			parts = append(parts, p)
		}
	}
	if len(parts) > 0 {
		s += ". Brake track there, central estimate: " + strings.Join(parts, "; ")
	}
	return s + "."
}

// descentRim is how hot rim k gets on descent i, "" if that is not known.
func (m *wayMarker) descentRim(k, i int) string {
	r := &m.a.Rims[k]
	for _, d := range r.Descents {
		peak := math.Max(d.FrontPeakC, d.RearPeakC)
		if d.Index != i || !finite(peak) {
			continue
		}
		s := fmt.Sprintf("%s%s reaches %s", m.tag(k), plainRim(r, k, listedLetters), m.u.tempText(peak))
		// A temperature stands beside the limit of its own place alone.
		switch limit := limitNoun(r.LimitAssumed) + " there " + m.u.tempText(r.LimitC); {
		case !finite(r.LimitC):
		case !offTrack(r.LimitOn):
			s += " (" + limit + ")"
		case r.LimitOn == thermal.OnTyreSide && finite(d.TyreSidePeakC):
			s += ", its tyre side " + m.u.tempText(d.TyreSidePeakC) + " (" + limit + ")"
		}
		if r.Risk != nil {
			for _, c := range r.Risk.Descents {
				if c.Index == i && finite(c.Chance.P) {
					s += ", " + thermal.ChanceWords(c.Chance.P) + " of the draws reach a limit there"
				}
			}
		}
		return s
	}
	return ""
}

// standWords describes a rest that is part of the ride.
func (m *wayMarker) standWords(s thermal.Stand) string {
	if s.Recorded {
		return fmt.Sprintf("In the recording the rider stood here, at %s, for %s.", m.at(s.AtM), timeText(s.S))
	}
	return fmt.Sprintf("Planned stop at %s: %s. %s", m.at(s.AtM), m.rest(s.S, s.RollMps), restCare)
}

// restCare goes with every stop that is planned or advised.
const restCare = "Let the rims cool at a safe place off the road, and never touch a hot rim."

// restWords describes a stop that is advised for a rim.
func (m *wayMarker) restWords(i int, advice thermal.RestAdvice, s thermal.CoolStop) string {
	steep := ""
	if s.Steep() {
		steep = ", on a steep road: hold the bicycle"
	}
	stops := "this stop"
	switch n := len(advice.Stops); {
	case n == 2:
		stops = "both stops"
	case n > 2:
		stops = fmt.Sprintf("all %d stops", n)
	}
	if len(m.a.Setup.Stops) > 0 {
		stops += " and those planned"
	}
	serves := "few enough to call it within"
	if !advice.Serves {
		serves = "too many to call it within"
	}
	return fmt.Sprintf("Advised for %s, at %s: %s%s. With %s %s of %s draws reach a limit: %s. %s",
		smallFirst(m.who(i)), m.at(s.AtM), m.rest(s.S, s.RollMps), steep, stops, thermal.ChanceWords(advice.Chance.P), number(float64(advice.Draws), 0), serves, restCare)
}

func smallFirst(s string) string { return strings.ToLower(s[:1]) + s[1:] }

// rest says what to do at a stop.
func (m *wayMarker) rest(s, rollMps float64) string {
	if !(rollMps > 0) {
		return "stand for " + timeText(s)
	}
	speed := number(3.6*rollMps, 0) + " km/h"
	if m.u.imperial {
		speed = number(rollMps*3600/metresPerMile, 0) + " mph"
	}
	return "roll to and fro for " + timeText(s) + " at " + speed + ", brakes let go, where the road is empty and wide enough to turn"
}
