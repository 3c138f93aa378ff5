package main

import (
	"slices"
	"strings"

	"rimheat/thermal"
	"rimheat/thermal/ride"
	"rimheat/thermal/rim"
)

// answers are all inputs: flags win over the setup file.
type answers struct {
	flags, file *layer
	// full runs the full solver for every draw; draws is how many there are if
	// nobody says.
	full  bool
	draws int
}

// layers lists them, the stronger first.
func (a answers) layers() []*layer { return []*layer{a.flags, a.file} }

func (a answers) has(name string) bool { return a.flags.has(name) || a.file.has(name) }

// where says where an input that somebody gave stands, the stronger layer first.
func (a answers) where(name string) (where string, given bool) {
	for _, l := range a.layers() {
		if l.has(name) {
			return l.where(name), true
		}
	}
	return "", false
}

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
	for _, step := range []func(*thermal.Setup) error{a.style, a.numbers, a.stops, a.day, a.wheels, a.limits, a.pads, a.tyreSide, a.sampling, a.readings} {
		if err := step(&s); err != nil {
			return s, err
		}
	}
	for _, name := range inputNames() {
		if a.needless(&s, name) {
			continue
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

// needless says that nothing is assumed in place of an input that nobody gave.
func (a answers) needless(s *thermal.Setup, name string) bool {
	switch name {
	case "tyre-max-kpa": // without it a check is left out
		return true
	case "air-min", "air-max": // without them the air has no hours
		return true
	case "air-temp": // the day's two take its place
		return s.Weather.Daily.On
	}
	return false
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

// startName is the input that gives a ride its hour.
const startName = "start"

// day takes the hour of the start and the day's coolest and hottest air: all
// three of them, or none and one temperature for all hours.
func (a answers) day(s *thermal.Setup) error {
	start, where, started := a.text(startName)
	minWhere, coolest := a.where("air-min")
	maxWhere, hottest := a.where("air-max")
	const example = "--start 09:30 --air-min N --air-max N"
	switch {
	case !started && !coolest && !hottest:
		return nil
	case started && !coolest && !hottest:
		return badInput("%s: the hour changes nothing without the day's coolest and hottest air", where).hint("give both: %s", example)
	case !hottest:
		return badInput("%s: the day's hottest air is missing", minWhere).hint("give --air-max too: %s", example)
	case !coolest:
		return badInput("%s: the day's coolest air is missing", maxWhere).hint("give --air-min too: %s", example)
	case !started:
		return badInput("%s: the time at which the ride starts is missing", minWhere).hint("give --start too: %s", example)
	}
	if tempWhere, ok := a.where("air-temp"); ok {
		return badInput("%s: not together with %s", tempWhere, maxWhere).hint("leave out air-temp, and the air goes with the hour; or leave out start, air-min and air-max")
	}
	seconds, err := parseClock(where, start)
	if err != nil {
		return err
	}
	d := &s.Weather.Daily
	if d.MinK > d.MaxK {
		return badInput("%s: cooler than %s, the day's coolest air", maxWhere, minWhere).hint("give the cooler one as air-min, the hotter one as air-max")
	}
	d.On, d.StartS = true, seconds
	return nil
}

// parseClock reads a time of day, "09:30", as seconds since midnight.
func parseClock(where, s string) (float64, error) {
	hours, minutes, ok := strings.Cut(s, ":")
	h, hourOK := twoDigits(hours)
	m, minuteOK := twoDigits(minutes)
	if !ok || !hourOK || !minuteOK || h > 23 || m > 59 {
		return 0, badInput("%s %s: not a time of day", where, quoted(s)).hint("write hours and minutes as HH:MM, 00:00 to 23:59, for example 09:30")
	}
	return float64(3600*h + 60*m), nil
}

// twoDigits reads a number of two digits.
func twoDigits(s string) (n int, ok bool) {
	if len(s) != 2 {
		return 0, false
	}
	for _, c := range []byte(s) {
		if c < '0' || c > '9' {
			return 0, false
		}
		n = 10*n + int(c-'0')
	}
	return n, true
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
