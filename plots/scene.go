package plots

import "image/color"

// xy is a place on the sheet, printer's points (1/72 inch) from the lower
// left corner.
type xy struct{ x, y float64 }

// rect is a box on the sheet, points.
type rect struct{ x0, y0, x1, y1 float64 }

// A role says what a shape or label stands for.
type role string

const (
	rolePaper    role = "paper"
	roleGrid     role = "grid"
	roleAxis     role = "axis"
	roleTick     role = "tick"
	roleDescent  role = "descent"
	roleOver     role = "over"
	roleRoad     role = "road"
	roleBand     role = "band"
	roleStop     role = "stop"
	roleTag      role = "tag"
	roleOverRoad role = "road over"
	roleExcess   role = "excess"
	roleGauge    role = "gauge"
	roleTrack    role = "track"
	roleTyreSide role = "tyre side"
	roleLimit    role = "limit"
	roleCrossing role = "crossing"
	roleLeader   role = "leader"
	roleKey      role = "key"
	roleTitle    role = "title"
	roleVerdict  role = "verdict"
	roleFooter   role = "footer"
)

// A shape is a run of points that is filled, stroked or both.
type shape struct {
	role role
	// rim is the candidate the shape belongs to, or noRim.
	rim int
	pts []xy
	// fill is fully transparent for a line, stroke for an area without
	// outline.
	fill, stroke color.NRGBA
	// width is the stroke's, points; dash is on, off, ..., points.
	width float64
	dash  []float64
}

// noRim marks what belongs to no single candidate.
const noRim = -1

// A label is one line of text.
type label struct {
	role role
	rim  int
	text string
	// at is the left end of the baseline, seen in the reading direction.
	at xy
	// size is the type size, points.
	size float64
	bold bool
	ink  color.NRGBA
	// upright text reads from bottom to top.
	upright bool
	box     rect
}

// A scene is a laid-out figure. Shapes are painted in order, labels last.
type scene struct {
	w, h   float64
	shapes []shape
	labels []label
}

func (s *scene) add(sh shape) { s.shapes = append(s.shapes, sh) }

// area adds a filled rectangle.
func (s *scene) area(r role, rim int, b rect, fill color.NRGBA) {
	s.add(shape{role: r, rim: rim, fill: fill, pts: []xy{{b.x0, b.y0}, {b.x1, b.y0}, {b.x1, b.y1}, {b.x0, b.y1}}})
}

// line adds a stroked run of points.
func (s *scene) line(r role, rim int, l lineStyle, pts ...xy) {
	s.add(shape{role: r, rim: rim, stroke: l.ink, width: l.width, dash: l.dash, pts: pts})
}

// Where a label stands relative to the x it is given.
const (
	alignLeft   = 0.0
	alignCentre = 0.5
	alignRight  = 1.0
)

// write adds a label whose baseline is at y. align is the part of its width
// that lies left of x.
func (s *scene) write(tf *typeface, r role, rim int, st textStyle, text string, x, y, align float64) label {
	w := tf.width(text, st)
	x -= align * w
	l := label{role: r, rim: rim, text: text, at: xy{x, y}, size: st.size, bold: st.bold, ink: st.ink,
		box: rect{x, y - st.size*descender, x + w, y + st.size*ascender}}
	s.labels = append(s.labels, l)
	return l
}

// writeUpright adds a label that reads upwards along the line x, centred on
// y.
func (s *scene) writeUpright(tf *typeface, r role, st textStyle, text string, x, y float64) {
	w := tf.width(text, st)
	s.labels = append(s.labels, label{role: r, rim: noRim, text: text, at: xy{x, y - w/2}, size: st.size, bold: st.bold,
		ink: st.ink, upright: true, box: rect{x - st.size*ascender, y - w/2, x + st.size*descender, y + w/2}})
}
