package plots

import (
	"cmp"
	"image/color"
	"math"
	"slices"
)

// A sectionFrame puts places of a section on the sheet.
type sectionFrame struct {
	mid, edge, perM float64
}

// at is the place x metres right of the plane of the wheel and y metres above the edge.
func (f sectionFrame) at(p xy) xy { return xy{f.mid + p.x*f.perM, f.edge + p.y*f.perM} }

// tagW is the room that a rim's tag and symbol take before its name.
func (s *sectionSheet) tagW(rim int) float64 {
	w := 15.0
	if tag := tagOf(rim, len(s.a.Rims)); tag != "" {
		w += s.tf.width(tag, s.strong()) + 6
	}
	return w
}

// panel draws one rim in its box, under its words of the given height.
func (s *sectionSheet) panel(p sectionPanel, box rect, headH float64) {
	s.heading(p, box)
	top := box.y1 - headH
	pads := (padHintMM + padGapMM) * 1e-3 * s.perM
	half := p.f.HalfWidthM * s.perM
	whole := 2*(half+pads) + sectionLeader + p.probeW
	left := box.x0 + (box.x1-box.x0-whole)/2
	fr := sectionFrame{mid: left + pads + half, edge: top - s.look.tyreH, perM: s.perM}
	m := newSectionMesh(p.f.Cells)
	s.near(p, fr, m, top)
	s.heat(p.rim, fr, m)
	lines := s.placeProbes(p, fr, m, rect{fr.mid + half + pads + sectionLeader, box.y0 + s.look.spokeH, box.x1, top})
	s.writeProbes(p.rim, lines)
	s.nameSpokes(p, fr, lines)
}

// heading writes tag, symbol, name and moment over a section.
func (s *sectionSheet) heading(p sectionPanel, box rect) {
	x, y := box.x0, box.y1-s.look.text*ascender
	if tag := tagOf(p.rim, len(s.a.Rims)); tag != "" {
		s.sc.write(s.tf, roleVerdict, p.rim, s.strong(), tag, x, y, alignLeft)
		x += s.tf.width(tag, s.strong()) + 6
	}
	s.symbol(p.rim, xy{x + 5, y + 0.36*s.look.text})
	x += 15
	for _, l := range p.name {
		s.sc.write(s.tf, roleVerdict, p.rim, s.strong(), l, x, y, alignLeft)
		y -= s.look.lineH
	}
	y += s.look.lineH - s.look.noteH
	for _, l := range p.moment {
		s.sc.write(s.tf, roleVerdict, p.rim, s.small(), l, box.x0, y, alignLeft)
		y -= s.look.noteH
	}
}

// nearInk is the grey of what is drawn for the eye only.
func nearInk() color.NRGBA { return rgb(0xD3D7DA) }

// near hints at what touches the rim: pads at the swept bands, tyre and spoke.
func (s *sectionSheet) near(p sectionPanel, fr sectionFrame, m *sectionMesh, top float64) {
	f := p.f
	for _, side := range []float64{-1, 1} {
		a := fr.at(xy{side * (f.HalfWidthM + padGapMM*1e-3), -f.TrackToM})
		b := fr.at(xy{side * (f.HalfWidthM + (padGapMM+padHintMM)*1e-3), -f.TrackFromM})
		s.sc.area(roleNear, p.rim, rect{min(a.x, b.x), a.y, max(a.x, b.x), b.y}, nearInk())
	}
	// The tyre stands between the walls and bulges out over them.
	inner := m.innerHalf(f.HalfWidthM)
	thick := max(1.6, 1.1e-3*s.perM)
	st := lineStyle{ink: nearInk(), width: thick}
	for _, side := range []float64{-1, 1} {
		var pts []xy
		for k := range 24 {
			y := -0.45*f.BedFromM + float64(k)*0.5e-3
			bulge := 0.11 * inner * (1 - math.Cos(math.Pi*max(0, min(1, y/(0.7*inner)))))
			at := fr.at(xy{side * (inner + bulge), y})
			if at.y > top {
				break
			}
			pts = append(pts, xy{at.x - side*thick/2, at.y})
		}
		s.sc.line(roleNear, p.rim, st, pts...)
	}
	if s.tf.width("tyre", s.small())+2*thick+4 < 2*inner*s.perM {
		s.sc.write(s.tf, roleNear, p.rim, s.small(), "tyre", fr.mid, fr.edge+max(2.5, (top-fr.edge)/2-3), alignCentre)
	}
	foot := fr.at(xy{0, -f.DepthM})
	spoke := lineStyle{ink: nearInk(), width: max(1.6, 2e-3*s.perM)}
	s.sc.line(roleNear, p.rim, spoke, foot, xy{foot.x, foot.y - s.look.spokeH + s.look.note + 1})
}

// nameSpokes writes the word under the spoke, where no line of a probe is in its way.
func (s *sectionSheet) nameSpokes(p sectionPanel, fr sectionFrame, ps []probe) {
	foot := fr.at(xy{0, -p.f.DepthM})
	w, y := s.tf.width("spokes", s.small()), foot.y-s.look.spokeH+2
	for _, x := range []float64{foot.x, foot.x - w/2 - 5} {
		b := rect{x - w/2, y, x + w/2, y + s.look.note}.grown(1)
		if !slices.ContainsFunc(ps, func(q probe) bool { return b.cutBy(q.at, q.end()) }) && b.x0 > 4 {
			s.sc.write(s.tf, roleNear, p.rim, s.small(), "spokes", x, y, alignCentre)
			return
		}
	}
}

// innerHalf is how far from the plane of the wheel the inner face of the wall is at the
// edge.
func (m *sectionMesh) innerHalf(halfM float64) float64 {
	inner := halfM
	for _, e := range m.border {
		for _, i := range e {
			if p := m.at[i]; p.y >= -lengthSlackM && p.x > 0 {
				inner = min(inner, p.x)
			}
		}
	}
	return inner
}

// heat paints the temperatures. What is hotter than each level is painted over what is
// not, so that no gap shows between colours.
func (s *sectionSheet) heat(rim int, fr sectionFrame, m *sectionMesh) {
	type layer struct {
		pts  []xy
		area float64
		ink  color.NRGBA
	}
	var layers []layer
	var hollow, outer [][]xy
	put := func(r role, pts []xy, fill color.NRGBA) {
		s.sc.add(shape{role: r, rim: rim, pts: pts, fill: fill})
	}
	lo, hi := m.bounds()
	levels := s.levels(s.stepC, lo, hi)
	floor := math.Inf(-1)
	if len(levels) > 0 {
		floor = levels[0] - s.stepC
	} else if l := s.levels(s.stepC, lo-s.stepC, hi); len(l) > 0 {
		floor = l[0]
	}
	for _, loop := range m.above(math.Inf(-1)) {
		pts := s.onSheet(m.places(loop, 0), fr)
		if loopArea(pts) > 0 {
			layers = append(layers, layer{pts, loopArea(pts), s.bandInk(floor)})
			outer = append(outer, pts)
		} else {
			hollow = append(hollow, pts)
		}
	}
	for _, level := range levels {
		for _, loop := range m.above(level) {
			pts := s.onSheet(m.places(loop, level), fr)
			a := loopArea(pts)
			switch {
			case a > 0:
				layers = append(layers, layer{pts, a, s.bandInk(level)})
			case slices.ContainsFunc(loop, meshPlace.crossing): // cooler, inside
				layers = append(layers, layer{pts, -a, s.bandInk(level - s.stepC)})
			}
		}
	}
	slices.SortStableFunc(layers, func(a, b layer) int { return cmp.Compare(b.area, a.area) })
	for _, l := range layers {
		put(roleField, l.pts, l.ink)
	}
	for _, pts := range hollow {
		put(roleSection, pts, s.pal.paper)
	}
	for _, level := range s.levels(s.linesC, lo, hi) {
		for _, loop := range m.above(level) {
			for _, run := range isotherms(loop) {
				var pts []xy
				for _, p := range m.places(run, level) {
					pts = append(pts, fr.at(p))
				}
				s.sc.line(roleIsotherm, rim, s.isotherm(level), plain(pts, plainTol)...)
			}
		}
	}
	edge := lineStyle{ink: s.pal.ink, width: 0.7}
	for _, pts := range slices.Concat(outer, hollow) {
		s.sc.line(roleSection, rim, edge, append(pts[:len(pts):len(pts)], pts[0])...)
	}
}

// plainTol is how far a simplified line may lie off, points.
const plainTol = 0.05

// onSheet puts a closed loop on the sheet with the points that it needs.
func (s *sectionSheet) onSheet(loop []xy, fr sectionFrame) []xy {
	pts := make([]xy, 0, len(loop)+1)
	far, at := 0.0, 0
	for i, p := range loop {
		q := fr.at(p)
		pts = append(pts, q)
		if d := math.Hypot(q.x-pts[0].x, q.y-pts[0].y); d > far {
			far, at = d, i
		}
	}
	head, tail := plain(pts[:at+1], plainTol), plain(append(pts[at:len(pts):len(pts)], pts[0]), plainTol)
	return append(head[:len(head)-1:len(head)-1], tail[:len(tail)-1]...)
}

// bandInk is the colour of the temperatures from a level on, °C.
func (s *sectionSheet) bandInk(level float64) color.NRGBA { return s.scale.at(level + s.stepC/2) }

// isotherm is a line that can be seen on the colour of its level.
func (s *sectionSheet) isotherm(level float64) lineStyle {
	st := lineStyle{ink: s.pal.ink, width: 0.45}
	if c := s.scale.at(level); 0.3*float64(c.R)+0.59*float64(c.G)+0.11*float64(c.B) < 110 {
		st.ink = s.pal.paper
	}
	return st
}

// bounds are the coolest and the hottest node.
func (m *sectionMesh) bounds() (lo, hi float64) {
	return slices.Min(m.c), slices.Max(m.c)
}
