package main

import (
	"fmt"
	"math"
	"strings"

	"github.com/spf13/cobra"

	"rimheat/plots"
	"rimheat/thermal"
)

// A rigNumber is a numeric flag of the rig and what it may be.
type rigNumber struct {
	name, group, help string
	thermal.Bound
	// byDefault is the value when nobody gives one, NaN where there is none.
	byDefault float64
}

// The groups of the help.
const (
	groupBench   = "Bench"
	groupProgram = "Braking"
)

func rigNumbers() []rigNumber {
	none, may := math.NaN(), thermal.BoundsOfBench()
	minutes := thermal.Bound{Unit: "min", Lo: 0.01, Hi: may.DurationS.Hi / 60}
	return []rigNumber{
		{"watts", groupProgram, "braking power at the wheel, while the brake is on", may.PowerW, none},
		{"kmh", groupProgram, "speed of the wheel", may.RollKmH, 30},
		{"minutes", groupProgram, "length of the run", minutes, 15},
		{"flux", groupProgram, "heat straight into the swept bands, instead of --watts", may.FluxWPerM2, none},
		{"air-temp", groupBench, "air, and wheel at the start", may.AirC, 20},
		{"airflow-kmh", groupBench, "speed of the air along the bench, 0 without a fan", may.AirflowKmH, none},
		{"film", groupBench, "film coefficient of the outer faces, instead of moving air", may.FilmWPerM2K, none},
		{"film-factor", groupBench, "how much better than assumed moving air cools; 1.5 either way is well possible", may.FilmFactor, 1},
		{"emissivity", groupBench, "emissivity of the outer faces, instead of the material's", may.Emissivity, none},
		{"tyre-kpa", groupBench, "pressure in the tyre at the start, above the air's", may.TyreKPa, thermal.DefaultTyreGaugePa / 1e3},
		{"tyre-max-kpa", groupBench, "highest pressure that the tyre's maker allows", may.TyreKPa, none},
		{"sun", groupBench, "sunshine on one side of the wheel", may.SunWPerM2, 0},
		{"every", groupOut, "time between samples", may.EveryS, none},
	}
}

// rigFlags gives the verb its flags, all writing to l or o.
func rigFlags(c *cobra.Command, l *layer, o *rigOrder) {
	fs := c.Flags()
	fs.SortFlags = false
	text := textFlags(fs, l)
	fs.Var(rimFlag{l}, "rim", "built-in rim, or a rim file of your own")
	describe(fs, groupWheels, "ID|FILE.toml", "rim")
	text(groupWheels, "ID|none", "pads", "pads; none leaves all heat to the rim (default by material, none with --flux)")
	text(groupWheels, "ID", "tyre-side", "what sits on the tyre side of the rim (default by the rim's kind)")
	otherwise := map[string]string{"airflow-kmh": "as fast as the wheel", "tyre-max-kpa": "none stated", "every": fmt.Sprintf("a round time that gives at most %d after the start", rigRows)}
	for _, n := range rigNumbers() {
		help := n.help + ", " + strings.TrimSpace(fmt.Sprintf("%s to %s %s", exact(n.Lo), exact(n.Hi), n.Unit))
		if d, ok := otherwise[n.name]; ok {
			help += " (default " + d + ")"
		} else if !math.IsNaN(n.byDefault) {
			help += " (default " + exact(n.byDefault) + ")"
		}
		fs.Var(numberFlag{l, n.name}, n.name, help)
		describe(fs, n.group, "N", n.name)
		if n.name == "flux" {
			text(groupProgram, "ON,OFF", "pulse", "brake in pulses: seconds on, seconds off")
			text(groupProgram, "FILE.csv", "duty", "braking from a file, instead of the above")
			text(groupProgram, "NAME", "preset", "a known programme, instead of the above: "+strings.Join(rigPresetNames(), ", "))
		}
	}
	fs.BoolVar(&o.asJSON, "json", false, "print JSON")
	describe(fs, groupOut, "", "json")
	text(groupOut, "FILE", "csv", "also write the samples as a table")
	text(groupOut, "FILE", "plot", "also draw the temperatures over time: ."+strings.Join(plots.Formats(), ", ."))
	text(groupOut, "FILE", "film-curve", "also draw the film coefficient against speed: ."+strings.Join(plots.Formats(), ", .")+", or write it as a table: .csv; needs no braking")
	for name, words := range map[string][]string{
		"rim": rimIDs(), "pads": append(padIDs(), noPads), "preset": rigPresetNames(), "tyre-side": tyreSideIDs(),
	} {
		directive := cobra.ShellCompDirectiveNoFileComp
		if name == "rim" {
			directive = cobra.ShellCompDirectiveDefault // or a file
		}
		_ = c.RegisterFlagCompletionFunc(name, cobra.FixedCompletions(words, directive))
	}
	_ = c.MarkFlagFilename("duty", "csv")
	_ = c.MarkFlagFilename("csv", "csv")
	_ = c.MarkFlagFilename("plot", plots.Formats()...)
	_ = c.MarkFlagFilename("film-curve", curveFormats()...)
}

// noPads is the value of --pads that leaves them away.
const noPads = "none"
