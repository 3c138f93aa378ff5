package plots

import (
	"fmt"
	"slices"
	"strings"

	"rimheat/thermal"
)

// verdictLines says how a rim stands: by the draws first, where there are any.
func verdictLines(r *thermal.RimResult, u units) []string {
	stands := standText(r, u)
	if !byDraws(r) {
		return []string{together(stands+besides(r), overText(r), trackText(r, u))}
	}
	return []string{chanceText(r), together(stands, overText(r), trackText(r, u))}
}

// byDraws tells whether the verdict goes by draws.
func byDraws(r *thermal.RimResult) bool { return r.Risk != nil && finite(r.Risk.Chance.P) }

// chanceText says how a rim stands by the draws.
func chanceText(r *thermal.RimResult) string {
	return "a limit is reached in " + thermal.ChanceWords(r.Risk.Chance.P) + " of the draws" + besides(r)
}

// standText sets the central estimate of the peak against the limit, at the place that
// the rim is judged by.
func standText(r *thermal.RimResult, u units) string {
	const estimate = "central estimate "
	if !finite(r.LimitC) || !finite(r.MarginK) || !finite(r.JudgedPeakC) {
		s := "no limit to hold it against"
		if finite(r.PeakC) {
			s = estimate + u.tempText(r.PeakC) + ", " + s
		}
		return s
	}
	where, side, limit := "", " below the ", "limit of "
	if offTrack(r.LimitOn) {
		where = " at the " + r.LimitOn
	}
	if r.MarginK <= 0 {
		side = " over the "
	}
	if r.LimitAssumed {
		limit = "assumed " + limit
	}
	return estimate + u.tempText(r.JudgedPeakC) + where + ": " + thermal.Gap(r.MarginK, u.imperial) + side + limit + u.tempText(r.LimitC)
}

// besides names what a rim passes besides the deciding limit, and says if the
// road is in doubt where it is hottest or first over.
func besides(r *thermal.RimResult) string {
	s := ""
	for _, l := range r.Limits {
		if l.On != r.LimitOn && l.Verdict == thermal.Over {
			s = ", over on its " + l.On + " too"
			break
		}
	}
	if r.Tyre.Over {
		s += ", tyre pressure too high"
	}
	if r.PeakInDoubt {
		s += ", road in doubt there"
	}
	return s
}

// overText says for how long the rim is over its limit in all; "" if it is not.
func overText(r *thermal.RimResult) string {
	overS, ok := totalOverS(r.Over)
	if !ok {
		return ""
	}
	s := "over for " + timeText(overS)
	if len(r.Over) > 1 {
		s += " in all"
	}
	return s
}

// totalOverS is how long all stretches take together, s; ok is false where that is nothing
// or not known.
func totalOverS(over []thermal.OverSpan) (s float64, ok bool) {
	for _, o := range over {
		s += o.DurationS
	}
	return s, finite(s) && s > 0
}

// trackText says how hot the track gets where it is not what decides, with the limit
// that it may have.
func trackText(r *thermal.RimResult, u units) string {
	if !offTrack(r.LimitOn) || !finite(r.PeakC) {
		return ""
	}
	s := "track " + u.tempText(r.PeakC)
	for _, l := range r.Limits {
		if l.On == thermal.OnTrack && finite(l.LimitC) {
			limit := "limit "
			if l.Assumed {
				limit = "assumed limit "
			}
			s += " (" + limit + u.tempText(l.LimitC) + ")"
		}
	}
	return s
}

// together puts what there is into one sentence.
func together(parts ...string) string {
	return strings.Join(slices.DeleteFunc(parts, func(s string) bool { return s == "" }), "; ")
}

// crossingText says where the rim first passes its limit, without its tag.
func crossingText(r *thermal.RimResult, u units, routeM float64) string {
	return "passes its " + limitOf(r.LimitOn) + " at " + placeText(r.Over[0], u, routeM)
}

// placeText says where, when and how high a stretch over a limit begins.
func placeText(o thermal.OverSpan, u units, routeM float64) string {
	parts := []string{u.place(o.StartM, routeM)}
	if finite(o.StartS) {
		parts = append(parts, number(o.StartS/60, 0)+" min")
	}
	if finite(o.HeightM) {
		parts = append(parts, number(u.height(o.HeightM), 0)+" "+u.heightUnit())
	}
	return strings.Join(parts, ", ")
}

// footText is what the figure says of itself.
func (c *composer) footText() []string {
	rims := c.a.Rims
	s := "Lines: central estimate."
	signs := ""
	switch bands := len(c.banded()) > 0; {
	case bands:
		signs = "Bands and whiskers"
	case slices.ContainsFunc(c.gauges, func(g gauge) bool { return g.drawn.ok() }):
		signs = "Whiskers"
	}
	if d := c.a.Sampling; d != nil && signs != "" {
		s += fmt.Sprintf(" %s: nine of ten of %s draws (seed %d) of what is not known exactly, above all how well air cools a rim,"+
			" the highest on each %s of road by itself: no ride need follow an edge.", signs, number(float64(d.Samples), 0), d.Seed, c.stretchText())
	} else {
		s += " How well air cools a rim (the film coefficient) is uncertain."
	}
	out := []string{s}
	if n := len(c.banded()); n > 0 && len(rims) > mostBands {
		out = append(out, "Only "+tagList(c.banded(), len(rims))+" have a band: more would hide each other.")
	}
	return append(out, assumedText(rims)+makerHolds)
}

// stretchText is how long the stretches are that bands are told for.
func (c *composer) stretchText() string {
	for i := range c.a.Rims {
		if l := c.a.Rims[i].Along; l != nil && len(l.DistM) > 1 {
			m := c.u.height(l.DistM[1] - l.DistM[0])
			return number(m, 0) + " " + c.u.heightUnit()
		}
	}
	return "stretch"
}

// assumedText says whose limits are assumed.
func assumedText(rims []thermal.RimResult) string {
	var some []int
	all, part := true, false
	for i := range rims {
		n := 0
		for _, l := range rims[i].Limits {
			if l.Assumed {
				n++
			}
		}
		if n > 0 || rims[i].LimitAssumed {
			some = append(some, i)
		}
		all = all && n == len(rims[i].Limits)
		part = part || 0 < n && n < len(rims[i].Limits)
	}
	switch {
	case len(some) == 0:
		return ""
	case all:
		return "All limits are assumed. "
	case part && len(rims) == 1:
		return "One of its limits is assumed. "
	case part:
		return "Limits of " + tagList(some, len(rims)) + " are assumed, if not all of them. "
	}
	return "The limits of " + tagList(some, len(rims)) + " are assumed. "
}
