package route

import (
	"math"
	"strconv"
)

// Rules by which times are not those of a ride. Choices of this program, but
// where said.
const (
	// No rider climbs steepClimbM metres or more faster than climbMPerH metres an
	// hour: the best reach some 1,800 over an hour (from memory).
	steepClimbM = 150.0
	climbMPerH  = 3000.0
	// A ride whose speed stays within evenPart of its mean over spans of evenS is
	// computed, not ridden.
	evenPart = 0.02
	evenS    = 60.0
	// fastestMps is the mean speed over evenS that no bicycle keeps.
	fastestMps = 33.0
)

// genuine says why recorded times are not a rider's, if they are not.
func (r *recording) genuine(t *Track, f []fix) error {
	fail := func(what string) error {
		return &InputError{File: t.File, What: "the times in the file are not those of a ride: " + what, Do: onlyRides}
	}
	dist := wayAlong(f)
	if rate, at := climbRate(f, dist); rate > climbMPerH {
		return fail("they climb " + count(int(math.Round(rate))) + " m an hour near " + atKilometres(at))
	}
	if v := dist[len(f)-1] / math.Max(f[len(f)-1].arriveS, 1); v > fastestMps {
		return fail("they go at " + strconv.FormatFloat(3.6*v, 'f', 0, 64) + " km/h throughout")
	}
	var sum, squares, n float64
	for i := 0; i < len(f); {
		j := i
		for j+1 < len(f) && f[j].arriveS-f[i].arriveS < evenS {
			j++
		}
		if j == i {
			break
		}
		if dt := f[j].arriveS - f[i].arriveS; dt >= evenS && dt < 3*evenS {
			v := (dist[j] - dist[i]) / dt
			if v > fastestMps {
				return fail("they go at " + strconv.FormatFloat(3.6*v, 'f', 0, 64) + " km/h for a minute")
			}
			sum, squares, n = sum+v, squares+v*v, n+1
		}
		i = j
	}
	if n >= 10 {
		mean := sum / n
		if spread := math.Sqrt(math.Max(0, squares/n-mean*mean)); spread < evenPart*mean {
			return fail("the speed is the same throughout, as a planner computes it")
		}
	}
	return nil
}

// wayAlong is how far each fix lies from the first along all, metres.
func wayAlong(f []fix) []float64 {
	dist := make([]float64, len(f))
	for i := 1; i < len(f); i++ {
		dist[i] = dist[i-1] + distanceTo(f[i-1], f[i])
	}
	return dist
}

// climbRate is the highest rate of climb over steepClimbM of rise, metres an
// hour, and where, metres from the start.
func climbRate(f []fix, dist []float64) (rate, atM float64) {
	// The lowest point not yet left behind: a climb starts there.
	low := -1
	for i := range f {
		if !f[i].point.HasHeight {
			continue
		}
		if low < 0 || f[i].point.HeightM <= f[low].point.HeightM {
			low = i
			continue
		}
		rise := f[i].point.HeightM - f[low].point.HeightM
		if rise < steepClimbM {
			continue
		}
		// A height step is no climb.
		if dt := f[i].arriveS - f[low].arriveS; dt > 0 && rise < MaxGrade*(dist[i]-dist[low]) {
			if v := rise / dt * 3600; v > rate {
				rate, atM = v, dist[low]
			}
		}
		low = i
	}
	return rate, atM
}

// seconds words a time.
func seconds(s float64) string {
	if s < 120 {
		return strconv.FormatFloat(s, 'f', 0, 64) + " s"
	}
	return strconv.FormatFloat(s/60, 'f', 0, 64) + " min"
}

// hours words a time in hours.
func hours(s float64) string { return strconv.FormatFloat(s/3600, 'f', 0, 64) + " hours" }
