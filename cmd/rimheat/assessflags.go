package main

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"rimheat/thermal"
)

// The groups of the help, in the order of inputNames.
const (
	groupLoad    = "Load"
	groupWeather = "Weather"
	groupWheels  = "Wheels"
	groupRiding  = "Riding"
	groupDrag    = "Resistance"
	groupSure    = "How sure"
	groupIn      = "Input"
	groupOut     = "Output"
)

// groupOf names the help group of a numeric input.
func groupOf(n number) string {
	switch {
	case strings.HasSuffix(n.name, "-kg"):
		return groupLoad
	case n.styled:
		return groupRiding
	case n.name == "cda", n.name == "crr":
		return groupDrag
	case strings.HasPrefix(n.name, "tyre-"):
		return groupWheels
	}
	return groupWeather
}

// assessFlags gives the verb its flags, all writing to l or o.
func assessFlags(c *cobra.Command, l *layer, o *order) {
	fs := c.Flags()
	inputFlags(c, l, o)
	text := textFlags(fs, l)
	fs.BoolVar(&o.asJSON, "json", false, "print JSON, always metric")
	fs.BoolVar(&o.changes, "changes", false, "also tell what would change the answer: load, air, technique, pads, stops")
	for _, p := range products() {
		help := p.help
		if p.endings != nil {
			help += ": ." + strings.Join(p.endings, ", .")
		}
		text(groupOut, "FILE", p.flag, help)
		if p.flag == reportName {
			text(groupOut, "TEXT", titleName, "title of the report (default the route's name)")
			text(groupOut, "TEXT", noteName, "the shop's own words in the report")
		}
	}
	fs.BoolVar(&o.strict, "strict", false, "exit with code 3 when a candidate is over its limit, or its hot tyre over its maximum")
	describe(fs, groupOut, "", "json", "changes", "strict")
	for _, p := range products() {
		_ = c.MarkFlagFilename(p.flag, p.endings...)
	}
}

// inputFlags gives a verb the flags of all that a ride is: setup, draws and road.
func inputFlags(c *cobra.Command, l *layer, o *order) {
	fs := c.Flags()
	fs.SortFlags = false
	byName := map[string]number{}
	for _, n := range numbers() {
		byName[n.name] = n
	}
	text := textFlags(fs, l)
	for _, name := range inputNames() {
		if name == "air-min" {
			text(groupWeather, "HH:MM", startName, "local clock time at which the ride starts, 00:00 to 23:59; the air then goes with the hour, from --air-min to --air-max")
		}
		if n, ok := byName[name]; ok {
			fs.Var(numberFlag{l, name}, name, numberHelp(n))
			describe(fs, groupOf(n), "N", name)
			continue
		}
		switch name {
		case "rim":
			fs.Var(rimFlag{l}, name, "candidate rim, built in or a rim file (`ID|FILE.toml`), may be repeated (default "+strings.Join(thermal.DefaultRims(), ", ")+")")
			fs.Var(rimLimitFlag{l}, "rim-limit", fmt.Sprintf("the rim maker's own limit for a candidate, °C, %d to %d, may be repeated", rimLimitLo, rimLimitHi))
			describe(fs, groupWheels, "ID", name)
			describe(fs, groupWheels, "ID=°C", "rim-limit")
		case "pads":
			text(groupWheels, "ID", name, "pads, for the rims of their material (default by material)")
		case "tyre-side":
			text(groupWheels, "ID", name, "what sits on the tyre side of the rims (default "+tyreSideIDs()[0]+")")
		case "style":
			text(groupRiding, "NAME", name, strings.Join(styleIDs(), ", ")+" (default "+thermal.DefaultStyle+")")
		case "brake-habit":
			text(groupRiding, "NAME", name, strings.Join(habits(), ", ")+" (default from the style)")
		}
	}
	fs.Var(stopFlag{l}, stopName, fmt.Sprintf("a rest to let the rims cool: where, km from the start, and how long, %g to %g minutes; may be repeated", leastStopMin, mostStopMin))
	describe(fs, groupRiding, "KM=MIN", stopName)
	samplingFlags(c, l, &o.inputs.full, o.inputs.draws)
	roadFlags(c, l, o)
	text(groupIn, "FILE", "setup", "file that holds any of the inputs above")
	fs.BoolVar(&l.imperial, "imperial", false, "lb, °F, mph, ft and mi, in the values of the flags and in the result")
	describe(fs, groupIn, "", "imperial")
	completions(c)
}

// numberHelp is the line of a numeric flag.
func numberHelp(n number) string {
	s := thermal.DefaultSetup()
	def := strconv.FormatFloat(n.get(&s), 'g', 6, 64)
	switch {
	case n.styled:
		def = "from the style"
	case n.name == "air-temp-at":
		def = "the route's lowest point"
	case n.name == "tyre-max-kpa":
		def = "none stated"
	case n.name == "air-min", n.name == "air-max":
		def = "none: --air-temp all day"
	}
	unitName := ""
	if n.unit != "" {
		unitName = " " + n.unit
	}
	return fmt.Sprintf("%s, %s to %s%s (default %s)", n.help, exact(n.lo), exact(n.hi), unitName, def)
}

// completions offers the built-in names to the shell.
func completions(c *cobra.Command) {
	for name, words := range map[string][]string{
		"rim": rimIDs(), "pads": padIDs(), "tyre-side": tyreSideIDs(),
		"style": styleIDs(), "brake-habit": habits(),
	} {
		// The only possible error is a name that is no flag, which a test
		// of the completions would show.
		_ = c.RegisterFlagCompletionFunc(name, cobra.FixedCompletions(words, cobra.ShellCompDirectiveNoFileComp))
	}
	_ = c.RegisterFlagCompletionFunc(startName, cobra.NoFileCompletions)
	_ = c.MarkFlagFilename("setup", "toml")
}
