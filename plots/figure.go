package plots

import (
	"errors"
	"math"

	"rimheat/thermal"
)

// Measures of the sheet, points. The sheet is 10 inches wide; its height is
// 6.5 inches for two rims and grows with the lines that more rims need.
const (
	sheetW     = 720.0
	sheetH     = 468.0
	marginSide = 26.0
	plotLeft   = 76.0
	lineH      = 13.0
	// From the foot of the sheet: the footer, the key, the distance axis, the
	// strip of the road's height and the brackets of the descents.
	footerAt = 16.0
	axisRoom = 44.0
	roadH    = 48.0
	bracketH = 30.0
)

// A composer lays out one figure.
type composer struct {
	a   *thermal.Assessment
	u   units
	tf  *typeface
	pal palette
	sc  *scene

	// endM is the length of the distance axis, metres, and right its end on
	// the sheet.
	endM, right float64
	// road is the height, metres; track and tyre are the curves of each rim,
	// °C, tyre empty where the tyre side does not decide or is the track's
	// equal.
	road        series
	track, tyre []series
	limits      []limitLine
	gauges      []gauge
	over        []thermal.OverSpan
	// sawing is set where a rim's track is drawn as a band.
	sawing []bool
}

// compose lays the figure out.
func compose(a *thermal.Assessment, u units, tf *typeface) (*scene, error) {
	c := &composer{a: a, u: u, tf: tf, pal: colours()}
	if err := c.gather(); err != nil {
		return nil, err
	}
	crossings := c.crossings()
	c.sc = &scene{w: sheetW, h: sheetH + float64(max(0, len(a.Rims)-2)+max(0, len(crossings)-1))*lineH}
	c.sc.area(rolePaper, noRim, rect{0, 0, c.sc.w, c.sc.h}, c.pal.paper)

	top := c.header(c.sc.h-32) - 20 - float64(len(crossings))*lineH
	keys := c.keyRows()
	keyAt := footerAt + 4 + float64(len(keys))*(lineH+1)
	road := rect{plotLeft, keyAt + axisRoom, c.right, keyAt + axisRoom + roadH}
	panel := rect{plotLeft, road.y1 + bracketH, c.right, top}
	axis := c.temperaturePanel(panel)
	c.drawGauges(panel, axis)
	c.callouts(crossings, panel, axis)
	c.nameLimits(panel, axis)
	c.nameStop(panel)
	c.tagCurves(panel)
	c.brackets(panel.y0 - 6)
	c.roadStrip(road)
	c.distanceAxis(road)
	c.key(keys, keyAt)
	c.sc.write(tf, roleFooter, noRim, c.note(), tf.fit(footer, c.note(), sheetW-2*marginSide), marginSide, footerAt, alignLeft)
	return c.sc, nil
}

// gather takes what is drawn from the assessment.
func (c *composer) gather() error {
	c.road = clampSeries(c.a.Trace.DistM, c.a.Trace.HeightM)
	if len(c.road.v) < 2 {
		return errors.New("the assessment has no trace of the road to draw")
	}
	if len(c.a.Rims) == 0 {
		return errors.New("the assessment has no rim to draw")
	}
	c.endM = c.road.distM[len(c.road.distM)-1]
	if !(c.endM > 0) {
		return errors.New("the road in the assessment has no length to draw along")
	}
	c.limits = limitLines(c.a.Rims)
	c.gauges = c.gaugesOf(c.limits)
	c.right = sheetW - marginSide - gaugesW(len(c.gauges)) - gaugeGap
	parts := int(2 * (c.right - plotLeft))
	c.road = c.road.thin(c.endM, parts)
	for i := range c.a.Rims {
		r := &c.a.Rims[i]
		track := hottest(r, func(h *thermal.History) []float64 { return h.TrackC })
		c.track = append(c.track, track.thin(c.endM, parts))
		var tyre series
		if offTrack(r.LimitOn) {
			tyre = hottest(r, func(h *thermal.History) []float64 {
				if r.LimitOn == thermal.OnFairing {
					return h.FairingC
				}
				return h.TyreSideC
			})
			if len(r.Over) == 0 && follows(tyre, track) {
				tyre = series{}
			}
		}
		c.tyre = append(c.tyre, tyre.thin(c.endM, parts))
		line := c.polyline(c.track[i], func(t float64) float64 { return t })
		upper, _ := envelope(line)
		c.sawing = append(c.sawing, sawing(line, upper))
		for _, o := range r.Over {
			if finite(o.StartM) && finite(o.EndM) {
				c.over = append(c.over, o)
			}
		}
	}
	return nil
}

// follows tells whether the tyre side stays so close to the track that the
// two curves would be one on paper, as on aluminium.
func follows(tyre, track series) bool {
	const together = 3.0 // kelvin
	if len(tyre.v) != len(track.v) {
		return false
	}
	for i := range tyre.v {
		if math.Abs(tyre.v[i]-track.v[i]) > together {
			return false
		}
	}
	return true
}

// x places a distance in metres on the sheet.
func (c *composer) x(m float64) float64 {
	return plotLeft + max(0, min(1, m/c.endM))*(c.right-plotLeft)
}

// text is the style of labels, tagText that of the rims' tags and note that
// of remarks.
func (c *composer) text() textStyle    { return textStyle{size: 9, ink: c.pal.ink} }
func (c *composer) tagText() textStyle { return textStyle{size: 9, bold: true, ink: c.pal.ink} }
func (c *composer) note() textStyle    { return textStyle{size: 9, ink: c.pal.soft} }

// tagWidth is the room that a rim's tag takes before words, points.
func (c *composer) tagWidth(tag string) float64 {
	if tag == "" {
		return 0
	}
	return c.tf.width(tag, c.tagText()) + 4
}

// header writes the title and one verdict a line, from the baseline y down,
// each after a sample of its rim's curve; it answers the last baseline.
func (c *composer) header(y float64) float64 {
	const width, sampleW = sheetW - 2*marginSide, 27.0
	title := textStyle{size: 15, bold: true, ink: c.pal.ink}
	c.sc.write(c.tf, roleTitle, noRim, title, c.tf.fit(c.tf.routeName(c.a.Route.Name), title, width), marginSide, y, alignLeft)
	y -= 6
	st := textStyle{size: 9.5, ink: c.pal.ink}
	n := len(c.a.Rims)
	for i := range c.a.Rims {
		r := &c.a.Rims[i]
		y -= lineH
		x := marginSide
		if tag := tagOf(i, n); tag != "" {
			bold := st
			bold.bold = true
			c.sc.write(c.tf, roleVerdict, i, bold, tag, x, y, alignLeft)
			x += 16
		}
		c.sc.line(roleKey, i, styleOfRim(i).track, xy{x, y + 3.3}, xy{x + sampleW, y + 3.3})
		x += sampleW + 8
		says := ": " + verdictText(r, c.u)
		if p := peakText(r, c.u); p != "" {
			says += "; " + p
		}
		room := sheetW - marginSide - x - c.tf.width(says, st)
		c.sc.write(c.tf, roleVerdict, i, st, c.tf.fit(c.tf.rimName(r, i), st, room)+says, x, y, alignLeft)
	}
	return y
}

// distanceAxis marks the distances under the strip of the road.
func (c *composer) distanceAxis(strip rect) {
	c.sc.line(roleAxis, noRim, lineStyle{ink: c.pal.soft, width: 0.7}, xy{strip.x0, strip.y0}, xy{strip.x1, strip.y0})
	t := ticksIn(0, c.u.dist(c.endM), 9)
	for _, v := range t.at {
		x := plotLeft + v/c.u.dist(c.endM)*(c.right-plotLeft)
		c.sc.line(roleTick, noRim, lineStyle{ink: c.pal.soft, width: 0.7}, xy{x, strip.y0}, xy{x, strip.y0 - 3.5})
		c.sc.write(c.tf, roleTick, noRim, c.note(), number(v, t.decimals), x, strip.y0-13, alignCentre)
	}
	c.sc.write(c.tf, roleAxis, noRim, c.note(), "distance along the route, "+c.u.distUnit(), (plotLeft+c.right)/2, strip.y0-26, alignCentre)
}

// An axis maps a value to a height on the sheet.
type axis struct{ lo, hi, y0, y1 float64 }

func (a axis) y(v float64) float64 {
	f := (v - a.lo) / (a.hi - a.lo)
	return a.y0 + math.Max(0, math.Min(1, f))*(a.y1-a.y0)
}

// rule draws the axis' marks beside the panel, each with a line to toX.
func (c *composer) rule(a axis, panel rect, most int, toX float64, st lineStyle, title string) {
	t := ticksIn(a.lo, a.hi, most)
	for _, v := range t.at {
		y := a.y(v)
		c.sc.line(roleGrid, noRim, st, xy{panel.x0, y}, xy{toX, y})
		c.sc.write(c.tf, roleTick, noRim, c.note(), number(v, t.decimals), panel.x0-6, y-3.2, alignRight)
	}
	c.sc.writeUpright(c.tf, roleAxis, c.note(), title, marginSide+7, (panel.y0+panel.y1)/2)
}
