package roads

import (
	"math"
	"sort"
)

// A Road is an exact road: grade piecewise linear in distance, so height is
// piecewise quadratic; plan straight lines and arcs.
type Road struct {
	// LatDeg and LonDeg are the start, WGS84 degrees.
	LatDeg, LonDeg float64
	knots          []knot
	pieces         []piece
}

// A knot is a distance, metres, with the grade and height there.
type knot struct{ m, grade, height float64 }

// A piece is a straight (curvature 0) or an arc of the plan: its start, the
// position there, east and north in metres, the heading, radians clockwise
// from north, and the curvature, 1/m, positive to the right.
type piece struct{ m, length, east, north, heading, curvature float64 }

// A Corner is one arc of the plan.
type Corner struct {
	// StartM and EndM are distances along the road, RadiusM its radius, metres.
	StartM, EndM, RadiusM float64
	// TurnRad is the change of heading, radians, positive to the right.
	TurnRad float64
}

// LengthM is the length of the road in plan, metres.
func (r *Road) LengthM() float64 { return r.knots[len(r.knots)-1].m }

func (r *Road) knotAt(m float64) int {
	i := sort.Search(len(r.knots), func(i int) bool { return r.knots[i].m > m }) - 1
	return min(max(i, 0), len(r.knots)-2)
}

// GradeAt is the true grade at m metres from the start, dimensionless.
func (r *Road) GradeAt(m float64) float64 {
	a, b := r.knots[r.knotAt(m)], r.knots[r.knotAt(m)+1]
	return a.grade + (b.grade-a.grade)*(m-a.m)/(b.m-a.m)
}

// HeightAt is the true height at m metres from the start, metres.
func (r *Road) HeightAt(m float64) float64 {
	a := r.knots[r.knotAt(m)]
	return a.height + (a.grade+r.GradeAt(m))/2*(m-a.m)
}

// DropM and ClimbM are the true sums of falls and rises, metres.
func (r *Road) DropM() float64 { return r.sum(-1) }

// ClimbM is the true sum of all rises, metres.
func (r *Road) ClimbM() float64 { return r.sum(1) }

func (r *Road) sum(sign float64) float64 {
	total := 0.0
	for i := 1; i < len(r.knots); i++ {
		a, b := r.knots[i-1], r.knots[i]
		turn := a.m
		if a.grade*b.grade < 0 {
			turn = a.m + (b.m-a.m)*a.grade/(a.grade-b.grade)
		}
		h := r.HeightAt(turn)
		total += max(0, sign*(h-a.height)) + max(0, sign*(b.height-h))
	}
	return total
}

func (r *Road) pieceAt(m float64) piece {
	i := sort.Search(len(r.pieces), func(i int) bool { return r.pieces[i].m > m }) - 1
	return r.pieces[max(i, 0)]
}

// RadiusAt is the true radius at m metres from the start, metres; +Inf on a
// straight.
func (r *Road) RadiusAt(m float64) float64 {
	return 1 / math.Abs(r.pieceAt(m).curvature)
}

// HeadingAt is the true heading at m metres from the start, radians clockwise
// from north, not reduced to one turn.
func (r *Road) HeadingAt(m float64) float64 {
	p := r.pieceAt(m)
	return p.heading + p.curvature*(m-p.m)
}

// PlaneAt is the true position at m metres from the start, metres east and
// north of the start.
func (r *Road) PlaneAt(m float64) (east, north float64) {
	return r.pieceAt(m).at(m)
}

func (p piece) at(m float64) (east, north float64) {
	d := m - p.m
	if p.curvature == 0 {
		sin, cos := math.Sincos(p.heading)
		return p.east + d*sin, p.north + d*cos
	}
	// Chord of the arc: direction half way round, length 2 R sin(turn/2).
	half := p.curvature * d / 2
	sin, cos := math.Sincos(p.heading + half)
	chord := 2 * math.Sin(half) / p.curvature
	return p.east + chord*sin, p.north + chord*cos
}

// PositionAt is the true position at m metres from the start, WGS84 degrees.
func (r *Road) PositionAt(m float64) (latDeg, lonDeg float64) {
	east, north := r.PlaneAt(m)
	return r.toDegrees(east, north)
}

// WGS84 ellipsoid: semi-major axis, metres, and flattening, both exact by
// definition (NIMA TR8350.2, 3rd edition 2000, table 3.1; from memory).
const (
	semiMajorM = 6378137.0
	flattening = 1 / 298.257223563
)

// toDegrees maps the plane to the ellipsoid with the radii of curvature at
// the middle latitude north-south and at the point's own east-west. Within a
// degree of the equator lengths are kept to 1e-4 (derived).
func (r *Road) toDegrees(east, north float64) (latDeg, lonDeg float64) {
	const e2 = flattening * (2 - flattening)
	const rad = math.Pi / 180
	lat := r.LatDeg * rad
	for range 3 {
		s := math.Sin((lat + r.LatDeg*rad) / 2)
		meridian := semiMajorM * (1 - e2) / math.Pow(1-e2*s*s, 1.5)
		lat = r.LatDeg*rad + north/meridian
	}
	sin, cos := math.Sincos(lat)
	parallel := semiMajorM / math.Sqrt(1-e2*sin*sin) * cos
	return lat / rad, r.LonDeg + east/parallel/rad
}

// Corners lists the arcs in order.
func (r *Road) Corners() []Corner {
	var c []Corner
	for _, p := range r.pieces {
		if p.curvature != 0 {
			c = append(c, Corner{p.m, p.m + p.length, 1 / math.Abs(p.curvature), p.curvature * p.length})
		}
	}
	return c
}
