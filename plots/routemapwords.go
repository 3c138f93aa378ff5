package plots

import (
	"fmt"
)

// whereText is a distance along the route, to 100 m, on roads of under 5 km to 10 m.
func (m *routeMap) whereText(atM float64) string {
	return m.u.place(atM, m.main.road.endM())
}

// restText says how long a rest is, or several at one place together.
func (m *routeMap) restText(n int, s float64, rolling, advised bool) string {
	switch {
	case advised && n > 1:
		return fmt.Sprintf("%d advised stops, %s", n, timeText(s))
	case advised && rolling:
		return "advised: roll for " + timeText(s)
	case advised:
		return "advised stop, " + timeText(s)
	case n > 1:
		return fmt.Sprintf("%d rests, %s", n, timeText(s))
	case rolling:
		return "roll for " + timeText(s)
	}
	return "rest " + timeText(s)
}

// A mapHead is what stands above the map; h is its height, points.
type mapHead struct {
	says, notes []string
	h           float64
}

// header gathers which rim the map is about, and how that stands.
func (m *routeMap) header() mapHead {
	if m.look.bare {
		return mapHead{h: m.look.text + 9}
	}
	says := verdictWord(m.r.Verdict) + together(verdictLines(m.r, m.u)...)
	head := mapHead{says: m.tf.wrap(says, m.text(), narrowRoom, 3)}
	note := "colours: its brake track on the hotter wheel, central estimate"
	if n := len(m.a.Rims); n > 1 {
		note = fmt.Sprintf("the worst placed of %d rims; ", n) + note
	}
	head.notes = m.tf.wrap(note, m.note(), narrowRoom, 2)
	head.h = 30 + 4 + m.look.lineH*float64(1+len(head.says)+len(head.notes)) + 10
	return head
}

// writeHeader writes it from the top of the sheet down.
func (m *routeMap) writeHeader(head mapHead) {
	y := m.sc.h - 4.5 - m.look.text*ascender
	if !m.look.bare {
		y = m.sc.h - 30
		st := textStyle{size: 15, bold: true, ink: m.pal.ink}
		m.sc.write(m.tf, roleTitle, noRim, st, m.tf.fit(m.tf.routeName(m.a.Route.Name), st, narrowRoom), m.look.side, y, alignLeft)
		y -= 4 + m.look.lineH
	}
	x := m.look.side
	if tag := tagOf(m.rim, len(m.a.Rims)); tag != "" {
		l := m.sc.write(m.tf, roleVerdict, m.rim, m.strong(), tag, x, y, alignLeft)
		x = l.box.x1 + 6
	}
	m.draw(roleCrossing, roleKey, xy{x + 5*m.look.symbol, y + 0.36*m.look.text}, false)
	x += 15 * m.look.symbol
	m.sc.write(m.tf, roleVerdict, m.rim, m.strong(), m.tf.fit(m.tf.rimName(m.r, m.rim), m.strong(), m.look.w-m.look.side-x), x, y, alignLeft)
	for _, l := range head.says {
		y -= m.look.lineH
		m.sc.write(m.tf, roleVerdict, m.rim, m.text(), l, m.look.side, y, alignLeft)
	}
	for _, l := range head.notes {
		y -= m.look.lineH
		m.sc.write(m.tf, roleVerdict, m.rim, m.note(), l, m.look.side, y, alignLeft)
	}
}

// remarks are the lines at the sheet's foot.
func (m *routeMap) remarks() []string {
	if m.look.bare {
		return nil
	}
	return foot(m.tf, footer)
}
