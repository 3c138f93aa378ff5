package main

import (
	"slices"

	"rimheat/thermal"
	"rimheat/thermal/ride"
	"rimheat/thermal/rim"
)

// answers are all inputs: flags win over the setup file.
type answers struct {
	flags, file *layer
}

// layers lists them, the stronger first.
func (a answers) layers() []*layer { return []*layer{a.flags, a.file} }

func (a answers) has(name string) bool { return a.flags.has(name) || a.file.has(name) }

// text gives a word and where it stands.
func (a answers) text(name string) (value, where string, given bool) {
	for _, l := range a.layers() {
		if v, ok := l.texts[name]; ok {
			return v, l.where(name), true
		}
	}
	return "", "", false
}

// setup turns the answers into what the computation takes, SI and kelvin. What
// nobody gave keeps its default and is listed in Assumed.
func (a answers) setup() (thermal.Setup, error) {
	s := thermal.DefaultSetup()
	for _, step := range []func(*thermal.Setup) error{a.style, a.numbers, a.wheels, a.limits, a.pads, a.tyreSide} {
		if err := step(&s); err != nil {
			return s, err
		}
	}
	for _, name := range inputNames() {
		if name == "tyre-max-kpa" {
			continue // without it nothing is assumed, a check is left out
		}
		if !a.has(name) && !(setByStyle(name) && a.has("style")) {
			s.Assumed = append(s.Assumed, name)
		}
	}
	if err := s.Validate(); err != nil {
		return s, badInput("%s", err)
	}
	return s, nil
}

// style takes a named style and the habit, which overrides the style's.
func (a answers) style(s *thermal.Setup) error {
	if id, where, ok := a.text("style"); ok {
		st, found := thermal.StyleByID(id)
		if !found {
			return notOneOf(where, "style", id, styleIDs())
		}
		s.Style = st
	}
	if h, where, ok := a.text("brake-habit"); ok {
		if !slices.Contains(habits(), h) {
			return notOneOf(where, "brake habit", h, habits())
		}
		s.Style.Habit = ride.Habit(h)
	}
	return nil
}

func (a answers) numbers(s *thermal.Setup) error {
	for _, l := range []*layer{a.file, a.flags} {
		for _, n := range numbers() {
			v, given, err := l.number(n)
			if err != nil {
				return err
			}
			if given {
				n.set(s, v)
			}
		}
	}
	return nil
}

// wheels takes the candidates of the strongest layer that names any.
func (a answers) wheels(s *thermal.Setup) error {
	for _, l := range a.layers() {
		if len(l.rims) == 0 {
			continue
		}
		s.Wheels = nil
		for i, id := range l.rims {
			if slices.Contains(l.rims[:i], id) {
				return badInput("%s: %s is named twice", l.where("rim"), id)
			}
			sec, err := rimFor(l.where("rim"), l.rimPath(id))
			if err != nil {
				return err
			}
			if slices.ContainsFunc(s.Wheels, func(w thermal.Wheel) bool { return w.Rim.ID == sec.ID }) {
				return badInput("%s: a second rim is called %s", l.where("rim"), sec.ID).hint("give the rim file another name")
			}
			s.Wheels = append(s.Wheels, thermal.NewWheel(sec))
		}
		return nil
	}
	return nil
}

// limits gives the candidates their makers' figures.
func (a answers) limits(s *thermal.Setup) error {
	for _, l := range []*layer{a.file, a.flags} {
		seen := map[string]bool{}
		for _, lim := range l.limits {
			i := slices.IndexFunc(s.Wheels, func(w thermal.Wheel) bool { return w.Rim.ID == lim.rim })
			if i < 0 {
				return notACandidate(lim, s.Wheels)
			}
			if seen[lim.rim] {
				return badInput("%s: given twice", lim.where)
			}
			seen[lim.rim] = true
			c, err := l.metric(lim.value, temperature, "°C", rimLimitLo, rimLimitHi, lim.where)
			if err != nil {
				return err
			}
			s.Wheels[i].Rim.MakerLimitK = c + kelvinAt0C
		}
	}
	return nil
}

func notACandidate(lim rimLimit, wheels []thermal.Wheel) *failure {
	if _, known := thermal.RimByID(lim.rim); known {
		return badInput("%s: this rim is not a candidate", lim.where).hint("add it with --rim %s", lim.rim)
	}
	var ids []string
	for _, w := range wheels {
		ids = append(ids, w.Rim.ID)
	}
	f := badInput("%s: no rim is called %s", lim.where, quoted(lim.rim))
	if near := nearest(lim.rim, ids); len(near) > 0 {
		return f.hint("did you mean %s?", either(near))
	}
	return f.hint("the candidates are %s", listed(ids))
}

// pads fits the named pad to the rims of its material; the others keep what
// the trade would fit.
func (a answers) pads(s *thermal.Setup) error {
	id, where, given := a.text("pads")
	if !given {
		return nil
	}
	pad, found := thermal.PadByID(id)
	if !found {
		return notOneOf(where, "pad", id, padIDs())
	}
	fitted := false
	for i := range s.Wheels {
		if w := &s.Wheels[i]; w.Rim.TrackMaterial().Composite == pad.ForComposite {
			w.Pad, fitted = pad, true
		}
	}
	if !fitted {
		return badInput("%s %s: these are %s and fit no candidate rim", where, id, pad.Name)
	}
	return nil
}

func (a answers) tyreSide(s *thermal.Setup) error {
	id, where, given := a.text("tyre-side")
	if !given {
		return nil
	}
	t, found := thermal.TyreSideByID(id)
	if !found {
		return notOneOf(where, "tyre side", id, tyreSideIDs())
	}
	for i := range s.Wheels {
		s.Wheels[i].TyreSide = t
	}
	return nil
}

// The identifiers of the built-in parts, in their own order.

func rimIDs() []string   { return ids(rim.Rims(), func(p rim.Section) string { return p.ID }) }
func padIDs() []string   { return ids(rim.Pads(), func(p rim.Pad) string { return p.ID }) }
func styleIDs() []string { return ids(ride.Styles(), func(p ride.Style) string { return p.ID }) }
func tyreSideIDs() []string {
	return ids(rim.TyreSides(), func(p rim.TyreSide) string { return p.ID })
}

func ids[T any](parts []T, id func(T) string) []string {
	var out []string
	for _, p := range parts {
		out = append(out, id(p))
	}
	return out
}
