package main

import (
	"bytes"
	"io"
	"os"

	"github.com/spf13/cobra"

	"rimheat/plots"
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
lengths are in mm; limit_C is the limit that the rim's maker gives, in °C, and
max_pressure_kPa the highest tyre pressure. surface_material and surface_mm put
a skin on the tracks, fairing_material and fairing_below_edge_mm a lower part of
another material.

A duty file (CSV) has the header seconds,watts,kmh, and each row holds for its
seconds.

After a run with braking the wheel stands for ten minutes without a fan: limits,
tyre pressure and what soaks in cover that, samples, energy and peaks do not.

The film model knows moving air; --film puts one film coefficient on all outer
faces instead, and --emissivity one emissivity, so that two models can be
compared like with like. The tyre keeps its volume.

--film-curve draws that model's film coefficient against speed, with the
published laws that it is built from, or writes them as a table. It needs no
braking: with --rim and --air-temp alone nothing else is computed.`,
		Example: `  rimheat rig --rim carbon-deep --watts 300 --kmh 30 --air-temp 20 --minutes 15
  rimheat rig --rim alu-classic --watts 600 --kmh 30 --minutes 5 --pulse 5,10 --every 5
  rimheat rig --rim carbon-deep --preset magazine-hill
  rimheat rig --rim carbon-deep --flux 8000 --film 50 --emissivity 0 --json
  rimheat rig --rim alu-deep --preset standard-heat --every 10 --csv RIG.csv --plot RIG.svg
  rimheat rig --rim carbon-deep --air-temp 35 --film-curve FILM.png`,
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
	only, err := o.curveOnly()
	if err != nil {
		return err
	}
	var spec thermal.BenchSpec
	if !only {
		if spec, err = o.spec(); err != nil {
			return err
		}
	}
	var film filmOrder
	if o.flags.has("film-curve") {
		if film, err = o.film(); err != nil {
			return err
		}
	}
	files, err := o.outputs()
	if err != nil {
		return err
	}
	var (
		r     *thermal.BenchResult
		shown []byte
	)
	if only {
		shown = film.text()
	} else {
		p := newProgress(s.err)
		p.at("braking the wheel ...")
		r, err = thermal.Bench(spec)
		p.done()
		if err != nil {
			return err
		}
		if shown, err = o.shown(s, r); err != nil {
			return err
		}
	}
	data := make([][]byte, len(files))
	for i, f := range files {
		switch f.flag {
		case "csv":
			data[i] = rigCSV(r)
		case "plot":
			data[i], err = f.bytes(func(w io.Writer, format string) error { return plots.SaveBench(w, format, r) })
		case "film-curve":
			data[i], err = film.bytes(f)
		}
		if err != nil {
			return err
		}
	}
	for i, f := range files {
		if err := f.write(data[i]); err != nil {
			return err
		}
	}
	return write(s, shown)
}

// shown is the result as text or JSON.
func (o rigOrder) shown(s streams, r *thermal.BenchResult) ([]byte, error) {
	if o.asJSON {
		return indented(r)
	}
	var b bytes.Buffer
	rigView{palette{on: wantsColour(isTerminal(s.out), os.Getenv)}}.print(&b, r)
	return b.Bytes(), nil
}
