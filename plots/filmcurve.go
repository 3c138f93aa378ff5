package plots

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"

	"rimheat/thermal/air"
)

// A FilmFigure is a film curve and the rim that it holds for.
type FilmFigure struct {
	RimName string
	// RimAssumed says that nobody chose the rim, AirAssumed that nobody gave
	// the air's temperature.
	RimAssumed, AirAssumed bool
	Curve                  air.FilmCurve
}

// Measures of the film curve's sheet, points. It is narrower than the others
// and its letters larger: at the width of a telephone's screen, where 540
// points are some 390 pixels of the page, they must still be read.
const (
	filmW, filmH = 540.0, 640.0
	filmSide     = 20.0
	filmLeft     = 62.0
	filmNames    = 152.0 // room for the lines' names beside the panel
	filmFoot     = 106.0
	filmText     = 11.5
	filmNote     = 11.0
	filmSourcePt = 9.5
	filmLineH    = 14.5
	filmSampleW  = 22.0
	filmLeaderW  = 9.0
)

// SaveFilmCurve draws the film coefficient against speed and writes the figure
// to w in the named format, one of Formats. Nothing is written unless the
// whole figure could be drawn.
func SaveFilmCurve(w io.Writer, format string, f FilmFigure) error {
	return save(w, format, func(tf *typeface) (*scene, error) { return composeFilm(f, tf) })
}

// A filmSheet lays one film curve out.
type filmSheet struct {
	f     FilmFigure
	tf    *typeface
	pal   palette
	sc    *scene
	panel rect
	y     axis
}

func composeFilm(f FilmFigure, tf *typeface) (*scene, error) {
	n := len(f.Curve.SpeedMps)
	if n < 2 || !(f.Curve.SpeedMps[n-1] > 0) {
		return nil, errors.New("the film curve has no speeds to draw along")
	}
	for _, l := range f.Curve.Lines {
		if len(l.H) != n || slices.ContainsFunc(l.H, func(h float64) bool { return !finite(h) }) {
			return nil, fmt.Errorf("line %s of the film curve has no value at some speed", l.ID)
		}
	}
	low, high := f.Curve.Line("road_low"), f.Curve.Line("road_high")
	if f.Curve.Line("road") == nil || low == nil || high == nil {
		return nil, errors.New("the film curve lacks the rim's own line or its band")
	}
	s := &filmSheet{f: f, tf: tf, pal: colours(), sc: &scene{w: filmW, h: filmH}}
	s.sc.area(rolePaper, noRim, rect{0, 0, filmW, filmH}, s.pal.paper)
	s.panel = rect{filmLeft, filmFoot, filmW - filmNames, s.header() - 18}
	top := 0.0
	for _, l := range f.Curve.Lines {
		top = max(top, slices.Max(l.H))
	}
	s.y = axis{0, 1.03 * top, s.panel.y0, s.panel.y1}
	s.axes()
	s.band(low.H, high.H)
	s.lines()
	s.footer()
	return s.sc, nil
}

func (s *filmSheet) x(v float64) float64 {
	speeds := s.f.Curve.SpeedMps
	return s.panel.x0 + v/speeds[len(speeds)-1]*(s.panel.x1-s.panel.x0)
}

func (s *filmSheet) note() textStyle { return textStyle{size: filmNote, ink: s.pal.soft} }

// header writes the title and what the curve holds for, and answers the last
// baseline.
func (s *filmSheet) header() float64 {
	const width = filmW - 2*filmSide
	y := filmH - 30.0
	title := textStyle{size: 15, bold: true, ink: s.pal.ink}
	s.sc.write(s.tf, roleTitle, noRim, title, s.tf.fit("How well still air cools a rim on the road", title, width), filmSide, y, alignLeft)
	y -= 4
	st := textStyle{size: filmText, ink: s.pal.ink}
	name := s.tf.shown(s.f.RimName)
	if name == "" {
		name = "Rim without a name"
	}
	if s.f.RimAssumed {
		name += ", assumed"
	}
	for _, line := range append([]string{name}, s.conditions()...) {
		y -= filmLineH
		s.sc.write(s.tf, roleVerdict, noRim, st, s.tf.fit(line, st, width), filmSide, y, alignLeft)
	}
	return y
}

// conditions says what the curve holds for.
func (s *filmSheet) conditions() []string {
	c, u := s.f.Curve, units{}
	deg := func(k float64) string { return u.tempText(k - air.ZeroCelsiusK) }
	assumed := ""
	if s.f.AirAssumed {
		assumed = " assumed"
	}
	return []string{
		fmt.Sprintf("track radius %s mm, rim %s, air %s%s, film %s, %s hPa, no radiation",
			number(1e3*c.TrackRadiusM, 0), deg(c.SurfaceK), deg(c.AirK), assumed, deg(c.FilmK()), number(c.PressurePa/100, 0)),
		"plates in a stream of " + number(c.MeetsPart(), 2) + " v, the mean over a turn of the wheel",
		fmt.Sprintf("shaded: ×/÷ %g, 95 %%; no measurement on a bicycle rim is known", air.FilmSpread),
	}
}

// axes draws the marks of both axes.
func (s *filmSheet) axes() {
	faint, tick := lineStyle{ink: s.pal.faint, width: 0.6}, lineStyle{ink: s.pal.soft, width: 0.8}
	p := s.panel
	t := ticksIn(s.y.lo, s.y.hi, 10)
	for _, v := range t.at {
		y := s.y.y(v)
		s.sc.line(roleGrid, noRim, faint, xy{p.x0, y}, xy{p.x1, y})
		s.sc.write(s.tf, roleTick, noRim, s.note(), number(v, t.decimals), p.x0-6, y-3.8, alignRight)
	}
	speeds := s.f.Curve.SpeedMps
	t = ticksIn(0, 3.6*speeds[len(speeds)-1], 9)
	for _, v := range t.at {
		x := s.x(v / 3.6)
		s.sc.line(roleGrid, noRim, faint, xy{x, p.y0}, xy{x, p.y1})
		s.sc.line(roleTick, noRim, tick, xy{x, p.y0}, xy{x, p.y0 - 4})
		s.sc.write(s.tf, roleTick, noRim, s.note(), number(v, t.decimals), x, p.y0-16, alignCentre)
	}
	s.sc.line(roleAxis, noRim, tick, xy{p.x0, p.y0}, xy{p.x1, p.y0})
	s.sc.write(s.tf, roleAxis, noRim, s.note(), "speed v over the road, km/h", (p.x0+p.x1)/2, p.y0-32, alignCentre)
	s.sc.writeUpright(s.tf, roleAxis, s.note(), "film coefficient h, W/(m2 K)", filmSide+9, (p.y0+p.y1)/2)
}

func (s *filmSheet) points(h []float64) []xy {
	out := make([]xy, len(h))
	for i, v := range h {
		out[i] = xy{s.x(s.f.Curve.SpeedMps[i]), s.y.y(v)}
	}
	return out
}

// band fills what lies between the two bounds of the rim's own line.
func (s *filmSheet) band(low, high []float64) {
	down := s.points(low)
	slices.Reverse(down)
	s.sc.add(shape{role: roleBand, rim: noRim, pts: append(s.points(high), down...), fill: rgb(0xDCE4EB)})
}

// style tells the families of lines apart by width and dashes; colour only
// helps.
func (s *filmSheet) style(f air.FilmFamily) lineStyle {
	switch f {
	case air.FilmRoad:
		return lineStyle{ink: rgb(0x22415C), width: 2.8}
	case air.FilmBench:
		return lineStyle{ink: rgb(0x22415C), width: 2.8, dash: []float64{6, 3}}
	case air.FilmPlateTurbulent:
		return lineStyle{ink: rgb(0x8A4B1F), width: 0.9}
	case air.FilmPlateLaminar:
		return lineStyle{ink: rgb(0x2F6E62), width: 0.9, dash: []float64{5, 2.5}}
	case air.FilmDisc:
		return lineStyle{ink: rgb(0x70406B), width: 1.1, dash: []float64{1.4, 2.2}}
	case air.FilmCentral:
		return lineStyle{ink: rgb(0x23282E), width: 1.1, dash: []float64{9, 2.5, 1.5, 2.5}}
	}
	return lineStyle{ink: rgb(0x5C646C), width: 1.1, dash: []float64{2.5, 4.5}}
}

// lines draws every line but the band's, the thick ones first so that none
// hides what it is built from, and names each beside its end.
func (s *filmSheet) lines() {
	var all []air.FilmLine
	for _, l := range s.f.Curve.Lines {
		if l.Family != air.FilmBand {
			all = append(all, l)
		}
	}
	width := func(l air.FilmLine) float64 { return s.style(l.Family).width }
	slices.SortStableFunc(all, func(a, b air.FilmLine) int { return cmp.Compare(width(b), width(a)) })
	for _, l := range all {
		s.sc.line(roleTrack, noRim, s.style(l.Family), s.points(l.H)...)
	}
	last := func(l air.FilmLine) float64 { return l.H[len(l.H)-1] }
	slices.SortStableFunc(all, func(a, b air.FilmLine) int { return cmp.Compare(last(a), last(b)) })
	centre, size := make([]float64, len(all)), make([]float64, len(all))
	for i, l := range all {
		centre[i], size[i] = s.y.y(last(l)), filmLineH
	}
	x := s.panel.x1
	for i, at := range spread(centre, size, s.panel.y0-4, s.panel.y1+8) {
		l := all[i]
		st := textStyle{size: filmText, ink: s.pal.ink, bold: l.Family == air.FilmRoad || l.Family == air.FilmBench}
		s.sc.line(roleLeader, noRim, lineStyle{ink: s.pal.soft, width: 0.5}, xy{x + 1, centre[i]}, xy{x + filmLeaderW, at})
		s.sc.line(roleKey, noRim, s.style(l.Family), xy{x + filmLeaderW + 1, at}, xy{x + filmLeaderW + 1 + filmSampleW, at})
		from := filmLeaderW + filmSampleW + 5
		s.sc.write(s.tf, roleTrack, noRim, st, s.tf.fit(filmName(l), st, filmNames-from-6), x+from, at-4, alignLeft)
	}
}

// centralName is the central line as people write it.
const centralName = "57 (v/30 km/h)^0.8"

// filmName names a line in the room beside the panel.
func filmName(l air.FilmLine) string {
	switch l.Family {
	case air.FilmRoad:
		return "rim on the road"
	case air.FilmBench:
		return "bench, no fan"
	case air.FilmPlateTurbulent:
		return "turbulent, " + metres(l.LengthM)
	case air.FilmPlateLaminar:
		return "laminar, " + metres(l.LengthM)
	case air.FilmFree:
		return "free, at rest"
	case air.FilmCentral:
		return centralName
	case air.FilmDisc:
		if l.ID == "disc_in_stream" {
			return "disc in a stream"
		}
	}
	return l.Text
}

// metres writes a length as short as it goes.
func metres(m float64) string {
	return number(m, max(1, int(math.Ceil(-math.Log10(m)-1e-9)))) + " m"
}

// footer writes what the words beside the panel mean, and the sources.
func (s *filmSheet) footer() {
	const width = filmW - 2*filmSide
	st := s.note()
	for i, line := range []string{
		"turbulent, laminar: flat plates of that length; disc: spinning in still air, or at rest in a laminar stream",
		fmt.Sprintf("%s: film %s at sea level", centralName, units{}.tempText(air.CentralFilmK-air.ZeroCelsiusK)),
	} {
		s.sc.write(s.tf, roleKey, noRim, st, s.tf.fit(line, st, width), filmSide, filmFoot-54-float64(i)*filmLineH, alignLeft)
	}
	st.size = filmSourcePt
	const sources = "Laws, from memory: Incropera & DeWitt; Harmand et al. 2013; Churchill & Chu 1975. Band: common practice."
	s.sc.write(s.tf, roleFooter, noRim, st, s.tf.fit(sources, st, width), filmSide, 16, alignLeft)
}
