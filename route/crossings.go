package route

import "math"

// Rules for tunnels and bridges. A terrain model knows the ridge and the gorge
// and not the road through or across them, so heights taken from it climb and
// fall there more steeply than any road. Choices of this program, no source.
const (
	// maxCrossingM is the longest tunnel or bridge, metres, and minCrossingM
	// the least departure of its heights from the road.
	maxCrossingM = 3000.0
	minCrossingM = 15.0
	// maxCrossingGrade is the greatest grade between the two ends,
	// dimensionless: tunnels and bridges are built flatter than that.
	maxCrossingGrade = 0.15
	// maxCrossedShare is the greatest share of the road that may be such:
	// beyond it the heights are wrong altogether, or in feet.
	maxCrossedShare = 0.50
	// maxLooks, points looked at for each point of the course, bounds the time
	// that heights gone wild can take: where more are needed nothing is bridged.
	maxLooks = 200
)

// A crossing is a stretch between two good points whose heights are those of
// the ground over a tunnel or under a bridge.
type crossing struct {
	first, last int
	side        float64 // 1 for a tunnel's ridge, -1 for a bridge's gorge
	departureM  float64 // metres, positive
}

// bridgeCrossings replaces the heights over tunnels and under bridges by a
// straight line, reports them and marks them doubtful: the road inside is not
// known, only where it comes out.
func (c *course) bridgeCrossings() {
	found := c.crossings()
	crossed, longest, highest := 0.0, 0.0, 0.0
	for _, x := range found {
		length := c.dist[x.last] - c.dist[x.first]
		crossed += length
		longest, highest = max(longest, length), max(highest, x.departureM)
	}
	if len(found) == 0 || crossed > maxCrossedShare*c.dist[len(c.dist)-1] {
		return
	}
	var spots []spot
	for _, x := range found {
		a, b := c.dist[x.first], c.dist[x.last]
		for i := x.first + 1; i < x.last; i++ {
			c.h[i] -= c.departure(i, x.first, x.last)
		}
		spots = append(spots, spot{(a + b) / 2, x.departureM})
		c.doubts = append(c.doubts, doubt{startM: a, endM: b, crossings: 1, longestCrossingM: b - a})
	}
	what := "the heights leave the road by " + metres(highest) + " over " + metres(longest)
	if len(found) > 1 {
		what = "in " + count(len(found)) + " places the heights leave the road by up to " + metres(highest) + " over up to " + metres(longest)
	}
	c.note("tunnel-or-bridge", len(found), what+" and come back, steeper than "+percent(MaxGrade)+
		" both ways, as those of the ground do at a tunnel or bridge: replaced in a straight line, "+near(spots))
}

// crossings finds the humps and hollows between two flanks that lead back to
// where a road could go on. Each flank is paired with the nearest that does.
func (c *course) crossings() []crossing {
	var found []crossing
	flanks, least := c.flanks()
	budget := maxLooks * len(c.h)
	for k := 0; k < len(flanks); k++ {
		first := c.foot(flanks[k].first, -1, flanks[k].side)
		if n := len(found); n > 0 {
			first = max(first, found[n-1].last)
		}
		x, ok := c.crossingFrom(first, flanks[k].side, flanks[k+1:], least, &budget)
		if budget < 0 {
			return nil
		}
		if !ok {
			continue
		}
		found = c.joined(append(found, x), least)
		for k+1 < len(flanks) && flanks[k+1].first < x.last {
			k++
		}
	}
	return found
}

// crossingFrom looks among the flanks that follow for the end of the hump (side
// 1) or hollow (side -1) that begins at first. It takes the points looked at
// from the budget.
func (c *course) crossingFrom(first int, side float64, following []flank, least float64, budget *int) (crossing, bool) {
	last := first
	for _, f := range following {
		if c.dist[f.first]-c.dist[first] > maxCrossingM || *budget < 0 {
			break
		}
		if f.side == side || f.first < last {
			continue // the same side, or another piece of a flank tried
		}
		last = c.foot(f.last, 1, side)
		*budget -= last - first
		if x, ok := c.between(first, last, side, least); ok {
			return x, true
		}
	}
	return crossing{}, false
}

// joined makes one of the last two crossings if the saddle between two ridges,
// or the rise between two gorges, is too short and too far off the line for a
// road that comes out there.
func (c *course) joined(found []crossing, least float64) []crossing {
	n := len(found)
	if n < 2 {
		return found
	}
	x, y := found[n-2], found[n-1]
	length := c.dist[y.last] - c.dist[x.first]
	if x.side != y.side || c.dist[y.first]-c.dist[x.last] > maxFootM || length > maxCrossingM ||
		x.side*c.departure(x.last, x.first, y.last) < minCrossingM {
		return found
	}
	both, ok := c.between(x.first, y.last, x.side, least)
	if !ok {
		return found
	}
	found[n-2] = both
	return found[:n-1]
}

// between is the crossing between two points, if its line and its heights fit:
// on either side they go half the way off the line by more than MaxGrade on the
// mean, so that a hill of 25 % is none, however its heights wander.
func (c *course) between(first, last int, side, least float64) (crossing, bool) {
	length := c.dist[last] - c.dist[first]
	if last-first < 3 || length > maxCrossingM || math.Abs(c.h[last]-c.h[first]) > maxCrossingGrade*length {
		return crossing{}, false
	}
	highest := 0.0
	for i := first + 1; i < last; i++ {
		d := side * c.departure(i, first, last)
		if d <= -least {
			return crossing{}, false
		}
		highest = max(highest, d)
	}
	if highest < minCrossingM {
		return crossing{}, false
	}
	for _, from := range [...]struct{ foot, by int }{{first, 1}, {last, -1}} {
		i := from.foot + from.by
		for side*c.departure(i, first, last) < highest/2 {
			i += from.by
		}
		if side*(c.h[i]-c.h[from.foot]) <= MaxGrade*math.Abs(c.dist[i]-c.dist[from.foot]) {
			return crossing{}, false
		}
	}
	return crossing{first, last, side, highest}, true
}
