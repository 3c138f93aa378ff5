package main

import (
	"bytes"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"rimheat/route"
	"rimheat/thermal"
)

// A riderOrder is what one learning was asked to do.
type riderOrder struct {
	order
	files     []string
	writePath string
}

// riderInputs lists the inputs that a learning needs: what rolls down the hill, in
// which air, and the style that fills what the rides do not tell.
func riderInputs() []string {
	return []string{
		"rider-kg", "bike-kg", "luggage-kg",
		"air-temp", "air-temp-at", "lapse", "wind", "wind-from", "humidity",
		"style", "front-share", "cda", "crr",
	}
}

func newRider(s streams) *cobra.Command {
	flags := newFlagLayer()
	o := riderOrder{order: order{inputs: answers{flags: flags, file: newFlagLayer()}, replay: true}}
	c := &cobra.Command{
		Use:   "rider RIDE.gpx [RIDE.gpx ...]",
		Short: "Learn a riding style from recorded rides, for planning others",
		Long: `Reads recorded rides (GPX with times) and learns how their rider goes downhill:
the speed held on open road, the sideways acceleration in bends, the braking
before them, how much of the time the brakes work and, where stretches of
coasting tell them, CdA and Crr. Every descent is then planned in that style and
shown beside the recorded one: what a plan for another road is worth.

--write FILE.toml writes a setup file for rimheat assess --setup. What the rides
do not tell is left out of it, and so taken from --style or the defaults.

Weights matter: give those of the recorded day. Units are metric; with --imperial
as in rimheat assess.`,
		Example: `  rimheat rider RIDE.gpx
  rimheat rider MONDAY.gpx SUNDAY.gpx --rider-kg 78 --bike-kg 8.5 --write ME.toml
  rimheat assess ROUTE.gpx --setup ME.toml`,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) == 0 {
				return badInput("no recorded ride given").hint("rimheat rider RIDE.gpx")
			}
			return nil
		},
		RunE: func(_ *cobra.Command, args []string) error {
			o.files = args
			if path, ok := flags.texts["setup"]; ok {
				var err error
				if o.inputs.file, err = readSetupFile(path); err != nil {
					return err
				}
			}
			o.writePath = flags.texts["write"]
			return learn(s, o)
		},
		ValidArgsFunction: func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
			return []string{"gpx", "gz"}, cobra.ShellCompDirectiveFilterFileExt
		},
	}
	riderFlags(c, flags, &o)
	return c
}

func riderFlags(c *cobra.Command, l *layer, o *riderOrder) {
	fs := c.Flags()
	fs.SortFlags = false
	text := textFlags(fs, l)
	for _, n := range numbers() {
		if !slices.Contains(riderInputs(), n.name) {
			continue
		}
		fs.Var(numberFlag{l, n.name}, n.name, numberHelp(n))
		describe(fs, groupOf(n), "N", n.name)
	}
	text(groupRiding, "NAME", "style", strings.Join(styleIDs(), ", ")+": what the rides do not tell (default "+thermal.DefaultStyle+")")
	text(groupIn, "FILE", "setup", "file that holds any of the inputs above")
	text(groupIn, "NAME", "track", "track in every file, by name or number (default the longest)")
	fs.Var(textFlag{l, heightsName}, heightsName, "folder of elevation tiles to take all heights from")
	describe(fs, groupIn, "DIR", heightsName)
	fs.BoolVar(&l.imperial, "imperial", false, "lb, °F, mph, ft and mi, in the values of the flags and in the result")
	fs.BoolVar(&o.asJSON, "json", false, "print JSON, always metric")
	text(groupOut, "FILE.toml", "write", "also write the style as a setup file, which must not exist")
	describe(fs, groupIn, "", "imperial")
	describe(fs, groupOut, "", "json")
	_ = c.RegisterFlagCompletionFunc("style", cobra.FixedCompletions(styleIDs(), cobra.ShellCompDirectiveNoFileComp))
	_ = c.MarkFlagFilename("setup", "toml")
	_ = c.MarkFlagFilename("write", "toml")
	_ = c.MarkFlagDirname(heightsName)
}

// learn does one order: all input is checked before anything is computed, and all
// output is ready before any of it is written.
func learn(s streams, o riderOrder) error {
	setup, err := o.inputs.setup()
	if err != nil {
		return err
	}
	if _, err := o.roadOptions(); err != nil {
		return err
	}
	if err := mayWrite(o.writePath); err != nil {
		return err
	}
	learned, err := o.compute(s, setup)
	if err != nil {
		return err
	}
	var result []byte
	if o.asJSON {
		if result, err = indented(learned); err != nil {
			return err
		}
	} else {
		var b bytes.Buffer
		riderView{screenUnits{imperial: o.inputs.flags.imperial}, o.files}.print(&b, learned)
		result = b.Bytes()
	}
	if o.writePath != "" {
		if err := writeFile(o.writePath, styleFile(learned)); err != nil {
			return failed("--write %s: %s", o.writePath, reason(err))
		}
	}
	return write(s, result)
}

func (o riderOrder) compute(s streams, setup thermal.Setup) (*thermal.StyleLearned, error) {
	p := newProgress(s.err)
	defer p.done()
	var profiles []*route.Profile
	for i, f := range o.files {
		p.at(fmt.Sprintf("reading ride %d of %d ...", i+1, len(o.files)))
		// Tiles count what they were asked for: every ride has its own.
		opt, err := o.roadOptions()
		if err != nil {
			return nil, err
		}
		profile, err := route.Load(f, s.in, opt)
		if err != nil {
			return nil, err
		}
		profiles = append(profiles, profile)
	}
	p.at("learning ...")
	learned, err := thermal.LearnStyle(profiles, setup)
	if err != nil {
		return nil, badInput("%s", err).hint("rides with longer descents tell more")
	}
	return learned, nil
}
