package main

import (
	"fmt"
	"math"

	"github.com/spf13/cobra"

	"rimheat/thermal"
)

// Names of the flags that say how what is not known exactly is drawn.
const (
	samplesName = "samples"
	seedName    = "seed"
)

// samplingFlags gives the verb the flags about drawing, writing to l or sure.
func samplingFlags(c *cobra.Command, l *layer, full *bool, draws int) {
	fs := c.Flags()
	fs.Var(numberFlag{l, samplesName}, samplesName, fmt.Sprintf("how many draws of what is not known exactly, 100 to %d, in tens; 0 for the central estimate alone (default %d)", thermal.MostSamples, draws))
	fs.Var(numberFlag{l, seedName}, seedName, "a whole number; the same seed draws the same (default 1)")
	fs.BoolVar(full, "full", false, "run the full section solver for every draw, in place of the reduced model: some ten times slower")
	describe(fs, groupSure, "N", samplesName, seedName)
	describe(fs, groupSure, "", "full")
}

// sampling takes the flags about drawing and the spreads of the setup file.
func (a answers) sampling(s *thermal.Setup) error {
	l := a.flags
	s.Sampling = thermal.Sampling{Samples: a.draws, Seed: 1, Full: a.full, Spread: a.file.spreads}
	if n, given := l.numbers[samplesName]; given {
		if n != 0 && !(n >= thermal.LeastSamples && n <= thermal.MostSamples) || math.Mod(n, 10) != 0 {
			return badInput("--%s %s: wants tens, %d to %d, or 0", samplesName, exact(n), thermal.LeastSamples, thermal.MostSamples)
		}
		s.Sampling.Samples = int(n)
	}
	if n, given := l.numbers[seedName]; given {
		if !(n >= 0 && n <= 1<<53) || n != math.Trunc(n) {
			return badInput("--%s %s: wants a whole number, 0 or more", seedName, exact(n))
		}
		s.Sampling.Seed = uint64(n)
	}
	if s.Sampling.Samples > 0 {
		return nil
	}
	switch {
	case l.has(seedName):
		return badInput("--%s: nothing is drawn with --%s 0", seedName, samplesName)
	case a.full:
		return badInput("--full: nothing is drawn with --%s 0", samplesName)
	}
	return nil
}
