package roads

import (
	"math"
	"math/rand/v2"
)

// A Slope is a stretch of road with one grade.
type Slope struct{ LengthM, Grade float64 }

// transitionM is the length over which one grade turns into the next, metres,
// half of it on either side; shorter where a stretch is too short for it.
const transitionM = 120.0

// A Builder puts a Road together: first the slopes, then the plan to the same
// length.
type Builder struct {
	road               Road
	m, east, north, at float64
}

// NewBuilder starts a road at a position, WGS84 degrees, and a height, metres.
func NewBuilder(latDeg, lonDeg, heightM float64, slopes []Slope) *Builder {
	b := &Builder{road: Road{LatDeg: latDeg, LonDeg: lonDeg}}
	add := func(m, grade float64) {
		k := knot{m, grade, heightM}
		if n := len(b.road.knots); n > 0 {
			last := b.road.knots[n-1]
			k.height = last.height + (last.grade+grade)/2*(m-last.m)
		}
		b.road.knots = append(b.road.knots, k)
	}
	m := 0.0
	for i, s := range slopes {
		before, after := 0.0, 0.0
		if i > 0 {
			before = min(transitionM, s.LengthM, slopes[i-1].LengthM) / 2
		}
		if i+1 < len(slopes) {
			after = min(transitionM, s.LengthM, slopes[i+1].LengthM) / 2
		}
		if n := len(b.road.knots); n == 0 || m+before > b.road.knots[n-1].m {
			add(m+before, s.Grade)
		}
		m += s.LengthM
		if m-after > b.road.knots[len(b.road.knots)-1].m {
			add(m-after, s.Grade)
		}
	}
	return b
}

// Road gives the finished road; a plan shorter than the slopes ends straight.
func (b *Builder) Road() *Road {
	if rest := b.road.LengthM() - b.m; rest > 0 {
		b.Straight(rest)
	}
	r := b.road
	return &r
}

// Straight adds a straight of a length in metres.
func (b *Builder) Straight(lengthM float64) { b.add(lengthM, 0) }

// Arc adds an arc of a radius in metres that turns by an angle in radians,
// positive to the right.
func (b *Builder) Arc(radiusM, turnRad float64) {
	b.add(radiusM*math.Abs(turnRad), math.Copysign(1/radiusM, turnRad))
}

func (b *Builder) add(length, curvature float64) {
	p := piece{b.m, length, b.east, b.north, b.at, curvature}
	b.road.pieces = append(b.road.pieces, p)
	b.m += length
	b.east, b.north = p.at(b.m)
	b.at += curvature * length
}

// A Style says how a stretch winds: straights and bends drawn evenly from
// ranges, and every Hairpin-th bend (0: none) a hairpin.
type Style struct {
	StraightM, RadiusM, TurnDeg [2]float64
	Hairpin                     int
	HairpinRadiusM              [2]float64
}

// Styles of the demonstration roads.
var (
	Valley   = Style{StraightM: [2]float64{150, 500}, RadiusM: [2]float64{90, 300}, TurnDeg: [2]float64{8, 35}}
	Winding  = Style{StraightM: [2]float64{70, 260}, RadiusM: [2]float64{28, 90}, TurnDeg: [2]float64{20, 70}}
	Hairpins = Style{StraightM: [2]float64{90, 280}, RadiusM: [2]float64{30, 90}, TurnDeg: [2]float64{15, 50},
		Hairpin: 3, HairpinRadiusM: [2]float64{9, 15}}
)

// Wind adds straights and bends of a style until the plan is at least toM
// metres long. The road keeps to the mean heading it starts with, but that
// every hairpin turns it round.
func (b *Builder) Wind(toM float64, s Style, rng *rand.Rand) {
	const degree = math.Pi / 180
	between := func(r [2]float64) float64 { return r[0] + (r[1]-r[0])*rng.Float64() }
	mean := b.at
	side := 1.0
	for bend := 1; b.m < toM; bend++ {
		b.Straight(between(s.StraightM))
		if s.Hairpin > 0 && bend%s.Hairpin == 0 {
			b.Arc(between(s.HairpinRadiusM), side*math.Pi)
			mean += side * math.Pi
			side = -side
			continue
		}
		turn := between(s.TurnDeg) * degree
		if away := b.at - mean; away > 0 || away == 0 && rng.IntN(2) == 0 {
			turn = -turn
		}
		b.Arc(between(s.RadiusM), turn)
	}
}
