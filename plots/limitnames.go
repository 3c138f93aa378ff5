package plots

import "slices"

// nameLimits writes the words of the limits in the panel: over a line across
// it as far left as they touch nothing, and at the level of a short line,
// before or after it. Where there is no room, the gauges tell.
func (c *composer) nameLimits(panel rect, a axis) {
	st := c.text()
	st.ink = c.pal.limit
	y := func(t float64) float64 { return a.y(c.u.temp(t)) }
	for _, l := range c.limits {
		for _, text := range []string{l.text(c.u, c.a.Rims), l.short(c.u, len(c.a.Rims))} {
			at, stub, found := c.placeLimit(l, panel, y, c.tf.width(text, st), st.size*ascender)
			if stub {
				c.sc.line(roleStub, l.rims[0], c.limitStyle(l.tyreSide), xy{at.x - limitStub - 3, y(l.limitC)}, xy{at.x - 3, y(l.limitC)})
			}
			if found {
				c.sc.write(c.tf, roleLimit, noRim, st, text, at.x, at.y, alignLeft)
				break
			}
		}
	}
}

// roleStub is a piece of a limit's line before its words.
const roleStub role = "limit stub"

// limitStub is how long the piece of a limit's line is that stands before its words where
// these stand away from it, points.
const limitStub = 12.0

// placeLimit finds room for a limit's words; stub says that a piece of the line must stand
// before them.
func (c *composer) placeLimit(l limitLine, panel rect, y func(float64) float64, w, h float64) (at xy, stub, found bool) {
	busy := newObstacles(c.sc, panel)
	pieces := c.limitPieces(l, panel, y)
	if !c.across(l, y) {
		// At best on the plain ground, beside the line or as far left as can be.
		plain := *busy
		plain.addEdges(c.sc)
		plain.boxes = append(slices.Clone(busy.boxes), c.sc.boxes(roleOver)...)
		for _, p := range pieces {
			if at, found = plain.besidePiece(p, y(l.limitC), w, h); found {
				return at, false, true
			}
		}
		for x := panel.x0 + 4; len(pieces) > 0 && x+limitStub+3+w <= panel.x1-2; x += 6 {
			if c.above(l, x, x+limitStub+3+w, y) && plain.free(xy{x, y(l.limitC) - h/2}, limitStub+3+w, h) {
				return xy{x + limitStub + 3, y(l.limitC) - h/2}, true, true
			}
		}
		for _, p := range pieces {
			if at, found = busy.besidePiece(p, y(l.limitC), w, h); found {
				return at, false, true
			}
		}
		return xy{}, false, false
	}
	// At best on the plain ground: off what is above a limit, and off bands.
	plain, pale := *busy, *busy
	pale.boxes = append(slices.Clone(busy.boxes), c.sc.boxes(roleExcess)...)
	plain.boxes = pale.boxes
	plain.addEdges(c.sc)
	for _, o := range []*obstacles{&plain, &pale, busy} {
		for _, p := range pieces {
			if at, found = o.alongLevel(p, y(l.limitC), w, h); found {
				return at, false, true
			}
		}
	}
	return xy{}, false, false
}

// above tells whether every track that a limit does not hold for stays below it between
// two places of the sheet, so that a piece of its line there cannot be taken for theirs.
func (c *composer) above(l limitLine, x0, x1 float64, y func(float64) float64) bool {
	for i, s := range c.track {
		if slices.Contains(l.rims, i) && !l.tyreSide {
			continue
		}
		for k, v := range s.v {
			if x := c.x(s.distM[k]); x >= x0-acrossClear && x <= x1+acrossClear && y(v) > y(l.limitC)-acrossClear {
				return false
			}
		}
	}
	return true
}

// alongLevel finds room for a box of width w and height h over, else under, a
// level line and answers its lower left corner.
func (o *obstacles) alongLevel(p rect, y, w, h float64) (at xy, found bool) {
	const step, over, under = 6.0, 3.5, 4.5
	for _, foot := range []float64{y + over, y - under - h} {
		for x := p.x0 + 4; x+w <= p.x1-2; x += step {
			if o.free(xy{x, foot}, w, h) {
				return xy{x, foot}, true
			}
		}
	}
	return xy{}, false
}

// besidePiece finds room for the box before or after a short level line.
func (o *obstacles) besidePiece(p rect, y, w, h float64) (at xy, found bool) {
	const gap = 4.0
	for _, at := range []xy{{p.x0 - gap - w, y - h/2}, {p.x1 + gap, y - h/2}} {
		if o.free(at, w, h) {
			return at, true
		}
	}
	return xy{}, false
}

// free tells whether the box with the lower left corner at touches nothing.
func (o *obstacles) free(at xy, w, h float64) bool {
	b := rect{at.x, at.y, at.x + w, at.y + h}
	return inside(b.grown(clearance), o.panel) && !o.hit(b, noRim)
}
