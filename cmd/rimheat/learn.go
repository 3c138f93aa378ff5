package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"math"
	"os"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"rimheat/route"
	"rimheat/thermal"
)

// A learnOrder is what one lesson was asked to do.
type learnOrder struct {
	order
	readings  []string
	writePath string
}

// drawsToLearn is how many draws foretell a reading.
const drawsToLearn = 500

func newLearn(s streams) *cobra.Command {
	flags := newFlagLayer()
	o := learnOrder{order: order{inputs: answers{flags: flags, file: newFlagLayer(), draws: drawsToLearn}}}
	c := &cobra.Command{
		Use:   "learn ROUTE.gpx",
		Short: "Learn from a measured temperature, so that later assessments are surer",
		Long: `Takes a temperature that was measured on a wheel on this route, finds what it says
of what was not known exactly (cooling by moving air, drag, sharing of the brakes,
conduction and pads), and writes a setup file with it. A reading that the
draws cannot explain is refused. Give the weather of that day.

A reading is written as KEY=VALUE,...:
  km=41.2     place along the route (mi=25.6 in miles); a planned rider stops
              there to read, with --replay the recording is taken as it is
  rim=front   or rear
  C=83        what a thermometer showed (F=181), and how well it reads:
  sd=4        standard deviation, K (in °F with F); 4 K if left out
  after=30    seconds after getting there; 30 if left out
  on=track    or tyre-side, spoke-bed; track if left out
or, from a label that turns at fixed temperatures, for the highest on the way there:
  over=82,under=88   reached 82 °C and not 88 °C; one of both may be left out

It may be repeated. The style of the day is not learned: rimheat rider does that.`,
		Example: `  rimheat learn ROUTE.gpx --rim carbon-deep --air-temp 31 --reading "km=6,rim=front,C=110,sd=4" --write MINE.toml
  rimheat learn ROUTE.gpx --rim alu-classic --reading "km=9,rim=front,on=tyre-side,over=82,under=88"
  rimheat learn RIDE.gpx --replay --setup MINE.toml --reading "km=6,rim=rear,C=64" --write MINE2.toml`,
		Args: oneRoute,
		RunE: func(c *cobra.Command, args []string) error {
			if err := o.take(flags, args[0]); err != nil {
				return err
			}
			o.writePath = flags.texts["write"]
			return learnReadings(c.Context(), s, o)
		},
		ValidArgsFunction: completeRoute,
	}
	inputFlags(c, flags, &o.order)
	forOneRim(c)
	f := c.Flags()
	f.StringArrayVar(&o.readings, "reading", nil, "what was measured, may be repeated")
	textFlags(f, flags)(groupOut, "FILE.toml", "write", "also write the setup with what was learned, as a file that must not exist")
	f.BoolVar(&o.asJSON, "json", false, "print JSON, always metric")
	describe(f, groupIn, "KEY=VALUE,...", "reading")
	describe(f, groupOut, "", "json")
	_ = c.MarkFlagFilename("write", "toml")
	return c
}

// mayWrite refuses a file that exists, as it may hold another lesson.
func mayWrite(path string) error {
	if path == "" {
		return nil
	}
	if _, err := os.Stat(path); err == nil {
		return badInput("--write %s: the file exists", path).hint("name another, or move it away")
	} else if !errors.Is(err, fs.ErrNotExist) {
		return badInput("--write %s: %s", path, reason(err))
	}
	return nil
}

// learnReadings does one order.
func learnReadings(ctx context.Context, s streams, o learnOrder) error {
	setup, road, err := o.prepared()
	if err != nil {
		return err
	}
	if len(o.readings) == 0 {
		return badInput("no reading given").hint(`for example --reading "km=41.2,rim=front,C=83,sd=4"`)
	}
	var readings []thermal.Reading
	for _, text := range o.readings {
		r, err := parseReading(text, o.inputs.flags.imperial)
		if err != nil {
			return err
		}
		readings = append(readings, r)
	}
	if err := mayWrite(o.writePath); err != nil {
		return err
	}
	p := newProgress(s.err)
	defer p.done()
	p.at("reading the route ...")
	profile, err := route.Load(o.routePath, s.in, road)
	if err != nil {
		return err
	}
	name := clean(profile.Name)
	for i, r := range readings {
		if err := r.Validate(profile); err != nil {
			return badInput("--reading %s: %s", quoted(o.readings[i]), err)
		}
		for k := range i {
			if canonical(readings[k]) == canonical(r) {
				return badInput("--reading %s: given twice", quoted(o.readings[i])).hint("a reading is worth no more for being given again")
			}
		}
		for _, k := range setup.Readings {
			if k.RimID == setup.Wheels[0].Rim.ID && strings.HasSuffix(k.Text, "; on "+name) && slices.Contains(strings.Split(k.Text, "; "), canonical(r)) {
				return badInput("--reading %s: the setup has learned it already", quoted(o.readings[i])).hint("a reading is worth no more for being given again")
			}
		}
	}
	p.at("weighing what was read ...")
	l, err := thermal.Learn(ctx, profile, setup, readings...)
	var no *thermal.Contradiction
	if errors.As(err, &no) {
		return o.refused(no)
	}
	if errors.Is(err, context.Canceled) {
		return err
	}
	if err != nil {
		return badInput("--reading: %s", err)
	}
	for i := range l.Taught {
		l.Taught[i].Text = readingsText(readings, name)
	}
	setup.Readings = append(setup.Readings, l.Taught...)
	p.done()
	var b bytes.Buffer
	if o.asJSON {
		j, err := indented(l)
		if err != nil {
			return err
		}
		b.Write(j)
	} else {
		v := o.screen(s)
		v.lesson(&b, l, o, slices.Contains(setup.Assumed, "rider-kg"))
	}
	if o.writePath != "" {
		if err := writeFile(o.writePath, o.inputs.learned(&setup, l, o.writePath)); err != nil {
			return failed("--write %s: %s", o.writePath, reason(err))
		}
	}
	return write(s, b.Bytes())
}

// readingsText names readings and the road they were taken on.
func readingsText(readings []thermal.Reading, road string) string {
	var texts []string
	for _, r := range readings {
		texts = append(texts, canonical(r))
	}
	return strings.Join(texts, "; ") + "; on " + road
}

// canonical writes a reading so that the same one is always written the same.
func canonical(r thermal.Reading) string {
	wheel := "front"
	if r.Rear {
		wheel = "rear"
	}
	s := fmt.Sprintf("km=%.6g,rim=%s,on=%s", r.AtM/1000, wheel, strings.ReplaceAll(r.On, " ", "-"))
	if math.IsNaN(r.C) {
		for _, end := range []struct {
			key string
			c   float64
		}{{"over", r.OverC}, {"under", r.UnderC}} {
			if !math.IsNaN(end.c) {
				s += fmt.Sprintf(",%s=%.6g", end.key, end.c)
			}
		}
		return s
	}
	return s + fmt.Sprintf(",C=%.6g,sd=%.6g,after=%.6g", r.C, r.SdC, r.AfterS)
}

// refused words a reading that the draws cannot explain.
func (o learnOrder) refused(no *thermal.Contradiction) error {
	u := screenUnits{imperial: o.inputs.flags.imperial}
	side := "below"
	if no.Above {
		side = "above"
	}
	return badInput("--reading %s: %s lies %s all that the draws explain (nine in ten come to %s to %s there)", quoted(o.readings[no.Index]),
		u.temp(no.ReadC), side, u.degrees(no.ForetoldC.P05), u.temp(no.ForetoldC.P95)).
		hint("check place, wheel and unit, the weather and the style of that day, and whether it rained or a brake dragged").
		hint("an infrared thermometer reads far too low on bare metal")
}

// parseReading reads "km=41.2,rim=front,C=83,sd=4". Label temperatures are °F where
// the flags are imperial.
func parseReading(text string, imperial bool) (thermal.Reading, error) {
	r := thermal.Reading{AfterS: thermal.DefaultReadAfterS, On: thermal.OnTrack, SdC: thermal.DefaultReadingSd, C: math.NaN(), OverC: math.NaN(), UnderC: math.NaN(), AtM: math.NaN()}
	wrong := func(format string, args ...any) error {
		return badInput("--reading "+quoted(text)+": "+format, args...).hint(`for example "km=41.2,rim=front,C=83,sd=4" or "km=41.2,rim=front,over=82,under=88"`)
	}
	seen := map[string]bool{}
	wheel, fahrenheit := "", imperial
	for _, part := range strings.Split(text, ",") {
		key, value, ok := strings.Cut(strings.TrimSpace(part), "=")
		key, value = strings.TrimSpace(key), strings.TrimSpace(value)
		if !ok || value == "" {
			return r, wrong("%s is not of the form KEY=VALUE", quoted(part))
		}
		if seen[key] {
			return r, wrong("%s is given twice", key)
		}
		seen[key] = true
		switch key {
		case "rim":
			if value != "front" && value != "rear" {
				return r, wrong("rim is front or rear, not %s", quoted(value))
			}
			wheel = value
			continue
		case "on":
			place, ok := map[string]string{"track": thermal.OnTrack, "tyre-side": thermal.OnTyreSide, "spoke-bed": thermal.OnSpokeBed}[value]
			if !ok {
				return r, wrong("on is track, tyre-side or spoke-bed, not %s", quoted(value))
			}
			r.On = place
			continue
		}
		v, err := strconv.ParseFloat(value, 64)
		if err != nil {
			return r, wrong("%s wants a number, not %s", key, quoted(value))
		}
		to, ok := map[string]*float64{"km": &r.AtM, "mi": &r.AtM, "C": &r.C, "F": &r.C, "sd": &r.SdC, "after": &r.AfterS, "over": &r.OverC, "under": &r.UnderC}[key]
		if !ok {
			return r, wrong("unknown key %s", quoted(key))
		}
		*to = v
		switch key {
		case "km":
			r.AtM *= 1000
		case "mi":
			r.AtM *= mPerMile
		case "F":
			fahrenheit = true
		case "C":
			fahrenheit = false
		}
	}
	switch {
	case wheel == "":
		return r, wrong("rim=front or rim=rear is missing")
	case !seen["km"] && !seen["mi"]:
		return r, wrong("km is missing")
	case seen["km"] && seen["mi"]:
		return r, wrong("give km or mi, not both")
	case seen["C"] && seen["F"]:
		return r, wrong("give C or F, not both")
	}
	label, thermometer := seen["over"] || seen["under"], seen["C"] || seen["F"]
	switch {
	case label && thermometer:
		return r, wrong("a thermometer gives C, a label over and under, not both")
	case !label && !thermometer:
		return r, wrong("what was read is missing: C, or over and under")
	case label && (seen["sd"] || seen["after"]):
		return r, wrong("sd and after go with a thermometer")
	}
	if label {
		r.AfterS = 0
	}
	r.Rear = wheel == "rear"
	if fahrenheit {
		for _, t := range []*float64{&r.C, &r.OverC, &r.UnderC} {
			*t = (*t - 32) / 1.8
		}
		if seen["sd"] {
			r.SdC /= 1.8
		}
	}
	return r, nil
}
