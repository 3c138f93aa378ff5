package plots

import (
	"errors"
	"math"
	"slices"

	"rimheat/thermal"
)

// Measures of the sheet, points. It is as wide as all narrow sheets; its height
// grows with the rims and their crossings.
const (
	figureLeft  = 66.0 // to the panels
	figureEdge  = 12.0 // right of the gauges
	figureLineH = 14.5
	panelH      = 228.0
	roadH       = 57.0
	// barePanelH and bareRoadH are those of a part of a page.
	barePanelH = 138.0
	bareRoadH  = 34.0
	// Under the panel: the brackets of the descents with their numbers, the rests,
	// the road's height, its grade and the marks of the distance.
	bracketH  = 30.0
	restH     = 14.0
	restAbove = 7.0 // from the road's height to the middle of the signs
	gradeGap  = 8.0
	gradeH    = 9.0
	marksH    = 20.0
	keyRow    = 15.5 // from row to row of the key
	bareKey   = 14.0
	footerAt  = 16.0 // from the foot of the sheet
)

// A composer lays out one figure.
type composer struct {
	a    *thermal.Assessment
	u    units
	tf   *typeface
	pal  palette
	sc   *scene
	bare bool
	// size is that of the letters and side the sheet's margin, points.
	size, side float64

	// endM is the length of the distance axis, metres; left and right are its ends
	// on the sheet.
	endM, left, right float64
	// road is the height, metres; track and tyre are the curves of each rim,
	// °C, tyre empty where the tyre side does not decide or is the track's
	// equal; band is what the draws say, empty where none is drawn.
	road        series
	track, tyre []series
	band        []drawnBand
	limits      []limitLine
	gauges      []gauge
	grades      []gradePiece
	rests       []rest
	over        []thermal.OverSpan
	// sawing is set where a rim's track is drawn as a band.
	sawing []bool
}

// compose lays the figure out.
func compose(a *thermal.Assessment, opt Options, tf *typeface) (*scene, error) {
	c := &composer{a: a, u: units{imperial: opt.Imperial}, tf: tf, pal: colours(), bare: opt.bare, size: filmNote, side: filmSide, left: figureLeft}
	if err := c.gather(); err != nil {
		return nil, err
	}
	crossings, keys, remarks, head := c.crossings(), c.keyRows(), c.remarks(), c.head()
	p := c.places(len(crossings), len(keys), remarks, head)
	c.sc = &scene{w: filmW, h: p.h}
	c.sc.area(rolePaper, noRim, rect{0, 0, c.sc.w, c.sc.h}, c.pal.paper)
	if !c.bare {
		c.header(head)
		c.foot(remarks)
	}
	axis := c.temperaturePanel(p.panel)
	c.drawGauges(p.panel, axis)
	c.callouts(crossings, p.panel, axis)
	c.nameLimits(p.panel, axis)
	c.nameStop(p.panel)
	c.tagCurves(p.panel)
	c.brackets(p.panel.y0 - 6)
	c.drawRests(p.road.y1 + restAbove)
	c.roadStrip(p.road)
	c.gradeStrip(p.grade)
	c.distanceAxis(p.grade)
	c.key(keys, p.key)
	c.clearEdges()
	return c.sc, nil
}

// places are where the parts of a sheet go: its height, the baseline of the key's
// first row, and the panels.
type places struct {
	h, key             float64
	panel, road, grade rect
}

// places stacks the parts from the foot upwards.
func (c *composer) places(crossings, keys int, remarks []string, head [][]string) places {
	var p places
	tall, roadTall := panelH, roadH
	if c.bare {
		tall, roadTall = barePanelH, bareRoadH
	}
	p.key = footerAt - 4 + float64(keys-1)*c.keyRowH()
	if !c.bare {
		p.key += footH(remarks) - 4
	}
	y := p.key + c.keyRowH() + marksH
	p.grade = rect{c.left, y, c.right, y}
	if len(c.grades) > 0 {
		p.grade.y1 += gradeH
	}
	y = p.grade.y1 + gradeGap
	p.road = rect{c.left, y, c.right, y + roadTall}
	y = p.road.y1 + bracketH
	if len(c.rests) > 0 {
		y += restH
	}
	p.panel = rect{c.left, y, c.right, y + tall}
	p.h = p.panel.y1 + 10 + float64(crossings)*figureLineH
	if !c.bare {
		p.h += 8 + headH(head)
	}
	return p
}

// keyRowH is from row to row of the key, points.
func (c *composer) keyRowH() float64 {
	if c.bare {
		return bareKey
	}
	return keyRow
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
	c.right = filmW - figureEdge - gaugesW(len(c.gauges)) - gaugeGap
	parts := int(2 * (c.right - c.left))
	c.road = c.road.thin(c.endM, parts)
	for i := range c.a.Rims {
		c.gatherRim(i, parts)
	}
	// All rims are braked at the same places: where one needs its heights alone, so
	// that its line does not run together, they are drawn alike.
	if slices.Contains(c.sawing, true) {
		for i := range c.sawing {
			c.sawing[i] = true
		}
	}
	c.band = drawnBands(c.a)
	c.grades = gradePieces(clampSeries(c.a.Trace.DistM, c.a.Trace.Grade), c.endM, int((c.right-c.left)/gradeLeast))
	c.rests = c.restsOf(c.a.Trace.Stands)
	return nil
}

// gatherRim takes the curves of one rim.
func (c *composer) gatherRim(i, parts int) {
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
	return c.left + max(0, min(1, m/c.endM))*(c.right-c.left)
}

// text is the style of labels, tagText that of the rims' tags and note that
// of remarks.
func (c *composer) text() textStyle    { return textStyle{size: c.size, ink: c.pal.ink} }
func (c *composer) tagText() textStyle { return textStyle{size: c.size, bold: true, ink: c.pal.ink} }
func (c *composer) note() textStyle    { return textStyle{size: c.size, ink: c.pal.soft} }

// tagWidth is the room that a rim's tag takes before words, points.
func (c *composer) tagWidth(tag string) float64 {
	if tag == "" {
		return 0
	}
	return c.tf.width(tag, c.tagText()) + 4
}
