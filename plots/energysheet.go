package plots

import "rimheat/thermal"

// Roles of the shapes that only the energy has.
const (
	roleIn      role = "in"
	rolePattern role = "pattern"
)

// Measures of the sheet of energy, points.
const (
	energyTitleH = 58.0
	energyRow    = 37.0
	energyBarH   = 15.0
	energyInH    = 5.0
	energyGutter = 142.0
	energyRight  = filmW - filmSide - 8
	energyAxisH  = 22.0
	energyKeyH   = 15.0
	energyNote   = 10.0
)

// An energySheet lays the ledgers of the descents out.
type energySheet struct {
	*narrowSheet
	a     *thermal.Assessment
	shown []ledger
	rest  ledger
	more  int
	// mostJ is the right end of the axis, joules.
	mostJ float64
}

// composeEnergy lays the figure out.
func composeEnergy(a *thermal.Assessment, opt Options, tf *typeface) (*scene, error) {
	if err := checkEnergy(a); err != nil {
		return nil, err
	}
	s := &energySheet{narrowSheet: &narrowSheet{tf: tf, u: units{imperial: opt.Imperial}, pal: colours()}, a: a}
	s.shown, s.rest, s.more = shownLedgers(a.Descents)
	for i := range s.shown {
		s.mostJ = max(s.mostJ, s.shown[i].inJ, s.shown[i].outJ())
	}
	says := s.says()
	shares := s.shares()
	head, tail := filmSide, filmSide-6
	var remarks []string
	if !opt.bare {
		remarks = foot(tf, s.energyFoot()...)
		head, tail = energyTitleH, footH(remarks)
	}
	keys := s.keys()
	h := head + tail + float64(len(says)+len(shares))*filmLineH + 12
	if s.mostJ > 0 {
		h += float64(len(keys))*energyKeyH + 13 + float64(len(s.shown))*energyRow + energyAxisH
	}
	if len(shares) > 0 {
		h += filmLineH + 6
	}
	s.sc = &scene{w: filmW, h: h}
	s.sc.area(rolePaper, noRim, rect{0, 0, s.sc.w, s.sc.h}, s.pal.paper)
	y := h - head
	if !opt.bare {
		s.sc.write(tf, roleVerdict, noRim, s.text(), "Where the energy of each descent came from, and where it went", filmSide, s.title(a.Route.Name)-filmLineH, alignLeft)
		s.writeFoot(remarks)
	}
	if s.mostJ > 0 {
		y = s.drawKeys(keys, y) - 13
		top := y
		for i := range s.shown {
			s.row(&s.shown[i], y)
			y -= energyRow
		}
		s.axis(top, y+4)
		y -= energyAxisH
	}
	for _, l := range says {
		y -= filmLineH
		s.sc.write(tf, roleVerdict, noRim, s.text(), l, filmSide, y, alignLeft)
	}
	s.writeShares(shares, y-6)
	return s.sc, nil
}

// x places an energy on the sheet, joules.
func (s *energySheet) x(j float64) float64 {
	const left = filmSide + energyGutter
	return left + j/s.mostJ*(energyRight-left)
}

// writeShares writes a line for each rim, from y down.
func (s *energySheet) writeShares(shares []rimShare, y float64) {
	if len(shares) == 0 {
		return
	}
	y -= filmLineH
	s.sc.write(s.tf, roleVerdict, noRim, s.text(), "The brakes' heat over the whole ride, both wheels:", filmSide, y, alignLeft)
	const between = 16.0
	column := 0.0 // where the shares begin: right of all names
	var names []label
	for _, r := range shares {
		y -= filmLineH
		x := filmSide
		if tag := tagOf(r.rim, len(s.a.Rims)); tag != "" {
			s.sc.write(s.tf, roleVerdict, r.rim, s.strong(), tag, x, y, alignLeft)
			x += s.tf.width(tag, s.strong()) + 6
		}
		s.symbol(r.rim, xy{x + 5, y + 4})
		x += 15
		room := filmW - filmSide - x - s.tf.width(r.text, s.text()) - between
		name := s.tf.fit(s.tf.rimName(&s.a.Rims[r.rim], r.rim), s.text(), room)
		names = append(names, s.sc.write(s.tf, roleVerdict, r.rim, s.text(), name, x, y, alignLeft))
		column = max(column, names[len(names)-1].box.x1+between)
	}
	for i, r := range shares {
		column := min(column, filmW-filmSide-s.tf.width(r.text, s.text()))
		s.sc.write(s.tf, roleVerdict, r.rim, s.text(), r.text, column, names[i].at.y, alignLeft)
	}
}
