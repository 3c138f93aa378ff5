package route

import "math"

// Rules for the flanks of what is no road. Choices of this program, no source.
const (
	// A flank lies within maxFlankM metres, or two steps if that is more, and
	// gains flankM metres, or spikeSigmas standard deviations of the heights or
	// riseSigmas of the rise over riseNoiseOverM metres if that is more, over
	// and above MaxGrade; it is at least minFlankM metres long, and no step
	// makes more than jumpShare of it: that would be a spike or a step of the
	// heights, not a hillside.
	maxFlankM = 100.0
	minFlankM = 20.0
	flankM    = 2.0
	jumpShare = 0.60

	riseSigmas     = 3.0
	riseNoiseOverM = 50.0
	// The foot of a flank is where the heights rise to it by less than
	// footGrade over footWindowM metres, at most maxFootM metres beyond the
	// part that is steeper than MaxGrade.
	footGrade   = 0.10
	footWindowM = 30.0
	maxFootM    = 200.0
	// maxFlankPoints bounds the time that heights gone wild can take: points
	// closer than 2 cm show no flank.
	maxFlankPoints = 1000
)

// A flank is a stretch steeper than any road that rises (side 1) or falls
// (side -1).
type flank struct {
	first, last int
	side        float64
}

// flanks finds the flanks in order, none of them overlapping; a long one comes
// in several pieces. Each gains over MaxGrade at least as many metres as least
// says, which is negative where no step is steep.
func (c *course) flanks() (found []flank, least float64) {
	least = -1
	for i := 0; i+1 < len(c.h); i++ {
		rise := c.h[i+1] - c.h[i]
		if math.Abs(rise) <= MaxGrade*(c.dist[i+1]-c.dist[i]) {
			continue
		}
		if least < 0 { // most roads have no steep step and need no noise
			least = max(flankM, spikeSigmas*c.heightScatterM(), riseSigmas*c.riseNoiseM())
		}
		side := math.Copysign(1, rise)
		if q := c.flankEnd(i, side, least); q > i {
			found = append(found, flank{i, q, side})
			i = q - 1
		}
	}
	return found, least
}

// riseNoiseM is the standard deviation of the rise over riseNoiseOverM metres
// that scatter and wandering of the heights make together, metres. That of the
// second difference is sqrt 2 to sqrt 3 times as great (derived).
func (c *course) riseNoiseM() float64 {
	v, ok := c.secondDifference(riseNoiseOverM, c.sloping())
	if !ok {
		return 0
	}
	return math.Sqrt(v / 2)
}

// flankEnd is the end of the flank that starts at point i and rises (side 1)
// or falls (side -1), or i if none does.
func (c *course) flankEnd(i int, side, least float64) int {
	jump := 0.0
	for q := i + 1; q < min(len(c.h), i+maxFlankPoints); q++ {
		length := c.dist[q] - c.dist[i]
		if length > maxFlankM && q > i+2 {
			break
		}
		jump = max(jump, side*(c.h[q]-c.h[q-1]))
		rise := side * (c.h[q] - c.h[i])
		if length >= minFlankM && rise >= MaxGrade*length+least && jump <= jumpShare*rise {
			return q
		}
	}
	return i
}

// foot walks from point i, on a flank, backwards (by = -1) or on (by = 1) to
// where the hump or hollow ends.
func (c *course) foot(i, by int, side float64) int {
	steepest := i // the end of what is steeper than any road
	m := i
	for k := i; ; k += by {
		for m >= 0 && m < len(c.h) && math.Abs(c.dist[m]-c.dist[k]) < footWindowM {
			m += by
		}
		if m < 0 || m >= len(c.h) {
			return k
		}
		grade := side * (c.h[k] - c.h[m]) / math.Abs(c.dist[k]-c.dist[m])
		if grade > MaxGrade {
			steepest = k
		}
		if grade < footGrade || math.Abs(c.dist[k]-c.dist[steepest]) > maxFootM || math.Abs(c.dist[k]-c.dist[i]) > maxCrossingM {
			// The flank may end between k and m.
			for k != m && side*(c.h[k]-c.h[k+by]) > footGrade*math.Abs(c.dist[k]-c.dist[k+by]) {
				k += by
			}
			return k
		}
	}
}
