package route

import "fmt"

// A Profile is a planned road on a uniform grid: what every later stage
// stands on. All slices have the same length N; entry i is the road at
// horizontal distance i*SpacingM from the start.
type Profile struct {
	// Name is the route's own name as the file gives it, or "".
	Name string
	// Track is what the profile was made from, as the file gives it: nothing is
	// repaired in it.
	Track *Track
	// Points counts the points read from the file, before the grid.
	Points int
	// SpacingM is the grid step in metres of horizontal distance. It is the
	// nominal step of Options adjusted so that the last node is the last
	// point of the route.
	SpacingM float64

	// DistM is the horizontal geodesic distance from the start, metres.
	DistM []float64
	// LatDeg and LonDeg are WGS84 degrees.
	LatDeg, LonDeg []float64
	// HeightM is the smoothed height, metres above sea level; RawHeightM if
	// Options say so.
	HeightM []float64
	// RawHeightM is the height as read (after repairs), interpolated to the
	// grid and not smoothed, metres above sea level.
	RawHeightM []float64
	// Grade is dz/dx of HeightM: rise over horizontal run, dimensionless,
	// negative downhill, always inside [-MaxGrade, MaxGrade].
	Grade []float64
	// HeadingRad is the direction of travel, radians clockwise from north.
	HeadingRad []float64
	// CornerRadiusM is the radius of the road in plan, metres; +Inf where
	// the road is straight.
	CornerRadiusM []float64
	// HairpinM are the distances at which hairpins have their middle, metres,
	// rising; see HairpinTurnRad.
	HairpinM []float64

	// DistanceM is the length of the route in plan, metres. ClimbM and
	// DropM are the sums of the rises and of the falls of HeightM, both
	// positive, metres.
	DistanceM, ClimbM, DropM float64
	// Ride is the recorded ride, nil unless Options.Replay asks for it.
	Ride *Ride
	// Heights says what the heights were found to be.
	Heights Heights
	// Descents are in the order ridden and do not overlap.
	Descents []Descent
	// Doubtful are the stretches where the road or its heights are not to be
	// trusted: bridged gaps, heights over tunnels and under bridges, grades
	// capped at MaxGrade, height steps kept. In
	// the order ridden; no two are nearer to each other than 200 m. The brakes
	// feel a wrong stretch for some way past its end.
	Doubtful []Span
	// Repairs says everything that was changed or left out on the way from
	// file to profile, each with its count.
	Repairs []Repair
}

// MaxGrade bounds Profile.Grade. Steeper public roads exist only over a few
// metres (common practice, no source); beyond it a height is taken as wrong.
const MaxGrade = 0.30

// A Descent is one stretch of the profile that the finder judged worth a row.
type Descent struct {
	// Start and End are indices into the slices of Profile.
	Start, End int
	// StartM and EndM are distances from the start of the route, metres.
	StartM, EndM float64
	// DropM is the height lost between Start and End, metres, positive.
	DropM float64
	// MeanGrade is -DropM/(EndM-StartM). SteepestGrade is the most negative
	// mean grade over any 500 m of the descent (over all of it if shorter).
	MeanGrade, SteepestGrade float64
	// Hairpins counts the hairpins on the descent. SharpestCornerM is the
	// least CornerRadiusM on it, metres; +Inf where it is straight all along.
	Hairpins        int
	SharpestCornerM float64
}

// A Repair is one kind of change made to the input, or of doubt about it.
type Repair struct {
	// Kind is a short stable word for machines, such as "height-spike".
	Kind string `json:"kind"`
	// Count is how many points (or gaps, grid steps, descents, tracks) it
	// touched.
	Count int `json:"count"`
	// Text is one plain sentence for people, counts included.
	Text string `json:"text"`
}

// An InputError says what is wrong with an input file and what to do.
type InputError struct {
	// File is the name the user gave ("-" for standard input).
	File string
	// Line is the 1-based line of the file, 0 if unknown.
	Line int
	// What was wrong, with the point's number where one is known.
	What string
	// Do says what the user can do about it; may be empty.
	Do string
}

// Error gives "file:line: what; do".
func (e *InputError) Error() string {
	s := e.File
	if e.Line > 0 {
		s = fmt.Sprintf("%s:%d", s, e.Line)
	}
	s += ": " + e.What
	if e.Do != "" {
		s += "; " + e.Do
	}
	return s
}
