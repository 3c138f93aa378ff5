package plots

import (
	"errors"
	"math"

	"rimheat/thermal"
)

// Measures of the sheet, points. The sheet is 10 inches wide; its height is
// 6.5 inches for two rims and grows with the lines that more rims need.
const (
	sheetW      = 720.0
	sheetH      = 468.0
	marginSide  = 26.0
	plotLeft    = 74.0
	plotRight   = 524.0
	heightPanel = 82.0
	lineH       = 13.0
	axisAt      = 64.0
	// leastPanel is what the layout leaves to the temperature panel.
	leastPanel = 204.0
)

// A composer lays out one figure.
type composer struct {
	a   *thermal.Assessment
	u   units
	tf  *typeface
	pal palette
	sc  *scene

	// endM is the length of the distance axis, metres.
	endM float64
	// road is the height, metres; track and tyre are the curves of each rim,
	// °C, tyre empty where the tyre side does not decide.
	road        series
	track, tyre []series
	limits      []limitLine
	over        []thermal.OverSpan
	// sawing is set once a curve is drawn as a band.
	sawing bool
}

// compose lays the figure out.
func compose(a *thermal.Assessment, u units, tf *typeface) (*scene, error) {
	c := &composer{a: a, u: u, tf: tf, pal: colours()}
	if err := c.gather(); err != nil {
		return nil, err
	}
	crossings := c.crossings()
	extra := float64(max(0, len(a.Rims)-2)+max(0, len(crossings)-1)) * lineH
	extra += max(0, c.gutterNeed()-leastPanel-gutterMore)
	c.sc = &scene{w: sheetW, h: sheetH + extra}
	c.sc.area(rolePaper, noRim, rect{0, 0, c.sc.w, c.sc.h}, c.pal.paper)

	y := c.header(c.sc.h - 32)
	y -= 24 // air, with room for the numbers of the descents
	road := rect{plotLeft, y - heightPanel, plotRight, y}
	c.heightPanel(road)
	y -= heightPanel + 16 + float64(len(crossings))*lineH
	panel := rect{plotLeft, axisAt, plotRight, y}
	axis := c.temperaturePanel(panel)
	c.key(road)
	c.callouts(crossings, panel, axis)
	c.distanceAxis(panel)
	c.tagCurves(panel)
	c.sc.write(tf, roleFooter, noRim, c.note(), tf.fit(footer, c.note(), sheetW-2*marginSide), marginSide, 18, alignLeft)
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
	parts := int(2 * (plotRight - plotLeft))
	c.road = c.road.thin(c.endM, parts)
	for i := range c.a.Rims {
		r := &c.a.Rims[i]
		c.track = append(c.track, hottest(r, func(h *thermal.History) []float64 { return h.TrackC }).thin(c.endM, parts))
		var tyre series
		if r.LimitOn == onTyreSide {
			tyre = hottest(r, func(h *thermal.History) []float64 { return h.TyreSideC }).thin(c.endM, parts)
		}
		c.tyre = append(c.tyre, tyre)
		for _, o := range r.Over {
			if finite(o.StartM) && finite(o.EndM) {
				c.over = append(c.over, o)
			}
		}
	}
	c.limits = limitLines(c.a.Rims)
	return nil
}

// x places a distance in metres on the sheet.
func (c *composer) x(m float64) float64 {
	return plotLeft + max(0, min(1, m/c.endM))*(plotRight-plotLeft)
}

// text is the style of labels, tagText that of the rims' tags and note that
// of remarks.
func (c *composer) text() textStyle    { return textStyle{size: 9, ink: c.pal.ink} }
func (c *composer) tagText() textStyle { return textStyle{size: 9, bold: true, ink: c.pal.ink} }
func (c *composer) note() textStyle    { return textStyle{size: 9, ink: c.pal.soft} }

// header writes the title and one verdict a line, from the baseline y down;
// it answers the last baseline.
func (c *composer) header(y float64) float64 {
	const width = sheetW - 2*marginSide
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
		says := ": " + verdictText(r, c.u)
		if p := peakText(r, c.u); p != "" {
			says += "; " + p
		}
		room := sheetW - marginSide - x - c.tf.width(says, st)
		c.sc.write(c.tf, roleVerdict, i, st, c.tf.fit(c.tf.rimName(r, i), st, room)+says, x, y, alignLeft)
	}
	return y
}

// distanceAxis marks the distances under the panel.
func (c *composer) distanceAxis(panel rect) {
	t := ticksIn(0, c.u.dist(c.endM), 9)
	for _, v := range t.at {
		x := plotLeft + v/c.u.dist(c.endM)*(plotRight-plotLeft)
		c.sc.line(roleTick, noRim, lineStyle{ink: c.pal.soft, width: 0.7}, xy{x, panel.y0}, xy{x, panel.y0 - 3.5})
		c.sc.write(c.tf, roleTick, noRim, c.note(), number(v, t.decimals), x, panel.y0-14, alignCentre)
	}
	c.sc.write(c.tf, roleAxis, noRim, c.note(), "distance along the route, "+c.u.distUnit(), (plotLeft+plotRight)/2, panel.y0-27, alignCentre)
}

// An axis maps a value to a height on the sheet.
type axis struct{ lo, hi, y0, y1 float64 }

func (a axis) y(v float64) float64 {
	f := (v - a.lo) / (a.hi - a.lo)
	return a.y0 + math.Max(0, math.Min(1, f))*(a.y1-a.y0)
}

// rule draws the axis' marks and grid beside and across the panel.
func (c *composer) rule(a axis, panel rect, most int, title string) {
	t := ticksIn(a.lo, a.hi, most)
	for _, v := range t.at {
		y := a.y(v)
		c.sc.line(roleGrid, noRim, lineStyle{ink: c.pal.faint, width: 0.5}, xy{panel.x0, y}, xy{panel.x1, y})
		c.sc.write(c.tf, roleTick, noRim, c.note(), number(v, t.decimals), panel.x0-6, y-3.2, alignRight)
	}
	c.sc.writeUpright(c.tf, roleAxis, c.note(), title, marginSide+7, (panel.y0+panel.y1)/2)
}
