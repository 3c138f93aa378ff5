package plots

import (
	"cmp"
	"math"
	"slices"
	"strings"
)

// A mapLine is a line of one level across the map.
type mapLine struct {
	level float64
	pts   []xy
}

// place writes on the map and draws its lines: words first, since hatching and
// lines stop short of them.
func (s *mapSheet) place() {
	zero, others := s.mapLines()
	s.placePlanned(zero, others)
	names := slices.Clone(s.taken[min(1, len(s.taken)):])
	s.nameLimit(zero, others)
	s.nameOthers(zero, others)
	s.hatching()
	s.dots()
	for _, l := range others {
		for _, run := range around(l.pts, s.taken) {
			s.sc.line(roleContour, noRim, s.thinStyle(), run...)
		}
	}
	for _, l := range zero {
		for _, run := range around(l.pts, names) {
			s.sc.line(roleLimit, noRim, s.zeroStyle(), run...)
		}
	}
	s.symbolPlanned()
}

// mapLines gives the lines of the limit and of the other levels, the longest
// first.
func (s *mapSheet) mapLines() (zero, others []mapLine) {
	for _, level := range s.levels {
		for _, c := range s.f.contours(level) {
			for _, run := range c.inner() {
				if level == 0 {
					zero = append(zero, mapLine{0, run})
				} else {
					others = append(others, mapLine{level, run})
				}
			}
		}
	}
	longest := func(a, b mapLine) int { return cmp.Compare(length(b.pts), length(a.pts)) }
	slices.SortStableFunc(zero, longest)
	slices.SortStableFunc(others, longest)
	return zero, others
}

// A block is a label of one or more lines of text.
type block struct {
	lines []string
	st    textStyle
	w, h  float64
}

func (s *mapSheet) block(st textStyle, lines ...string) block {
	b := block{lines: lines, st: st, h: st.size*(ascender+descender) + float64(len(lines)-1)*(st.size+1)}
	for _, l := range lines {
		b.w = max(b.w, s.tf.width(l, st))
	}
	return b
}

// at is the box of the block about a centre.
func (b block) at(c xy) rect { return rect{c.x - b.w/2, c.y - b.h/2, c.x + b.w/2, c.y + b.h/2} }

// put writes the block about a centre and takes its box.
func (s *mapSheet) put(r role, b block, c xy) {
	y := b.at(c).y1 - b.st.size*ascender
	for _, l := range b.lines {
		s.sc.write(s.tf, r, noRim, b.st, l, c.x, y, alignCentre)
		y -= b.st.size + 1
	}
	s.taken = append(s.taken, b.at(c).grown(2.5))
}

// cuts counts the lines that run through a box.
func cuts(b rect, lines []mapLine) int {
	n := 0
	for _, l := range lines {
		for k := 1; k < len(l.pts); k++ {
			if b.cutBy(l.pts[k-1], l.pts[k]) {
				n++
				break
			}
		}
	}
	return n
}

// free tells whether a box lies on the map and apart from what is written there.
func (s *mapSheet) free(b rect) bool {
	return inside(b.grown(4), s.panel) && !slices.ContainsFunc(s.taken, b.grown(3).meets)
}

const plannedR = 6.0

// placePlanned names the ride as it is planned, beside its symbol: clear of the lines
// of the limit if it can be, and where the fewest others are in the way.
func (s *mapSheet) placePlanned(zero, others []mapLine) {
	if !s.onMap() {
		return
	}
	p := s.planned()
	b := s.block(s.strong(), "planned")
	s.taken = append(s.taken, rect{p.x - plannedR, p.y - plannedR, p.x + plannedR, p.y + plannedR})
	side, above := plannedR+5+b.w/2, plannedR+4+b.h/2
	best, least := xy{}, math.MaxInt
	for _, c := range []xy{
		{p.x + side, p.y}, {p.x - side, p.y}, {p.x, p.y + above}, {p.x, p.y - above},
		{p.x + side, p.y + above}, {p.x + side, p.y - above}, {p.x - side, p.y + above}, {p.x - side, p.y - above},
	} {
		box := b.at(c)
		if !inside(box.grown(3), s.panel) {
			continue
		}
		if n := 100*cuts(box.grown(3), zero) + cuts(box, others); n < least {
			best, least = c, n
		}
	}
	if least < math.MaxInt {
		s.put(rolePlanned, b, best)
	}
}

// planned is where the ride as it is planned lies.
func (s *mapSheet) planned() xy { return xy{s.x(s.m.Map.PlannedKg), s.y(s.m.Map.PlannedAirC)} }

func (s *mapSheet) symbolPlanned() {
	if !s.onMap() {
		return
	}
	p := s.planned()
	pts := []xy{{p.x, p.y - plannedR}, {p.x + plannedR, p.y}, {p.x, p.y + plannedR}, {p.x - plannedR, p.y}, {p.x, p.y - plannedR}}
	s.sc.add(shape{role: rolePlanned, rim: noRim, pts: pts, fill: s.pal.ink, stroke: s.pal.halo, width: 1.4})
}

// length is how long a run of points is.
func length(pts []xy) float64 {
	sum := 0.0
	for k := 1; k < len(pts); k++ {
		sum += math.Hypot(pts[k].x-pts[k-1].x, pts[k].y-pts[k-1].y)
	}
	return sum
}

// along gives places along a line, the middle first.
func along(pts []xy) []xy {
	const apart = 5.0
	whole := length(pts)
	type stop struct {
		at  xy
		off float64
	}
	var all []stop
	gone := 0.0
	for k := 1; k < len(pts); k++ {
		p, q := pts[k-1], pts[k]
		d := math.Hypot(q.x-p.x, q.y-p.y)
		for n := math.Ceil(gone / apart); d > 0 && n*apart < gone+d; n++ {
			t := (n*apart - gone) / d
			all = append(all, stop{xy{p.x + t*(q.x-p.x), p.y + t*(q.y-p.y)}, math.Abs(n*apart - whole/2)})
		}
		gone += d
	}
	slices.SortStableFunc(all, func(a, b stop) int { return cmp.Compare(a.off, b.off) })
	out := make([]xy, len(all))
	for i, k := range all {
		out[i] = k.at
	}
	return out
}

// limitName is what the line of the limit stands for.
const limitName = "limit reached in 1 draw of 20"

// nameLimit names the line of the limit: over the map where it leaves the map there,
// else beside it, where the fewest other lines must be broken for it. The key names
// it in any case.
func (s *mapSheet) nameLimit(zero, others []mapLine) {
	if len(zero) == 0 {
		return
	}
	st := s.strong()
	st.ink = rgb(0x7E2A1C)
	if x, found := s.leavesOver(zero); found {
		half := s.tf.width(limitName, st) / 2
		s.sc.line(roleLimit, noRim, s.zeroStyle(), xy{x, s.panel.y1}, xy{x, s.panel.y1 + 5})
		s.sc.write(s.tf, roleLimit, noRim, st, limitName, max(filmSide+half, min(filmW-filmSide-half, x)), s.panel.y1+9, alignCentre)
		return
	}
	var best block
	at, least := xy{}, math.MaxInt
	for _, b := range []block{s.block(st, limitName), s.block(st, "limit reached", "in 1 draw of 20"), s.block(st, "limit reached", "in 1 draw", "of 20")} {
		for _, p := range along(zero[0].pts) {
			for _, side := range []xy{{1, 0}, {-1, 0}, {0, 1}, {0, -1}} {
				c, found := s.beside(b, p, side, zero)
				if !found {
					continue
				}
				if n := cuts(b.at(c), others); n < least {
					best, at, least = b, c, n
				}
			}
		}
	}
	if least < math.MaxInt {
		s.put(roleLimit, best, at)
	}
}

// leavesOver finds where a line goes out over the upper edge of the map.
func (s *mapSheet) leavesOver(lines []mapLine) (x float64, found bool) {
	for _, l := range lines {
		for _, p := range []xy{l.pts[0], l.pts[len(l.pts)-1]} {
			if p.y > s.panel.y1-0.01 {
				return p.x, true
			}
		}
	}
	return 0, false
}

// beside finds the place nearest to p on one side of it where a block keeps off the
// lines of the limit.
func (s *mapSheet) beside(b block, p, side xy, zero []mapLine) (c xy, found bool) {
	const nearest, furthest, step, off = 4.0, 20.0, 2.0, 2.6
	for gap := nearest; gap <= furthest; gap += step {
		c = xy{p.x + side.x*(gap+b.w/2), p.y + side.y*(gap+b.h/2)}
		if box := b.at(c); s.free(box) && cuts(box.grown(off), zero) == 0 {
			return c, true
		}
	}
	return xy{}, false
}

// nameOthers writes on each other line how far over or within it is, where there is
// room between its neighbours.
func (s *mapSheet) nameOthers(zero, others []mapLine) {
	st := s.note()
	st.ink = s.pal.ink
	for i, l := range others {
		foreign := slices.Concat(zero, others[:i], others[i+1:])
		text := spareText(l.level, s.u)
		words := strings.SplitN(text, " ", 3)
	search:
		for _, b := range []block{s.block(st, text), s.block(st, words[0]+" "+words[1], words[2])} {
			for _, p := range along(l.pts) {
				if box := b.at(p); s.free(box) && cuts(box.grown(3), foreign) == 0 {
					s.put(roleContour, b, p)
					break search
				}
			}
		}
	}
}
