package route

import (
	"math"
	"sort"
	"time"
)

// Rules for recorded rides. Choices of this program, but where a source is said.
const (
	// dropOutS is the least time between points that is a drop-out or a pause of
	// the recorder, s; longer where points come less often: dropOutSteps median
	// steps.
	dropOutS     = 15.0
	dropOutSteps = 4.0
	// standingMps is the speed, taken between the means of half a standWindowS
	// before and after, below which the rider stands, until it passes walkingMps;
	// a stop lasts leastStopS at least. Where positions scatter the window grows to standPerNoise times
	// their noise, s per m, so that scatter is no walk.
	standingMps   = 0.7
	walkingMps    = 1.0
	standWindowS  = 10.0
	standPerNoise = 5.0
	leastStopS    = 6.0
	// Stops are one if they are parted by less than betweenStopsS and, but for noise,
	// sameStopM. The recorder pauses, and no road is lost, where both ends of a gap
	// lie nearer than pauseM.
	betweenStopsS, sameStopM = 30.0, 15.0
	pauseM                   = 50.0
	// The noise of positions is measured where points come every denseS or
	// faster, and is otherwise taken as usualNoiseM: receivers are off by 2 to 5 m,
	// most of it slowly wandering (from memory). It is never taken below
	// leastFixNoiseM, metres.
	denseS         = 2.0
	usualNoiseM    = 2.0
	leastFixNoiseM = 0.5
)

// A Ride is when a recorded rider was where: one entry a node of the profile.
type Ride struct {
	// TimeS is the time of arrival since the start, s; StandS how long the rider
	// then stood, s; SpeedMps the speed there, zero where they stood.
	TimeS, StandS, SpeedMps []float64
	// Start is the time of leaving the first point.
	Start time.Time
	// Stops is how often the rider stood on the way, StoodS for how long in all.
	Stops  int
	StoodS float64
	// DropOuts counts stretches without points that were bridged at one speed;
	// the longest took LongestS.
	DropOuts int
	LongestS float64
	// NoiseM is the standard deviation of the positions on one axis, from point
	// to point, as measured or, if points are too rare for that, as assumed.
	NoiseM       float64
	NoiseAssumed bool
	// StepS is the middle time between points, s.
	StepS float64
	// SpeedNoiseMps is the standard deviation of SpeedMps that this leaves.
	SpeedNoiseMps float64
	// LeftOut counts points without a time, or with one not after the one before.
	LeftOut int
}

// A fix is a point of a recording: position in a local plane, metres, arrival
// and leaving, s since the first point.
type fix struct {
	point        Point
	east, north  float64
	arriveS, end float64
}

// recording is a track made ready for a replay: positions smoothed in time, every
// stop one point.
type recording struct {
	track *Track
	// arrive and leave are those of track.Points, s since the first point.
	arrive, leave []float64
	ride          Ride
	// jumps, outliers and held count positions left out.
	jumps, outliers, held int
}

// record prepares the recorded times of a track. The errors say why it is not
// the recording of a ride.
func record(t *Track) (*recording, error) {
	r := &recording{}
	fixes, err := r.timed(t)
	if err != nil {
		return nil, err
	}
	if err := r.genuine(t, fixes); err != nil {
		return nil, err
	}
	noise, measured := positionNoise(fixes)
	r.ride.NoiseM, r.ride.NoiseAssumed = noise, !measured
	fixes = r.stops(fixes)
	out := *t
	out.Repairs = append([]Repair(nil), t.Repairs...)
	out.Points = make([]Point, len(fixes))
	out.SegmentStarts = nil
	for i, f := range fixes {
		out.Points[i] = f.point
		r.arrive, r.leave = append(r.arrive, f.arriveS), append(r.leave, f.end)
	}
	r.track = &out
	r.ride.Start = fixes[0].point.Time
	if n := r.ride.LeftOut; n > 0 {
		out.Repairs = append(out.Repairs, Repair{"time-left-out", n,
			plural(n, "point", "points") + " without a time, or with one not after that of the point before, left out of the replay"})
	}
	if n := r.outliers; n > 0 {
		out.Repairs = append(out.Repairs, Repair{"position-outlier", n, plural(n, "point", "points") + " far off the route and back left out"})
	}
	if n := r.held; n > 0 {
		out.Repairs = append(out.Repairs, Repair{"position-held", n,
			plural(n, "position", "positions") + " that the receiver only repeated left out"})
	}
	if n := r.jumps; n > 0 {
		out.Repairs = append(out.Repairs, Repair{"position-jump", n,
			plural(n, "point", "points") + " to which the receiver jumped, faster than any rider, left out"})
	}
	if n := r.ride.DropOuts; n > 0 {
		out.Repairs = append(out.Repairs, Repair{"drop-out", n,
			plural(n, "stretch", "stretches") + " without points, of up to " + seconds(r.ride.LongestS) + ", bridged at one speed"})
	}
	return r, nil
}

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
	// lost is the fewest points left out of a chain that ends at a point, before the
	// one it comes from.
	lost, before := make([]int, len(f)), make([]int, len(f))
	for j := 1; j < len(f); j++ {
		// Believing a jump costs as much as the longest run that may be left out.
		lost[j], before[j] = lost[j-1]+maxJumped+1, j-1
		for i := j - 1; i >= max(0, j-1-maxJumped); i-- {
			if n := lost[i] + j - i - 1; n < lost[j] && !tooFast(i, j) {
				lost[j], before[j] = n, i
			}
		}
	}
	keep := make([]bool, len(f))
	keep[0] = true
	for j := len(f) - 1; j > 0; j = before[j] {
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

const (
	// maxRideS is the longest ride, s, leastFixes the fewest points of one, and
	// maxUntimed the greatest share of points without a time.
	maxRideS   = 10 * 86400.0
	leastFixes = 10
	maxUntimed = 0.20
	// onlyRides says what to do about times that are not a ride's.
	onlyRides = "take a recorded ride, or plan this one without --replay"
)

// stops finds where the rider stood and makes one point of each stop; drop-outs
// are counted. A stop is a run of points that stand, or a pause of the recorder in
// which the rider got next to nowhere.
func (r *recording) stops(f []fix) []fix {
	gap := r.dropOut(f)
	slow := slowness(f, gap, math.Max(standWindowS, standPerNoise*r.ride.NoiseM)/2)
	out := f[:0:0]
	for i := 0; i < len(f); {
		j := i
		for j+1 < len(f) && slow[i] < standingMps && slow[j+1] < walkingMps && (f[j+1].arriveS-f[j].arriveS <= gap || paused(f, j)) {
			j++
		}
		s := f[i]
		if j > i && f[j].arriveS-f[i].arriveS >= leastStopS && frozen(f, j, r.ride.NoiseM) {
			// The receiver stood, not the rider: what lies between is bridged.
			r.ride.DropOuts++
			r.ride.LongestS = math.Max(r.ride.LongestS, f[j+1].arriveS-f[i].arriveS)
			s = f[i]
		} else if j > i && f[j].arriveS-f[i].arriveS >= leastStopS {
			s = meanFix(f[i : j+1])
		} else {
			out = append(out, f[i:j]...)
			s = f[j]
		}
		if j+1 < len(f) {
			if dt := f[j+1].arriveS - f[j].arriveS; dt > gap && paused(f, j) {
				// Part of the way to the next point was ridden after the pause.
				s.end = math.Max(s.end, f[j+1].arriveS-distanceTo(s, f[j+1])/speedAfter(f, j+1))
			} else if dt > gap {
				r.ride.DropOuts++
				r.ride.LongestS = math.Max(r.ride.LongestS, dt)
			}
		}
		out = append(out, s)
		i = j + 1
	}
	return oneStopEach(out, sameStopM+4*r.ride.NoiseM)
}

// oneStopEach makes one of stops that follow each other within betweenStopsS and
// lie nearer than withinM: a receiver that wanders while the rider stands.
func oneStopEach(f []fix, withinM float64) []fix {
	out := f[:0:0]
	last := -1 // the latest stop in out
	for _, p := range f {
		if p.end > p.arriveS {
			if last >= 0 && p.arriveS-out[last].end < betweenStopsS && distanceTo(out[last], p) < withinM {
				out[last].end = p.end
				out = out[:last+1]
				continue
			}
			last = len(out)
		}
		out = append(out, p)
	}
	return out
}

// slowness is the speed at each point, m/s, from the points up to halfS before and
// after that no gap parts from it.
func slowness(f []fix, gap, halfS float64) []float64 {
	slow := make([]float64, len(f))
	near := func(i, j int) bool {
		return math.Abs(f[j].arriveS-f[i].arriveS) <= halfS
	}
	for i := range f {
		lo, hi := i, i
		for lo > 0 && f[lo].arriveS-f[lo-1].arriveS <= gap && (near(i, lo-1) || lo == i) {
			lo--
		}
		for hi+1 < len(f) && f[hi+1].arriveS-f[hi].arriveS <= gap && (near(i, hi+1) || hi == i) {
			hi++
		}
		slow[i] = math.Inf(1)
		if lo < hi {
			slow[i] = meanSpeed(f[lo:i+1], f[i:hi+1])
		}
	}
	return slow
}

// paused tells whether next to no way was made between points j and j+1.
func paused(f []fix, j int) bool {
	d := distanceTo(f[j], f[j+1])
	return d < pauseM && d < standingMps*(f[j+1].arriveS-f[j].arriveS)
}

// frozen tells whether the rider only seems to stand up to point j: no rider gets
// from a standstill to the next point in its time.
func frozen(f []fix, j int, noiseM float64) bool {
	if j+1 >= len(f) {
		return false
	}
	return tooFarFromRest(f[j+1].arriveS-f[j].arriveS, distanceTo(f[j], f[j+1])-4*noiseM)
}

func distanceTo(a, b fix) float64 { return math.Hypot(b.east-a.east, b.north-a.north) }

// speedAfter is the speed from point j on, m/s, that of getting going at least.
func speedAfter(f []fix, j int) float64 {
	const gettingGoing, most = 1.5, 8.0
	if j+1 >= len(f) {
		return gettingGoing
	}
	return math.Min(math.Max(distanceTo(f[j], f[j+1])/(f[j+1].arriveS-f[j].arriveS), gettingGoing), most)
}

// meanFix makes one stop of points: their mean place and height, from the first
// arrival to the last.
func meanFix(f []fix) fix {
	s := f[0]
	s.end = f[len(f)-1].arriveS
	k := float64(len(f))
	var east, north, lat, lon, h, heights float64
	for _, p := range f {
		east, north = east+p.east/k, north+p.north/k
		lat += p.point.LatDeg / k
		lon += math.Remainder(p.point.LonDeg-s.point.LonDeg, 360) / k
		if p.point.HasHeight {
			h += p.point.HeightM
			heights++
		}
	}
	s.east, s.north, s.point.LatDeg, s.point.LonDeg = east, north, lat, wrap(s.point.LonDeg+lon)
	if heights > 0 {
		s.point.HeightM, s.point.HasHeight = h/heights, true
	}
	return s
}

// dropOut is the time between points from which on some are missing, s.
func (r *recording) dropOut(f []fix) float64 {
	steps := make([]float64, 0, len(f))
	for i := 1; i < len(f); i++ {
		steps = append(steps, f[i].arriveS-f[i-1].arriveS)
	}
	return math.Max(dropOutS, dropOutSteps*median(steps))
}

// meanSpeed is the speed between the means of two runs of points, m/s.
func meanSpeed(a, b []fix) float64 {
	mean := func(f []fix) (t, east, north float64) {
		k := float64(len(f))
		for _, p := range f {
			t, east, north = t+p.arriveS/k, east+p.east/k, north+p.north/k
		}
		return t, east, north
	}
	ta, ea, na := mean(a)
	tb, eb, nb := mean(b)
	if tb <= ta {
		return math.Inf(1)
	}
	return math.Hypot(eb-ea, nb-na) / (tb - ta)
}

// positionNoise is the standard deviation of positions on one axis, metres, from
// their third differences: a steady acceleration has none, and independent noise
// gives them sqrt(20) times its own.
func positionNoise(f []fix) (noiseM float64, measured bool) {
	var squares []float64
	for i := 3; i < len(f); i++ {
		h := (f[i].arriveS - f[i-3].arriveS) / 3
		if h > denseS {
			continue
		}
		even := true
		for k := i - 2; k <= i; k++ {
			even = even && math.Abs(f[k].arriveS-f[k-1].arriveS-h) < 0.1*h
		}
		if !even {
			continue
		}
		third := func(v func(fix) float64) float64 { return v(f[i]) - 3*v(f[i-1]) + 3*v(f[i-2]) - v(f[i-3]) }
		e, n := third(func(p fix) float64 { return p.east }), third(func(p fix) float64 { return p.north })
		squares = append(squares, e*e, n*n)
	}
	// Two squares a point: less than half of the points are too few to speak for
	// the rest.
	if len(squares) < max(60, len(f)) {
		return usualNoiseM, false
	}
	return math.Max(leastFixNoiseM, math.Sqrt(median(squares)/0.4549/20)), true
}
