package main

import (
	"slices"
	"strings"

	"rimheat/thermal"
	"rimheat/thermal/rim"
)

// spec turns the flags into what the bench takes, SI and kelvin.
func (o rigOrder) spec() (thermal.BenchSpec, error) {
	l := o.flags
	none := thermal.BenchSpec{}
	value := map[string]float64{}
	var assumed []string
	for _, n := range rigNumbers() {
		v, given := l.numbers[n.name]
		if !given {
			value[n.name] = n.byDefault
			continue
		}
		var err error
		if value[n.name], err = l.metric(v, plain, n.Unit, n.Lo, n.Hi, l.where(n.name)); err != nil {
			return none, err
		}
	}
	if err := o.contradictions(); err != nil {
		return none, err
	}
	sec, err := o.rim()
	if err != nil {
		return none, err
	}
	s := thermal.NewBench(sec)
	if err := o.pads(&s); err != nil {
		return none, err
	}
	if id, given := l.texts["tyre-side"]; given {
		side, found := thermal.TyreSideByID(id)
		if !found {
			return none, notOneOf("--tyre-side", "tyre side", id, tyreSideIDs())
		}
		s.TyreSide = side
	}
	// What nobody gave and the run needs is assumed.
	program := []string{"kmh", "minutes", "airflow-kmh"}
	switch {
	case l.has("preset"):
		program = nil
	case l.has("duty"):
		program = []string{"airflow-kmh"}
	}
	if l.has("film") {
		program = slices.DeleteFunc(program, func(n string) bool { return n == "airflow-kmh" })
	}
	wanted := append([]string{"pads"}, program...)
	if l.has("flux") {
		wanted = wanted[1:]
	}
	for _, name := range append(wanted, "tyre-side", "air-temp", "tyre-kpa") {
		if !l.has(name) {
			assumed = append(assumed, name)
		}
	}
	s.Assumed = assumed
	s.AirK = value["air-temp"] + kelvinAt0C
	s.TyreGaugePa = value["tyre-kpa"] * 1e3
	s.SunWPerM2, s.FilmFactor = value["sun"], value["film-factor"]
	if l.has("tyre-max-kpa") {
		s.TyreMaxGaugePa = value["tyre-max-kpa"] * 1e3
	}
	if l.has("film") {
		s.FilmWPerM2K = value["film"]
	}
	if l.has("emissivity") {
		s.Emissivity = value["emissivity"]
	}
	if err := o.program(&s, value); err != nil {
		return none, err
	}
	s.EveryS = roundInterval(s.DurationS() / rigRows)
	if l.has("every") {
		s.EveryS = value["every"]
	}
	if err := s.Validate(); err != nil {
		return none, badInput("%s", err)
	}
	return s, nil
}

// contradictions refuses flags that say the same thing twice.
func (o rigOrder) contradictions() error {
	l := o.flags
	own := []string{"watts", "kmh", "minutes", "flux", "pulse"}
	for _, c := range []struct {
		name   string
		others []string
	}{
		{"preset", append([]string{"duty", "airflow-kmh"}, own...)},
		{"duty", own},
		{"flux", []string{"watts"}},
		{"film", []string{"airflow-kmh", "film-factor"}},
	} {
		for _, other := range c.others {
			if l.has(c.name) && l.has(other) {
				return badInput("--%s and --%s contradict each other", c.name, other).hint("leave out one of the two")
			}
		}
	}
	if !l.has("preset") && !l.has("duty") && !l.has("watts") && !l.has("flux") {
		return badInput("no braking given").hint("for example --watts 300, or a programme: --preset %s", either(rigPresetNames()))
	}
	return nil
}

// rim looks up a built-in rim or reads a rim file.
func (o rigOrder) rim() (rim.Section, error) {
	switch len(o.flags.rims) {
	case 0:
		return rim.Section{}, badInput("no rim given").hint("for example --rim carbon-deep, or a rim file of your own; rimheat parts lists the rims")
	case 1:
	default:
		return rim.Section{}, badInput("--rim: one rim at a time, but there is also %s", quoted(o.flags.rims[1]))
	}
	return rimFor("--rim", o.flags.rims[0])
}

func (o rigOrder) pads(s *thermal.BenchSpec) error {
	id, given := o.flags.texts["pads"]
	switch {
	case id == noPads, !given && o.flags.has("flux"):
		s.NoPads = true
	case o.flags.has("flux"):
		return badInput("--flux and --pads %s contradict each other", id).hint("a flux goes straight into the rim: leave out --pads")
	case given:
		pad, found := thermal.PadByID(id)
		if !found {
			return notOneOf("--pads", "pad", id, append(padIDs(), noPads))
		}
		s.Pad = pad
	}
	return nil
}

// program fills in what the brake does.
func (o rigOrder) program(s *thermal.BenchSpec, value map[string]float64) error {
	l := o.flags
	if name, ok := l.texts["preset"]; ok {
		for _, p := range thermal.BenchProgrammes() {
			if p.Name == name {
				s.Preset, s.Spans = p.BenchPreset, p.Spans
				return nil
			}
		}
		return notOneOf("--preset", "programme", name, rigPresetNames())
	}
	if path, ok := l.texts["duty"]; ok {
		text, err := readRigFile("--duty", path, maxDutyBytes)
		if err != nil {
			return err
		}
		if s.Spans, err = parseDuty(path, text, s.NoPads); err != nil {
			return err
		}
		for i := range s.Spans {
			s.Spans[i].AirMps = s.Spans[i].RollMps
			if l.has("airflow-kmh") {
				s.Spans[i].AirMps = value["airflow-kmh"] / 3.6
			}
		}
		return nil
	}
	b := thermal.BenchSpan{Seconds: value["minutes"] * 60, RollMps: value["kmh"] / 3.6, AirMps: value["kmh"] / 3.6}
	if l.has("watts") {
		b.PowerW = value["watts"]
	} else {
		b.FluxWPerM2 = value["flux"]
	}
	if l.has("airflow-kmh") {
		b.AirMps = value["airflow-kmh"] / 3.6
	}
	if b.PowerW > 0 && value["kmh"] < thermal.SlowestBrakedKmH && !s.NoPads {
		return slowWheel("--kmh " + exact(value["kmh"]))
	}
	s.Spans = []thermal.BenchSpan{b}
	if text, ok := l.texts["pulse"]; ok {
		on, off, err := parsePulse(text)
		if err != nil {
			return err
		}
		s.Spans = thermal.Pulses(b, on, off, b.Seconds)
	}
	return nil
}

// parsePulse reads "5,10": seconds on and off.
func parsePulse(s string) (on, off float64, err error) {
	a, b, ok := strings.Cut(s, ",")
	if !ok || strings.Contains(b, ",") {
		return 0, 0, badInput("--pulse %s: not of the form ON,OFF", quoted(s)).hint("for example --pulse 5,10")
	}
	for _, v := range []struct {
		to   *float64
		text string
	}{{&on, a}, {&off, b}} {
		if *v.to, err = parseNumber("--pulse", strings.TrimSpace(v.text)); err != nil {
			return 0, 0, err
		}
		const lo, hi = 0.1, 3600
		if !(*v.to >= lo && *v.to <= hi) {
			return 0, 0, badInput("--pulse %s: outside %s to %s s", exact(*v.to), exact(lo), exact(hi))
		}
	}
	return on, off, nil
}

// rigRows is how many parts a run has at most, a sample at the end of each, if
// nobody says.
const rigRows = 15

// roundInterval rounds a time up to one that a clock shows, s.
func roundInterval(s float64) float64 {
	for _, n := range []float64{0.1, 0.2, 0.5, 1, 2, 5, 10, 15, 20, 30, 60, 120, 300, 600, 900, 1200, 1800, 3600} {
		if s <= n*(1+1e-9) {
			return n
		}
	}
	return 7200
}
