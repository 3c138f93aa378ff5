package plots

import (
	"math"

	"rimheat/thermal"
)

// leastEnlarged is how much larger a part of the map must become to be shown beside it.
const leastEnlarged = 2.5

// A view is a place for an enlarged part of the map; worth tells how good it is, 0 for
// none.
type view struct {
	box, frame rect
	worth      float64
}

// placeMap chooses where in the panel the route lies, in the middle if nothing speaks for
// one side, so that there is room for an enlarged view of the road where the rim gets
// hottest: hairpins lie so close that at the scale of a whole ride the heat cannot be
// told. There is none where the map shows enough, where the rim is well within its
// limits, or where none is asked for.
func (m *routeMap) placeMap(g *ground, panel rect, enlarge bool) {
	const middle = 1.3 // how much more the middle is worth
	area := g.part(m.hottestPart())
	var best view
	var bestMap *mapPane
	for _, to := range []xy{{0, 0}, {-1, 0}, {1, 0}, {0, -1}, {0, 1}} {
		m.main = m.pane(panel, g.on(m.look.slid(panel, m.area, to), m.area), false)
		var v view
		if enlarge && m.crowded(area) {
			v = m.viewOf(area)
		}
		if to == (xy{}) {
			v.worth *= middle
		}
		if bestMap == nil || v.worth > best.worth {
			best, bestMap = v, m.main
		}
		if !enlarge {
			break
		}
	}
	m.main = bestMap
	if best.worth == 0 {
		return
	}
	m.detailBox, m.frame = best.box, best.frame
	shown := best.box
	shown.y0 += m.look.detailFoot()
	m.detail = m.pane(shown, g.on(m.look.ofDetail(best.box), area), true)
}

// crowded tells whether the map is too small for a rim that is not well within its limits:
// the road about the hottest place is hardly longer on it than the symbols, it winds
// there, or the rim passes its limit close to that place.
func (m *routeMap) crowded(area rect) bool {
	const winding, closePt, shortPt = 1.6, 15.0, 20.0
	if m.r.Verdict == thermal.Within && len(m.r.Over) == 0 {
		return false
	}
	if max(area.x1-area.x0, area.y1-area.y0)*m.main.road.ptPerM < shortPt {
		return true
	}
	hot, _ := m.hottestPlace()
	if len(m.r.Over) > 0 && m.r.Over[0].StartM < hot-1 {
		p, q := m.main.road.place(hot), m.main.road.place(m.r.Over[0].StartM)
		if math.Hypot(p.x-q.x, p.y-q.y) < closePt {
			return true
		}
	}
	s, road := m.hottestPart(), m.main.road
	roadM := min(s.toM, road.endM()) - max(s.fromM, road.startM())
	return roadM > winding*math.Hypot(area.x1-area.x0, area.y1-area.y0)
}

// slid is the box that the route fills in the panel, moved to a side.
func (l mapLook) slid(panel, area rect, to xy) rect {
	b := panel.grown(-l.pad)
	k := fitting(b, area)
	w, h := k*(area.x1-area.x0), k*(area.y1-area.y0)
	x, y := (1+to.x)/2*(b.x1-b.x0-w), (1+to.y)/2*(b.y1-b.y0-h)
	return rect{b.x0 + x, b.y0 + y, b.x0 + x + w, b.y0 + y + h}
}

// viewOf finds the best place on the map for an enlarged view: the larger it shows the area
// the better, the nearer the better, and its leader must not run over the road if that can
// be had.
func (m *routeMap) viewOf(area rect) view {
	const step, overRoad, farPt = 8.0, 0.7, 2000.0
	l, p := m.look, m.main.panel
	free := m.vacancies()
	var best view
	for w := l.leastDetail; w <= l.mostDetail; w += step {
		for h := l.leastDetail; h <= l.mostDetail; h += step {
			scale := fitting(l.ofDetail(rect{0, 0, w, h}), area) / m.main.road.ptPerM
			if scale < leastEnlarged || scale <= best.worth {
				continue
			}
			for x := p.x0; x+w <= p.x1; x += step {
				for y := p.y0; y+h <= p.y1; y += step {
					v := view{box: rect{x, y, x + w, y + h}}
					if !free.empty(v.box.grown(l.aboutDetail)) {
						continue
					}
					if v.frame = m.frameOf(v.box, area); v.box.grown(l.aboutDetail).meets(v.frame) {
						continue
					}
					from, to := v.leader()
					v.worth = scale * (1 - math.Hypot(from.x-to.x, from.y-to.y)/farPt)
					if v.worth <= best.worth {
						continue
					}
					if cost, _ := m.main.busy.leaderCost(from, to); cost > 0 {
						v.worth *= overRoad
					}
					if v.worth > best.worth {
						best = v
					}
				}
			}
		}
	}
	return best
}

// leader ties the frame on the map to the view.
func (v view) leader() (from, to xy) {
	to = v.box.nearest(xy{(v.frame.x0 + v.frame.x1) / 2, (v.frame.y0 + v.frame.y1) / 2})
	return v.frame.nearest(to), to
}

// How much road to either side of the hottest place is enlarged, and how far back the
// first place over the limit may lie to be shown with it, metres (chosen here).
const (
	detailEachWayM = 2000
	detailBackM    = 6000
)

// hottestPart is the road about the hottest place.
func (m *routeMap) hottestPart() stretch {
	hot, _ := m.hottestPlace()
	s := stretch{hot - detailEachWayM, hot + detailEachWayM}
	if len(m.r.Over) > 0 {
		if first := m.r.Over[0].StartM; first > hot-detailBackM && first < s.fromM {
			s.fromM = first
		}
	}
	return s
}

// detailFoot is the strip under an enlarged view in which its scale bar stands.
func (l mapLook) detailFoot() float64 { return l.note + 5 }

// ofDetail is the part of a view's box that the enlarged area fills.
func (l mapLook) ofDetail(b rect) rect {
	b.y0 += l.detailFoot()
	return b.grown(-l.padDetail)
}

// leastFrame is the least side of a frame on the map, points: a smaller one would not be
// seen on the road.
const leastFrame = 15.0

// frameOf is what a view in the box shows, as it lies on the map.
func (m *routeMap) frameOf(b, area rect) rect {
	k := m.main.road.ptPerM / fitting(m.look.ofDetail(b), area)
	mid := m.main.ofGround(xy{(area.x0 + area.x1) / 2, (area.y0 + area.y1) / 2})
	w, h := max(leastFrame, k*(b.x1-b.x0)), max(leastFrame, k*(b.y1-b.y0-m.look.detailFoot()))
	f, p := rect{mid.x - w/2, mid.y - h/2, mid.x + w/2, mid.y + h/2}, m.main.panel
	return rect{max(f.x0, p.x0), max(f.y0, p.y0), min(f.x1, p.x1), min(f.y1, p.y1)}
}

// drawDetail draws the view's frame, its scale bar, and the frame of the same ground on
// the map.
func (m *routeMap) drawDetail() {
	thin := lineStyle{ink: m.pal.soft, width: 0.8}
	b := m.detailBox
	for _, r := range []rect{b, m.frame} {
		m.sc.line(roleFrame, noRim, thin, xy{r.x0, r.y0}, xy{r.x1, r.y0}, xy{r.x1, r.y1}, xy{r.x0, r.y1}, xy{r.x0, r.y0})
	}
	from, to := view{box: b, frame: m.frame}.leader()
	m.sc.line(roleFrame, noRim, thin, from, to)
	room := m.main.busy
	room.leaders = append(room.leaders, [2]xy{from, to})
	room.words = append(room.words, b)
	room.symbols = append(room.symbols, m.frame)
	const says, side = "enlarged", 5.0
	left := m.scaleBar(b.x1-side-1, b.y0+4, 0.25*(b.x1-b.x0), m.detail.road.ptPerM, true)
	if b.x0+side+m.tf.width(says, m.note())+side < left {
		m.sc.write(m.tf, roleScale, noRim, m.note(), says, b.x0+side, b.y0+4, alignLeft)
	}
}
