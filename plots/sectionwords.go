package plots

import (
	"math"
	"strings"

	"rimheat/thermal"
)

// momentText says which wheel it is, where and when.
func (s *sectionSheet) momentText(r *thermal.RimResult) string {
	f := r.Field
	decimals := 1
	if s.a.Route.DistanceM < 5000 {
		decimals = 2
	}
	where := "km " + number(s.u.dist(f.AtM), decimals)
	if s.u.imperial {
		where = "mile " + number(s.u.dist(f.AtM), decimals)
	}
	text := where + ", " + number(f.TimeS/60, 0) + " min"
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

// What a rim does with its heat is told by the part of the track's warmth over the air
// that is gone at the spoke bed: from keepsPart on the heat is kept above, up to
// spreadsPart it is spread. It is kept at the track alone where bedPart is gone at the
// rim bed already. Of a rim less than warmK over the air nothing is said. Common
// practice, no source.
const (
	keepsPart, spreadsPart = 0.6, 0.3
	bedPart                = 0.2
	warmK                  = 15.0
	// mostWays is up to how many rims the way from track to spoke bed is told.
	mostWays = 4
)

// A heatHabit is what a rim does with its heat.
type heatHabit int

const (
	habitNone heatHabit = iota
	habitKeeps
	habitKeepsAbove
	habitSpreads
)

func habitOf(f *thermal.Field) heatHabit {
	warm, drop := f.TrackC-f.AirC, f.TrackC-f.SpokeBedC
	switch {
	case !(warm >= warmK):
		return habitNone
	case drop >= keepsPart*warm && f.TrackC-f.BedC >= bedPart*warm:
		return habitKeeps
	case drop >= keepsPart*warm:
		return habitKeepsAbove
	case drop >= 0 && drop <= spreadsPart*warm:
		return habitSpreads
	}
	return habitNone
}

// sectionWords tells what the picture shows, in the numbers of the rims shown.
func sectionWords(rims []thermal.RimResult, shown []int, u units) string {
	said := map[heatHabit][]string{}
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
		said[habitOf(f)] = append(said[habitOf(f)], tag)
		warmest = max(warmest, f.TrackC-f.AirC)
	}
	text := "From brake track to spoke bed the temperature " + listed(drops) + "."
	if warmest <= 0 {
		return text + " No track is warmer than the air."
	}
	if warmest < warmK {
		return text + " No track is more than " + gapText(math.Ceil(u.temp(warmest)-u.temp(0)), u) + " warmer than the air."
	}
	var says []string
	for _, h := range []struct {
		habit     heatHabit
		one, more string
		where     string
	}{
		{habitKeeps, "keeps", "keep", "at the track"},
		{habitKeepsAbove, "keeps", "keep", "in track and rim bed"},
		{habitSpreads, "spreads", "spread", "through the whole section"},
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
