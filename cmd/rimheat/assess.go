package main

import (
	"bytes"
	"context"
	"errors"
	"io"
	"os"
	"slices"
	"sync"
	"syscall"

	"github.com/spf13/cobra"

	"rimheat/plots"
	"rimheat/route"
	"rimheat/thermal"
)

// An order is what one assessment was asked to do.
type order struct {
	routePath string
	inputs    answers
	asJSON    bool
	// changes asks for what would change the answer.
	changes bool
	strict  bool
	// rawHeights leaves the heights unsmoothed.
	rawHeights bool
	// replay takes the recorded speeds.
	replay bool
}

func newAssess(s streams) *cobra.Command {
	flags := newFlagLayer()
	o := order{inputs: answers{flags: flags, file: newFlagLayer(), draws: thermal.DefaultSamples}}
	c := &cobra.Command{
		Use:   "assess ROUTE.gpx",
		Short: "Assess a planned route: how hot the rims get, and whether they stay within their limits",
		Long: `Rides the route once, computes how hot each candidate rim gets, and holds it
against its limits. ROUTE.gpx may be compressed (.gpx.gz); - reads standard
input. Every flag may be left out: its default is then printed as assumed.

Units are metric. With --imperial the values of --rider-kg, --bike-kg and
--luggage-kg are in lb, of --air-temp, --air-min, --air-max and --rim-limit in
°F, of --road-air in °F of difference, of --tyre-kpa and --tyre-max-kpa in psi,
of --wind and --cap-kmh in mph, of --air-temp-at in ft, of --stop in mi, and the
result is printed in these units, mi and ft. --lapse stays in K per km. JSON stays metric.

A setup file (TOML) holds any of the inputs under the names of their flags;
flags win over it. It is metric, whatever the flags are, unless it says
imperial = true. Lists and limits in it:
  rim = ["carbon-deep", "alu-deep"]
  rim-limit.carbon-deep = 160
  stop = ["63.5=10", "66=5"]
A rim file in it is looked for beside it. A table [spread] says how widely what is
not known exactly is drawn, metric always: a factor for film, cda, crr, cap and
bends, K for air-temp, m/s for wind, kg for mass, a part of the braking for
front-share, a part of the range of the parts for conductivity, pads, limit and
tyre-limit:
  spread.film = 1.3`,
		Example: `  rimheat assess ROUTE.gpx
  rimheat assess ROUTE.gpx --rider-kg 78 --bike-kg 8.5 --luggage-kg 2 --air-temp 38 --style steady
  rimheat assess ROUTE.gpx --rim carbon-mid --rim alu-deep --rim-limit carbon-mid=150
  rimheat assess ROUTE.gpx --style brisk --cap-kmh 50 --brake-habit alternate
  rimheat assess ROUTE.gpx --imperial --rider-kg 172 --air-temp 100
  rimheat assess ROUTE.gpx --setup SETUP.toml --plot FIGURE.svg --reasons REASONS.svg --strict
  rimheat assess ROUTE.gpx --report HANDOUT.html --title Sunday --gpx-out MARKED.gpx
  rimheat assess - --json <ROUTE.gpx`,
		Args: oneRoute,
		RunE: func(c *cobra.Command, args []string) error {
			if err := o.take(flags, args[0]); err != nil {
				return err
			}
			return assess(c.Context(), s, o)
		},
		ValidArgsFunction: completeRoute,
	}
	assessFlags(c, flags, &o)
	return c
}

// oneRoute asks for exactly one route.
func oneRoute(c *cobra.Command, args []string) error {
	switch {
	case len(args) == 0:
		return badInput("no route given").hint("%s ROUTE.gpx, or - to read standard input", c.CommandPath())
	case len(args) > 1:
		return badInput("one route at a time, but there is also %s", quoted(args[1])).hint("put a name with blanks in quotes, and repeat the flag for a second rim")
	case args[0] == "":
		return badInput("the name of the route is empty").hint("%s ROUTE.gpx, or - to read standard input", c.CommandPath())
	}
	return nil
}

// assess does one order: all input is checked before anything is computed, and
// all output is ready before any of it is written.
func assess(ctx context.Context, s streams, o order) error {
	setup, err := o.inputs.setup()
	if err != nil {
		return err
	}
	road, err := o.roadOptions()
	if err != nil {
		return err
	}
	files, err := o.products(&setup)
	if err != nil {
		return err
	}
	a, data, err := compute(ctx, s, o, road, setup, files)
	if err != nil {
		return err
	}
	result, err := o.view(s, a)
	if err != nil {
		return err
	}
	for i, f := range files {
		if err := f.to.write(data[i]); err != nil {
			return err
		}
	}
	if err := write(s, result); err != nil {
		return err
	}
	if o.strict && slices.ContainsFunc(a.Rims, func(r thermal.RimResult) bool { return r.Verdict == thermal.Over || r.Tyre.Over }) {
		return errOver
	}
	return nil
}

// compute does all that takes time; it gives the files' bytes too.
func compute(ctx context.Context, s streams, o order, road route.Options, setup thermal.Setup, files []ordered) (*thermal.Assessment, [][]byte, error) {
	p := newProgress(s.err)
	defer p.done()
	p.at("reading the route ...")
	profile, err := route.Load(o.routePath, s.in, road)
	if err != nil {
		return nil, nil, err
	}
	if err := o.stopsFit(setup, profile); err != nil {
		return nil, nil, err
	}
	p.at("riding the route and heating the rims ...")
	a, err := thermal.AssessContext(ctx, profile, setup, p.counted("drawing what is not known exactly"))
	if err != nil {
		return nil, nil, err
	}
	p.at("drawing the figures ...")
	texts := o.inputs.flags.texts
	m := made{a: a, profile: profile, opt: plots.Options{Imperial: o.inputs.flags.imperial}, title: texts[titleName], note: texts[noteName]}
	data, errs := make([][]byte, len(files)), make([]error, len(files))
	var wg sync.WaitGroup
	for i, f := range files {
		wg.Go(func() {
			data[i], errs[i] = f.to.bytes(func(w io.Writer, format string) error { return f.save(w, format, m) })
		})
	}
	wg.Wait()
	return a, data, errors.Join(errs...)
}

// view renders the assessment as asked.
func (o order) view(s streams, a *thermal.Assessment) ([]byte, error) {
	if o.asJSON {
		return assessmentJSON(a)
	}
	var b bytes.Buffer
	v := o.screen(s)
	v.assessment(&b, a)
	return b.Bytes(), nil
}

// screen is how results are printed for people.
func (o order) screen(s streams) textView {
	return textView{
		units:   screenUnits{imperial: o.inputs.flags.imperial},
		palette: palette{on: wantsColour(isTerminal(s.out), os.Getenv)},
	}
}

// write puts a result on stdout. A reader that went away has had enough.
func write(s streams, result []byte) error {
	if _, err := s.out.Write(result); err != nil && !errors.Is(err, syscall.EPIPE) {
		return failed("standard output: %s", reason(err))
	}
	return nil
}
