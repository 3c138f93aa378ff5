package plots

import (
	"math"
	"strings"

	"rimheat/thermal"
)

// momentText says which wheel it is, where and when.
func (s *sectionSheet) momentText(r *thermal.RimResult) string {
	f := r.Field
	text := s.u.place(f.AtM, s.a.Route.DistanceM) + ", " + number(f.TimeS/60, 0) + " min"
	if w := s.tf.shown(f.Wheel); w != "" {
		text = w + " wheel, " + text
	}
	if r.PeakInStop {
		text += ", in the final stop"
	}
	if r.PeakInDoubt {
		text += ", road in doubt there"
	}
	return text
}

// mostWays is up to how many rims the way from track to spoke bed is told.
const mostWays = 4

// sectionWords tells what the picture shows, in the numbers of the rims shown.
func sectionWords(rims []thermal.RimResult, shown []int, u units) string {
	said := map[thermal.HeatHabit][]string{}
	var drops []string
	verb, warmest := "", math.Inf(-1)
	for _, i := range shown {
		f, tag := rims[i].Field, tagOf(i, len(rims))
		by := math.Round(u.temp(f.TrackC)) - math.Round(u.temp(f.SpokeBedC))
		drop := gapText(by, u)
		if len(shown) <= mostWays {
			drop += " over " + number(1e3*(f.DepthM-(f.TrackFromM+f.TrackToM)/2), 0) + " mm"
		}
		if tag != "" {
			drop += " in " + tag
		}
		v := "falls by "
		if by < 0 {
			v = "rises by "
		}
		// The verb is said where it is not that of the rim before.
		if v != verb {
			verb, drop = v, v+drop
		}
		drops = append(drops, drop)
		said[f.Habit()] = append(said[f.Habit()], tag)
		warmest = max(warmest, f.TrackC-f.AirC)
	}
	text := "From brake track to spoke bed the temperature " + listed(drops) + "."
	if warmest <= 0 {
		return text + " No track is warmer than the air."
	}
	if warmest < thermal.WarmK {
		return text + " No track is more than " + gapText(math.Ceil(u.temp(warmest)-u.temp(0)), u) + " warmer than the air."
	}
	var says []string
	for _, h := range []struct {
		habit     thermal.HeatHabit
		one, more string
		where     string
	}{
		{thermal.KeepsAtTrack, "keeps", "keep", "at the track"},
		{thermal.KeepsAbove, "keeps", "keep", "in track and rim bed"},
		{thermal.SpreadsAll, "spreads", "spread", "through the whole section"},
	} {
		tags := said[h.habit]
		if len(tags) == 0 {
			continue
		}
		who, verb, what := listed(tags), h.one, "its heat"
		if tags[0] == "" {
			who = "The rim"
		}
		if len(tags) > 1 {
			verb, what = h.more, "their heat"
		}
		if len(says) > 0 {
			what = "it"
		}
		says = append(says, who+" "+verb+" "+what+" "+h.where)
	}
	if len(says) == 0 {
		return text
	}
	return text + " " + strings.Join(says, "; ") + "."
}

// gapText writes a difference in the reader's degrees.
func gapText(degrees float64, u units) string {
	if math.Abs(degrees) < 1 {
		return "less than 1 " + u.gapUnit()
	}
	return number(math.Abs(degrees), 0) + " " + u.gapUnit()
}

// sectionFoot says what the picture is and what it is not.
func (s *sectionSheet) sectionFoot() []string {
	out := []string{
		"Central estimate, derived by the heat model on a section of straight walls; colours go straight from cell to cell. Brake track: as it is judged, the wall's mean and what the surface keeps over it for ten seconds.",
		"Pads, tyre and spoke are drawn for the eye only. How well air cools a rim is uncertain. " + makerHolds,
	}
	var missing []string
	for i := range s.a.Rims {
		if s.a.Rims[i].Field == nil {
			missing = append(missing, tagOf(i, len(s.a.Rims)))
		}
	}
	if len(missing) > 0 {
		out = append(out, "Without a section in this assessment: "+listed(missing)+".")
	}
	return out
}
