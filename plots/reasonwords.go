package plots

import (
	"strings"

	"rimheat/thermal"
)

// reasonWords says in three lines how a rim stands by the draws.
func reasonWords(r *thermal.RimResult, u units) []string {
	k := r.Risk
	return []string{
		verdictWord(r.Verdict) + "a limit is reached in " + thermal.ChanceWords(k.Chance.P) + " of the draws" + besides(r),
		"nine of ten draws end " + fromTo(r.DecidingMarginK(), u),
		decidingText(r, u),
	}
}

func verdictWord(v thermal.Verdict) string {
	if s := clean(string(v)); s != "" {
		return s + ": "
	}
	return ""
}

// fromTo writes a band of margins.
func fromTo(p thermal.Percentiles, u units) string {
	lo, hi := spareText(p.P05, u), spareText(p.P95, u)
	if lo == hi {
		return lo
	}
	// The words behind the first number go where they are those of the second.
	if s, cut := strings.CutSuffix(lo, overWord); cut && strings.HasSuffix(hi, overWord) {
		lo = s
	}
	if s, cut := strings.CutSuffix(lo, spareWord); cut && strings.HasSuffix(hi, spareWord) {
		lo = s
	}
	return lo + " to " + hi
}

const overWord, spareWord = " over", " to spare"

// spareText says how far a margin is from its limit, and on which side.
func spareText(marginK float64, u units) string {
	gap := thermal.Gap(marginK, u.imperial)
	if marginK <= 0 {
		return gap + overWord
	}
	return gap + spareWord
}

// decidingText names the limit that the margin is held against.
func decidingText(r *thermal.RimResult, u units) string {
	if !finite(r.LimitC) {
		return "no limit to hold it against"
	}
	where := "brake track"
	if offTrack(r.LimitOn) {
		where = clean(r.LimitOn)
	}
	s := "deciding limit: " + where + ", " + u.tempText(r.LimitC)
	if !r.LimitAssumed {
		return s + ", the rim maker's figure as it was given"
	}
	s += ", assumed"
	for _, l := range r.Limits {
		if l.On == r.LimitOn && l.LowC < l.HighC && finite(l.LowC) && finite(l.HighC) {
			return s + " (believed to lie from " + number(u.temp(l.LowC), 0) + " to " + u.tempText(l.HighC) + ")"
		}
	}
	return s
}
