package plots

import (
	"cmp"
	"math"
	"slices"
)

// A gauge stands right of the panel, on the panel's scale, and sets the
// highest temperature of one rim against one of its limits: a stem up to the
// rim's symbol, and a bar at the limit. A limit that holds for some of the
// rims only is so seen beside the temperature that it is about.
type gauge struct {
	rim      int
	tyreSide bool
	// peakC and limitC are in °C; NaN if there is none.
	peakC, limitC float64
}

// Measures of the gauges, points.
const (
	gaugeGap    = 14.0 // from the panel to the first gauge
	gaugeLane   = 40.0 // room of one gauge with its two numbers
	gaugeLeast  = 88.0 // of all gauges, so that their heading has room
	gaugeMost   = 196.0
	gaugeNumber = 38.0 // the least lane that has room for numbers
)

// gaugesW is the width of n gauges.
func gaugesW(n int) float64 {
	return max(gaugeLeast, min(gaugeMost, float64(n)*gaugeLane))
}

// gaugesOf lists the gauges in the order of the rims, the deciding limit
// first.
func (c *composer) gaugesOf(limits []limitLine) []gauge {
	var out []gauge
	for i := range c.a.Rims {
		r := &c.a.Rims[i]
		var own []gauge
		for _, l := range limits {
			if !slices.Contains(l.rims, i) {
				continue
			}
			g := gauge{rim: i, tyreSide: l.tyreSide, peakC: r.PeakC, limitC: l.limitC}
			if l.decides(r) {
				g.peakC = r.JudgedPeakC
				own = slices.Insert(own, 0, g)
				continue
			}
			own = append(own, g)
		}
		if len(own) == 0 {
			own = []gauge{{rim: i, peakC: r.PeakC, limitC: math.NaN()}}
		}
		out = append(out, own...)
	}
	return out
}

// drawGauges draws the gauges beside the panel, with the rims' tags at their
// feet.
func (c *composer) drawGauges(panel rect, a axis) {
	n := len(c.gauges)
	left := panel.x1 + gaugeGap
	lane := gaugesW(n) / float64(n)
	thin := lineStyle{ink: c.pal.soft, width: 0.7}
	c.sc.line(roleGauge, noRim, thin, xy{left, panel.y0}, xy{left + gaugesW(n), panel.y0})
	for k, g := range c.gauges {
		c.gauge(g, left+float64(k)*lane, lane, panel, a)
	}
	// One tag for all gauges of a rim.
	for k := 0; k < n; {
		j := k
		for ; j < n && c.gauges[j].rim == c.gauges[k].rim; j++ {
		}
		i := c.gauges[k].rim
		mid := left + lane*float64(k+j-1)/2 + stemAt(lane)
		tag := tagOf(i, len(c.a.Rims))
		if tag != "" && c.tf.width(tag, c.tagText()) <= lane*float64(j-k)-1 {
			c.sc.write(c.tf, roleGauge, i, c.tagText(), tag, mid, panel.y0-11, alignCentre)
		}
		k = j
	}
	y := panel.y0 - 11
	if len(c.a.Rims) > 1 {
		y -= lineH
	}
	c.sc.write(c.tf, roleGauge, noRim, c.note(), "peak and limit, "+c.u.tempUnit(), left, y, alignLeft)
}

// stemAt is where the stem stands in a lane.
func stemAt(lane float64) float64 {
	if lane >= gaugeNumber {
		return 10
	}
	return lane / 2
}

// gauge draws one gauge in the lane that starts at x.
func (c *composer) gauge(g gauge, x, lane float64, panel rect, a axis) {
	st := styleOfRim(g.rim)
	stem := x + stemAt(lane)
	half := min(8, 0.42*lane)
	y := func(t float64) float64 { return a.y(c.u.temp(t)) }
	type figure struct {
		y  float64
		st textStyle
		s  string
	}
	if finite(g.peakC) && finite(g.limitC) && g.peakC > g.limitC {
		c.sc.area(roleGauge, g.rim, rect{stem - 3.5, y(g.limitC), stem + 3.5, y(g.peakC)}, c.pal.excess)
	}
	var figures []figure
	if finite(g.peakC) {
		c.sc.line(roleGauge, g.rim, st.track, xy{stem, panel.y0}, xy{stem, y(g.peakC)})
		figures = append(figures, figure{y(g.peakC), c.tagText(), number(c.u.temp(g.peakC), 0)})
	}
	if finite(g.limitC) {
		at := y(g.limitC)
		bar := c.limitStyle(g.tyreSide)
		bar.width = 1.6
		c.sc.line(roleGauge, g.rim, bar, xy{stem - half, at}, xy{stem + half, at})
		ink := c.text()
		ink.ink = c.pal.limit
		figures = append(figures, figure{at, ink, number(c.u.temp(g.limitC), 0)})
	}
	if finite(g.peakC) {
		c.symbol(roleGauge, g.rim, xy{stem, y(g.peakC)}, 0.85)
	}
	if lane < gaugeNumber {
		return
	}
	slices.SortStableFunc(figures, func(a, b figure) int { return cmp.Compare(a.y, b.y) })
	centre, size := make([]float64, len(figures)), make([]float64, len(figures))
	for k, f := range figures {
		centre[k], size[k] = f.y, 10.5
	}
	for k, at := range spread(centre, size, panel.y0+2, panel.y1+2) {
		f := figures[k]
		c.sc.write(c.tf, roleGauge, g.rim, f.st, f.s, stem+half+3, at-3.2, alignLeft)
	}
}
