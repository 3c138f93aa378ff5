package plots

import (
	"math"
	"slices"
)

// temperatureAxis spans all curves, bands, peaks and limits.
func (c *composer) temperatureAxis(panel rect) axis {
	lo, hi := math.Inf(1), math.Inf(-1)
	for i := range c.track {
		for _, s := range []series{c.track[i], c.tyre[i]} {
			l, h := s.bounds()
			lo, hi = min(lo, l), max(hi, h)
		}
	}
	for _, b := range c.band {
		for i := range b.distM {
			lo, hi = min(lo, b.lo[i]), max(hi, b.hi[i])
		}
	}
	for _, g := range c.gauges {
		for _, v := range []float64{g.peakC, g.limitC, g.drawn.lo, g.drawn.hi, g.believed.lo, g.believed.hi} {
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
	pad := 0.05 * (hi - lo)
	return axis{lo - pad, hi + pad, panel.y0, panel.y1}
}

// temperaturePanel draws the curves and limits and answers the axis.
func (c *composer) temperaturePanel(panel rect) axis {
	a := c.temperatureAxis(panel)
	y := func(t float64) float64 { return a.y(c.u.temp(t)) }

	// Areas lie under all limits, and these under all curves. What is over a limit
	// lies on the bands, which must not veil it.
	for _, o := range c.joined() {
		c.sc.area(roleOver, noRim, c.stretch(o.StartM, o.EndM, panel), c.pal.over)
	}
	most := int((panel.y1 - panel.y0) / 19)
	c.rule(a, panel, most, panel.x1, lineStyle{ink: c.pal.faint, width: 0.5}, "brake track, hotter wheel, "+c.u.tempUnit())
	c.sc.line(roleAxis, noRim, lineStyle{ink: c.pal.soft, width: 0.7}, xy{panel.x0, panel.y0}, xy{panel.x1, panel.y0})

	tracks, tyres, ranges := c.curves(y)
	c.drawBands(y)
	c.excess(tracks, tyres, y)
	c.drawBandEdges(y)
	c.sc.shapes = append(c.sc.shapes, ranges...)
	for _, l := range c.limits {
		c.drawLimit(l, panel, y)
	}
	for i := range tracks {
		if len(tracks[i]) > 1 {
			c.sc.line(roleTrack, i, styleOfRim(i).track, tracks[i]...)
		}
	}
	for i := range tyres {
		if len(tyres[i]) > 1 {
			c.sc.line(roleTyreSide, i, styleOfRim(i).tyreSide(), tyres[i]...)
		}
	}
	return a
}

// curves places the rims' curves. Of one that goes up and down too often for a line it
// is the heights alone; ranges then hold the veils down to its depths, where no band of
// draws takes their place.
func (c *composer) curves(y func(float64) float64) (tracks, tyres [][]xy, ranges []shape) {
	tracks, tyres = make([][]xy, len(c.track)), make([][]xy, len(c.tyre))
	for i := range c.track {
		tracks[i] = c.polyline(c.track[i], y)
		if c.sawing[i] {
			upper, lower := envelope(tracks[i])
			if len(c.banded()) == 0 {
				slices.Reverse(lower)
				ranges = append(ranges, shape{role: roleBand, rim: i, pts: append(slices.Clone(upper), lower...), fill: styleOfRim(i).band()})
			}
			tracks[i] = upper
		}
		tyres[i] = c.polyline(c.tyre[i], y)
		if upper, _ := envelope(tyres[i]); sawing(tyres[i], upper) {
			tyres[i] = upper
		}
	}
	return tracks, tyres, ranges
}

// excess fills what lies between a limit and the curve that is over it.
func (c *composer) excess(tracks, tyres [][]xy, y func(float64) float64) {
	for i := range c.a.Rims {
		r := &c.a.Rims[i]
		judged := tracks[i]
		if offTrack(r.LimitOn) {
			judged = tyres[i]
		}
		if !finite(r.LimitC) || len(r.Over) == 0 {
			continue
		}
		for _, area := range above(judged, y(r.LimitC)) {
			c.sc.add(shape{role: roleExcess, rim: i, pts: area, fill: c.pal.excess})
		}
	}
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
