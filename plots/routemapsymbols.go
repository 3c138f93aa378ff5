package plots

import "math"

// Roles of what only the map has.
const (
	roleHottest   role = "hottest"
	roleStart     role = "start"
	roleEnd       role = "end"
	roleHairpin   role = "hairpin"
	roleDirection role = "direction"
	roleScale     role = "scale bar"
	roleNorth     role = "north"
	roleFrame     role = "frame"
)

// circle is a closed ring.
func circle(mid xy, radius float64) []xy {
	const corners = 24
	out := make([]xy, corners+1)
	for i := range out {
		sin, cos := math.Sincos(2 * math.Pi * float64(i%corners) / corners)
		out[i] = xy{mid.x + radius*cos, mid.y + radius*sin}
	}
	return out
}

// star is a closed star of five points.
func star(mid xy, radius float64) []xy {
	var out []xy
	for i := range 11 {
		r := radius
		if i%2 == 1 {
			r *= 0.45
		}
		sin, cos := math.Sincos(math.Pi * float64(i) / 5)
		out = append(out, xy{mid.x + r*sin, mid.y + r*cos})
	}
	return out
}

func square(mid xy, half float64) []xy {
	b := boxAbout(mid, half)
	return []xy{{b.x0, b.y0}, {b.x1, b.y0}, {b.x1, b.y1}, {b.x0, b.y1}, {b.x0, b.y0}}
}

// draw puts the symbol of a kind of mark about a place, its shapes with the role as.
func (m *routeMap) draw(kind, as role, at xy, advised bool) {
	k, r := m.look.symbol, as
	solid := func(pts []xy) {
		m.sc.add(shape{role: r, rim: noRim, pts: pts, fill: m.pal.ink, stroke: m.pal.halo, width: 1})
	}
	ring := func(radius float64, dash []float64) {
		m.sc.add(shape{role: r, rim: noRim, pts: circle(at, k*(radius+1.4)), fill: m.pal.halo})
		m.sc.add(shape{role: r, rim: noRim, pts: circle(at, k*radius), fill: m.pal.paper, stroke: m.pal.ink, width: 1.5 * k, dash: dash})
	}
	switch kind {
	case roleHottest:
		solid(star(at, 7*k))
	case roleStart:
		ring(4, nil)
	case roleEnd:
		solid(square(at, 4*k))
	case roleRest:
		var dash []float64
		if advised {
			dash = []float64{2 * k, 1.5 * k}
		}
		ring(5, dash)
		for _, side := range []float64{-1, 1} {
			x := at.x + side*1.5*k
			m.sc.line(r, noRim, lineStyle{ink: m.pal.ink, width: 1.4 * k}, xy{x, at.y - 2.4*k}, xy{x, at.y + 2.4*k})
		}
	case roleCrossing:
		st := styleOfRim(m.rim)
		pts := make([]xy, 0, len(st.symbol)+1)
		for _, p := range st.symbol {
			pts = append(pts, xy{at.x + k*p.x, at.y + k*p.y})
		}
		m.sc.add(shape{role: r, rim: m.rim, pts: append(pts, pts[0]), fill: st.track.ink, stroke: m.pal.halo, width: 1})
	}
}

// radius is how far the symbol of a role reaches, points.
func (m *routeMap) radius(r role) float64 {
	switch r {
	case roleHottest:
		return 6.4 * m.look.symbol
	case roleRest:
		return 6 * m.look.symbol
	}
	return 5 * m.look.symbol
}

// hairpinTicks draws a tick beside each hairpin, on the outer side of the bend, and
// leaves away those that would run together on paper.
func (m *mapPane) hairpinTicks() {
	const apart, bend = 5.0, 3.0
	k := m.look.symbol
	var drawn []xy
search:
	for _, at := range m.hairpins() {
		if !m.shows(at) || m == m.main && m.enlarges(at) {
			continue
		}
		p := m.road.place(at)
		a, b := m.road.place(at-bend/m.road.ptPerM), m.road.place(at+bend/m.road.ptPerM)
		out := xy{p.x - (a.x+b.x)/2, p.y - (a.y+b.y)/2}
		if d := math.Hypot(out.x, out.y); d > 0.3 {
			out = xy{out.x / d, out.y / d}
		} else {
			h := m.road.heading(at, 2*bend)
			out = xy{h.y, -h.x}
		}
		if out == (xy{}) {
			continue
		}
		from, to := m.look.casing/2+1, m.look.casing/2+1+4*k
		foot, tip := xy{p.x + from*out.x, p.y + from*out.y}, xy{p.x + to*out.x, p.y + to*out.y}
		for _, q := range drawn {
			if math.Hypot(q.x-tip.x, q.y-tip.y) < apart {
				continue search
			}
		}
		drawn = append(drawn, tip)
		m.sc.line(roleHairpin, noRim, lineStyle{ink: m.pal.ink, width: 1}, foot, tip)
		m.busy.leaders = append(m.busy.leaders, [2]xy{foot, tip})
	}
}

// hairpins are those that have a place on the map, metres along the route.
func (m *routeMap) hairpins() []float64 {
	var out []float64
	for _, at := range m.a.Trace.HairpinM {
		if finite(at) {
			out = append(out, at)
		}
	}
	return out
}

// directionArrows puts arrowheads to the right of the road in the direction of travel,
// else to its left, where nothing else is: on the road they would hide its colour.
func (m *mapPane) directionArrows() {
	const apart, most, straight, tries = 84.0, 14.0, 10.0, 9
	k := m.look.symbol
	whole := m.road.endM() - m.road.startM()
	step := max(apart*k/m.road.ptPerM, whole/most)
	for mid := m.road.startM() + min(step, whole)/2; mid < m.road.endM(); mid += step {
	search:
		for n := range tries {
			// About the middle first, then to and fro.
			at := mid + step*0.09*float64((n+1)/2)*float64(1-2*(n%2))
			near := straight / 2 / m.road.ptPerM
			h, before, after := m.road.heading(at, straight), m.road.heading(at-near, straight), m.road.heading(at+near, straight)
			if before.x*after.x+before.y*after.y < 0.8 || h == (xy{}) {
				continue
			}
			p := m.road.place(at)
			if !m.shows(at) {
				continue
			}
			for _, side := range []xy{{h.y, -h.x}, {-h.y, h.x}} {
				c := xy{p.x + (m.look.rail/2+4*k)*side.x, p.y + (m.look.rail/2+4*k)*side.y}
				if !m.busy.free(boxAbout(c, 3.2*k), 0.8) {
					continue
				}
				m.arrowhead(c, h)
				m.busy.symbols = append(m.busy.symbols, boxAbout(c, 3.2*k))
				m.arrows++
				break search
			}
		}
	}
}

// arrowhead draws one about a place.
func (m *routeMap) arrowhead(c, h xy) {
	k := m.look.symbol
	tip := func(along, aside float64) xy {
		return xy{c.x + k*(along*h.x-aside*h.y), c.y + k*(along*h.y+aside*h.x)}
	}
	m.sc.add(shape{role: roleDirection, rim: noRim, fill: m.pal.soft, pts: []xy{tip(3.6, 0), tip(-3, 2.7), tip(-1.7, 0), tip(-3, -2.7), tip(3.6, 0)}})
}
