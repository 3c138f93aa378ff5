package route

import (
	"math"
	"sort"
	"time"
)

const (
	// maxRideS is the longest ride, s, leastFixes the fewest points of one, and
	// maxUntimed the greatest share of points without a time.
	maxRideS   = 10 * 86400.0
	leastFixes = 10
	maxUntimed = 0.20
	// mostLostM is how much road points whose times do not go on may cover, metres.
	mostLostM = 300.0
	// onlyRides says what to do about times that are not a ride's.
	onlyRides = "take a recorded ride, or plan this one without --replay"
)

// timed takes the points with times that go on, outliers left out, and lays them
// out in a plane.
func (r *recording) timed(t *Track) ([]fix, error) {
	fail := func(what, do string) error { return &InputError{File: t.File, What: what, Do: do} }
	const plan = onlyRides
	var fixes []fix
	var first time.Time
	timed := 0
	kept := dropOutliers(t.Points)
	r.outliers = len(t.Points) - len(kept)
	for _, i := range kept {
		p := t.Points[i]
		if p.Time.IsZero() {
			r.ride.LeftOut++
			continue
		}
		timed++
		if first.IsZero() {
			first = p.Time
		}
		s := p.Time.Sub(first).Seconds()
		fixes = append(fixes, fix{point: p, arriveS: s, end: s})
	}
	forward := goingForward(fixes)
	r.ride.LeftOut += len(fixes) - len(forward)
	lostM, at := mostLost(fixes, forward)
	fixes = forward
	without := len(t.Points) - timed
	switch {
	case timed == 0:
		return nil, fail("no point has a time, so there is no ride to replay", plan)
	case timed < leastFixes:
		return nil, fail("only "+plural(timed, "point has", "points have")+" a time, too few for a ride", plan)
	case float64(without) > maxUntimed*float64(len(t.Points)):
		return nil, fail(count(without)+" of "+count(len(t.Points))+" points have no time: the ride would lack that part of the road", plan)
	case float64(len(fixes)) < 0.5*float64(timed):
		return nil, fail("the times of "+count(timed-len(fixes))+" of "+count(timed)+" points do not go on from the point before: this is no recording of a ride", plan)
	case lostM > mostLostM:
		return nil, &InputError{File: t.File, Line: at.point.Line, What: "the clock jumps here: " + metres(lostM) + " of road would be left out of the ride", Do: "split the recording there, or plan this road without --replay"}
	case fixes[len(fixes)-1].arriveS-fixes[0].arriveS > maxRideS:
		return nil, fail("the times span "+hours(fixes[len(fixes)-1].arriveS-fixes[0].arriveS)+", more than ten days: this is no recording of one ride", plan)
	}
	start := fixes[0].arriveS
	for i := range fixes {
		fixes[i].arriveS -= start
		fixes[i].end -= start
	}
	fixes = r.notHeld(fixes)
	all := len(fixes)
	fixes = withoutJumps(fixes)
	r.jumps = all - len(fixes)
	const rad = math.Pi / 180
	for i := 1; i < len(fixes); i++ {
		a, b := fixes[i-1].point, fixes[i].point
		mid := (a.LatDeg + b.LatDeg) / 2 * rad
		fixes[i].east = fixes[i-1].east + math.Remainder(b.LonDeg-a.LonDeg, 360)*rad*roughRadiusM*math.Cos(mid)
		fixes[i].north = fixes[i-1].north + (b.LatDeg-a.LatDeg)*rad*roughRadiusM
	}
	return fixes, nil
}

// notHeld leaves out positions that the receiver only repeats: no rider gets from a
// standstill to the next place in the time between.
func (r *recording) notHeld(f []fix) []fix {
	same := func(a, b fix) bool { return a.point.LatDeg == b.point.LatDeg && a.point.LonDeg == b.point.LonDeg }
	out := f[:0:0]
	for i := 0; i < len(f); {
		j := i
		for j+1 < len(f) && same(f[i], f[j+1]) {
			j++
		}
		if j > i && j+1 < len(f) && tooFarFromRest(f[j+1].arriveS-f[j].arriveS, roughDistanceM(f[j].point.LatDeg, f[j].point.LonDeg, f[j+1].point.LatDeg, f[j+1].point.LonDeg)) {
			r.held += j - i
			out = append(out, f[i])
		} else {
			out = append(out, f[i:j+1]...)
		}
		i = j + 1
	}
	return out
}

// tooFarFromRest tells whether d metres are more than a rider makes in dt seconds
// from a standstill: falling down 30 % and stamping on it.
func tooFarFromRest(dt, d float64) bool {
	const mostMps2 = 3.0
	return d > mostMps2/2*dt*dt+5
}

// goingForward is the longest run of fixes, in their order, whose times go on: one
// clock that is ahead for a moment costs one point and not all that follow. Patience
// sorting (M. L. Fredman, On computing the length of longest increasing
// subsequences, Discrete Math. 11 (1975) 29-35, from memory).
func goingForward(f []fix) []fix {
	var ends []int // the fix with the least time that ends a run of each length
	before := make([]int, len(f))
	for i := range f {
		k := sort.Search(len(ends), func(k int) bool { return f[ends[k]].arriveS >= f[i].arriveS })
		before[i] = -1
		if k > 0 {
			before[i] = ends[k-1]
		}
		if k == len(ends) {
			ends = append(ends, i)
		} else {
			ends[k] = i
		}
	}
	out := make([]fix, len(ends))
	if len(ends) > 0 {
		for i, k := ends[len(ends)-1], len(ends)-1; k >= 0; i, k = before[i], k-1 {
			out[k] = f[i]
		}
	}
	return out
}

// mostLost is the longest way, metres, along points of all in a row that are not in
// kept, and the first of them. A receiver that wanders on the spot makes no way.
func mostLost(all, kept []fix) (longestM float64, at fix) {
	const onTheSpotM = 30.0
	same := func(a, b fix) bool {
		return a.arriveS == b.arriveS && a.point.LatDeg == b.point.LatDeg && a.point.LonDeg == b.point.LonDeg
	}
	next, way := 0, 0.0
	start, last := 0, 0 // of the row, and where the way was last measured
	for i := range all {
		if next < len(kept) && same(kept[next], all[i]) {
			next++
			way = 0
			start, last = i+1, i+1
			continue
		}
		a, b := all[last].point, all[i].point
		if d := roughDistanceM(a.LatDeg, a.LonDeg, b.LatDeg, b.LonDeg); d > onTheSpotM {
			way += d
			last = i
		}
		if way > longestM {
			longestM, at = way, all[start]
		}
	}
	return longestM, at
}

// withoutJumps leaves out the fewest points such that no two that follow each other
// ask for more than fastestMps: a receiver that jumps away and back loses what lies
// off, and not what comes after. A chain may leave out maxJumped points in a row;
// where that is not enough, the position has changed and is believed.
func withoutJumps(f []fix) []fix {
	const maxJumped = 20
	tooFast := func(i, j int) bool {
		a, b := f[i].point, f[j].point
		return roughDistanceM(a.LatDeg, a.LonDeg, b.LatDeg, b.LonDeg) > fastestMps*(f[j].arriveS-f[i].arriveS)
	}
	fine := true
	for i := 1; i < len(f) && fine; i++ {
		fine = !tooFast(i-1, i)
	}
	if fine {
		return f
	}
	// lost is the fewest points left out by a chain that ends at a point, before the
	// one it comes from, -1 where it starts.
	n := len(f)
	lost, before := make([]int, n), make([]int, n)
	for j := range f {
		// Believing a jump costs as much as the longest run that may be left out.
		lost[j], before[j] = j, -1
		if j > maxJumped {
			lost[j], before[j] = lost[j-1]+maxJumped+1, j-1
		}
		for i := j - 1; i >= max(0, j-1-maxJumped); i-- {
			if k := lost[i] + j - i - 1; k < lost[j] && !tooFast(i, j) {
				lost[j], before[j] = k, i
			}
		}
	}
	end := n - 1
	for j := max(0, n-1-maxJumped); j < n; j++ {
		if lost[j]+n-1-j < lost[end]+n-1-end {
			end = j
		}
	}
	keep := make([]bool, n)
	for j := end; j >= 0; j = before[j] {
		keep[j] = true
	}
	out := f[:0:0]
	for i, k := range keep {
		if k {
			out = append(out, f[i])
		}
	}
	return out
}
