package thermal

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"rimheat/thermal/air"
)

// advise gives the line that follows from the verdicts, and what must be added
// to it: a tyre pressure over its maximum, and a hottest place on a road that is
// in doubt.
func (u phrasing) advise(a *Assessment) string {
	s := u.adviseRims(a)
	var tight, doubtful []RimResult
	for _, r := range a.Rims {
		if r.Tyre.Over {
			tight = append(tight, r)
		}
		if r.PeakInDoubt {
			doubtful = append(doubtful, r)
		}
	}
	if len(tight) > 0 {
		s += " The hot tyre on " + names(tight, " and ") + " passes the pressure that is allowed: see the cautions."
	}
	if len(doubtful) > 0 {
		s += " The road is in doubt where " + names(doubtful, " and ") + " " + verb(len(doubtful), "gets", "get") + " hottest or first " + verb(len(doubtful), "passes its limit", "pass their limits") + ": check the route there first."
	}
	return s
}

// adviseRims gives the one line that follows from the verdicts.
func (u phrasing) adviseRims(a *Assessment) string {
	by := map[Verdict][]RimResult{}
	for _, r := range a.Rims {
		by[r.Verdict] = append(by[r.Verdict], r)
	}
	over, near, within := by[Over], by[Marginal], by[Within]
	switch {
	case len(over) > 0:
		r := slices.MinFunc(over, byMargin)
		it := "it"
		if len(over) > 1 {
			it = "the " + r.Name
		}
		where := ""
		if len(r.Over) > 0 {
			where = ", first at " + u.place(r.Over[0].StartM)
		}
		s := fmt.Sprintf("Do not take %s on this road ridden like this: %s passes %s", names(over, " or "), it, u.by(r, where))
		if len(within) == 0 && len(near) == 0 {
			who := "none of the candidates fits"
			if len(a.Rims) == 1 {
				who = "it does not fit"
			}
			s += "; " + who + ": change the road, the load, the hour, the technique or the wheels."
			if len(over) > 1 {
				best := slices.MaxFunc(over, byMargin)
				how := "its " + limitWords(best) + " by " + u.gap(best.MarginK)
				if best.MarginK > 0 {
					how = "a limit in " + ChanceWords(best.Risk.Chance.P) + " of the draws"
				}
				s += fmt.Sprintf(" Nearest to fitting is the %s, over %s.", best.Name, how)
			}
			return s
		}
		if len(within) > 0 {
			s += "; " + stays(within)
		}
		if len(near) > 0 {
			s += "; " + nearly(near)
		}
		return s + "."
	case len(near) > 0:
		r := slices.MinFunc(near, byMargin)
		s := fmt.Sprintf("The %s comes within %s of its %s", r.Name, u.gap(r.MarginK), limitWords(r))
		switch {
		case r.Risk != nil && r.MarginK <= 0:
			s = fmt.Sprintf("The %s passes its %s by %s in the central estimate, but only in %s of the draws", r.Name, limitWords(r), u.gap(r.MarginK), ChanceWords(r.Risk.Chance.P))
		case r.Risk != nil:
			s = fmt.Sprintf("The %s passes a limit in %s of the draws, though its central estimate is %s below its %s", r.Name, ChanceWords(r.Risk.Chance.P), u.gap(r.MarginK), limitWords(r))
		}
		s += ": too close to call"
		if len(within) > 0 {
			s += "; " + stays(within)
		}
		return s + ". Ride lighter, in cooler air, or let the rims cool on the way."
	}
	s := stays(within)
	return strings.ToUpper(s[:1]) + s[1:] + ". That is an estimate and no promise: read the cautions."
}

// by says which limit a rim passes, by how much, where first, and how surely.
func (u phrasing) by(r RimResult, where string) string {
	which := "its " + limitWords(r)
	switch {
	case r.Risk == nil:
		return which + " by " + u.gap(r.MarginK) + where
	case r.MarginK <= 0:
		return which + " by " + u.gap(r.MarginK) + where + " (central estimate; a limit is passed in " + ChanceWords(r.Risk.Chance.P) + " of the draws)"
	}
	return "a limit in " + ChanceWords(r.Risk.Chance.P) + " of the draws, though not in the central estimate"
}

// nearly says that rims only just stay within their limits.
func nearly(near []RimResult) string {
	if near[0].Risk == nil {
		return names(near, " and ") + " only just " + verb(len(near), "stays below its limit", "stay below their limits")
	}
	var parts []string
	for _, r := range near {
		parts = append(parts, fmt.Sprintf("the %s passes a limit in %s of the draws", r.Name, ChanceWords(r.Risk.Chance.P)))
	}
	return strings.Join(parts, ", ")
}

// ChanceWords puts a part of the draws into words: whole per cent, no certainty,
// and no rounding up to what would be another verdict.
func ChanceWords(p float64) string {
	for _, edge := range []float64{MarginalChance, OverChance} {
		if p < edge && math.Round(100*p) >= 100*edge {
			return fmt.Sprintf("just under %.0f %%", 100*edge)
		}
	}
	switch {
	case math.Round(100*p) < 1:
		return "under 1 %"
	case math.Round(100*p) > 99:
		return "over 99 %"
	}
	return fmt.Sprintf("%.0f %%", 100*p)
}

// stays says that rims stay within their limits, and how firmly.
func stays(rs []RimResult) string {
	var parts []string
	for _, r := range rs {
		if r.Risk != nil {
			parts = append(parts, fmt.Sprintf("the %s stays within: a limit is passed in %s of the draws", r.Name, ChanceWords(r.Risk.Chance.P)))
		}
	}
	if len(parts) > 0 {
		return strings.Join(parts, "; ")
	}
	var firm, soft []RimResult
	for _, r := range rs {
		if r.PoorCooling.MarginK > 0 {
			firm = append(firm, r)
		} else {
			soft = append(soft, r)
		}
	}
	if n := len(firm); n > 0 {
		parts = append(parts, fmt.Sprintf("%s %s within by this estimate, even if air cools %.1f times less than assumed", names(firm, " and "), verb(n, "stays", "stay"), air.FilmSpread))
	}
	if n := len(soft); n > 0 {
		parts = append(parts, fmt.Sprintf("%s %s within by this estimate, but not if air cools %.1f times less than assumed", names(soft, " and "), verb(n, "stays", "stay"), air.FilmSpread))
	}
	return strings.Join(parts, "; ")
}

func verb(n int, one, many string) string {
	if n == 1 {
		return one
	}
	return many
}

// limitWords names the limit that decides.
func limitWords(r RimResult) string {
	word := "limit"
	if r.LimitAssumed {
		word = "assumed limit"
	}
	switch r.LimitOn {
	case OnTyreSide:
		word += " on the tyre side"
	case OnFairing:
		word += " of the fairing"
	}
	return word
}

// byMargin orders results, the tightest first; see WorseFirst.
func byMargin(a, b RimResult) int { return WorseFirst(&a, &b) }

// WorseFirst orders candidates, the likeliest to pass a limit first, then the one with the
// least margin. What has no chance or no margin stands last.
func WorseFirst(a, b *RimResult) int {
	key := func(r *RimResult) (chance, marginK float64) {
		chance, marginK = -1, math.Inf(1)
		if r.Risk != nil && !math.IsNaN(r.Risk.Chance.P) {
			chance = r.Risk.Chance.P
		}
		if !math.IsNaN(r.MarginK) {
			marginK = r.MarginK
		}
		return chance, marginK
	}
	p, k := key(a)
	q, m := key(b)
	return cmp.Or(cmp.Compare(q, p), cmp.Compare(k, m))
}

func names(rs []RimResult, join string) string {
	var ns []string
	for _, r := range rs {
		ns = append(ns, r.Name)
	}
	return nameList(ns, join)
}

// nameList joins names: "the A", "the A and the B", "the A, the B and the C".
func nameList(names []string, join string) string {
	n := len(names) - 1
	if n < 1 {
		return "the " + strings.Join(names, "")
	}
	return "the " + strings.Join(names[:n], ", the ") + join + "the " + names[n]
}
