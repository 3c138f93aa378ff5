package plots

import (
	"math"
	"sort"
)

// A roadLine is the road in plan on the sheet: places in points at rising distances along
// the route, metres.
type roadLine struct {
	ptPerM float64
	// origin is where the middle of the ground lies.
	origin xy
	// leastM is the shortest piece of road that is told apart, metres: where the road turns
	// on the spot paper sets no bound to the number of pieces.
	leastM float64
	distM  []float64
	at     []xy
}

// How far a drawn place may lie from the true one on each axis, points, and how many
// corners a road may have: with more of them it is drawn coarser.
const (
	mapError    = 0.25
	mostCorners = 6000
)

// thinned leaves corners away.
func (l roadLine) thinned() roadLine {
	for tol := mapError; ; tol *= 2 {
		if t := l.within(tol); len(t.at) <= mostCorners {
			return t
		}
	}
}

// within leaves away corners such that the place at any distance along the route moves
// by no more than tol on each axis. As it is held to places and not to the line alone,
// a road that turns back on itself keeps its turns. One pass: the corners passed since
// the last kept one bound the directions that the line may still take.
func (l roadLine) within(tol float64) roadLine {
	out := roadLine{ptPerM: l.ptPerM, origin: l.origin}
	keep := func(i int) {
		out.distM, out.at = append(out.distM, l.distM[i]), append(out.at, l.at[i])
	}
	keep(0)
	from := 0
	lo, hi := xy{math.Inf(-1), math.Inf(-1)}, xy{math.Inf(1), math.Inf(1)}
	for i := 1; i < len(l.at); i++ {
		d := l.distM[i] - l.distM[from]
		dx, dy := l.at[i].x-l.at[from].x, l.at[i].y-l.at[from].y
		if sx, sy := dx/d, dy/d; sx < lo.x || sx > hi.x || sy < lo.y || sy > hi.y {
			keep(i - 1)
			from = i - 1
			lo, hi = xy{math.Inf(-1), math.Inf(-1)}, xy{math.Inf(1), math.Inf(1)}
			d = l.distM[i] - l.distM[from]
			dx, dy = l.at[i].x-l.at[from].x, l.at[i].y-l.at[from].y
		}
		lo = xy{max(lo.x, (dx-tol)/d), max(lo.y, (dy-tol)/d)}
		hi = xy{min(hi.x, (dx+tol)/d), min(hi.y, (dy+tol)/d)}
	}
	keep(len(l.at) - 1)
	return out
}

// place is where the road is at a distance along the route, metres.
func (l roadLine) place(m float64) xy {
	i := sort.SearchFloat64s(l.distM, m)
	switch {
	case i == 0:
		return l.at[0]
	case i == len(l.at):
		return l.at[i-1]
	}
	f := (m - l.distM[i-1]) / (l.distM[i] - l.distM[i-1])
	p, q := l.at[i-1], l.at[i]
	return xy{p.x + f*(q.x-p.x), p.y + f*(q.y-p.y)}
}

// between is the road from one distance to another.
func (l roadLine) between(fromM, toM float64) []xy {
	out := []xy{l.place(fromM)}
	for i := sort.SearchFloat64s(l.distM, fromM); i < len(l.at) && l.distM[i] < toM; i++ {
		if l.distM[i] > fromM {
			out = append(out, l.at[i])
		}
	}
	return append(out, l.place(toM))
}

// heading is the direction of travel about a place, over so many points of the sheet; no
// length where the road stands on one spot.
func (l roadLine) heading(m, overPt float64) xy {
	half := overPt / 2 / l.ptPerM
	p, q := l.place(m-half), l.place(m+half)
	d := math.Hypot(q.x-p.x, q.y-p.y)
	if d < 1e-6 {
		return xy{}
	}
	return xy{(q.x - p.x) / d, (q.y - p.y) / d}
}

// startM and endM are where the positions begin and end, metres along the route.
func (l roadLine) startM() float64 { return l.distM[0] }
func (l roadLine) endM() float64   { return l.distM[len(l.distM)-1] }

// metres is how much road so many points of the sheet show, at least the shortest piece
// that is told apart.
func (l roadLine) metres(pt float64) float64 { return max(pt/l.ptPerM, l.leastM) }
