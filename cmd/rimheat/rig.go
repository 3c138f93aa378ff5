package main

import (
	"bytes"
	"os"

	"github.com/spf13/cobra"

	"rimheat/thermal"
)

// A rigOrder is what one bench run was asked to do.
type rigOrder struct {
	flags  *layer
	asJSON bool
}

const rigExitCodes = `  0  done
  1  failed: the run could not be made or its output not be written
  2  bad input or usage: a flag, the rim file or the duty file
`

func newRig(s streams) *cobra.Command {
	o := rigOrder{flags: newFlagLayer()}
	c := &cobra.Command{
		Use:   "rig",
		Short: "Put one wheel on a bench: how hot it gets when it is braked in a known way",
		Long: `Brakes one wheel on a bench, steadily, in pulses, by a known programme or from
a file, and tells its temperatures over time. The wheel starts as warm as the
air. Every flag but --rim and what the brake does may be left out: its default
is then printed as assumed.

A rim file (TOML) holds a rim of your own. Start from a built-in one:
  rimheat parts --rim carbon-deep --toml >MY-RIM.toml
Its material is a built-in one (material) or one of your own (k_in_plane and
k_through in W/(m K), density in kg/m3, specific_heat in J/(kg K); also
specific_heat_rise in J/(kg K2), emissivity_track and emissivity_body);
lengths are in mm; limit_C is the limit that the rim's maker gives, in °C.

A duty file (CSV) has the header seconds,watts,kmh, and each row holds for its
seconds.

The film model knows moving air; --film puts one film coefficient on all outer
faces instead, and --emissivity one emissivity, so that two models can be
compared like with like. The tyre keeps its volume.`,
		Example: `  rimheat rig --rim carbon-deep --watts 300 --kmh 30 --air-temp 20 --minutes 15
  rimheat rig --rim alu-classic --watts 600 --kmh 30 --minutes 5 --pulse 5,10 --every 5
  rimheat rig --rim carbon-deep --preset magazine-hill
  rimheat rig --rim carbon-deep --flux 8000 --film 50 --emissivity 0 --json
  rimheat rig --rim alu-deep --preset standard-heat --every 10 --csv RIG.csv --plot RIG.svg`,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) > 0 {
				return badInput("rig takes flags only, not %s", quoted(args[0])).hint("the rim goes after --rim: rimheat rig --rim ID --watts 300")
			}
			return nil
		},
		RunE:              func(*cobra.Command, []string) error { return rig(s, o) },
		ValidArgsFunction: cobra.NoFileCompletions,
	}
	rigFlags(c, o.flags, &o)
	return c
}

// rig does one order: all input is checked before anything is computed, and
// all output is ready before any of it is written.
func rig(s streams, o rigOrder) error {
	spec, err := o.spec()
	if err != nil {
		return err
	}
	path := o.flags.texts["csv"]
	if path != "" {
		if err := o.checkCSV(path); err != nil {
			return err
		}
	}
	var fig figure
	if plot := o.flags.texts["plot"]; plot != "" {
		if fig, err = checkFigure(plot, o.flags.texts["duty"]); err != nil {
			return err
		}
		if plot == path {
			return badInput("--csv and --plot name the same file").hint("give each its own")
		}
	}
	p := newProgress(s.err)
	p.at("braking the wheel ...")
	r, err := thermal.Bench(spec)
	p.done()
	if err != nil {
		return err
	}
	var out []byte
	if o.asJSON {
		if out, err = indented(r); err != nil {
			return err
		}
	} else {
		var b bytes.Buffer
		rigView{palette{on: wantsColour(isTerminal(s.out), os.Getenv)}}.print(&b, r)
		out = b.Bytes()
	}
	if fig.path != "" {
		drawn, err := fig.drawBench(r)
		if err != nil {
			return err
		}
		if err := writeFile(fig.path, drawn); err != nil {
			return failed("--plot %s: %s", fig.path, reason(err))
		}
	}
	if path != "" {
		if err := writeFile(path, rigCSV(r)); err != nil {
			return failed("--csv %s: %s", path, reason(err))
		}
	}
	return write(s, out)
}

// checkCSV refuses, before anything is computed, a file that could not be
// written later or that is one of the inputs.
func (o rigOrder) checkCSV(path string) error {
	if err := checkWritable(path); err != nil {
		return badInput("--csv %s: %s", path, reason(err))
	}
	out, err := os.Stat(path)
	if err != nil {
		return nil // a new file
	}
	inputs := map[string]string{"the duty file": o.flags.texts["duty"]}
	if isRimFile(o.flags.rims[0]) {
		inputs["the rim file"] = o.flags.rims[0]
	}
	for what, name := range inputs {
		if in, err := os.Stat(name); name != "" && err == nil && os.SameFile(in, out) {
			return badInput("--csv %s: this is %s", path, what)
		}
	}
	return nil
}
