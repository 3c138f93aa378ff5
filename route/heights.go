package route

import (
	"math"
	"slices"
)

// Rules for heights. Choices of this program, no source, but for the range.
const (
	// minHeightM and maxHeightM bound the heights of roads, metres: the
	// lowest shore is about -430 m and no road reaches 6,000 m (from memory);
	// terrain models mark missing data with numbers far outside.
	minHeightM = -500.0
	maxHeightM = 9000.0
	// maxFillM is the longest stretch without heights that is filled, metres.
	maxFillM = 500.0
	// maxLackShare is the greatest share of points without height.
	maxLackShare = 0.20
	// A run of heights of exactly zero is taken as lacking if its neighbours
	// are higher or lower than zeroM metres plus what MaxGrade allows.
	zeroM = 20.0
)

// repairHeights marks zero runs and spikes as lacking and fills what lacks,
// or says why it cannot.
func (c *course) repairHeights() error {
	if err := c.markZeroRuns(); err != nil {
		return err
	}
	lacking := 0
	for _, l := range c.lacks {
		if l {
			lacking++
		}
	}
	n := len(c.h)
	switch {
	case lacking == n:
		return c.noHeights()
	case float64(lacking) > maxLackShare*float64(n):
		bad := &c.track.badHeights
		what := count(lacking) + " of " + count(n) + " points have no height, more than " + percent(maxLackShare)
		if bad.n > 0 {
			what += "; " + plural(bad.n, "height", "heights") + " cannot be read as a number (for example " + quoted(bad.text) + ")"
		}
		return c.fail(bad.line, what, c.heightAdvice())
	}
	filled, err := c.fill(maxFillM)
	if err != nil {
		return err
	}
	if lacking > 0 {
		c.note("height-filled", lacking, plural(lacking, "missing height", "missing heights")+" filled in a straight line, "+near(filled))
	}
	c.bridgeCrossings()
	if spikes := c.markSpikes(); len(spikes) > 0 {
		if _, err := c.fill(math.Inf(1)); err != nil {
			return err
		}
		c.note("height-spike", len(spikes), plural(len(spikes), "height", "heights")+" far off the neighbours replaced in a straight line, "+near(spikes))
	}
	return nil
}

// noHeights words the refusal of a track without one usable height.
func (c *course) noHeights() error {
	n, bad := len(c.track.Points), &c.track.badHeights
	switch {
	case bad.n == 0:
		return c.fail(0, "none of the "+count(n)+" points has a height", c.heightAdvice())
	case slices.ContainsFunc(c.track.Points, func(p Point) bool { return p.HasHeight }):
		return c.fail(bad.line, "none of the "+count(n)+" points has a usable height; "+count(bad.n)+" cannot be read as a number (for example "+
			quoted(bad.text)+")", c.heightAdvice())
	}
	return c.fail(bad.line, "none of the "+count(bad.n)+" heights can be read as a number (for example "+quoted(bad.text)+")", c.heightAdvice())
}

// heightAdvice says what to do about lacking heights.
func (c *course) heightAdvice() string {
	switch {
	case c.fromTiles:
		return "the elevation tiles have no heights there: take others, or leave --heights out"
	case c.track.elsewhere != "":
		return c.track.elsewhere
	case c.track.badHeights.n > 0:
		return "write heights in metres with a decimal point, as in 12.5"
	}
	return "add heights in a route planner, or name a folder of elevation tiles with --heights"
}

// markZeroRuns takes runs of exactly zero far from their neighbours' height
// as lacking: many devices and planners write 0 for "unknown".
func (c *course) markZeroRuns() error {
	known, zero := 0, 0
	for i, h := range c.h {
		if !c.lacks[i] {
			known++
			if h == 0 {
				zero++
			}
		}
	}
	if zero == 0 {
		return nil
	}
	if zero == known {
		return c.fail(0, "all "+count(known)+" heights are zero, which means unknown", c.heightAdvice())
	}
	before := -1 // last point with a height that is not zero
	for i := 0; i < len(c.h); {
		if c.lacks[i] || c.h[i] != 0 {
			if !c.lacks[i] {
				before = i
			}
			i++
			continue
		}
		end := i // first point after the run with a height that is not zero
		for end < len(c.h) && (c.lacks[end] || c.h[end] == 0) {
			end++
		}
		last := end - 1
		for c.lacks[last] {
			last--
		}
		odd := before < 0 || c.tooFar(before, i)
		if end < len(c.h) {
			odd = odd && c.tooFar(end, last)
		}
		if odd {
			for j := i; j <= last; j++ {
				c.lacks[j] = true
			}
		}
		i = end
	}
	return nil
}

// tooFar tells whether point i cannot lie on the same road as zero height at j.
func (c *course) tooFar(i, j int) bool {
	return math.Abs(c.h[i]) > zeroM+MaxGrade*math.Abs(c.dist[i]-c.dist[j])
}

// fill gives every lacking point a height: between known points linear in
// distance, before the first and after the last flat. It gives the middle and
// the length, metres, of each stretch; one longer than limit metres is an error.
func (c *course) fill(limit float64) (filled []spot, err error) {
	n := len(c.h)
	for i := 0; i < n; i++ {
		if !c.lacks[i] {
			continue
		}
		a := i - 1 // known, or -1
		b := i     // known, or n
		for b < n && c.lacks[b] {
			b++
		}
		length := c.dist[min(b, n-1)] - c.dist[max(a, 0)]
		if length > limit {
			return nil, c.fail(c.line[i], plural(b-i, "point", "points")+" in a row from point "+count(c.number[i])+" on have no height over "+
				metres(length)+", more than "+metres(limit), c.heightAdvice())
		}
		filled = append(filled, spot{(c.dist[i] + c.dist[b-1]) / 2, length})
		for j := i; j < b; j++ {
			switch {
			case a < 0:
				c.h[j] = c.h[b]
			case b == n:
				c.h[j] = c.h[a]
			default:
				f := (c.dist[j] - c.dist[a]) / (c.dist[b] - c.dist[a])
				c.h[j] = c.h[a] + f*(c.h[b]-c.h[a])
			}
			c.lacks[j] = false
		}
		i = b
	}
	return filled, nil
}
