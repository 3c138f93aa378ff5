package plots

import (
	"math"
	"slices"
	"strings"

	"rimheat/thermal"
)

// A limitLine is one distinct limit with the rims that it holds for.
type limitLine struct {
	limitC   float64
	tyreSide bool
	assumed  bool
	rims     []int
}

// limitLines gathers the limits worth showing: every limit of a brake track,
// and a limit of the tyre side only where it decides a rim's verdict.
func limitLines(rims []thermal.RimResult) []limitLine {
	var out []limitLine
	put := func(i int, limitC float64, tyreSide, assumed bool) {
		if !finite(limitC) {
			return
		}
		for k := range out {
			l := &out[k]
			if l.tyreSide == tyreSide && l.assumed == assumed && math.Abs(l.limitC-limitC) < 0.05 {
				if l.rims[len(l.rims)-1] != i {
					l.rims = append(l.rims, i)
				}
				return
			}
		}
		out = append(out, limitLine{limitC, tyreSide, assumed, []int{i}})
	}
	for i := range rims {
		r := &rims[i]
		if r.LimitOn != "" {
			put(i, r.LimitC, offTrack(r.LimitOn), r.LimitAssumed)
		}
		for _, l := range r.Limits {
			if l.On == thermal.OnTrack {
				put(i, l.LimitC, false, l.Assumed)
			}
		}
	}
	return out
}

// decides tells whether the verdict of the rim hangs on this limit.
func (l limitLine) decides(r *thermal.RimResult) bool {
	return l.tyreSide == offTrack(r.LimitOn) && math.Abs(l.limitC-r.LimitC) < 0.05
}

// text is the words at the line. Beside a tyre-side limit that decides, the
// limit of a rim's track is called by its full name.
func (l limitLine) text(u units, rims []thermal.RimResult) string {
	s := "limit"
	switch {
	case l.tyreSide:
		s = limitOf(rims[l.rims[0]].LimitOn)
	case slices.ContainsFunc(l.rims, func(i int) bool { return !l.decides(&rims[i]) }):
		s = "brake-track limit"
	}
	if len(rims) > 1 {
		tags := make([]string, len(l.rims))
		for i, r := range l.rims {
			tags[i] = tagOf(r, len(rims))
		}
		if n := len(tags); n > 1 {
			tags = []string{strings.Join(tags[:n-1], ", ") + " and " + tags[n-1]}
		}
		s += " of " + tags[0] + ":"
	}
	s += " " + u.tempText(l.limitC)
	if l.assumed {
		s += ", assumed"
	}
	return s
}

// limitStyle draws a track limit solid and a tyre-side limit dashed.
func (c *composer) limitStyle(tyreSide bool) lineStyle {
	st := lineStyle{ink: c.pal.limit, width: 1}
	if tyreSide {
		st.dash = []float64{3, 2}
	}
	return st
}

// acrossClear is how far below a limit's line the curves stay that it does
// not hold for, points.
const acrossClear = 6.0

// across tells whether a limit may be drawn over the panel's whole width: a
// line that a curve rises to reads as that curve's limit, so every track that
// comes near must be one that the limit holds for. The tyre side's limit is
// about no track.
func (c *composer) across(l limitLine, y func(float64) float64) bool {
	if l.tyreSide {
		return false
	}
	for i, s := range c.track {
		if _, hi := s.bounds(); finite(hi) && !slices.Contains(l.rims, i) && y(hi) > y(l.limitC)-acrossClear {
			return false
		}
	}
	return true
}

// drawLimit draws a limit over the whole width if it can be misread nowhere,
// and else only where one of its own rims is over it. Its gauges show it in
// any case.
func (c *composer) drawLimit(l limitLine, panel rect, y func(float64) float64) {
	at := y(l.limitC)
	for _, p := range c.limitPieces(l, panel, y) {
		c.sc.line(roleLimit, l.rims[0], c.limitStyle(l.tyreSide), xy{p.x0, at}, xy{p.x1, at})
	}
}

// limitPieces is where along the panel a limit is drawn, from left to right.
func (c *composer) limitPieces(l limitLine, panel rect, y func(float64) float64) []rect {
	const beyond = 5.0
	if c.across(l, y) {
		return []rect{panel}
	}
	var over []thermal.OverSpan
	for _, i := range l.rims {
		if r := &c.a.Rims[i]; l.decides(r) {
			for _, o := range r.Over {
				if finite(o.StartM) && finite(o.EndM) {
					over = append(over, o)
				}
			}
		}
	}
	var out []rect
	for _, o := range c.join(over) {
		b := c.stretch(o.StartM, o.EndM, panel)
		b.x0, b.x1 = max(panel.x0, b.x0-beyond), min(panel.x1, b.x1+beyond)
		if n := len(out); n > 0 && b.x0 <= out[n-1].x1 {
			out[n-1].x1 = b.x1
			continue
		}
		out = append(out, b)
	}
	return out
}

// nameLimits writes the words of the limits in the panel: over a line across
// it as far left as they touch nothing, and at the level of a short line,
// before or after it. Where there is no room, the gauges tell.
func (c *composer) nameLimits(panel rect, a axis) {
	busy := newObstacles(c.sc, panel)
	st := c.text()
	st.ink = c.pal.limit
	y := func(t float64) float64 { return a.y(c.u.temp(t)) }
	for _, l := range c.limits {
		text := l.text(c.u, c.a.Rims)
		w, h := c.tf.width(text, st), st.size*ascender
		var at xy
		found := false
		if c.across(l, y) {
			// On the plain ground rather than on what is above a limit.
			plain := *busy
			plain.boxes = append(slices.Clone(busy.boxes), c.sc.boxes(roleExcess)...)
			if at, found = plain.alongLevel(y(l.limitC), w, h); !found {
				at, found = busy.alongLevel(y(l.limitC), w, h)
			}
		} else {
			for _, p := range c.limitPieces(l, panel, y) {
				if at, found = busy.besidePiece(p, y(l.limitC), w, h); found {
					break
				}
			}
		}
		if found {
			placed := c.sc.write(c.tf, roleLimit, noRim, st, text, at.x, at.y, alignLeft)
			busy.boxes = append(busy.boxes, placed.box.grown(2))
		}
	}
}

// alongLevel finds room for a box of width w and height h over, else under, a
// level line and answers its lower left corner.
func (o *obstacles) alongLevel(y, w, h float64) (at xy, found bool) {
	const step, over, under = 6.0, 3.5, 4.5
	for _, foot := range []float64{y + over, y - under - h} {
		for x := o.panel.x0 + 4; x+w <= o.panel.x1-2; x += step {
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
	return inside(b, o.panel) && !o.hit(b, noRim)
}
