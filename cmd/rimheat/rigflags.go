package main

import (
	"fmt"
	"math"
	"strings"

	"github.com/spf13/cobra"

	"rimheat/plots"
	"rimheat/thermal"
)

// A rigNumber is a numeric flag of the rig, in the unit that it is given in.
type rigNumber struct {
	name, unit, group, help string
	lo, hi                  float64
	// byDefault is the value when nobody gives one, NaN where there is none.
	byDefault float64
}

// The groups of the help.
const (
	groupBench   = "Bench"
	groupProgram = "Braking"
)

func rigNumbers() []rigNumber {
	none := math.NaN()
	return []rigNumber{
		{"watts", "W", groupProgram, "braking power at the wheel, while the brake is on", 0, 10000, none},
		{"kmh", "km/h", groupProgram, "speed of the wheel", 0, 130, 30},
		{"minutes", "min", groupProgram, "length of the run", 0.01, 1440, 15},
		{"flux", "W/m2", groupProgram, "heat straight into the swept bands, instead of --watts", 0, 500e3, none},
		{"air-temp", "°C", groupBench, "air, and wheel at the start", -30, 55, 20},
		{"airflow-kmh", "km/h", groupBench, "speed of the air along the bench, 0 without a fan", 0, 150, none},
		{"film", "W/(m2 K)", groupBench, "film coefficient of the outer faces, instead of moving air", 0.1, 5000, none},
		{"emissivity", "", groupBench, "emissivity of the outer faces, instead of the material's", 0, 1, none},
		{"tyre-kpa", "kPa", groupBench, "pressure in the tyre at the start, above the air's", 50, 1500, thermal.DefaultTyreGaugePa / 1e3},
		{"every", "s", groupOut, "time between samples", 0.1, 86400, none},
	}
}

// rigFlags gives the verb its flags, all writing to l or o.
func rigFlags(c *cobra.Command, l *layer, o *rigOrder) {
	fs := c.Flags()
	fs.SortFlags = false
	text := func(group, value, name, help string) {
		fs.Var(textFlag{l, name}, name, help)
		describe(fs, group, value, name)
	}
	fs.Var(rimFlag{l}, "rim", "built-in rim, or a rim file of your own")
	describe(fs, groupWheels, "ID|FILE.toml", "rim")
	text(groupWheels, "ID|none", "pads", "pads; none leaves all heat to the rim (default by material, none with --flux)")
	otherwise := map[string]string{"airflow-kmh": "as fast as the wheel", "every": "about 15 samples"}
	for _, n := range rigNumbers() {
		help := n.help + ", " + strings.TrimSpace(fmt.Sprintf("%s to %s %s", exact(n.lo), exact(n.hi), n.unit))
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
	for name, words := range map[string][]string{
		"rim": rimIDs(), "pads": append(padIDs(), noPads), "preset": rigPresetNames(),
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
}

// noPads is the value of --pads that leaves them away.
const noPads = "none"
