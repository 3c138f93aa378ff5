package plots

import (
	"image/color"
	"slices"
)

// roleHeat marks the bar of the heat scale.
const roleHeat role = "heat bar"

// A mapPane is one view of the ground: the map, or a part of it enlarged.
type mapPane struct {
	*routeMap
	panel rect
	road  roadLine
	busy  *mapRoom
	// clip holds what is drawn of the road back to the panel.
	clip bool
}

func (m *routeMap) pane(panel rect, road roadLine, clip bool) *mapPane {
	return &mapPane{routeMap: m, panel: panel, road: road, busy: newMapRoom(panel, road), clip: clip}
}

// shows tells whether a place of the road lies on the pane, with room for a sign beside it.
func (m *mapPane) shows(atM float64) bool {
	return m.panel.grown(-m.look.rail).holds(m.road.place(atM))
}

// Least lengths of road that are drawn, points: a colour and a stretch over the limit; how
// far a colour runs on under the next hotter one, and the gap that is closed.
const (
	leastColour = 1.6
	leastRail   = 5.0
	colourLap   = 0.7
	colourHair  = 1.2
)

// How many pieces a pane may show of the coloured road, and of the lines beside it. A road
// that turns on the spot would take any number of them, since paper sets no bound: it is
// then told apart by longer pieces, of which the hottest decides.
const (
	mostPieces = 4000
	mostRails  = 800
)

// paintRoad draws the road: the lines beside it where the rim is over, its dark edge,
// and the colours from the coolest to the hottest, so that wherever roads meet or run
// together the hotter one lies on top.
func (m *mapPane) paintRoad() {
	rails := m.overStretches()
	for m.shown(rails) > mostRails {
		m.coarser()
		rails = m.overStretches()
	}
	colours := m.colourStretches()
	for m.shown(colours...) > mostPieces {
		m.coarser()
		colours = m.colourStretches()
	}
	for _, s := range rails {
		more := (m.look.rail - m.look.gap) / 2 / m.road.ptPerM
		m.paint(roleOverRoad, m.rim, m.pal.overRoad, m.look.rail, stretch{s.fromM - more, s.toM + more})
	}
	for _, s := range rails {
		m.paint(rolePaper, noRim, m.pal.paper, m.look.gap, s)
	}
	m.paint(roleRoad, noRim, m.pal.soft, m.look.casing, stretch{m.road.startM(), m.road.endM()})
	for k, step := range colours {
		for _, s := range step {
			m.paint(roleTrack, m.rim, m.scale.at(m.scale.loC+(float64(k)+0.5)*m.stepK), m.look.road, s)
		}
	}
}

// coarser doubles the shortest piece of road that is told apart.
func (m *mapPane) coarser() {
	m.road.leastM = max(2*m.road.leastM, 2*leastColour/m.road.ptPerM)
}

// shown counts the stretches of which the pane shows something.
func (m *mapPane) shown(all ...[]stretch) int {
	n := 0
	for _, list := range all {
		for _, s := range list {
			if !m.clip || m.panel.holds(m.road.place((s.fromM+s.toM)/2)) {
				n++
			}
		}
	}
	return n
}

// colourStretches gives for each step of the scale the road that has its colour.
func (m *mapPane) colourStretches() [][]stretch {
	least, hair, lap := m.road.metres(leastColour), m.road.metres(colourHair), colourLap/m.road.ptPerM
	var out [][]stretch
	here := seen(m.heat.atLeast(m.scale.loC-1e-9), least, hair)
	for k := range m.steps {
		var hotter []stretch
		if k < m.steps-1 {
			hotter = seen(m.heat.atLeast(m.scale.loC+float64(k+1)*m.stepK), least, hair)
		}
		out = append(out, outside(here, hotter, lap))
		here = hotter
	}
	return out
}

// overStretches are the stretches over the deciding limit, long enough to be seen.
func (m *mapPane) overStretches() []stretch {
	var all []stretch
	for _, o := range m.r.Over {
		if finite(o.StartM) && finite(o.EndM) {
			all = append(all, stretch{o.StartM, max(o.StartM, o.EndM)})
		}
	}
	return seen(all, m.road.metres(leastRail), m.road.metres(2*colourHair))
}

// paint draws a piece of the road.
func (m *mapPane) paint(r role, rim int, ink color.NRGBA, width float64, s stretch) {
	runs := [][]xy{m.road.between(s.fromM, s.toM)}
	if m.clip {
		// The widest line must not reach over the frame.
		runs = within(runs[0], m.panel.grown(-m.look.rail/2-1))
	}
	for _, run := range runs {
		if length(run) > 0.05 {
			m.sc.line(r, rim, lineStyle{ink: ink, width: width}, slices.Clip(run)...)
		}
	}
}

// within is what of a run of points lies in a box.
func within(pts []xy, b rect) [][]xy {
	var out [][]xy
	open := false
	for i := 1; i < len(pts); i++ {
		p, q := pts[i-1], pts[i]
		t0, t1, in := b.span(p, q)
		if !in {
			open = false
			continue
		}
		at := func(t float64) xy { return xy{p.x + t*(q.x-p.x), p.y + t*(q.y-p.y)} }
		if !open {
			out = append(out, []xy{at(t0)})
		}
		out[len(out)-1] = append(out[len(out)-1], at(t1))
		open = t1 == 1
	}
	return out
}
