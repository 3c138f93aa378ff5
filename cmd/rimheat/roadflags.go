package main

import (
	"errors"

	"github.com/spf13/cobra"

	"rimheat/route"
	"rimheat/route/terrain"
)

// Names of the flags that say how the road is read.
const (
	smoothName  = "smooth-m"
	heightsName = "heights"
)

// roadFlags gives the verb the flags about the road, writing to l or o.
func roadFlags(c *cobra.Command, l *layer, o *order) {
	fs := c.Flags()
	fs.Var(textFlag{l, "track"}, "track", "track or route in the file, by name or number (default the longest)")
	fs.Var(textFlag{l, heightsName}, heightsName, "folder of elevation tiles (.hgt, .hgt.gz, .zip) to take all heights from, instead of the file's")
	fs.Var(numberFlag{l, smoothName}, smoothName, "length over which heights are smoothed, 20 to 5000 m (default found from their noise)")
	fs.BoolVar(&o.rawHeights, "raw-heights", false, "take the heights as they are, repaired but not smoothed")
	fs.BoolVar(&o.replay, "replay", false, "a recorded ride: take its own speeds and stops instead of planning them")
	describe(fs, groupIn, "NAME", "track")
	describe(fs, groupIn, "DIR", heightsName)
	describe(fs, groupIn, "N", smoothName)
	describe(fs, groupIn, "", "raw-heights", "replay")
	_ = c.MarkFlagDirname(heightsName)
}

// roadOptions says how the road is to be read.
func (o order) roadOptions() (route.Options, error) {
	track, _, _ := o.inputs.text("track")
	opt := route.Options{Track: track, RawHeights: o.rawHeights, Replay: o.replay}
	l := o.inputs.flags
	for _, name := range []string{"cap-kmh", "corner-g", "brake-g", "pedal-w"} {
		if o.replay && l.has(name) {
			return opt, badInput("--%s has no place in a replay, whose speeds are the recorded ones", name).hint("leave --%s or --replay out", name)
		}
	}
	if m, given := l.numbers[smoothName]; given {
		if !(m >= route.MinSmoothM && m <= route.MaxSmoothM) {
			return opt, badInput("--%s %s: outside %d to %d m", smoothName, exact(m), int(route.MinSmoothM), int(route.MaxSmoothM))
		}
		if o.rawHeights {
			return opt, badInput("--%s and --raw-heights do not go together", smoothName).hint("leave one of them out")
		}
		opt.SmoothM = m
	}
	if dir, given := l.texts[heightsName]; given {
		tiles, err := terrain.Open(dir)
		if err != nil {
			var f *terrain.FileError
			if errors.As(err, &f) {
				return opt, badInput("--%s %s: %s", heightsName, f.File, f.What).hint("%s", f.Do)
			}
			return opt, badInput("--%s %s: %s", heightsName, dir, err)
		}
		opt.Tiles = tiles
	}
	return opt, nil
}
