package route

import (
	"math"
	"slices"
	"strconv"
)

// Rules for heights that are kept but hard to believe. Choices of this
// program, no source.
const (
	// A height step of at least stepM metres between neighbouring points at
	// most stepSpacingM metres apart is reported, more than 50 %, if it is
	// spikeSigmas robust standard deviations of the heights, too.
	stepM        = 15.0
	stepSpacingM = 30.0
	// A descent longer than suspectLengthM metres is reported if its mean
	// grade or its steepest 500 m are steeper than these, dimensionless: only
	// a few public roads are (common practice, no source), while every road
	// of 6 to 8 % is if its heights are in feet.
	suspectLengthM  = 1000.0
	suspectMean     = 0.18
	suspectSteepest = 0.25
)

// reportHeightSteps reports the height steps that the search for spikes left,
// as they do not come back.
func (c *course) reportHeightSteps() {
	var steps []spot
	highest := 0.0
	for _, i := range c.heightSteps() {
		d := math.Abs(c.h[i+1] - c.h[i])
		steps = append(steps, spot{c.dist[i], d})
		highest = max(highest, d)
		c.doubts = append(c.doubts, doubt{startM: c.dist[i], endM: c.dist[i+1], steps: 1, highestStepM: d})
	}
	switch len(steps) {
	case 0:
	case 1:
		c.note("height-step", 1, "a height step of "+metres(highest)+" between neighbouring points kept, "+near(steps))
	default:
		c.note("height-step", len(steps), count(len(steps))+" height steps of up to "+metres(highest)+" between neighbouring points kept, "+near(steps))
	}
}

// heightSteps are the points from which the height steps to the next.
func (c *course) heightSteps() []int {
	var steps []int
	for i := 0; i+1 < len(c.h); i++ {
		if math.Abs(c.h[i+1]-c.h[i]) >= stepM && c.dist[i+1]-c.dist[i] <= stepSpacingM {
			steps = append(steps, i)
		}
	}
	if len(steps) == 0 {
		return nil
	}
	least := spikeSigmas * c.heightScatterM()
	return slices.DeleteFunc(steps, func(i int) bool { return math.Abs(c.h[i+1]-c.h[i]) < least })
}

// reportVerySteep reports descents too steep to be likely, and names the one
// steepest over 500 m.
func (c *course) reportVerySteep(p *Profile) {
	found, worst := 0, 0
	for i, d := range p.Descents {
		if d.EndM-d.StartM <= suspectLengthM || d.MeanGrade >= -suspectMean && d.SteepestGrade >= -suspectSteepest {
			continue
		}
		if found == 0 || d.SteepestGrade < p.Descents[worst].SteepestGrade {
			worst = i
		}
		found++
	}
	if found == 0 {
		return
	}
	d := p.Descents[worst]
	grade, length, m := d.MeanGrade, d.EndM-d.StartM, d.StartM
	if d.SteepestGrade < -suspectSteepest {
		_, at := steepest(p, d.Start, d.End)
		grade, length, m = d.SteepestGrade, SteepestWindowM, p.DistM[at]
	}
	c.note("very-steep", found, strconv.FormatFloat(-100*grade, 'f', 1, 64)+" % over "+metres(length)+" near "+atKilometres(m)+
		": steeper than nearly all public roads; "+c.feetQuestion())
}
