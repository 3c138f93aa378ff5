package route

import (
	"math"
	"slices"
)

// Rules for telling noise of positions from the bends of the road. Choices of
// this program, no source, but where derived.
const (
	// leastSwaps is the least part of neighbouring turns that go to opposite
	// sides where noise makes them, sparseSwaps where points are on the mean
	// more than denseM metres apart, so that bends of the road may do so too:
	// white noise alone gives 0.73 (arccos(-2/3)/pi, derived), a road of steady
	// bends nearly none. Beyond loosestM noise is not looked for.
	leastSwaps, sparseSwaps = 0.45, 0.60
	denseM, loosestM        = 12.0, 60.0
	// mostNoiseM is the most noise that a receiver has, metres: consumer ones are
	// off by 2 to 5 m (from memory). More is the shape of the road.
	mostNoiseM = 10.0
	// straighter is the part of the road taken for its straighter part, normal
	// the size which that part of normally distributed values does not exceed,
	// rayleigh that of the lengths of such vectors, in standard deviations
	// (derived).
	straighter, normal, rayleigh = 0.30, 0.3853, 0.8446
	// maxSamples is how many places, or twice as many, are enough to measure
	// noise at.
	maxSamples = 2000
)

// measureNoise estimates the standard deviation of white position noise on
// one axis, metres, and 0 where it cannot be told from the road: from the
// third difference of positions across the direction of travel, which a
// steady bend does not have; weights 1, 3, 3, 1 give it the standard
// deviation sqrt(20) times that of one position.
func (c *course) measureNoise() float64 {
	const wide = 2 // steps on either side for the direction of travel
	n := len(c.dist)
	mean := c.dist[n-1] / float64(n-1)
	if n < 4+2*wide || mean > loosestM {
		return 0
	}
	least := leastSwaps
	if mean > denseM {
		least = sparseSwaps
	}
	if c.swaps() < least {
		return 0
	}
	aside := c.thirdDifferences(1, wide, max(1, n/maxSamples))
	// A road that zigzags, drawn by its vertices alone, turns to alternate sides too.
	if noise := madToSigma * median(aside) / math.Sqrt(20); noise <= mostNoiseM {
		return noise
	}
	return 0
}

// swaps is the part of neighbouring turns that go to opposite sides.
func (c *course) swaps() float64 {
	x, y := c.east, c.north
	swaps, all, before := 0, 0, 0.0
	for i := 1; i+1 < len(x); i++ {
		turn := (x[i]-x[i-1])*(y[i+1]-y[i]) - (y[i]-y[i-1])*(x[i+1]-x[i])
		if turn != 0 && before != 0 {
			all++
			if turn < 0 != (before < 0) {
				swaps++
			}
		}
		before = turn
	}
	if all == 0 {
		return 0
	}
	return float64(swaps) / float64(all)
}

// wander is the noise of positions k points apart, metres, as measureNoise has
// it, taken from the straighter part of the road, for at that distance bends
// are in it too. For a random walk turns have sqrt(10/9) of it (derived).
func (c *course) wander(k int) float64 {
	aside := c.thirdDifferences(k, 0, max(1, k/4, len(c.east)/maxSamples))
	if len(aside) == 0 {
		return 0
	}
	slices.Sort(aside)
	return aside[int(straighter*float64(len(aside)))] / (normal * math.Sqrt(20)) * math.Sqrt(10.0/9)
}

// thirdDifferences gives the sizes of third differences of positions k points
// apart across the direction of travel, which is taken from wide points before
// them to wide points after, metres. Every so many points are taken, counted
// from both ends, so that a route and its reverse have the same.
func (c *course) thirdDifferences(k, wide, every int) []float64 {
	x, y := c.east, c.north
	last := len(x) - 1 - 3*k
	aside := make([]float64, 0, 2*(max(last, 0)/every+1))
	at := func(i int) {
		dx, dy := x[i+3*k+wide]-x[i-wide], y[i+3*k+wide]-y[i-wide]
		ax, ay := x[i+3*k]-3*x[i+2*k]+3*x[i+k]-x[i], y[i+3*k]-3*y[i+2*k]+3*y[i+k]-y[i]
		if d := math.Hypot(dx, dy); d > 0 {
			aside = append(aside, math.Abs(ax*dy-ay*dx)/d)
		}
	}
	for i := wide; i+wide <= last; i += every {
		at(i)
		if every > 1 {
			at(last - i)
		}
	}
	return aside
}
