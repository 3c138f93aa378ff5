package plots

import (
	"cmp"
	"math"
	"slices"
	"strconv"

	"rimheat/thermal"
)

// roadStrip draws the road's height as a plain line, thick where a rim is
// over its limit.
func (c *composer) roadStrip(strip rect) {
	lo, hi := c.road.bounds()
	lo, hi = c.u.height(lo), c.u.height(hi)
	// A nearly flat road must not look like a mountain: at least 100 m.
	if room := c.u.height(100) - (hi - lo); room > 0 {
		lo, hi = lo-room/2, hi+room/2
	}
	pad := 0.12 * (hi - lo)
	a := axis{lo - pad, hi + pad, strip.y0, strip.y1}
	y := func(m float64) float64 { return a.y(c.u.height(m)) }
	c.rule(a, strip, int((strip.y1-strip.y0)/11)-1, strip.x0-3.5, lineStyle{ink: c.pal.soft, width: 0.7}, "")
	c.sc.write(c.tf, roleAxis, noRim, c.note(), "height, "+c.u.heightUnit(), c.side, strip.y1+8, alignLeft)
	c.sc.line(roleRoad, noRim, lineStyle{ink: c.pal.road, width: 0.9}, c.polyline(c.road, y)...)
	for _, o := range c.joined() {
		hot := c.polyline(c.road.between(o.StartM, o.EndM), y)
		if len(hot) > 1 {
			c.sc.line(roleOverRoad, noRim, lineStyle{ink: c.pal.overRoad, width: 3}, hot...)
		}
	}
}

// drawable lists the descents with an extent, by their index.
func (c *composer) drawable() []int {
	var out []int
	for i, d := range c.a.Descents {
		if finite(d.StartM) && finite(d.EndM) {
			out = append(out, i)
		}
	}
	return out
}

// brackets draws a bracket under the temperature panel for each descent, its
// arms at the height y turned up, and the descent's number below it.
func (c *composer) brackets(y float64) {
	const arm, inset = 4.0, 0.4
	st := lineStyle{ink: c.pal.bracket, width: 1}
	for _, i := range c.drawable() {
		d := c.a.Descents[i]
		b := c.stretch(d.StartM, d.EndM, rect{y0: y - arm, y1: y})
		// Brackets of neighbours must not run together.
		b.x0, b.x1 = b.x0+inset, b.x1-inset
		c.sc.line(roleDescent, noRim, st, xy{b.x0, b.y1}, xy{b.x0, b.y0}, xy{b.x1, b.y0}, xy{b.x1, b.y1})
	}
	c.numberDescents(y - arm - 11)
}

// numberDescents writes the descents' numbers on the baseline y, each under
// its bracket. Numbers that would collide are moved a little apart; where
// that is not enough, those of the smaller drops are left out.
func (c *composer) numberDescents(y float64) {
	const farthest = 4.0
	st := c.text()
	byDrop := c.drawable()
	slices.SortStableFunc(byDrop, func(a, b int) int {
		return cmp.Compare(c.a.Descents[b].DropM, c.a.Descents[a].DropM)
	})
	place := func(rows []int) (at []float64, fits bool) {
		centre, width := make([]float64, len(rows)), make([]float64, len(rows))
		for k, i := range rows {
			d := c.a.Descents[i]
			centre[k], width[k] = (c.x(d.StartM)+c.x(d.EndM))/2, c.tf.width(strconv.Itoa(i+1), st)+4
		}
		at = spread(centre, width, c.left, c.right+4)
		for k := range at {
			if math.Abs(at[k]-centre[k]) > farthest {
				return nil, false
			}
		}
		return at, true
	}
	var rows []int
	var at []float64
	for _, i := range byDrop {
		k, _ := slices.BinarySearch(rows, i)
		more := slices.Insert(slices.Clone(rows), k, i)
		if a, fits := place(more); fits {
			rows, at = more, a
		}
	}
	for k, i := range rows {
		c.sc.write(c.tf, roleDescent, noRim, st, strconv.Itoa(i+1), at[k], y, alignCentre)
	}
}

// slimmest is the least width at which a stretch can be seen, points.
const slimmest = 1.4

// stretch is the box of a stretch of the route over the box's full height.
func (c *composer) stretch(fromM, toM float64, panel rect) rect {
	x0, x1 := c.x(fromM), c.x(toM)
	if x1-x0 < slimmest {
		x0 = min(x0, c.right-slimmest)
		x1 = x0 + slimmest
	}
	return rect{x0, panel.y0, x1, panel.y1}
}

// joined merges the stretches over a limit that overlap or would be less
// than a hair apart on paper, so that brakes on and off do not give stripes.
// A stretch too short to be seen is widened about its middle.
func (c *composer) joined() []thermal.OverSpan { return c.join(c.over) }

func (c *composer) join(over []thermal.OverSpan) []thermal.OverSpan {
	hair := 1.5 / (c.right - c.left) * c.endM
	least := slimmest / (c.right - c.left) * c.endM
	sorted := slices.Clone(over)
	for i := range sorted {
		s := &sorted[i]
		if more := least - (s.EndM - s.StartM); more > 0 {
			s.StartM = max(0, min(s.StartM-more/2, c.endM-least))
			s.EndM = s.StartM + least
		}
	}
	slices.SortStableFunc(sorted, func(a, b thermal.OverSpan) int { return cmp.Compare(a.StartM, b.StartM) })
	var out []thermal.OverSpan
	for _, s := range sorted {
		if n := len(out); n > 0 && s.StartM <= out[n-1].EndM+hair {
			out[n-1].EndM = max(out[n-1].EndM, s.EndM)
			continue
		}
		out = append(out, s)
	}
	return out
}

// polyline places a series on the sheet.
func (c *composer) polyline(s series, y func(float64) float64) []xy {
	out := make([]xy, len(s.v))
	for i := range s.v {
		out[i] = xy{c.x(s.distM[i]), y(s.v[i])}
	}
	return out
}
