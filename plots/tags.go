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
		at, found := busy.placeBeside(c.sc.curve(roleTrack, i), c.tf.width(tag, c.tagText()), c.tagText().size*ascender)
		if !found {
			continue
		}
		l := c.sc.write(c.tf, roleTag, i, c.tagText(), tag, at.x, at.y, alignLeft)
		busy.boxes = append(busy.boxes, l.box.grown(2))
	}
}

// placeBeside finds room for a box of width w and height h beside the upper
// part of a curve and answers its lower left corner. Where a curve is low it
// runs together with the others, so that a box there would say nothing.
func (o *obstacles) placeBeside(line []xy, w, h float64) (at xy, found bool) {
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
		// Above, below, right and left of the curve.
		for _, at := range []xy{{p.x - w/2, p.y + gap}, {p.x - w/2, p.y - gap - h}, {p.x + gap, p.y - h/2}, {p.x - gap - w, p.y - h/2}} {
			b := rect{at.x, at.y, at.x + w, at.y + h}
			if inside(b.grown(2), o.panel) && !o.hit(b.grown(1.6)) {
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
	columns [][][2]xy
	boxes   []rect
}

const columnW = 10.0

func newObstacles(sc *scene, panel rect) *obstacles {
	o := &obstacles{panel: panel, columns: make([][][2]xy, int((panel.x1-panel.x0)/columnW)+1)}
	for _, s := range sc.shapes {
		switch s.role {
		case roleTrack, roleTyreSide, roleLimit, roleLeader, roleCrossing:
			for k := 1; k < len(s.pts); k++ {
				o.add(s.pts[k-1], s.pts[k])
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

func (o *obstacles) add(p, q xy) {
	for k := o.column(min(p.x, q.x)); k <= o.column(max(p.x, q.x)); k++ {
		o.columns[k] = append(o.columns[k], [2]xy{p, q})
	}
}

func (o *obstacles) hit(b rect) bool {
	for k := o.column(b.x0); k <= o.column(b.x1); k++ {
		for _, s := range o.columns[k] {
			if b.cutBy(s[0], s[1]) {
				return true
			}
		}
	}
	return slices.ContainsFunc(o.boxes, b.meets)
}
