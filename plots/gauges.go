package plots

import (
	"cmp"
	"math"
	"slices"

	"rimheat/thermal"
)

// A gauge stands right of the panel, on the panel's scale, and sets the
// highest temperature of one rim against one of its limits: the rim's symbol at
// the central estimate, a whisker over nine of ten draws, a bar at the limit and
// the range that an assumed limit is believed to lie in. A limit that holds for
// some of the rims only is so seen beside the temperature that it is about.
type gauge struct {
	rim      int
	tyreSide bool
	// peakC and limitC are in °C; NaN if there is none.
	peakC, limitC float64
	// drawn and believed are in °C, none of NaN.
	drawn, believed span
}

// A span is a range of temperatures, °C.
type span struct{ lo, hi float64 }

func (s span) ok() bool { return finite(s.lo) && finite(s.hi) && s.lo <= s.hi }

var noSpan = span{math.NaN(), math.NaN()}

// Measures of the gauges, points.
const (
	gaugeGap    = 12.0 // from the panel to the first gauge
	gaugeLane   = 42.0 // room of one gauge with its two numbers
	gaugeLeast  = 52.0 // of all gauges, so that their heading has room
	gaugeMost   = 126.0
	gaugeNumber = 41.0 // the least lane that has room for numbers
	gaugeStem   = 11.0 // from the lane's left to the stem
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
			g := gauge{rim: i, tyreSide: l.tyreSide, peakC: r.PeakC, limitC: l.limitC, drawn: drawnPeak(r, thermal.OnTrack), believed: believed(r, l)}
			if l.decides(r) {
				g.peakC, g.drawn = r.JudgedPeakC, drawnPeak(r, r.LimitOn)
				own = slices.Insert(own, 0, g)
				continue
			}
			own = append(own, g)
		}
		if len(own) == 0 {
			own = []gauge{{rim: i, peakC: r.PeakC, limitC: math.NaN(), drawn: drawnPeak(r, thermal.OnTrack), believed: noSpan}}
		}
		out = append(out, own...)
	}
	return out
}

// drawnPeak is what nine of ten draws keep between of the peak at the place that a
// limit is about.
func drawnPeak(r *thermal.RimResult, on string) span {
	if r.Risk == nil {
		return noSpan
	}
	for _, l := range r.Risk.Limits {
		if l.On == on {
			return span{l.PeakC.P05, l.PeakC.P95}
		}
	}
	if offTrack(on) {
		return noSpan
	}
	return span{r.Risk.TrackC.P05, r.Risk.TrackC.P95}
}

// believed is the range in which an assumed limit is believed to lie.
func believed(r *thermal.RimResult, l limitLine) span {
	for _, k := range r.Limits {
		if k.Assumed && l.assumed && offTrack(k.On) == l.tyreSide && math.Abs(k.LimitC-l.limitC) < 0.05 && k.LowC < k.HighC {
			return span{k.LowC, k.HighC}
		}
	}
	return noSpan
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
	y := panel.y0 - 14
	if len(c.a.Rims) > 1 {
		c.tagGauges(left, lane, y)
		y -= figureLineH
	}
	for _, s := range []string{"peak and", "limit, " + c.u.tempUnit()} {
		c.sc.write(c.tf, roleGauge, noRim, c.note(), s, left, y, alignLeft)
		y -= figureLineH - 1
	}
}

// tagGauges writes one tag for all gauges of a rim.
func (c *composer) tagGauges(left, lane, y float64) {
	n := len(c.gauges)
	for k := 0; k < n; {
		j := k
		for ; j < n && c.gauges[j].rim == c.gauges[k].rim; j++ {
		}
		i := c.gauges[k].rim
		mid := left + lane*float64(k+j-1)/2 + stemAt(lane)
		tag := tagOf(i, len(c.a.Rims))
		if c.tf.width(tag, c.tagText()) <= lane*float64(j-k)-1 {
			c.sc.write(c.tf, roleGauge, i, c.tagText(), tag, mid, y, alignCentre)
		}
		k = j
	}
}

// stemAt is where the stem stands in a lane.
func stemAt(lane float64) float64 {
	if lane >= gaugeNumber {
		return gaugeStem
	}
	return lane / 2
}

// gauge draws one gauge in the lane that starts at x.
func (c *composer) gauge(g gauge, x, lane float64, panel rect, a axis) {
	st := styleOfRim(g.rim)
	stem := x + stemAt(lane)
	half := min(7.5, 0.42*lane)
	y := func(t float64) float64 { return a.y(c.u.temp(t)) }
	if g.believed.ok() {
		c.doubt(roleGauge, g.rim, rect{stem - half, y(g.believed.lo), stem + half, y(g.believed.hi)})
	}
	if finite(g.peakC) {
		thin := lineStyle{ink: c.pal.soft, width: 0.6}
		c.sc.line(roleGauge, g.rim, thin, xy{stem, panel.y0}, xy{stem, y(g.peakC)})
	}
	if g.drawn.ok() {
		c.whisker(roleGauge, g.rim, stem, y(g.drawn.lo), y(g.drawn.hi), min(3.4, half))
	} else if finite(g.peakC) {
		if finite(g.limitC) && g.peakC > g.limitC {
			c.sc.area(roleGauge, g.rim, rect{stem - 3.5, y(g.limitC), stem + 3.5, y(g.peakC)}, c.pal.excess)
		}
		c.sc.line(roleGauge, g.rim, st.track, xy{stem, panel.y0}, xy{stem, y(g.peakC)})
	}
	if finite(g.limitC) {
		bar := c.limitStyle(g.tyreSide)
		bar.width = 1.6
		c.sc.line(roleGauge, g.rim, bar, xy{stem - half, y(g.limitC)}, xy{stem + half, y(g.limitC)})
	}
	if finite(g.peakC) {
		c.symbol(roleGauge, g.rim, xy{stem, y(g.peakC)}, 0.85)
	}
	if lane >= gaugeNumber {
		c.gaugeNumbers(g, stem+half+3, panel, y)
	}
}

// doubt hatches the range that an assumed limit is believed to lie in.
func (c *composer) doubt(r role, rim int, b rect) {
	st := lineStyle{ink: c.pal.limit, width: 0.45}
	for _, l := range hatch(b, 3.4, nil, nil) {
		c.sc.line(r, rim, st, l[0], l[1])
	}
}

// whisker draws an upright range with ends.
func (c *composer) whisker(r role, rim int, x, y0, y1, half float64) {
	st := lineStyle{ink: styleOfRim(rim).track.ink, width: 1.4}
	c.sc.line(r, rim, st, xy{x, y0}, xy{x, y1})
	for _, y := range []float64{y0, y1} {
		c.sc.line(r, rim, st, xy{x - half, y}, xy{x + half, y})
	}
}

// gaugeNumbers writes peak and limit from x on.
func (c *composer) gaugeNumbers(g gauge, x float64, panel rect, y func(float64) float64) {
	type figure struct {
		y  float64
		st textStyle
		s  string
	}
	var figures []figure
	if finite(g.peakC) {
		figures = append(figures, figure{y(g.peakC), c.tagText(), number(c.u.temp(g.peakC), 0)})
	}
	if finite(g.limitC) {
		ink := c.text()
		ink.ink = c.pal.limit
		figures = append(figures, figure{y(g.limitC), ink, number(c.u.temp(g.limitC), 0)})
	}
	slices.SortStableFunc(figures, func(a, b figure) int { return cmp.Compare(a.y, b.y) })
	centre, size := make([]float64, len(figures)), make([]float64, len(figures))
	for k, f := range figures {
		centre[k], size[k] = f.y, 1.15*c.size
	}
	for k, at := range spread(centre, size, panel.y0+2, panel.y1+2) {
		f := figures[k]
		c.sc.write(c.tf, roleGauge, g.rim, f.st, f.s, x, at-midLetters*c.size, alignLeft)
	}
}
