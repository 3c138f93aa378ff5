package plots

import (
	"slices"
	"strings"

	"rimheat/thermal"
)

// Cautions that stand elsewhere on the page than in the list begin like this.
const roadCaution, makerCaution = "On the road: ", "The rim maker's limits"

// cautions takes all cautions over: what is said of the road, what puts the rim's
// maker first, and the others. None is left out and none is shortened.
func (r *reporter) cautions() (road []string, maker string, others []string) {
	for _, c := range r.says().Cautions {
		c = r.told(thermal.ForCustomers(c))
		rest, isRoad := strings.CutPrefix(c, roadCaution)
		switch {
		case isRoad && road == nil:
			road = []string{capital(rest)}
		case strings.HasPrefix(c, makerCaution) && maker == "":
			maker = c
		default:
			others = append(others, c)
		}
	}
	if road == nil {
		road = []string{
			"Use both brakes, and brake before a bend rather than in it.",
			"On a steep road a middle speed held with the brakes heats rims most; never ride faster than is safe to spare them.",
			"Stop at once if a brake pulses, smells or fades. Never touch a hot rim.",
		}
	}
	if maker == "" {
		maker = "The rim maker's limits and instructions come before anything printed here."
	}
	return append(road, "Let rests be minutes: a standing wheel cools slowly."), maker, others
}

// checks is what to look at on the bicycle before and after, with this ride's parts.
func (r *reporter) checks() []reportItem {
	pads, walls, sides := r.parts(), r.parts(), r.parts()
	carbon := false
	for i := range r.a.Rims {
		rim := &r.a.Rims[i]
		carbon = carbon || rim.Composite
		pads.add(i, r.word(rim.Pad))
		sides.add(i, r.word(rim.TyreSide))
		if rim.WallM > 0 && finite(rim.WallM) {
			walls.add(i, number(1000*rim.WallM, 1)+" mm")
		}
	}
	pad := "made for this rim" + pads.text() + ", free of metal bits"
	if carbon {
		pad += "; on a carbon rim never any that have served on aluminium"
	}
	return []reportItem{
		{"Pads", pad + "."},
		{"Walls", "have worn brake-track walls measured; thinner ones are hotter and weaker" + walls.text() + "."},
		{"Tyres", r.tyres()},
		{"Tube and tape", "of a kind that bears the heat" + sides.text() + "."},
		{"After the ride", "look for a bulge, a soft spot, a burnt smell, a brake that pulses, glassy pads. With any of them do not use the wheel: have it inspected by a qualified mechanic."},
	}
}

// A partList tells what the ride was computed with, rims that share it together.
type partList struct {
	r     *reporter
	texts []string
	of    [][]string
}

func (r *reporter) parts() *partList { return &partList{r: r} }

func (l *partList) add(i int, text string) {
	if text == "" {
		return
	}
	k := slices.Index(l.texts, text)
	if k < 0 {
		k = len(l.texts)
		l.texts, l.of = append(l.texts, text), append(l.of, nil)
	}
	l.of[k] = append(l.of[k], l.r.tag(i))
}

// lines says each part after the letters of its rims.
func (l *partList) lines() []string {
	var out []string
	for k, t := range l.texts {
		out = append(out, strings.TrimSpace(listed(l.of[k])+" "+t))
	}
	return out
}

// text says all in brackets.
func (l *partList) text() string {
	if len(l.texts) == 0 {
		return ""
	}
	return " (here " + strings.Join(l.lines(), "; ") + ")"
}

// tyres says what the tyres' pressures come to.
func (r *reporter) tyres() string {
	s := "heat raises their pressure"
	said := false
	for i := range r.a.Rims {
		t := r.a.Rims[i].Tyre
		if !(t.ColdKPa > 0) || !finite(t.HotKPa) {
			continue
		}
		if !said {
			s += ": " + r.pressure(t.ColdKPa) + " cold" + r.ifAssumed("tyre-kpa") + " become"
		} else {
			s += ","
		}
		said = true
		s += " " + r.pressure(t.HotKPa)
		if tag := r.tag(i); tag != "" {
			s += " on " + tag
		}
		if t.MaxKPa != nil {
			s += " (" + r.pressure(*t.MaxKPa) + " allowed)"
		}
	}
	return s + "."
}
