package plots

import (
	"fmt"
	"math"
)

// Room between map, scales, key and foot, points.
const (
	mapKeyGap  = 8.0
	mapBareGap = 3.0
)

func (m *routeMap) gap() float64 {
	if m.look.bare {
		return mapBareGap
	}
	return mapKeyGap
}

// keyH is the height of all that stands under the map, with room for every sign that
// might come to be on it.
func (m *routeMap) keyH(remarks []string) float64 {
	h := m.gap() + m.scalesH() + m.gap() + float64(len(m.keyRows(m.keyItems(true))))*m.look.lineH
	if m.look.bare {
		return h + 3.5
	}
	return h + mapKeyGap + footH(remarks)
}

// heatKey is the bar of the heat scale.
func (m *routeMap) heatKey() heatKey {
	num := m.note()
	return heatKey{scale: m.scale, u: m.u, tf: m.tf, stepC: m.stepK, num: num, ink: m.pal.soft}
}

// scalesH is the height of the row with the heat scale, the scale bar and the arrow.
func (m *routeMap) scalesH() float64 {
	h := m.look.lineH + m.look.barH + m.heatKey().numbersH() + 3
	if _, _, found := m.trackLimit(); found {
		h += m.look.lineH
	}
	return max(h, m.look.northH+2)
}

// key draws what stands under the map.
func (m *routeMap) key(remarks []string) {
	top := m.main.panel.y0 - m.gap()
	right := m.look.w - m.look.side
	bottom := top - m.scalesH()
	right = m.northArrow(right, bottom+3) - 14*m.look.symbol
	right = m.scaleBar(right, bottom+3, m.look.mostScale, m.main.road.ptPerM, false) - 20*m.look.symbol
	m.heatBar(rect{m.look.side, bottom, min(right, m.look.side+280), top})
	y := bottom - m.gap() - m.look.note
	items := append(m.instead, m.keyItems(false)...)
	rows := m.keyRows(items)
	// No more rows than there is room for: the first are the most important.
	rows = rows[:min(len(rows), max(len(m.keyRows(m.keyItems(true))), 1))]
	for _, row := range rows {
		x := m.look.side
		for _, it := range row {
			it.draw(xy{x + it.w/2, y + m.look.note*figureH/2})
			m.sc.write(m.tf, roleKey, noRim, m.note(), it.text, x+it.w+keyAfter, y, alignLeft)
			x += m.keyWidth(it) + m.look.between
		}
		y -= m.look.lineH
	}
	y = footerAt + float64(len(remarks)-1)*footLineH
	for _, l := range remarks {
		m.sc.write(m.tf, roleFooter, noRim, m.small(), l, m.look.side, y, alignLeft)
		y -= footLineH
	}
}

// A mapKeyItem explains one sign of the map; draw puts a sample, w points wide, about a
// place.
type mapKeyItem struct {
	text string
	w    float64
	draw func(mid xy)
}

func (m *routeMap) keyWidth(it mapKeyItem) float64 {
	return it.w + keyAfter + m.tf.width(it.text, m.note())
}

// keyRows breaks the items into rows that fit the sheet.
func (m *routeMap) keyRows(items []mapKeyItem) [][]mapKeyItem {
	var rows [][]mapKeyItem
	x := math.Inf(1)
	for _, it := range items {
		w := m.keyWidth(it)
		if x+w > m.look.w-m.look.side {
			rows, x = append(rows, nil), m.look.side
		}
		rows[len(rows)-1] = append(rows[len(rows)-1], it)
		x += w + m.look.between
	}
	return rows
}

// keyItems explains the signs. With all set it lists every sign that may come to be on
// the map, in its longest words: that is how much room is kept.
func (m *routeMap) keyItems(all bool) []mapKeyItem {
	var out []mapKeyItem
	left := func(r role, n int, unlabelled string) string {
		k := m.without[r]
		if all {
			k = n
		}
		if k == 0 {
			return ""
		}
		return fmt.Sprintf(" (%d of %d %s)", k, n, unlabelled)
	}
	if len(m.r.Over) > 0 {
		text := "over its " + limitOf(m.r.LimitOn)
		if m.r.LimitAssumed {
			text = "over its assumed " + limitOf(m.r.LimitOn)
		}
		out = append(out, mapKeyItem{text, m.look.sampleW, m.railSample})
	}
	if n := len(m.descents()); n > 0 {
		radius, text := m.look.note/2+0.6, "start of a descent"
		if m.look.bare {
			text = "descent"
		}
		out = append(out, mapKeyItem{text + left(roleDescent, n, "not numbered"), 2 * radius, func(mid xy) {
			m.sc.add(shape{role: roleDescent, rim: noRim, pts: circle(mid, radius), fill: m.pal.paper, stroke: m.pal.soft, width: 0.8})
			st := m.small()
			st.size = 9
			m.sc.write(m.tf, roleKey, noRim, st, "1", mid.x, mid.y-st.size*figureH/2, alignCentre)
		}})
	}
	if n := len(m.hairpins()); n > 0 {
		out = append(out, mapKeyItem{fmt.Sprintf("hairpin (%d in all)", n), 2, func(mid xy) {
			m.sc.line(roleKey, noRim, lineStyle{ink: m.pal.ink, width: 1}, xy{mid.x, mid.y - 2.5}, xy{mid.x, mid.y + 2.5})
		}})
	}
	if stands, advised := m.stands(); len(stands) > 0 {
		name := "rest"
		if advised {
			name = "advised stop"
		}
		out = append(out, mapKeyItem{name + left(roleRest, len(stands), "not labelled"), 2 * m.radius(roleRest), func(mid xy) { m.draw(roleRest, roleKey, mid, advised) }})
	}
	if short := m.shortRests(); short > 0 {
		out = append(out, mapKeyItem{fmt.Sprintf("%d rests under %s are not shown", short, timeText(leastRestS)), -keyAfter, func(xy) {}})
	}
	if all || m.arrows > 0 {
		out = append(out, mapKeyItem{"direction of travel", 7, func(mid xy) { m.arrowhead(mid, xy{1, 0}) }})
	}
	return out
}

// shortRests counts the recorded rests that are not marked.
func (m *routeMap) shortRests() int {
	n := 0
	for _, s := range m.a.Trace.Stands {
		if s.Recorded && s.S < leastRestS {
			n++
		}
	}
	return n
}

// railSample shows a piece of road over the limit.
func (m *routeMap) railSample(mid xy) {
	hot := m.r.LimitC
	if c, _, found := m.trackLimit(); found {
		hot = c
	}
	for _, l := range []lineStyle{
		{ink: m.pal.overRoad, width: m.look.rail}, {ink: m.pal.paper, width: m.look.gap},
		{ink: m.pal.soft, width: m.look.casing}, {ink: m.scale.at(hot), width: m.look.road},
	} {
		m.sc.line(roleKey, noRim, l, xy{mid.x - m.look.sampleW/2, mid.y}, xy{mid.x + m.look.sampleW/2, mid.y})
	}
}
