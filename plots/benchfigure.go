package plots

import (
	"cmp"
	"errors"
	"io"
	"slices"
	"strconv"

	"rimheat/thermal"
)

// Measures of the bench's sheet, points.
const (
	sheetW     = 720.0
	marginSide = 26.0
	plotLeft   = 76.0
	lineH      = 13.0
	axisRoom   = 44.0
	benchH     = 396.0
	benchNames = 188.0 // room for the curves' names beside the panel
	benchPower = 44.0  // height of the strip of braking power
)

// SaveBench draws a bench run over time and writes the figure to w in the
// named format, one of Formats. Nothing is written unless the whole figure
// could be drawn. It is an error if the run has no trace.
func SaveBench(w io.Writer, format string, r *thermal.BenchResult) error {
	if r == nil || len(r.Trace) < 2 {
		return errors.New("the bench run has no trace to draw")
	}
	return save(w, format, func(tf *typeface) (*scene, error) { return composeBench(r, tf), nil })
}

// A benchCurve is one temperature over time, or a limit, which is level.
type benchCurve struct {
	name  string
	role  role
	style lineStyle
	s     series // seconds and °C
}

// composeBench lays the figure out. The composer's distances are seconds here.
func composeBench(r *thermal.BenchResult, tf *typeface) *scene {
	c := &composer{tf: tf, pal: colours(), sc: &scene{w: sheetW, h: benchH}, size: 9, side: marginSide, left: plotLeft, right: sheetW - benchNames}
	c.endM = r.Trace[len(r.Trace)-1].TimeS
	c.sc.area(rolePaper, noRim, rect{0, 0, c.sc.w, c.sc.h}, c.pal.paper)

	const width = sheetW - 2*marginSide
	title := textStyle{size: 15, bold: true, ink: c.pal.ink}
	name := tf.shown(r.Rim.Name)
	if name == "" {
		name = "Rim without a name"
	}
	c.sc.write(tf, roleTitle, noRim, title, tf.fit(name+", on a bench", title, width), marginSide, benchH-32, alignLeft)
	st := textStyle{size: 9.5, ink: c.pal.ink}
	c.sc.write(tf, roleVerdict, noRim, st, tf.fit(benchText(r), st, width), marginSide, benchH-32-6-lineH, alignLeft)

	power := rect{plotLeft, footerAt + lineH + axisRoom - 8, c.right, footerAt + lineH + axisRoom - 8 + benchPower}
	panel := rect{plotLeft, power.y1 + 18, c.right, benchH - 32 - 6 - lineH - 16}
	c.benchPanel(c.benchCurves(r), panel)
	c.benchPower(r, power)
	c.timeAxis(power)
	c.sc.write(tf, roleFooter, noRim, c.note(), tf.fit(footer, c.note(), width), marginSide, footerAt, alignLeft)
	return c.sc
}

// benchText is the line under the title.
func benchText(r *thermal.BenchResult) string {
	in, u := r.Inputs, units{}
	s := "up to " + number(in.MostWatts, 0) + " W"
	if in.MostWatts-in.MeanWatts < 0.5 {
		s = number(in.MostWatts, 0) + " W"
	}
	s += ", air of " + u.tempText(in.AirTempC)
	switch {
	case in.Film != nil:
		s += ", film coefficient " + strconv.FormatFloat(*in.Film, 'g', 3, 64) + " W/(m2 K)"
	case in.AirflowKmH != nil && *in.AirflowKmH == 0:
		s += " without a fan"
	case in.AirflowRange != nil:
		s += " at " + speedText(*in.AirflowRange) + " km/h"
	}
	s += ": swept band up to " + u.tempText(r.Peaks.SweptMeanC)
	if in.Preset != "" {
		s = in.Preset + ", " + s
	}
	return s
}

// speedText writes a range of speeds, km/h, or the one speed that it holds.
func speedText(r [2]float64) string {
	lo, hi := strconv.FormatFloat(r[0], 'g', 3, 64), strconv.FormatFloat(r[1], 'g', 3, 64)
	if lo == hi {
		return lo
	}
	return lo + " to " + hi
}

// benchPick is one curve of the panel and the reading that it follows.
type benchPick struct {
	name  string
	style lineStyle
	pick  func(thermal.BenchReadings) float64
}

// benchCurves lists what the panel shows, the curve that matters most last so
// that it lies on top.
func (c *composer) benchCurves(r *thermal.BenchResult) []benchCurve {
	grey := lineStyle{ink: c.pal.road, width: 1.2, dash: []float64{4, 2}}
	hottest := styleOfRim(0).tyreSide()
	curves := []benchPick{
		{"tyre air", grey, func(b thermal.BenchReadings) float64 { return b.TyreAirC }},
		{"spoke bed", styleOfRim(4).track, func(b thermal.BenchReadings) float64 { return b.SpokeBedC }},
		{"centre of rim bed", styleOfRim(3).track, func(b thermal.BenchReadings) float64 { return b.BedCentreC }},
		{"inner wall", styleOfRim(2).track, func(b thermal.BenchReadings) float64 { return b.InnerWallC }},
		{"tyre side", styleOfRim(1).track, func(b thermal.BenchReadings) float64 { return b.TyreSideC }},
		{"hottest place of the band", hottest, func(b thermal.BenchReadings) float64 { return b.HottestC }},
		{"swept band, mean", styleOfRim(0).track, func(b thermal.BenchReadings) float64 { return b.SweptMeanC }},
	}
	if slices.ContainsFunc(r.Limits, func(l thermal.BenchLimit) bool { return l.On == thermal.OnTrack }) {
		judged := lineStyle{ink: c.pal.limit, width: 1.6}
		curves = slices.Insert(curves, len(curves)-1, curves[0])
		curves[len(curves)-2] = benchPick{"track, held to its limit", judged, func(b thermal.BenchReadings) float64 { return b.TrackC }}
	}
	var out []benchCurve
	for _, l := range r.Limits {
		name := "limit " + c.u.tempText(l.LimitC) + ", " + l.On
		if l.Assumed {
			name += " (assumed)"
		}
		out = append(out, benchCurve{name, roleLimit, lineStyle{ink: c.pal.limit, width: 0.9, dash: []float64{5, 3}},
			series{distM: []float64{0, c.endM}, v: []float64{l.LimitC, l.LimitC}}})
	}
	n := len(r.Trace)
	times := make([]float64, n)
	for i, t := range r.Trace {
		times[i] = t.TimeS
	}
	for _, k := range curves {
		v := make([]float64, n)
		for i, t := range r.Trace {
			v[i] = k.pick(t.BenchReadings)
		}
		out = append(out, benchCurve{k.name, roleTrack, k.style, clampSeries(times, v).thin(c.endM, int(2*(c.right-plotLeft)))})
	}
	return out
}

// benchPanel draws the curves and names each beside its end.
func (c *composer) benchPanel(curves []benchCurve, panel rect) {
	lo, hi := curves[0].s.bounds()
	for _, k := range curves {
		l, h := k.s.bounds()
		lo, hi = min(lo, l), max(hi, h)
	}
	hi = max(hi, lo+10)
	pad := 0.05 * (hi - lo)
	a := axis{lo - pad, hi + pad, panel.y0, panel.y1}
	c.rule(a, panel, 8, panel.x1, lineStyle{ink: c.pal.faint, width: 0.5}, "temperature, °C")
	c.sc.line(roleAxis, noRim, lineStyle{ink: c.pal.soft, width: 0.7}, xy{panel.x0, panel.y0}, xy{panel.x1, panel.y0})
	for _, k := range curves {
		if line := c.polyline(k.s, a.y); len(line) > 1 {
			c.sc.line(k.role, noRim, k.style, line...)
		}
	}
	byEnd := slices.Clone(curves)
	last := func(k benchCurve) float64 { return k.s.v[len(k.s.v)-1] }
	slices.SortStableFunc(byEnd, func(p, q benchCurve) int { return cmp.Compare(last(p), last(q)) })
	centre, size := make([]float64, len(byEnd)), make([]float64, len(byEnd))
	for i, k := range byEnd {
		centre[i], size[i] = a.y(last(k)), lineH
	}
	at := spread(centre, size, panel.y0-10, panel.y1+10)
	for i, k := range byEnd {
		x := panel.x1
		c.sc.line(roleLeader, noRim, lineStyle{ink: c.pal.soft, width: 0.5}, xy{x + 1, centre[i]}, xy{x + 9, at[i]})
		c.sc.line(roleKey, noRim, k.style, xy{x + 10, at[i]}, xy{x + 30, at[i]})
		st := c.text()
		c.sc.write(c.tf, k.role, noRim, st, c.tf.fit(k.name, st, benchNames-34-8), x+34, at[i]-3.2, alignLeft)
	}
}

// benchPower draws the braking power, which holds within a step.
func (c *composer) benchPower(r *thermal.BenchResult, strip rect) {
	most := max(100, r.Inputs.MostWatts)
	a := axis{0, 1.15 * most, strip.y0, strip.y1}
	c.rule(a, strip, 3, strip.x0-3.5, lineStyle{ink: c.pal.soft, width: 0.7}, "power, W")
	var line []xy
	for i, t := range r.Trace[1:] {
		y := a.y(t.Watts)
		if n := len(line); n == 0 || line[n-1].y != y {
			line = append(line, xy{c.x(r.Trace[i].TimeS), y}, xy{c.x(t.TimeS), y})
		} else {
			line[n-1].x = c.x(t.TimeS)
		}
	}
	c.sc.line(roleRoad, noRim, lineStyle{ink: c.pal.road, width: 0.9}, line...)
}

// timeAxis marks the time under the strip of power, in minutes or, for short
// runs, seconds.
func (c *composer) timeAxis(strip rect) {
	unit, name := 60.0, "min"
	if c.endM < 180 {
		unit, name = 1, "s"
	}
	tick := lineStyle{ink: c.pal.soft, width: 0.7}
	c.sc.line(roleAxis, noRim, tick, xy{strip.x0, strip.y0}, xy{strip.x1, strip.y0})
	t := ticksIn(0, c.endM/unit, 9)
	for _, v := range t.at {
		x := c.x(v * unit)
		c.sc.line(roleTick, noRim, tick, xy{x, strip.y0}, xy{x, strip.y0 - 3.5})
		c.sc.write(c.tf, roleTick, noRim, c.note(), number(v, t.decimals), x, strip.y0-13, alignCentre)
	}
	c.sc.write(c.tf, roleAxis, noRim, c.note(), "time, "+name, (plotLeft+c.right)/2, strip.y0-26, alignCentre)
}
