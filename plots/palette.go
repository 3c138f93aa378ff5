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

// palette holds the figure's colours, all opaque.
type palette struct {
	paper, ink, soft, faint     color.NRGBA
	descent, land, ridge        color.NRGBA
	over, overRoad, limit, halo color.NRGBA
}

func colours() palette {
	return palette{
		paper: rgb(0xFFFFFF), ink: rgb(0x1E2A32), soft: rgb(0x56646E), faint: rgb(0xDDE2E5),
		descent: rgb(0xEFF3F3), land: rgb(0xCBD5D6), ridge: rgb(0x51656B),
		over: rgb(0xF6D8CA), overRoad: rgb(0xA3213B), limit: rgb(0xA3213B), halo: rgb(0xFFFFFF),
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
// grey. After as many rims
// as there are colours they start again with the next pattern of dashes.
func styleOfRim(i int) rimStyle {
	inks := []uint32{0x17375E, 0xD98324, 0x7A2E6B, 0x45AFA0, 0x5F6414}
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
	c.A = 60
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
