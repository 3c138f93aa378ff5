package thermal

import (
	"fmt"
	"strings"

	"rimheat/thermal/air"
	"rimheat/thermal/rim"
)

// thinWallM: a carbon clincher's walls should be at least 3 mm each; 2 mm is
// too thin, 3.3 mm sound; common practice, no source.
const thinWallM = 3e-3

// Words is what is said of an assessment in one system of units.
type Words struct {
	Advice   string
	Cautions []string
}

// phrasing puts numbers into words in one system of units. JSON and the plain
// fields of Assessment are metric.
type phrasing struct{ imperial bool }

func (u phrasing) gap(k float64) string {
	if u.imperial {
		return fmt.Sprintf("%.0f °F", k*1.8)
	}
	return fmt.Sprintf("%.0f K", k)
}

func (u phrasing) place(m float64) string {
	if u.imperial {
		return fmt.Sprintf("mile %.1f", m/1609.344)
	}
	return fmt.Sprintf("km %.1f", m/1000)
}

func (u phrasing) temp(c float64) string {
	if u.imperial {
		return fmt.Sprintf("%.0f °F", c*1.8+32)
	}
	return fmt.Sprintf("%.0f °C", c)
}

func (u phrasing) words(a *Assessment, s Setup) Words {
	return Words{Advice: u.advise(a), Cautions: u.cautions(a, s)}
}

// advise gives the one line that follows from the verdicts.
func (u phrasing) advise(a *Assessment) string {
	var over, close, fine []RimResult
	for _, r := range a.Rims {
		switch r.Verdict {
		case Over:
			over = append(over, r)
		case Marginal:
			close = append(close, r)
		default:
			fine = append(fine, r)
		}
	}
	limit := func(r RimResult) string {
		word := "limit"
		if r.LimitAssumed {
			word = "assumed limit"
		}
		if r.LimitOn == OnTyreSide {
			word += " on the tyre side"
		}
		return word
	}
	switch {
	case len(over) == 0 && len(close) == 0:
		return fmt.Sprintf("By this central estimate %s within the limits on this road, ridden like this. That is no promise: read the cautions.", stay(fine))
	case len(over) == 0:
		r := closest(close)
		s := fmt.Sprintf("The %s comes within %s of its %s: treat it as too close to call", r.Name, u.gap(r.MarginK), limit(r))
		if len(fine) > 0 {
			return s + fmt.Sprintf("; prefer %s, ride lighter, in cooler air, or let the rims cool on the way.", names(fine))
		}
		return s + "; ride lighter, in cooler air, or let the rims cool on the way."
	default:
		r := closest(over)
		where := ""
		if len(r.Over) > 0 {
			where = ", first at " + u.place(r.Over[0].StartM)
		}
		it := "it"
		if len(over) > 1 {
			it = "the " + r.Name
		}
		s := fmt.Sprintf("Do not take %s on this road ridden like this: %s passes its %s by %s%s", names(over), it, limit(r), u.gap(-r.MarginK), where)
		if len(fine) > 0 {
			return s + fmt.Sprintf("; take %s.", names(fine))
		}
		if len(close) > 0 {
			return s + fmt.Sprintf("; even %s comes close to its limit.", names(close))
		}
		return s + "; none of the candidates fits: change the road, the load, the hour or the technique."
	}
}

// closest is the result with the least margin, the earlier one on a tie.
func closest(rs []RimResult) RimResult {
	best := rs[0]
	for _, r := range rs[1:] {
		if r.MarginK < best.MarginK {
			best = r
		}
	}
	return best
}

func names(rs []RimResult) string {
	var ns []string
	for _, r := range rs {
		ns = append(ns, "the "+r.Name)
	}
	return strings.Join(ns, " or ")
}

func stay(rs []RimResult) string {
	if len(rs) == 1 {
		return "the " + rs[0].Name + " stays"
	}
	return "all candidates stay"
}

// cautions lists what always holds and what this setup adds.
func (u phrasing) cautions(a *Assessment, s Setup) []string {
	var cs []string
	for _, r := range a.Rims {
		if r.Verdict == Over {
			cs = append(cs, fmt.Sprintf("The %s passes its limit in this estimate: a rim that has been too hot may fail later without warning.", r.Name))
		}
	}
	for _, w := range s.Wheels {
		m := w.Rim.Material
		if m.Composite && w.Rim.Kind == "clincher" && w.Rim.Geometry.WallM() < thinWallM-1e-9 {
			cs = append(cs, fmt.Sprintf("The %s has walls of %.1f mm each; for a carbon clincher under rim brakes about 3 mm is the least, 2 mm is too thin (common practice, no source).", w.Rim.Name, w.Rim.Geometry.WallM()*1e3))
		}
		if m.Composite != w.Pad.ForComposite {
			cs = append(cs, fmt.Sprintf("The pads (%s) are not meant for the track of the %s: never mix pads between aluminium and carbon rims.", w.Pad.Name, w.Rim.Name))
		}
	}
	assumed := false
	for _, r := range a.Rims {
		for _, l := range r.Limits {
			if l.Assumed && l.On == OnTrack {
				assumed = true
			}
		}
	}
	if assumed {
		c := rim.ResinClasses()[0]
		cs = append(cs, fmt.Sprintf("The carbon limit of %s is assumed, not known: real rims lie somewhere from %s to %s. Ask the rim's maker and give the figure with --rim-limit.", u.temp(c.LimitC), u.temp(c.LowC), u.temp(c.HighC)))
	}
	return append(cs,
		fmt.Sprintf("This is a central estimate. How well moving air cools a rim is known only within a factor of about %.1f either way, so peaks may lie well above what is shown.", air.FilmSpread),
		"The rim maker's limits and instructions, local rules, and the judgement of a qualified mechanic come before anything printed here.",
		"Rain, worn or contaminated pads, dragging brakes, a dented or damaged rim, wrong tyre pressure and an unsuitable tube or tape are not in the model.",
		"On the road: brake hard and short with both brakes, let the rims run free in between, stop early if a brake pulses, smells or fades, and never touch a hot rim.",
	)
}
