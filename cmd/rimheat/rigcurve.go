package main

import (
	"bytes"
	"fmt"
	"io"
	"strings"

	"rimheat/plots"
	"rimheat/thermal"
	"rimheat/thermal/air"
	"rimheat/thermal/rim"
)

// curveFormats lists what --film-curve can write.
func curveFormats() []string { return append(plots.Formats(), "csv") }

// A filmOrder is a film curve and what of it nobody chose.
type filmOrder struct {
	rim                    rim.Section
	rimAssumed, airAssumed bool
	curve                  air.FilmCurve
}

// film works the curve out for the rim named, or else for the first that is
// taken when none is named.
func (o rigOrder) film() (filmOrder, error) {
	f := filmOrder{rimAssumed: !o.flags.has("rim"), airAssumed: !o.flags.has("air-temp")}
	var err error
	if f.rimAssumed {
		var found bool
		if f.rim, found = thermal.RimByID(thermal.DefaultRims()[0]); !found {
			return f, failed("no rim is called %s", thermal.DefaultRims()[0])
		}
	} else if f.rim, err = o.rim(); err != nil {
		return f, err
	}
	for _, n := range rigNumbers() {
		if n.name != "air-temp" {
			continue
		}
		airC := n.byDefault
		if v, given := o.flags.numbers[n.name]; given {
			if airC, err = o.flags.metric(v, plain, n.Unit, n.Lo, n.Hi, o.flags.where(n.name)); err != nil {
				return f, err
			}
		}
		f.curve, err = thermal.FilmCurve(f.rim, airC+kelvinAt0C)
	}
	return f, err
}

// bytes gives the curve's file in the format of the output.
func (f filmOrder) bytes(out output) ([]byte, error) {
	if out.format == "csv" {
		return f.csv(), nil
	}
	name := thermal.Legible(f.rim.Name, f.rim.ID)
	return out.bytes(func(w io.Writer, format string) error {
		return plots.SaveFilmCurve(w, format, plots.FilmFigure{RimName: name, RimAssumed: f.rimAssumed, AirAssumed: f.airAssumed, Curve: f.curve})
	})
}

// csv writes one row per speed: first what all lines hold for, then each line
// in W/(m2 K).
func (f filmOrder) csv() []byte {
	var b bytes.Buffer
	c := f.curve
	head := []string{"kmh", "air_C", "surface_C", "film_C", "pressure_Pa", "track_radius_m"}
	for _, l := range c.Lines {
		head = append(head, l.ID+"_W_per_m2_K")
	}
	b.WriteString(strings.Join(head, ",") + "\n")
	for i, v := range c.SpeedMps {
		row := []string{decimals(3.6*v, 2), decimals(c.AirK-kelvinAt0C, 2), decimals(c.SurfaceK-kelvinAt0C, 2), decimals(c.FilmK()-kelvinAt0C, 2), decimals(c.PressurePa, 0), decimals(c.TrackRadiusM, 4)}
		for _, l := range c.Lines {
			row = append(row, decimals(l.H[i], 3))
		}
		b.WriteString(strings.Join(row, ",") + "\n")
	}
	return b.Bytes()
}

// text tells the rim's own lines at some speeds, for the screen.
func (f filmOrder) text() []byte {
	var b bytes.Buffer
	c := f.curve
	note := func(text string, assumed bool) string {
		if assumed {
			return text + " (assumed)"
		}
		return text
	}
	hanging(&b, "", note(thermal.Legible(f.rim.Name, f.rim.ID), f.rimAssumed)+": how well still air cools it on the road")
	deg := func(k float64) string { return brief(k-kelvinAt0C, 1) + " °C" }
	labelled(&b, "holds for", fmt.Sprintf("rim of %s, air of %s, %s hPa; radiation comes on top", deg(c.SurfaceK), note(deg(c.AirK), f.airAssumed), fixed(c.PressurePa/100, 0)))
	b.WriteString("\nFilm coefficient, W/(m2 K)\n")
	t := table{right: map[int]bool{0: true, 1: true, 2: true, 3: true, 4: true}}
	t.title("km/h", "on the road", "low", "high", "bench, no fan")
	for kmh := 0; kmh < len(c.SpeedMps); kmh += 10 {
		row := []string{fixed(3.6*c.SpeedMps[kmh], 0)}
		for _, id := range []string{"road", "road_low", "road_high", "bench_no_fan"} {
			row = append(row, fixed(c.Line(id).H[kmh], 1))
		}
		t.row(row...)
	}
	t.print(&b, "  ")
	hanging(&b, "  ", fmt.Sprintf("Low and high are a factor of %g either way: no measurement on a bicycle rim is known. The file holds the laws that these lines are built from.", air.FilmSpread))
	return b.Bytes()
}

// curveOnly says that a film curve is wanted and no braking, and refuses flags
// that would then do nothing.
func (o rigOrder) curveOnly() (bool, error) {
	l := o.flags
	if !l.has("film-curve") || l.has("watts") || l.has("flux") || l.has("duty") || l.has("preset") {
		return false, nil
	}
	idle := []string{"pads", "pulse", "csv", "plot"}
	for _, n := range rigNumbers() {
		if n.name != "air-temp" {
			idle = append(idle, n.name)
		}
	}
	for _, name := range idle {
		if l.has(name) {
			return true, badInput("--%s does nothing to a film curve", name).hint("leave it out, or add some braking: --watts 300")
		}
	}
	if o.asJSON {
		return true, badInput("--json does nothing to a film curve").hint("for a table of it: --film-curve FILE.csv")
	}
	return true, nil
}
