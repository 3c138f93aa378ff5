package plots

import (
	"cmp"
	"math"
	"slices"
)

// A caption is what is written about one place of the map.
type caption struct {
	r  role
	at xy
	// off is the radius about the place that is taken by its symbol, points.
	off float64
	// blocks are ways to set the words, the wanted one first.
	blocks []block
	// must have a place, however far; others go without where they would not be near.
	must bool
	// shield puts the words into a ring that is tied to the road.
	shield bool
}

// block sets words in lines.
func (m *routeMap) block(st textStyle, lines ...string) block {
	b := block{lines: lines, st: st, h: st.size*(ascender+descender) + float64(len(lines)-1)*(st.size+1)}
	for _, l := range lines {
		b.w = max(b.w, m.tf.width(l, st))
	}
	return b
}

const (
	captionGap = 3.0
	// Words closer to their place than this need no leader.
	leaderFrom = 5.0
	// offRoad is the least distance from the road's middle to words, in widths of what is
	// drawn of the road.
	offRoad = 0.5
)

// A spot is where a block might go.
type spot struct {
	box   rect
	block block
	cost  float64
}

// caption writes near a place where there is room and answers whether it did.
func (m *mapPane) caption(c caption) bool {
	s, found := m.nearby(c)
	if !found && c.must {
		s, found = m.anywhere(c)
	}
	if !found {
		return false
	}
	if c.must {
		m.cost += s.cost
	}
	foot := s.box.nearest(c.at)
	far := math.Hypot(foot.x-c.at.x, foot.y-c.at.y)
	if c.shield {
		mid := xy{(s.box.x0 + s.box.x1) / 2, (s.box.y0 + s.box.y1) / 2}
		foot, far = toward(mid, c.at, s.block.w/2), leaderFrom+c.off
		m.sc.add(shape{role: c.r, rim: noRim, pts: circle(mid, s.block.w/2), fill: m.pal.paper, stroke: m.pal.soft, width: 0.8})
	} else {
		foot = toward(foot, c.at, 1.5)
	}
	if far >= leaderFrom+c.off {
		from := toward(c.at, foot, c.off)
		m.sc.line(roleLeader, noRim, lineStyle{ink: m.pal.soft, width: 0.6}, from, foot)
		m.busy.leaders = append(m.busy.leaders, [2]xy{from, foot})
	}
	m.set(c.r, s, c.at)
	m.busy.words = append(m.busy.words, s.box)
	return true
}

// set writes the lines of a block, flush towards the place that they are about.
func (m *mapPane) set(r role, s spot, about xy) {
	st, x, align := s.block.st, (s.box.x0+s.box.x1)/2, alignCentre
	switch {
	case s.box.x0 > about.x:
		x, align = s.box.x0, alignLeft
	case s.box.x1 < about.x:
		x, align = s.box.x1, alignRight
	}
	words := st.size*(ascender+descender) + float64(len(s.block.lines)-1)*(st.size+1)
	y := (s.box.y0+s.box.y1)/2 + words/2 - st.size*ascender
	if s.block.w == s.block.h { // in a ring: the middle of the figures, not of the line
		x, align = (s.box.x0+s.box.x1)/2, alignCentre
		y = (s.box.y0+s.box.y1)/2 - st.size*figureH/2
	}
	for _, l := range s.block.lines {
		m.sc.write(m.tf, r, noRim, st, l, x, y, align)
		y -= st.size + 1
	}
}

// figureH is the height of figures, parts of the type size.
const figureH = 0.69

// nearby finds the best place for a caption in rings about its place.
func (m *mapPane) nearby(c caption) (best spot, found bool) {
	best.cost = math.Inf(1)
	rings := []float64{0, 4, 9, 15, 22, 30, 40, 52, 66, 82}
	if c.shield {
		rings = rings[:5]
	}
	for i, b := range c.blocks {
		for _, far := range rings {
			for k, u := range aboutSquare() {
				gap := c.off + captionGap + far
				mid := xy{c.at.x + u.x*(gap+b.w/2), c.at.y + u.y*(gap+b.h/2)}
				s := spot{box: b.at(mid), block: b, cost: far + float64(8*i*i) + float64(k)/8}
				if s.cost < best.cost && m.weigh(&s, c) && s.cost < best.cost {
					best, found = s, true
				}
			}
		}
	}
	return best, found
}

// anywhere finds the nearest free place of the whole panel.
func (m *mapPane) anywhere(c caption) (best spot, found bool) {
	const step = 4.0
	best.cost = math.Inf(1)
	for i, b := range c.blocks {
		for x := m.panel.x0 + 3 + b.w/2; x < m.panel.x1-b.w/2; x += step {
			for y := m.panel.y0 + 3 + b.h/2; y < m.panel.y1-b.h/2; y += step {
				s := spot{box: b.at(xy{x, y}), block: b, cost: float64(8 * i * i)}
				p := s.box.nearest(c.at)
				s.cost += math.Hypot(p.x-c.at.x, p.y-c.at.y)
				if s.cost < best.cost && m.weigh(&s, c) && s.cost < best.cost {
					best, found = s, true
				}
			}
		}
	}
	return best, found
}

// weigh tells whether a spot is free and can be led to, and adds what its leader costs.
func (m *mapPane) weigh(s *spot, c caption) bool {
	if !m.busy.free(s.box, offRoad*m.look.rail) {
		return false
	}
	foot := s.box.nearest(c.at)
	if !c.shield && math.Hypot(foot.x-c.at.x, foot.y-c.at.y) < leaderFrom+c.off {
		return true
	}
	cost, allowed := m.busy.leaderCost(toward(c.at, foot, c.off), foot)
	s.cost += cost
	// A number would be taken for that of the road that its leader crosses.
	return allowed && !(c.shield && cost > 0)
}

// aboutSquare gives directions all round, on the edge of a square, the most wanted first:
// to the right, to the left, above, below, then the corners and what is between.
func aboutSquare() []xy {
	return []xy{
		{1, 0}, {-1, 0}, {0, 1}, {0, -1}, {1, 1}, {1, -1}, {-1, 1}, {-1, -1},
		{1, 0.5}, {1, -0.5}, {-1, 0.5}, {-1, -0.5}, {0.5, 1}, {0.5, -1}, {-0.5, 1}, {-0.5, -1},
	}
}

// site finds where a symbol of a radius goes: at its place, or where another one is
// there already beside it, with a stem, rather towards the middle of the pane.
func (m *mapPane) site(at xy, radius float64) xy {
	clear := func(p xy) bool {
		b := boxAbout(p, radius+0.7)
		return inside(b, m.panel) && !slices.ContainsFunc(m.busy.symbols, b.meets)
	}
	if clear(at) {
		return at
	}
	middle := xy{(m.panel.x0+m.panel.x1)/2 - at.x, (m.panel.y0+m.panel.y1)/2 - at.y}
	ways := aboutSquare()
	slices.SortStableFunc(ways, func(a, b xy) int {
		return cmp.Compare(b.x*middle.x+b.y*middle.y, a.x*middle.x+a.y*middle.y)
	})
	for _, road := range []bool{false, true} {
		for far := 2 * radius; far < 60; far += radius / 2 {
			for _, u := range ways {
				p := toward(at, xy{at.x + u.x, at.y + u.y}, far)
				if clear(p) && (road || !m.busy.onRoad(boxAbout(p, radius+offRoad*m.look.casing))) {
					m.sc.line(roleLeader, noRim, lineStyle{ink: m.pal.ink, width: 0.7}, at, toward(p, at, radius))
					m.busy.leaders = append(m.busy.leaders, [2]xy{at, p})
					return p
				}
			}
		}
	}
	return at
}
