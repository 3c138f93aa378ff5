package plots

import "errors"

// A narrowSheet is one that must still be read at the width of a telephone's
// screen: as wide as the film curve's, with its letters.
type narrowSheet struct {
	tf  *typeface
	u   units
	pal palette
	sc  *scene
}

// newNarrow begins a sheet of the given height, points.
func newNarrow(u units, tf *typeface, h float64) *narrowSheet {
	s := &narrowSheet{tf: tf, u: u, pal: colours(), sc: &scene{w: filmW, h: h}}
	s.sc.area(rolePaper, noRim, rect{0, 0, filmW, h}, s.pal.paper)
	return s
}

const narrowRoom = filmW - 2*filmSide

func (s *narrowSheet) text() textStyle   { return textStyle{size: filmText, ink: s.pal.ink} }
func (s *narrowSheet) note() textStyle   { return textStyle{size: filmNote, ink: s.pal.soft} }
func (s *narrowSheet) source() textStyle { return textStyle{size: filmSourcePt, ink: s.pal.soft} }

func (s *narrowSheet) strong() textStyle {
	st := s.text()
	st.bold = true
	return st
}

// title writes the name of the route and answers its baseline.
func (s *narrowSheet) title(route string) float64 {
	y := s.sc.h - 30
	st := textStyle{size: 15, bold: true, ink: s.pal.ink}
	s.sc.write(s.tf, roleTitle, noRim, st, s.tf.fit(s.tf.routeName(route), st, narrowRoom), filmSide, y, alignLeft)
	return y - 4
}

// wrapAll breaks sentences to the width of the sheet, each to so many lines at most.
func wrapAll(tf *typeface, st textStyle, lines int, sentences ...string) []string {
	var out []string
	for _, s := range sentences {
		out = append(out, tf.wrap(s, st, narrowRoom, lines)...)
	}
	return out
}

// footLineH is from line to line of a sheet's foot, points.
const footLineH = 12.0

// foot breaks remarks into the lines that stand at a sheet's foot, shorter than they
// might be: a viewer that lacks the font sets wider letters.
func foot(tf *typeface, remarks ...string) []string {
	var out []string
	for _, r := range remarks {
		out = append(out, tf.wrap(r, textStyle{size: filmSourcePt}, 0.88*narrowRoom, 3)...)
	}
	return out
}

// footH is the height of such lines, points.
func footH(lines []string) float64 { return footerAt + float64(len(lines))*footLineH }

// writeFoot writes them, the last one lowest.
func (s *narrowSheet) writeFoot(lines []string) {
	y := footerAt + float64(len(lines)-1)*footLineH
	for _, l := range lines {
		s.sc.write(s.tf, roleFooter, noRim, s.source(), l, filmSide, y, alignLeft)
		y -= footLineH
	}
}

// makerHolds is what every sheet about limits says.
const makerHolds = "Where the rim's maker states a limit, the maker's figure holds."

// allFinite is an error where a number is none.
func allFinite(what string, vs ...float64) error {
	for _, v := range vs {
		if !finite(v) {
			return errors.New(what + " holds a number that is none")
		}
	}
	return nil
}
