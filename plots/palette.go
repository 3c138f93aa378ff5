package plots

import "image/color"

// textStyle is how a label is set; size in points.
type textStyle struct {
	size float64
	bold bool
	ink  color.NRGBA
}

// lineStyle is how a line is drawn; width and dashes (on, off, ...) in points.
type lineStyle struct {
	ink   color.NRGBA
	width float64
	dash  []float64
}

func rgb(hex uint32) color.NRGBA {
	return color.NRGBA{R: uint8(hex >> 16), G: uint8(hex >> 8), B: uint8(hex), A: 255}
}

// palette holds the figure's colours: cool greys for the frame and one warm
// red for all that is about limits.
type palette struct {
	paper, ink, soft, faint, halo color.NRGBA
	road, bracket                 color.NRGBA
	// limit is the ink of limits, overRoad that of the road where a rim is
	// over; over tints such stretches, and excess what lies between a curve
	// and its limit. Both are opaque, so that rims over together do not add
	// up to a darker tint.
	limit, overRoad, over, excess color.NRGBA
}

func colours() palette {
	return palette{
		paper: rgb(0xFFFFFF), ink: rgb(0x23282E), soft: rgb(0x5C646C), faint: rgb(0xE4E6E8), halo: rgb(0xFFFFFF),
		road: rgb(0x6C757D), bracket: rgb(0x6C757D),
		limit: rgb(0xA8402F), overRoad: rgb(0xA8402F), over: rgb(0xF7EAE4), excess: rgb(0xE3B2A4),
	}
}

// rimStyle is how one candidate is told apart: by colour, by dashes and by
// the shape of its symbol.
type rimStyle struct {
	track  lineStyle
	symbol []xy
}

// styleOfRim gives the candidate's look. The colours differ in lightness as
// well as in hue, so that they survive a grey print and the common kinds of
// colour blindness; neighbours in the list lie far apart in
// grey. After as many rims as there are colours they start again with the next
// pattern of dashes.
func styleOfRim(i int) rimStyle {
	inks := []uint32{0x22415C, 0xC07F2E, 0x70406B, 0x579F92, 0x62652C}
	dashes := [][]float64{nil, {7, 2.5}, {1.6, 2}, {9, 2, 1.6, 2}, {4, 1.8}}
	n := len(inks)
	return rimStyle{
		track:  lineStyle{ink: rgb(inks[i%n]), width: 1.6, dash: dashes[(i+i/n)%n]},
		symbol: symbolOfRim(i),
	}
}

// band is the rim's colour as a veil, for a curve that saws up and down.
func (r rimStyle) band() color.NRGBA {
	c := r.track.ink
	c.A = 44
	return c
}

// tyreSide is the thin line of a rim's tyre side, in a darker shade so that
// it can be seen on the rim's track, which it follows closely on aluminium.
func (r rimStyle) tyreSide() lineStyle {
	ink := r.track.ink
	ink.R, ink.G, ink.B = ink.R/2, ink.G/2, ink.B/2
	return lineStyle{ink: ink, width: 0.8, dash: []float64{2.5, 1.8}}
}

// symbolOfRim is the outline of the candidate's symbol, centred on the
// origin, points.
func symbolOfRim(i int) []xy {
	switch i % 5 {
	case 0:
		return []xy{{0, -5}, {4.2, 0}, {0, 5}, {-4.2, 0}}
	case 1:
		return []xy{{-3.7, -3.7}, {3.7, -3.7}, {3.7, 3.7}, {-3.7, 3.7}}
	case 2:
		return []xy{{-4.6, -3.4}, {4.6, -3.4}, {0, 5}}
	case 3:
		return []xy{{-4.6, 3.4}, {4.6, 3.4}, {0, -5}}
	}
	return []xy{{-4.4, -2}, {0, -4.8}, {4.4, -2}, {4.4, 2}, {0, 4.8}, {-4.4, 2}}
}
