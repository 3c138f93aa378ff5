package main

import (
	"bytes"
	"errors"
	"os"
	"slices"
	"syscall"

	"github.com/spf13/cobra"

	"rimheat/route"
	"rimheat/thermal"
)

// An order is what one assessment was asked to do.
type order struct {
	routePath  string
	inputs     answers
	asJSON     bool
	figurePath string
	strict     bool
	// rawHeights leaves the heights unsmoothed.
	rawHeights bool
	// replay takes the recorded speeds.
	replay bool
}

func newAssess(s streams) *cobra.Command {
	flags := newFlagLayer()
	o := order{inputs: answers{flags: flags, file: newFlagLayer()}}
	c := &cobra.Command{
		Use:   "assess ROUTE.gpx",
		Short: "Assess a planned route: how hot the rims get, and whether they stay within their limits",
		Long: `Rides the route once, computes how hot each candidate rim gets, and holds it
against its limits. ROUTE.gpx may be compressed (.gpx.gz); - reads standard
input. Every flag may be left out: its default is then printed as assumed.

Units are metric. With --imperial the values of --rider-kg, --bike-kg and
--luggage-kg are in lb, of --air-temp, --air-min, --air-max and --rim-limit in
°F, of --road-air in °F of difference, of --tyre-kpa and --tyre-max-kpa in psi,
of --wind and --cap-kmh in mph, of --air-temp-at in ft, and the result is printed
in these units, mi and ft. --lapse stays in K per km. JSON stays metric.

A setup file (TOML) holds any of the inputs under the names of their flags;
flags win over it. It is metric, whatever the flags are, unless it says
imperial = true. Lists and limits in it:
  rim = ["carbon-deep", "alu-deep"]
  rim-limit.carbon-deep = 160
A rim file in it is looked for beside it.`,
		Example: `  rimheat assess ROUTE.gpx
  rimheat assess ROUTE.gpx --rider-kg 78 --bike-kg 8.5 --luggage-kg 2 --air-temp 38 --style steady
  rimheat assess ROUTE.gpx --rim carbon-mid --rim alu-deep --rim-limit carbon-mid=150
  rimheat assess ROUTE.gpx --style brisk --cap-kmh 50 --brake-habit alternate
  rimheat assess ROUTE.gpx --imperial --rider-kg 172 --air-temp 100
  rimheat assess ROUTE.gpx --setup SETUP.toml --plot FIGURE.svg --strict
  rimheat assess - --json <ROUTE.gpx`,
		Args: oneRoute,
		RunE: func(_ *cobra.Command, args []string) error {
			o.routePath = args[0]
			if path, ok := flags.texts["setup"]; ok {
				var err error
				if o.inputs.file, err = readSetupFile(path); err != nil {
					return err
				}
			}
			o.figurePath = flags.texts["plot"]
			return assess(s, o)
		},
		ValidArgsFunction: func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
			return []string{"gpx", "gz"}, cobra.ShellCompDirectiveFilterFileExt
		},
	}
	assessFlags(c, flags, &o)
	return c
}

// oneRoute asks for exactly one route.
func oneRoute(_ *cobra.Command, args []string) error {
	switch {
	case len(args) == 0:
		return badInput("no route given").hint("rimheat assess ROUTE.gpx, or - to read standard input")
	case len(args) > 1:
		return badInput("one route at a time, but there is also %s", quoted(args[1])).hint("put a name with blanks in quotes, and repeat the flag for a second rim")
	case args[0] == "":
		return badInput("the name of the route is empty").hint("rimheat assess ROUTE.gpx, or - to read standard input")
	}
	return nil
}

// assess does one order: all input is checked before anything is computed, and
// all output is ready before any of it is written.
func assess(s streams, o order) error {
	setup, err := o.inputs.setup()
	if err != nil {
		return err
	}
	road, err := o.roadOptions()
	if err != nil {
		return err
	}
	var fig figure
	if o.figurePath != "" {
		if fig, err = checkFigure(o.figurePath, o.routePath); err != nil {
			return err
		}
	}
	a, drawn, err := compute(s, o, road, setup, fig)
	if err != nil {
		return err
	}
	result, err := o.view(s, a)
	if err != nil {
		return err
	}
	if fig.path != "" {
		if err := writeFile(fig.path, drawn); err != nil {
			return failed("--plot %s: %s", fig.path, reason(err))
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

// compute does all that takes time.
func compute(s streams, o order, road route.Options, setup thermal.Setup, fig figure) (*thermal.Assessment, []byte, error) {
	p := newProgress(s.err)
	defer p.done()
	p.at("reading the route ...")
	profile, err := route.Load(o.routePath, s.in, road)
	if err != nil {
		return nil, nil, err
	}
	p.at("riding the route and heating the rims ...")
	a, err := thermal.Assess(profile, setup)
	if err != nil || fig.path == "" {
		return a, nil, err
	}
	p.at("drawing the figure ...")
	drawn, err := fig.draw(a, o.inputs.flags.imperial)
	return a, drawn, err
}

// view renders the assessment as asked.
func (o order) view(s streams, a *thermal.Assessment) ([]byte, error) {
	if o.asJSON {
		return assessmentJSON(a)
	}
	var b bytes.Buffer
	v := textView{
		units:   screenUnits{imperial: o.inputs.flags.imperial},
		palette: palette{on: wantsColour(isTerminal(s.out), os.Getenv)},
	}
	v.assessment(&b, a)
	return b.Bytes(), nil
}

// write puts a result on stdout. A reader that went away has had enough.
func write(s streams, result []byte) error {
	if _, err := s.out.Write(result); err != nil && !errors.Is(err, syscall.EPIPE) {
		return failed("standard output: %s", reason(err))
	}
	return nil
}
