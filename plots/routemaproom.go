package plots

import (
	"math"
	"slices"
)

// A mapRoom is what has been put on the map, so that symbols and words find free room.
type mapRoom struct {
	panel rect
	// road is sorted into columns; leaders, symbols and words are few.
	road    *obstacles
	leaders [][2]xy
	symbols []rect
	words   []rect
}

func newMapRoom(panel rect, l roadLine) *mapRoom {
	r := &mapRoom{panel: panel, road: &obstacles{panel: panel, columns: make([][]segment, int((panel.x1-panel.x0)/columnW)+1)}}
	for i := 1; i < len(l.at); i++ {
		r.road.add(segment{l.at[i-1], l.at[i], noRim})
	}
	if len(l.at) > 0 { // a road that stands on one spot has no segment with a length
		p := l.at[0]
		r.road.add(segment{xy{p.x - 0.1, p.y}, xy{p.x + 0.1, p.y}, noRim})
	}
	return r
}

// holds tells whether the box has the point in it.
func (b rect) holds(p xy) bool { return b.x0 <= p.x && p.x <= b.x1 && b.y0 <= p.y && p.y <= b.y1 }

func boxAbout(p xy, half float64) rect { return rect{p.x, p.y, p.x, p.y}.grown(half) }

// free tells whether a box lies on the panel, off the road by at least so much, and off
// all else.
func (r *mapRoom) free(b rect, offRoad float64) bool {
	if !inside(b.grown(3), r.panel) || slices.ContainsFunc(r.words, b.grown(2.5).meets) || slices.ContainsFunc(r.symbols, b.grown(1.5).meets) {
		return false
	}
	near := b.grown(1.5)
	for _, l := range r.leaders {
		if near.cutBy(l[0], l[1]) {
			return false
		}
	}
	return !r.onRoad(b.grown(offRoad))
}

// onRoad tells whether the road's middle line runs through a box.
func (r *mapRoom) onRoad(b rect) bool {
	for k := r.road.column(b.x0); k <= r.road.column(b.x1); k++ {
		for _, s := range r.road.columns[k] {
			if b.cutBy(s.p, s.q) {
				return true
			}
		}
	}
	return false
}

// leaderCost says how bad a straight leader from one place to another is: it may cross the road,
// each time at a price, but nothing else. A symbol at the leader's foot does not count.
func (r *mapRoom) leaderCost(from, to xy) (cost float64, allowed bool) {
	for _, b := range r.words {
		if b.grown(1.5).cutBy(from, to) {
			return 0, false
		}
	}
	for _, b := range r.symbols {
		if !b.holds(from) && b.grown(1).cutBy(from, to) {
			return 0, false
		}
	}
	for _, l := range r.leaders {
		if cross(from, to, l[0], l[1]) {
			return 0, false
		}
	}
	const perCrossing, most = 22.0, 6
	n := 0
	for k := r.road.column(min(from.x, to.x)); k <= r.road.column(max(from.x, to.x)) && n < most; k++ {
		for _, s := range r.road.columns[k] {
			if cross(from, to, s.p, s.q) {
				n++
			}
		}
	}
	return perCrossing * float64(min(n, most)), true
}

// nearest is the point of a box that is nearest to a place.
func (b rect) nearest(p xy) xy {
	return xy{max(b.x0, min(b.x1, p.x)), max(b.y0, min(b.y1, p.y))}
}

// toward is the place so far from p on the way to q.
func toward(p, q xy, far float64) xy {
	d := math.Hypot(q.x-p.x, q.y-p.y)
	if d == 0 {
		return p
	}
	return xy{p.x + far/d*(q.x-p.x), p.y + far/d*(q.y-p.y)}
}
