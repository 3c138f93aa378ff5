package plots

import (
	"cmp"
	"math"
	"slices"
	"strconv"

	"rimheat/thermal"
)

// slimmest is the least width at which a shaded stretch can be seen, points.
const slimmest = 1.4

// stretch is the box of a stretch of the route over the panel's full height.
func (c *composer) stretch(fromM, toM float64, panel rect) rect {
	x0, x1 := c.x(fromM), c.x(toM)
	if x1-x0 < slimmest {
		x0 = min(x0, plotRight-slimmest)
		x1 = x0 + slimmest
	}
	return rect{x0, panel.y0, x1, panel.y1}
}

// shadeDescents tints the descents in the panel.
func (c *composer) shadeDescents(panel rect) {
	for _, d := range c.a.Descents {
		if finite(d.StartM) && finite(d.EndM) {
			c.sc.area(roleDescent, noRim, c.stretch(d.StartM, d.EndM, panel), c.pal.descent)
		}
	}
}

// baseline closes the panel at its foot.
func (c *composer) baseline(panel rect) {
	c.sc.line(roleAxis, noRim, lineStyle{ink: c.pal.soft, width: 0.7}, xy{panel.x0, panel.y0}, xy{panel.x1, panel.y0})
}

// heightPanel draws the road with its numbered descents.
func (c *composer) heightPanel(panel rect) {
	lo, hi := c.road.bounds()
	lo, hi = c.u.height(lo), c.u.height(hi)
	// A nearly flat road must not look like a mountain: at least 100 m.
	if room := c.u.height(100) - (hi - lo); room > 0 {
		lo, hi = lo-room/2, hi+room/2
	}
	pad := 0.08 * (hi - lo)
	a := axis{lo - pad, hi + pad, panel.y0, panel.y1}

	c.shadeDescents(panel)
	c.rule(a, panel, 5, "height, "+c.u.heightUnit())
	line := c.polyline(c.road, func(m float64) float64 { return a.y(c.u.height(m)) })
	land := append([]xy{{line[0].x, panel.y0}}, line...)
	land = append(land, xy{line[len(line)-1].x, panel.y0})
	c.sc.add(shape{role: roleProfile, rim: noRim, pts: land, fill: c.pal.land})
	c.sc.line(roleProfile, noRim, lineStyle{ink: c.pal.ridge, width: 1.1}, line...)
	for _, o := range c.joined() {
		hot := c.polyline(c.road.between(o.StartM, o.EndM), func(m float64) float64 { return a.y(c.u.height(m)) })
		if len(hot) > 1 {
			c.sc.line(roleSteep, noRim, lineStyle{ink: c.pal.overRoad, width: 2.4}, hot...)
		}
	}
	c.baseline(panel)
	c.numberDescents(panel.y1 + 4)
}

// polyline places a series on the sheet.
func (c *composer) polyline(s series, y func(float64) float64) []xy {
	out := make([]xy, len(s.v))
	for i := range s.v {
		out[i] = xy{c.x(s.distM[i]), y(s.v[i])}
	}
	return out
}

// numberDescents writes the descents' numbers above the panel, each over its
// stretch. Numbers that would collide are moved a little apart; where that is
// not enough, those of the smaller drops are left out.
func (c *composer) numberDescents(y float64) {
	const farthest = 7.0
	st := c.note()
	byDrop := make([]int, 0, len(c.a.Descents))
	for i, d := range c.a.Descents {
		if finite(d.StartM) && finite(d.EndM) {
			byDrop = append(byDrop, i)
		}
	}
	slices.SortStableFunc(byDrop, func(a, b int) int {
		return cmp.Compare(c.a.Descents[b].DropM, c.a.Descents[a].DropM)
	})
	place := func(rows []int) (at []float64, fits bool) {
		centre, width := make([]float64, len(rows)), make([]float64, len(rows))
		for k, i := range rows {
			d := c.a.Descents[i]
			centre[k], width[k] = (c.x(d.StartM)+c.x(d.EndM))/2, c.tf.width(strconv.Itoa(i+1), st)+4
		}
		at = spread(centre, width, plotLeft-4, plotRight+4)
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

// key explains the shading, beside the height panel.
func (c *composer) key(panel rect) {
	x, y := panel.x1+14, panel.y1-7
	put := func(text string, draw func(b rect)) {
		draw(rect{x, y - 1.5, x + 20, y + 7.5})
		c.sc.write(c.tf, roleKey, noRim, c.note(), text, x+26, y, alignLeft)
		y -= lineH + 2
	}
	outline := lineStyle{ink: c.pal.faint, width: 0.5}
	swatch := func(b rect, fill shape) {
		fill.role, fill.rim = roleKey, noRim
		fill.stroke, fill.width = outline.ink, outline.width
		fill.pts = []xy{{b.x0, b.y0}, {b.x1, b.y0}, {b.x1, b.y1}, {b.x0, b.y1}, {b.x0, b.y0}}
		c.sc.add(fill)
	}
	if len(c.a.Descents) > 0 {
		put("descents, numbered", func(b rect) { swatch(b, shape{fill: c.pal.descent}) })
	}
	if len(c.over) > 0 {
		put("a rim is over its limit", func(b rect) {
			swatch(b, shape{fill: c.pal.over})
			c.sc.line(roleKey, noRim, lineStyle{ink: c.pal.overRoad, width: 2.4}, xy{b.x0, (b.y0 + b.y1) / 2}, xy{b.x1, (b.y0 + b.y1) / 2})
		})
	}
	if c.sawing {
		put("brakes on and off: range", func(b rect) { swatch(b, shape{fill: styleOfRim(0).band()}) })
	}
}

// temperaturePanel draws the curves and limits and answers the axis.
func (c *composer) temperaturePanel(panel rect) axis {
	lo, hi := math.Inf(1), math.Inf(-1)
	for i := range c.track {
		for _, s := range []series{c.track[i], c.tyre[i]} {
			l, h := s.bounds()
			lo, hi = min(lo, l), max(hi, h)
		}
	}
	for _, l := range c.limits {
		lo, hi = min(lo, l.limitC), max(hi, l.limitC)
	}
	if !finite(lo) || !finite(hi) {
		lo, hi = 0, 100
	}
	lo, hi = c.u.temp(lo), c.u.temp(hi)
	// At least 10 degrees, so that an idle rim is not all noise.
	hi = max(hi, lo+10)
	pad := 0.07 * (hi - lo)
	a := axis{lo - pad, hi + pad, panel.y0, panel.y1}

	c.shadeDescents(panel)
	for _, o := range c.joined() {
		c.sc.area(roleOver, noRim, c.stretch(o.StartM, o.EndM, panel), c.pal.over)
	}
	c.rule(a, panel, 7, "brake track, hotter wheel, "+c.u.tempUnit())
	c.baseline(panel)
	y := func(t float64) float64 { return a.y(c.u.temp(t)) }
	for _, l := range c.limits {
		at := y(l.limitC)
		c.sc.line(roleLimit, noRim, c.limitStyle(l), xy{panel.x0, at}, xy{panel.x1, at})
	}
	// All bands lie under all lines.
	tracks := make([][]xy, len(c.track))
	for i := range c.track {
		tracks[i] = c.polyline(c.track[i], y)
		if upper, lower := envelope(tracks[i]); sawing(tracks[i], upper) {
			tracks[i], c.sawing = upper, true
			slices.Reverse(lower)
			c.sc.add(shape{role: roleBand, rim: i, pts: append(slices.Clone(upper), lower...), fill: styleOfRim(i).band()})
		}
	}
	for i := range c.track {
		if line := tracks[i]; len(line) > 1 {
			c.sc.line(roleTrack, i, styleOfRim(i).track, line...)
		}
	}
	for i := range c.tyre {
		line := c.polyline(c.tyre[i], y)
		if upper, _ := envelope(line); sawing(line, upper) {
			line = upper
		}
		if len(line) > 1 {
			c.sc.line(roleTyreSide, i, styleOfRim(i).tyreSide(), line...)
		}
	}
	c.gutter(panel, y)
	return a
}

// limitStyle draws a track limit solid and a tyre-side limit dashed.
func (c *composer) limitStyle(l limitLine) lineStyle {
	st := lineStyle{ink: c.pal.limit, width: 0.9}
	if l.tyreSide {
		st.dash = []float64{5, 3}
	}
	return st
}

// joined merges the stretches over a limit that overlap or would be less
// than a hair apart on paper, so that brakes on and off do not give stripes.
// A stretch too short to be seen is widened about its middle.
func (c *composer) joined() []thermal.OverSpan {
	hair := 1.5 / (plotRight - plotLeft) * c.endM
	least := slimmest / (plotRight - plotLeft) * c.endM
	sorted := slices.Clone(c.over)
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
