package route

import (
	"math"
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
	// a stop lasts leastStopS at least. Where positions scatter the window grows to
	// standPerNoise times their noise, s per m, so that scatter is no walk. Who
	// gets out of a stop's reach at pushingMps or more pushes the bicycle.
	standingMps   = 0.7
	walkingMps    = 1.0
	pushingMps    = 0.3
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

// recording is a track made ready for a replay: points whose times go on, every stop
// one point.
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
