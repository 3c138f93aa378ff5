package plots

import (
	"math"
	"slices"
)

// temperatureAxis spans all curves, peaks and limits.
func (c *composer) temperatureAxis(panel rect) axis {
	lo, hi := math.Inf(1), math.Inf(-1)
	for i := range c.track {
		for _, s := range []series{c.track[i], c.tyre[i]} {
			l, h := s.bounds()
			lo, hi = min(lo, l), max(hi, h)
		}
	}
	for _, g := range c.gauges {
		for _, v := range []float64{g.peakC, g.limitC} {
			if finite(v) {
				lo, hi = min(lo, v), max(hi, v)
			}
		}
	}
	if !finite(lo) || !finite(hi) {
		lo, hi = 0, 100
	}
	lo, hi = c.u.temp(lo), c.u.temp(hi)
	// At least 10 degrees, so that an idle rim is not all noise.
	hi = max(hi, lo+10)
	pad := 0.06 * (hi - lo)
	return axis{lo - pad, hi + pad, panel.y0, panel.y1}
}

// temperaturePanel draws the curves and limits and answers the axis.
func (c *composer) temperaturePanel(panel rect) axis {
	a := c.temperatureAxis(panel)
	y := func(t float64) float64 { return a.y(c.u.temp(t)) }

	// Areas lie under all limits, and these under all curves.
	for _, o := range c.joined() {
		c.sc.area(roleOver, noRim, c.stretch(o.StartM, o.EndM, panel), c.pal.over)
	}
	c.rule(a, panel, 9, panel.x1, lineStyle{ink: c.pal.faint, width: 0.5}, "brake track, hotter wheel, "+c.u.tempUnit())
	c.sc.line(roleAxis, noRim, lineStyle{ink: c.pal.soft, width: 0.7}, xy{panel.x0, panel.y0}, xy{panel.x1, panel.y0})

	var bands []shape
	tracks, tyres := make([][]xy, len(c.track)), make([][]xy, len(c.tyre))
	for i := range c.track {
		tracks[i] = c.polyline(c.track[i], y)
		if c.sawing[i] {
			upper, lower := envelope(tracks[i])
			slices.Reverse(lower)
			bands = append(bands, shape{role: roleBand, rim: i, pts: append(slices.Clone(upper), lower...), fill: styleOfRim(i).band()})
			tracks[i] = upper
		}
		tyres[i] = c.polyline(c.tyre[i], y)
		if upper, _ := envelope(tyres[i]); sawing(tyres[i], upper) {
			tyres[i] = upper
		}
	}
	for i := range c.a.Rims {
		r := &c.a.Rims[i]
		judged := tracks[i]
		if offTrack(r.LimitOn) {
			judged = tyres[i]
		}
		if finite(r.LimitC) && len(r.Over) > 0 {
			for _, area := range above(judged, y(r.LimitC)) {
				c.sc.add(shape{role: roleExcess, rim: i, pts: area, fill: c.pal.excess})
			}
		}
	}
	c.sc.shapes = append(c.sc.shapes, bands...)
	for _, l := range c.limits {
		c.drawLimit(l, panel, y)
	}
	for i := range c.track {
		if len(tracks[i]) > 1 {
			c.sc.line(roleTrack, i, styleOfRim(i).track, tracks[i]...)
		}
	}
	for i := range c.tyre {
		if len(tyres[i]) > 1 {
			c.sc.line(roleTyreSide, i, styleOfRim(i).tyreSide(), tyres[i]...)
		}
	}
	return a
}

// above cuts out the areas between a curve and a level line below it.
func above(line []xy, y float64) [][]xy {
	var out [][]xy
	var run []xy
	shut := func() {
		if len(run) > 1 {
			out = append(out, append(run, xy{run[len(run)-1].x, y}, xy{run[0].x, y}))
		}
		run = nil
	}
	for k, p := range line {
		if k > 0 {
			if q := line[k-1]; (q.y > y) != (p.y > y) {
				f := (y - q.y) / (p.y - q.y)
				run = append(run, xy{q.x + f*(p.x-q.x), y})
			}
		}
		if p.y > y {
			run = append(run, p)
			continue
		}
		shut()
	}
	shut()
	return out
}
