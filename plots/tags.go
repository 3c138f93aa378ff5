package plots

import (
	"cmp"
	"math"
	"slices"
)

// tagCurves writes each rim's tag at its curve inside the panel, as near to
// the peak as a place can be found that touches no line, symbol or label. A
// curve that is crowded on all sides goes without: the gutter names it.
func (c *composer) tagCurves(panel rect) {
	if len(c.a.Rims) < 2 {
		return
	}
	busy := newObstacles(c.sc, panel)
	for i := range c.a.Rims {
		tag := tagOf(i, len(c.a.Rims))
		w, h, line := c.tf.width(tag, c.tagText()), c.size*ascender, c.sc.curve(roleTrack, i)
		plain := *busy
		plain.addEdges(c.sc)
		at, found := plain.placeBeside(line, i, w, h)
		if !found {
			at, found = busy.placeBeside(line, i, w, h)
		}
		if !found {
			continue
		}
		l := c.sc.write(c.tf, roleTag, i, c.tagText(), tag, at.x, at.y, alignLeft)
		busy.boxes = append(busy.boxes, l.box.grown(2))
	}
}

// placeBeside finds room for a box of width w and height h beside the upper
// part of a rim's curve and answers its lower left corner. Where a curve is low it
// runs together with the others, so that a box there would say nothing.
func (o *obstacles) placeBeside(line []xy, rim int, w, h float64) (at xy, found bool) {
	const gap, upperPart = 3.2, 0.4
	places := highPlaces(line)
	if len(places) == 0 {
		return xy{}, false
	}
	top, foot := places[0].y, places[len(places)-1].y
	for _, p := range places {
		if p.y < foot+upperPart*(top-foot) {
			break
		}
		// Above, below, right, left, and above to both sides of the curve.
		for _, at := range []xy{
			{p.x - w/2, p.y + gap}, {p.x - w/2, p.y - gap - h}, {p.x + gap, p.y - h/2}, {p.x - gap - w, p.y - h/2},
			{p.x - gap - w, p.y + 1}, {p.x + gap, p.y + 1},
		} {
			b := rect{at.x, at.y, at.x + w, at.y + h}
			if inside(b.grown(clearance), o.panel) && !o.hit(b, rim) {
				return at, true
			}
		}
	}
	return xy{}, false
}

// curve gives the points of a rim's line in the scene.
func (s *scene) curve(r role, rim int) []xy {
	for _, sh := range s.shapes {
		if sh.role == r && sh.rim == rim {
			return sh.pts
		}
	}
	return nil
}

// boxes gives the bounds of the shapes of a role.
func (s *scene) boxes(r role) []rect {
	var out []rect
	for _, sh := range s.shapes {
		if sh.role != r || len(sh.pts) == 0 {
			continue
		}
		out = append(out, sh.box())
	}
	return out
}

// box gives the bounds of a shape, which must have points.
func (sh shape) box() rect {
	p := sh.pts[0]
	b := rect{p.x, p.y, p.x, p.y}
	for _, p := range sh.pts[1:] {
		b = rect{min(b.x0, p.x), min(b.y0, p.y), max(b.x1, p.x), max(b.y1, p.y)}
	}
	return b
}

// highPlaces picks points of a curve, a few points of print apart, highest
// first.
func highPlaces(line []xy) []xy {
	const apart = 4.0
	upper, _ := envelope(line)
	slices.SortStableFunc(upper, func(a, b xy) int { return cmp.Compare(b.y, a.y) })
	var out []xy
	for _, p := range upper {
		if !slices.ContainsFunc(out, func(q xy) bool { return math.Abs(p.x-q.x) < apart }) {
			out = append(out, p)
		}
	}
	return out
}

func inside(b, outer rect) bool {
	return b.x0 >= outer.x0 && b.x1 <= outer.x1 && b.y0 >= outer.y0 && b.y1 <= outer.y1
}

// obstacles are the lines and labels in a panel, the lines sorted into
// upright columns so that few need looking at.
type obstacles struct {
	panel   rect
	columns [][]segment
	boxes   []rect
}

// addEdges adds the edges of bands, which labels may but need not lie on.
func (o *obstacles) addEdges(sc *scene) {
	o.columns = slices.Clone(o.columns)
	for _, s := range sc.shapes {
		if s.role != roleDrawsEdge {
			continue
		}
		for k := 1; k < len(s.pts); k++ {
			o.add(segment{s.pts[k-1], s.pts[k], noRim})
		}
	}
}

// A segment is a piece of a line; rim is the candidate whose track it is, or
// noRim.
type segment struct {
	p, q xy
	rim  int
}

// How far a tag, without the depth of its letters, stays away from lines, and from
// the tracks of other rims, so that nobody takes it for theirs; points. columnW is the
// width of a column.
const (
	clearance      = 2.8
	otherClearance = 4.6
	columnW        = 10.0
)

func newObstacles(sc *scene, panel rect) *obstacles {
	o := &obstacles{panel: panel, columns: make([][]segment, int((panel.x1-panel.x0)/columnW)+1)}
	for _, s := range sc.shapes {
		switch s.role {
		case roleTrack, roleTyreSide, roleLimit, roleLeader, roleCrossing:
			rim := noRim
			if s.role == roleTrack {
				rim = s.rim
			}
			for k := 1; k < len(s.pts); k++ {
				o.add(segment{s.pts[k-1], s.pts[k], rim})
			}
		}
	}
	for _, l := range sc.labels {
		o.boxes = append(o.boxes, l.box)
	}
	return o
}

func (o *obstacles) column(x float64) int {
	return max(0, min(len(o.columns)-1, int((x-o.panel.x0)/columnW)))
}

func (o *obstacles) add(s segment) {
	for k := o.column(min(s.p.x, s.q.x)); k <= o.column(max(s.p.x, s.q.x)); k++ {
		o.columns[k] = append(o.columns[k], s)
	}
}

// hit tells whether the rim's tag in the box b would come too close to
// anything.
func (o *obstacles) hit(b rect, rim int) bool {
	near, wide := b.grown(clearance), b.grown(otherClearance)
	for k := o.column(wide.x0); k <= o.column(wide.x1); k++ {
		for _, s := range o.columns[k] {
			if near.cutBy(s.p, s.q) || s.rim != noRim && s.rim != rim && wide.cutBy(s.p, s.q) {
				return true
			}
		}
	}
	return slices.ContainsFunc(o.boxes, near.meets)
}
