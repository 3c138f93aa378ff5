package plots

import (
	"math"
	"slices"

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
		s += " of " + tagList(l.rims, len(rims)) + ":"
	}
	return s + " " + l.figure(u)
}

// figure is the limit's number, and that it is assumed if it is.
func (l limitLine) figure(u units) string {
	s := u.tempText(l.limitC)
	if l.assumed {
		s += ", assumed"
	}
	return s
}

// short is what is left of the words where there is little room.
func (l limitLine) short(u units, rims int) string {
	if rims < 2 {
		return l.figure(u)
	}
	return tagList(l.rims, rims) + ": " + l.figure(u)
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

// drawLimit draws a limit over the whole width if no curve makes it misread, but for
// where a band would, and else only where one of its own rims is over it. Its gauges
// show it in any case.
func (c *composer) drawLimit(l limitLine, panel rect, y func(float64) float64) {
	at := y(l.limitC)
	for _, p := range c.limitPieces(l, panel, y) {
		c.sc.line(roleLimit, l.rims[0], c.limitStyle(l.tyreSide), xy{p.x0, at}, xy{p.x1, at})
	}
}

// limitPieces is where along the panel a limit is drawn, from left to right.
func (c *composer) limitPieces(l limitLine, panel rect, y func(float64) float64) []rect {
	const beyond = 5.0
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
	var own []rect
	for _, o := range c.join(over) {
		b := c.stretch(o.StartM, o.EndM, panel)
		b.x0, b.x1 = max(panel.x0, b.x0-beyond), min(panel.x1, b.x1+beyond)
		if n := len(own); n > 0 && b.x0 <= own[n-1].x1 {
			own[n-1].x1 = b.x1
			continue
		}
		own = append(own, b)
	}
	if !c.across(l, y) {
		return own
	}
	return c.clearOfBands(l, panel, own)
}

// clearOfBands cuts a line across the panel where the band of a rim that it does not
// hold for rises to it: no rim of its own is over it there, nor has a band that does.
func (c *composer) clearOfBands(l limitLine, panel rect, own []rect) []rect {
	const step = 1.0
	var out []rect
	shut := true
	for x := panel.x0; x < panel.x1; x += step {
		m := (x + step/2 - c.left) / (c.right - c.left) * c.endM
		foreign, mine := false, slices.ContainsFunc(own, func(b rect) bool { return b.x0 <= x && x <= b.x1 })
		for _, i := range c.banded() {
			if c.band[i].upper().at(m) < l.limitC {
				continue
			}
			if slices.Contains(l.rims, i) {
				mine = true
			} else {
				foreign = true
			}
		}
		if foreign && !mine {
			shut = true
			continue
		}
		if shut {
			out = append(out, rect{x, panel.y0, x, panel.y1})
			shut = false
		}
		out[len(out)-1].x1 = min(x+step, panel.x1)
	}
	return out
}
