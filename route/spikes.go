package route

import "math"

// Rules for height spikes. Choices of this program, no source, but for the
// factor of the median deviation.
const (
	// spikeM is the least departure of a spike from its neighbours, metres:
	// well above the rounding to whole metres.
	spikeM = 4.0
	// spikeSigmas is the least departure in robust standard deviations.
	spikeSigmas = 6.0
	// spikeGrade is the least grade of both flanks, dimensionless.
	spikeGrade = 1.15 * MaxGrade
	// maxSpikeM is the longest stretch that one spike may cover, metres.
	maxSpikeM = 300.0
	// madToSigma turns the median absolute deviation into the standard
	// deviation of a normal distribution, 1/0.6745 (F. R. Hampel, The
	// influence curve and its role in robust estimation, J. Amer. Statist.
	// Assoc. 69 (1974) 383; from memory).
	madToSigma = 1.4826
)

// markSpikes marks as lacking the heights that leave the road by a flank too
// steep for any road and come back by another, and gives where each is and by
// how many metres it departs. The departure is judged against the straight
// line between the last good point and the point where the height is back,
// along distance, and against the scatter of all heights about their
// neighbours; so neither a steep hill, which does not come back, nor
// whole-metre steps, which are small, is a spike. Tunnels and bridges, wider
// and with flanks of more than one step, are bridged before.
func (c *course) markSpikes() []spot {
	n := len(c.h)
	if n < 3 {
		return nil
	}
	least := max(spikeM, spikeSigmas*c.heightScatterM())
	var marked []spot
	for i := 1; i+1 < n; i++ {
		before, end := i-1, c.spikeEnd(i, least)
		for ; i < end; i++ {
			c.lacks[i] = true
			marked = append(marked, spot{c.dist[i], math.Abs(c.departure(i, before, end))})
		}
	}
	return marked
}

// heightScatterM is the robust standard deviation of the heights about the
// line between their neighbours, metres, where the road slopes.
func (c *course) heightScatterM() float64 {
	scatter := make([]float64, 0, len(c.h))
	sloping := c.sloping()
	for i := 1; i+1 < len(c.h); i++ {
		if sloping[i] {
			scatter = append(scatter, math.Abs(c.departure(i, i-1, i+1)))
		}
	}
	return madToSigma * median(scatter)
}

// departure is the height of point i above the line from a to b, metres.
func (c *course) departure(i, a, b int) float64 {
	f := (c.dist[i] - c.dist[a]) / (c.dist[b] - c.dist[a])
	return c.h[i] - (c.h[a] + f*(c.h[b]-c.h[a]))
}

// spikeEnd is the first good point after the spike that starts at i, or i if
// none does; i-1 is good.
func (c *course) spikeEnd(i int, least float64) int {
	rise := c.h[i] - c.h[i-1]
	if math.Abs(rise) < least || math.Abs(rise) < spikeGrade*(c.dist[i]-c.dist[i-1]) {
		return i
	}
	for j := i + 1; j < len(c.h) && c.dist[j]-c.dist[i-1] <= max(maxSpikeM, c.dist[i+1]-c.dist[i-1]); j++ {
		back := c.h[j] - c.h[j-1]
		if back*rise >= 0 || math.Abs(back) < spikeGrade*(c.dist[j]-c.dist[j-1]) {
			continue
		}
		if math.Abs(c.h[j]-c.h[i-1]) > MaxGrade*(c.dist[j]-c.dist[i-1])+spikeM/2 {
			continue
		}
		first, last := c.departure(i, i-1, j), c.departure(j-1, i-1, j)
		if first*rise > 0 && last*rise > 0 && math.Abs(first) >= least && math.Abs(last) >= least {
			return j
		}
	}
	return i
}
