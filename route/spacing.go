package route

// Rules for the distances between points. Choices of this program, no source:
// planners set a point every 20 to 60 m and leave straights of some 300 m
// without one (common practice, no source).
const (
	// A step longer than gapM metres and than gapSteps median steps is
	// reported as a gap.
	gapM     = 500.0
	gapSteps = 20.0
	// maxMeanStepM is the greatest mean distance between points, metres;
	// farther apart they are places on the way and not the road itself.
	maxMeanStepM = 250.0
	// minRoadShare is the least share of the length that must lie in steps of
	// at most maxMeanStepM.
	minRoadShare = 0.50
	// sparseM is the mean distance between points, metres, from which on bends
	// are taken to be missing: two hairpins fit between such points.
	sparseM = 60.0
)

// checkSpacing refuses points too far apart to be a road and reports those
// that are merely far apart.
func (c *course) checkSpacing() error {
	n := len(c.dist)
	length := c.dist[n-1]
	road := 0.0
	for i := 0; i+1 < n; i++ {
		if d := c.dist[i+1] - c.dist[i]; d <= maxMeanStepM {
			road += d
		}
	}
	const do = "let a route planner draw the road between the points, or cut the file at its gaps"
	longest := c.longestStep()
	worst := "; the longest step, " + distance(c.dist[longest+1]-c.dist[longest]) + ", is after point " + count(c.number[longest]) +
		" near " + atKilometres(c.dist[longest])
	mean := length / float64(n-1)
	switch {
	case mean > maxMeanStepM:
		return c.fail(c.line[longest], "the points lie "+distance(mean)+" apart on average, more than "+metres(maxMeanStepM)+
			", and so do not show the road"+worst, do)
	case road < minRoadShare*length:
		return c.fail(c.line[longest], "points more than "+metres(maxMeanStepM)+" apart leave "+kilometres(length-road)+" of "+kilometres(length)+
			" without a road, more than "+percent(1-minRoadShare)+worst, do)
	case mean > sparseM:
		c.note("sparse", n, "points lie "+metres(mean)+" apart on average: bends between them are not seen")
	}
	return nil
}

func (c *course) longestStep() int {
	best := 0
	for i := 0; i+1 < len(c.dist); i++ {
		if c.dist[i+1]-c.dist[i] > c.dist[best+1]-c.dist[best] {
			best = i
		}
	}
	return best
}

func (c *course) reportGaps() {
	steps := make([]float64, len(c.dist)-1)
	for i := range steps {
		steps[i] = c.dist[i+1] - c.dist[i]
	}
	limit := max(gapM, gapSteps*median(steps))
	var gaps []spot
	longest := 0.0
	for i := 0; i+1 < len(c.dist); i++ {
		if d := c.dist[i+1] - c.dist[i]; d > limit {
			gaps = append(gaps, spot{c.dist[i], d})
			longest = max(longest, d)
			c.doubts = append(c.doubts, doubt{startM: c.dist[i], endM: c.dist[i+1], gaps: 1, longestGapM: d})
		}
	}
	switch len(gaps) {
	case 0:
	case 1:
		c.note("gap", 1, "a gap of "+metres(longest)+" bridged in a straight line "+near(gaps))
	default:
		c.note("gap", len(gaps), count(len(gaps))+" gaps of up to "+metres(longest)+" bridged in a straight line, "+near(gaps))
	}
}
