package plots

import (
	"cmp"
	"image/color"
	"math"
	"slices"
)

// Roles of the shapes that only the map has.
const (
	roleContour role = "contour"
	rolePlanned role = "planned"
	roleHatch   role = "hatch"
	roleAsked   role = "asked"
)

// mapLevels are the margins, K, at which the map has a line, in rising order: round
// in the reader's degrees, and closer where the limit is close, which is the middle
// one.
func mapLevels(u units) []float64 {
	first, each := 10.0, 6
	if u.imperial {
		first, each = 20, 5
	}
	out := []float64{0}
	for k := range each {
		v := u.gapK(math.Ldexp(first, k))
		out = append(out, v, -v)
	}
	slices.Sort(out)
	return out
}

// shade is the colour of the margins under level i and over the one before: pale
// and cool with room to spare, warm and darker the further over, so that in grey the
// map darkens all the way.
func shade(levels []float64, i int) color.NRGBA {
	spare := []uint32{0xC9DCE3, 0xD7E5EA, 0xE4EEF1, 0xEFF5F7, 0xF7FAFB}
	over := []uint32{0xE9BBA3, 0xE3AF95, 0xDCA388, 0xD5977B, 0xCE8B6E}
	zero := len(levels) / 2
	if i > zero {
		return rgb(spare[min(i-zero-1, len(spare)-1)])
	}
	return rgb(over[min(zero-i, len(over)-1)])
}

// bands fills the map. Contours do not cross, so that where they are painted by
// falling area the last one over a place is the one next to it.
func (s *mapSheet) bands() {
	type filled struct {
		pts  []xy
		area float64
		fill color.NRGBA
	}
	var all []filled
	lo, _ := s.f.bounds()
	lowest := 0
	for i, l := range s.levels {
		if lo > l {
			lowest = i + 1
			continue
		}
		for _, c := range s.f.contours(l) {
			a, band := c.area(), i
			if a > 0 {
				band++
			}
			all = append(all, filled{c.pts, math.Abs(a), shade(s.levels, band)})
		}
	}
	slices.SortStableFunc(all, func(a, b filled) int { return cmp.Compare(b.area, a.area) })
	s.sc.area(roleBand, noRim, s.panel, shade(s.levels, lowest))
	for _, k := range all {
		s.sc.add(shape{role: roleBand, rim: noRim, pts: k.pts, fill: k.fill})
	}
}

// axes draws the frame and the marks of both axes.
func (s *mapSheet) axes() {
	p, tick := s.panel, lineStyle{ink: s.pal.soft, width: 0.8}
	s.sc.line(roleAxis, noRim, tick, xy{p.x0, p.y0}, xy{p.x1, p.y0}, xy{p.x1, p.y1}, xy{p.x0, p.y1}, xy{p.x0, p.y0})
	kg, air := s.m.Map.TotalKg, s.m.Map.AirC
	lo, hi := s.u.mass(kg[0]), s.u.mass(kg[len(kg)-1])
	t := ticksIn(lo, hi, 9)
	for _, v := range t.at {
		x := p.x0 + (v-lo)/(hi-lo)*(p.x1-p.x0)
		s.sc.line(roleTick, noRim, tick, xy{x, p.y0}, xy{x, p.y0 - 4})
		s.sc.write(s.tf, roleTick, noRim, s.note(), number(v, t.decimals), x, p.y0-16, alignCentre)
	}
	lo, hi = s.u.temp(air[0]), s.u.temp(air[len(air)-1])
	t = ticksIn(lo, hi, 10)
	for _, v := range t.at {
		y := p.y0 + (v-lo)/(hi-lo)*(p.y1-p.y0)
		s.sc.line(roleTick, noRim, tick, xy{p.x0, y}, xy{p.x0 - 4, y})
		s.sc.write(s.tf, roleTick, noRim, s.note(), number(v, t.decimals), p.x0-7, y-3.8, alignRight)
	}
	s.sc.write(s.tf, roleAxis, noRim, s.note(), "total mass: rider, bicycle and luggage, "+s.u.massUnit(), (p.x0+p.x1)/2, p.y0-32, alignCentre)
	s.sc.writeUpright(s.tf, roleAxis, s.note(), "air temperature, "+s.u.tempUnit(), filmSide+9, (p.y0+p.y1)/2)
}

// hatching marks where the rim is over, so that this is seen without colour.
func (s *mapSheet) hatching() {
	var loops [][]xy
	for _, c := range s.f.contours(0) {
		loops = append(loops, c.pts)
	}
	for _, l := range hatch(s.panel, hatchApart, loops, s.taken) {
		s.sc.line(roleHatch, noRim, s.hatchStyle(), l[0], l[1])
	}
}

const hatchApart = 13.0

func (s *mapSheet) hatchStyle() lineStyle { return lineStyle{ink: rgb(0xB4664F), width: 0.7} }

// dots mark the places that were asked about.
func (s *mapSheet) dots() {
	const r = 1.1
	for _, c := range s.m.Map.AirC {
		for _, kg := range s.m.Map.TotalKg {
			x, y := s.x(kg), s.y(c)
			b := rect{x - r, y - r, x + r, y + r}
			if !slices.ContainsFunc(s.taken, b.meets) {
				s.sc.area(roleAsked, noRim, b, s.pal.soft)
			}
		}
	}
}

// key says what line and hatching mean, on two lines, the lower baseline at y.
func (s *mapSheet) key(y float64) {
	const w = filmSampleW + 8
	row := func(y float64, text string, draw func(rect)) {
		draw(rect{filmSide, y - 2, filmSide + w, y + 9})
		s.sc.write(s.tf, roleKey, noRim, s.note(), s.tf.fit(text, s.note(), narrowRoom-w-keyAfter), filmSide+w+keyAfter, y, alignLeft)
	}
	text, st := limitName+"; thinner lines: so much over or to spare", s.zeroStyle()
	if !s.crosses() {
		text, st = "lines: so much over or to spare; the limit's own is not on this map", s.thinStyle()
	}
	row(y+filmLineH+2, text, func(b rect) {
		mid := (b.y0 + b.y1) / 2
		s.sc.line(roleKey, noRim, st, xy{b.x0, mid}, xy{b.x1, mid})
	})
	row(y, "hatched: more than 1 draw of 20 reaches a limit", func(b rect) {
		s.sc.area(roleKey, noRim, b, shade(s.levels, len(s.levels)/2))
		for _, l := range hatch(b, hatchApart/2, nil, nil) {
			s.sc.line(roleKey, noRim, s.hatchStyle(), l[0], l[1])
		}
	})
}

func (s *mapSheet) thinStyle() lineStyle { return lineStyle{ink: s.pal.soft, width: 0.9} }
func (s *mapSheet) zeroStyle() lineStyle { return lineStyle{ink: s.pal.limit, width: 2.8} }
