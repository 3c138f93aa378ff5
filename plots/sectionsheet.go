package plots

import (
	"math"

	"rimheat/thermal"
)

// Roles of the shapes that only the sections have.
const (
	roleField    role = "field"
	roleSection  role = "section"
	roleIsotherm role = "isotherm"
	roleNear     role = "near" // pads, tyre and spoke, which are not computed
	rolePlace    role = "place"
)

// A sectionLook is how large the sheet of sections and its letters are, points.
type sectionLook struct {
	w, side, gap float64
	perRow       int
	// deepest and mostPerMM bound the scale: points for the deepest rim, points per
	// millimetre.
	deepest, mostPerMM float64
	text, note         float64
	lineH, noteH       float64
	// tyreH and spokeH are kept above the edge and under the spoke bed.
	tyreH, spokeH float64
}

// sectionLookOf gives the look of the whole sheet, or of half a page's width.
func sectionLookOf(bare bool) sectionLook {
	if bare {
		return sectionLook{w: 264, side: 5, gap: 8, perRow: 2, deepest: 98, mostPerMM: 4.5, text: 9.5, note: 9, lineH: 11.5, noteH: 11, tyreH: 17, spokeH: 17}
	}
	return sectionLook{w: filmW, side: filmSide, gap: 18, perRow: 3, deepest: 290, mostPerMM: 7, text: filmText, note: 10, lineH: filmLineH, noteH: 12.5, tyreH: 28, spokeH: 26}
}

// A sectionSheet lays cross-sections out.
type sectionSheet struct {
	*narrowSheet
	look  sectionLook
	bare  bool
	a     *thermal.Assessment
	shown []int
	scale *heatScale
	// stepC is how far the colours of the picture lie apart, linesC how far its
	// isotherms do, °C.
	stepC, linesC float64
	// perM is the scale of length, points per metre.
	perM float64
	rows [][]sectionPanel
}

// A sectionPanel is what stands over and beside one rim's section.
type sectionPanel struct {
	rim    int
	f      *thermal.Field
	name   []string
	moment []string
	probe  []probe
	// probeW is the width of the widest probe, w that of the panel, points.
	probeW, w float64
}

// Measures that the two looks share: points, and millimetres of the pads' hint.
const (
	sectionLeader  = 17.0 // from the section to the words beside it
	padHintMM      = 2.4
	padGapMM       = 0.35
	sectionTitleH  = 66.0 // above the first row on the whole sheet
	sectionRowGap  = 20.0
	mostColours    = 70
	sectionBarH    = 11.0
	headToSections = 4.0
)

func newSectionSheet(a *thermal.Assessment, shown []int, opt Options, tf *typeface) *sectionSheet {
	u := units{imperial: opt.Imperial}
	s := &sectionSheet{narrowSheet: &narrowSheet{tf: tf, u: u, pal: colours()}, look: sectionLookOf(opt.bare), bare: opt.bare, a: a, shown: shown}
	var of []thermal.RimResult
	for _, i := range shown {
		of = append(of, a.Rims[i])
	}
	lo, hi, _ := thermal.FieldBounds(of)
	least := math.Inf(1)
	for i := range of {
		lo = min(lo, of[i].Field.AirC)
	}
	for _, l := range limitLines(of) {
		least = min(least, l.limitC)
	}
	if finite(least) {
		// What is far below all limits must not look as hot as what reaches one.
		hi = max(hi, least)
	}
	s.scale = newHeatScale(lo, hi)
	s.stepC, s.linesC = s.steps()
	perRow := s.look.perRow
	for len(shown) > 0 {
		// Four go in two and two, so that none stands alone.
		n := min(perRow, len(shown))
		if len(shown) == perRow+1 {
			n = (len(shown) + 1) / 2
		}
		row := make([]sectionPanel, n)
		for k := range row {
			row[k] = s.panelOf(shown[k], n)
		}
		s.rows, shown = append(s.rows, row), shown[n:]
	}
	s.perM = s.lengthScale()
	return s
}

// steps gives round steps in the reader's degrees for colours and isotherms.
func (s *sectionSheet) steps() (colour, line float64) {
	span := s.scale.hiC - s.scale.loC
	for _, d := range []float64{0.2, 0.5, 1, 2, 5, 10, 20, 50} {
		if colour = s.u.gapK(d); span/colour <= mostColours {
			break
		}
	}
	for _, d := range []float64{2, 5, 10, 20, 50, 100, 200, 500} {
		if line = s.u.gapK(d); span/line <= 10 {
			break
		}
	}
	return colour, line
}

// levels are the round temperatures, °C, that lie the given step apart between two.
func (s *sectionSheet) levels(stepC, fromC, toC float64) []float64 {
	step := s.u.temp(stepC) - s.u.temp(0)
	var out []float64
	for k := math.Ceil(s.u.temp(fromC)/step - 1e-9); k*step <= s.u.temp(toC)+1e-9; k++ {
		c := k * step
		if s.u.imperial {
			c = (c - 32) * 5 / 9
		}
		out = append(out, c)
	}
	return out
}

// panelOf gathers the words of one rim, in a row of so many.
func (s *sectionSheet) panelOf(rim, inRow int) sectionPanel {
	r := &s.a.Rims[rim]
	p := sectionPanel{rim: rim, f: r.Field}
	p.w = (s.look.w - 2*s.look.side - float64(inRow-1)*s.look.gap) / float64(inRow)
	p.name = s.tf.wrap(s.tf.rimName(r, rim), s.strong(), p.w-s.tagW(rim), 2)
	p.moment = s.tf.wrap(s.momentText(r), s.small(), p.w, 2)
	p.probe = s.probes(p.f)
	for _, c := range p.probe {
		p.probeW = max(p.probeW, s.tf.width(c.number, s.strong()), s.tf.width(c.what, s.small()))
	}
	return p
}

// lengthScale is the largest scale at which every section has room, points per metre.
func (s *sectionSheet) lengthScale() float64 {
	perM := s.look.mostPerMM * 1e3
	for _, row := range s.rows {
		for _, p := range row {
			room := p.w - p.probeW - sectionLeader
			perM = min(perM, room/(2*p.f.HalfWidthM+2*(padHintMM+padGapMM)*1e-3), s.look.deepest/p.f.DepthM)
		}
	}
	return perM
}

// Styles of the sheet's letters.
func (s *sectionSheet) body() textStyle { return textStyle{size: s.look.text, ink: s.pal.ink} }
func (s *sectionSheet) strong() textStyle {
	return textStyle{size: s.look.text, bold: true, ink: s.pal.ink}
}
func (s *sectionSheet) small() textStyle { return textStyle{size: s.look.note, ink: s.pal.soft} }

// headH is the height of the words over a row's sections.
func (s *sectionSheet) headH(row []sectionPanel) float64 {
	h := 0.0
	for _, p := range row {
		h = max(h, float64(len(p.name))*s.look.lineH+float64(len(p.moment))*s.look.noteH)
	}
	return h + headToSections
}

// bodyH is the height of a row from the top of the tyres to the foot of the spokes.
func (s *sectionSheet) bodyH(row []sectionPanel) float64 {
	h := 0.0
	for _, p := range row {
		probes := float64(len(p.probe)) * s.probeH()
		h = max(h, s.look.tyreH+p.f.DepthM*s.perM+s.look.spokeH, probes+s.look.spokeH)
	}
	return h
}

// layOut draws the sheet, whose height follows from what is on it.
func (s *sectionSheet) layOut() {
	k := s.newSectionKey()
	head, tail := s.look.side, s.look.side+4
	var says, remarks []string
	if !s.bare {
		says = s.tf.wrap(sectionWords(s.a.Rims, s.shown, s.u), s.body(), s.look.w-2*s.look.side, 8)
		remarks = foot(s.tf, s.sectionFoot()...)
		head, tail = sectionTitleH, footH(remarks)
	}
	h := head + k.height() + float64(len(says))*s.look.lineH + tail
	if len(says) > 0 {
		h += s.look.lineH
	}
	for _, row := range s.rows {
		h += s.headH(row) + s.bodyH(row) + sectionRowGap
	}
	h -= sectionRowGap
	s.sc = &scene{w: s.look.w, h: h}
	s.sc.area(rolePaper, noRim, rect{0, 0, s.sc.w, s.sc.h}, s.pal.paper)
	if !s.bare {
		y := s.title(s.a.Route.Name) - filmLineH
		s.sc.write(s.tf, roleVerdict, noRim, s.body(), "The rims cut through, each when its brake track is hottest; one scale of lengths and colours", filmSide, y, alignLeft)
		s.writeFoot(remarks)
	}
	y := h - head
	for _, row := range s.rows {
		x := s.look.side
		for _, p := range row {
			s.panel(p, rect{x, y - s.headH(row) - s.bodyH(row), x + p.w, y}, s.headH(row))
			x += p.w + s.look.gap
		}
		y -= s.headH(row) + s.bodyH(row) + sectionRowGap
	}
	y += sectionRowGap
	s.lengthBar(y)
	y -= s.look.lineH / 2
	k.draw(y)
	y -= k.height() + s.look.lineH/2
	for _, l := range says {
		s.sc.write(s.tf, roleVerdict, noRim, s.body(), l, s.look.side, y-s.look.text*ascender, alignLeft)
		y -= s.look.lineH
	}
}
