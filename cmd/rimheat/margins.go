package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"rimheat/plots"
	"rimheat/route"
	"rimheat/thermal"
)

// drawsToAsk is how many draws answer a question that is asked dozens of times.
const drawsToAsk = 200

func newMargins(s streams) *cobra.Command {
	flags := newFlagLayer()
	o := order{inputs: answers{flags: flags, file: newFlagLayer(), draws: drawsToAsk}}
	c := &cobra.Command{
		Use:   "margins ROUTE.gpx",
		Short: "Ask how much room a rim has: hotter air, more load, less head wind, another speed",
		Long: `Rides the route many times with one rim and searches how far one input may go,
everything else being as it is, with the rim within its limits in nineteen of
twenty draws: the hottest air, the heaviest load, the weakest head wind (as if it
blew against the rider all along), and slower and faster cruising caps, as the
hottest speed lies between. With --plot the margin is drawn over air temperature
and total mass. Inputs are those of assess.`,
		Example: `  rimheat margins ROUTE.gpx --rim alu-classic --rider-kg 78 --air-temp 38 --plot MAP.png
  rimheat margins ROUTE.gpx --rim carbon-mid --rim-limit carbon-mid=170 --samples 100 --json`,
		Args: oneRoute,
		RunE: func(c *cobra.Command, args []string) error {
			if err := o.take(flags, args[0]); err != nil {
				return err
			}
			return margins(c.Context(), s, o)
		},
		ValidArgsFunction: completeRoute,
	}
	inputFlags(c, flags, &o)
	forOneRim(c)
	fs := c.Flags()
	fs.BoolVar(&o.asJSON, "json", false, "print JSON, always metric")
	textFlags(fs, flags)(groupOut, "FILE", "plot", "also draw the margin over air temperature and total mass: ."+strings.Join(plots.Formats(), ", ."))
	describe(fs, groupOut, "", "json")
	_ = c.MarkFlagFilename("plot", plots.Formats()...)
	return c
}

// forOneRim puts the help of flags right for a verb that asks about one rim.
func forOneRim(c *cobra.Command) {
	fs := c.Flags()
	fs.Lookup("rim").Usage = "the rim, built in or a rim file (ID|FILE.toml)"
	fs.Lookup("rim-limit").Usage = fmt.Sprintf("the rim maker's own limit, °C, %d to %d", rimLimitLo, rimLimitHi)
	fs.Lookup(samplesName).Usage = strings.Replace(fs.Lookup(samplesName).Usage, "; 0 for the central estimate alone", "", 1)
}

// take notes the route and what the flags name.
func (o *order) take(flags *layer, route string) (err error) {
	o.routePath = route
	if path, ok := flags.texts["setup"]; ok {
		if o.inputs.file, err = readSetupFile(path); err != nil {
			return err
		}
	}
	return nil
}

// completeRoute offers routes to the shell.
func completeRoute(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
	return []string{"gpx", "gz"}, cobra.ShellCompDirectiveFilterFileExt
}

// oneRim asks for one candidate that somebody named.
func (o order) oneRim(setup thermal.Setup) error {
	switch {
	case !o.inputs.has("rim"):
		return badInput("no rim named").hint("add --rim ID: rimheat parts lists them")
	case len(setup.Wheels) > 1:
		return badInput("one rim at a time, not %d", len(setup.Wheels)).hint("name one with --rim")
	case setup.Sampling.Samples == 0:
		return badInput("--%s 0: these answers come from draws", samplesName).hint("leave --%s out", samplesName)
	}
	return nil
}

// prepared checks all input of a verb that asks about one rim.
func (o order) prepared() (setup thermal.Setup, road route.Options, err error) {
	if setup, err = o.inputs.setup(); err != nil {
		return setup, road, err
	}
	if err = o.oneRim(setup); err != nil {
		return setup, road, err
	}
	road, err = o.roadOptions()
	return setup, road, err
}

// margins does one order: all input is checked before anything is computed, and
// all output is ready before any of it is written.
func margins(ctx context.Context, s streams, o order) error {
	setup, road, err := o.prepared()
	if err != nil {
		return err
	}
	figs, err := outputsOf([]wanted{{"plot", o.inputs.flags.texts["plot"], plots.Formats()}}, o.inputAt)
	if err != nil {
		return err
	}
	p := newProgress(s.err)
	defer p.done()
	p.at("reading the route ...")
	profile, err := route.Load(o.routePath, s.in, road)
	if err != nil {
		return err
	}
	if err := o.stopsFit(setup, profile); err != nil {
		return err
	}
	m, err := thermal.FindMargins(ctx, profile, setup, len(figs) > 0, p.counted("asking how much room there is"))
	if err != nil {
		return err
	}
	var result bytes.Buffer
	if o.asJSON {
		b, err := indented(m)
		if err != nil {
			return err
		}
		result.Write(b)
	} else {
		v := o.screen(s)
		v.margins(&result, m)
	}
	for _, fig := range figs {
		drawn, err := fig.bytes(func(w io.Writer, format string) error {
			return plots.SaveMarginMap(w, format, m, plots.Options{Imperial: o.inputs.flags.imperial})
		})
		if err != nil {
			return err
		}
		if err := fig.write(drawn); err != nil {
			return err
		}
	}
	p.done()
	return write(s, result.Bytes())
}
