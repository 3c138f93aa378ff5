package plots

import (
	"errors"
	"fmt"
	"io"
	"math"

	"rimheat/thermal"
)

// SaveRouteMap draws the road in plan, coloured by how hot the brake track of the rim
// that is worst placed gets on it, and writes the figure to w in the named format, one of
// Formats. Nothing is written unless the whole figure could be drawn. It is an error if
// the assessment has no rim, no positions of at least two places, or no temperatures of
// that rim.
func SaveRouteMap(w io.Writer, format string, a *thermal.Assessment, opt Options) error {
	return save(w, format, func(tf *typeface) (*scene, error) { return composeRouteMap(a, opt, tf) })
}

// worstPlaced is the rim with the highest chance of reaching a limit, of several the one
// with the least margin. Without draws the margin alone decides.
func worstPlaced(rims []thermal.RimResult) int {
	worst := 0
	for i := range rims {
		if thermal.WorseFirst(&rims[i], &rims[worst]) < 0 {
			worst = i
		}
	}
	return worst
}

// A routeMap lays one map out.
type routeMap struct {
	a    *thermal.Assessment
	r    *thermal.RimResult
	rim  int
	u    units
	tf   *typeface
	pal  palette
	look mapLook
	way  mapWay
	sc   *scene

	// heat is the brake track along the route, °C; its colours have so many steps, each
	// stepK wide.
	heat  series
	scale *heatScale
	stepK float64
	steps int

	// main is the map, detail the part of it that is shown enlarged in detailBox, nil
	// where none is; frame is that part as it lies on the map.
	main, detail     *mapPane
	detailBox, frame rect
	// area is the ground that the map shows, metres.
	area rect
	// without counts by role the marks that there was no room to label, instead is what
	// the key must say in their place.
	without map[role]int
	instead []mapKeyItem
	arrows  int
	// cost tells how far from their places, and over how much road, the words of important
	// places had to go.
	cost float64
}

// composeRouteMap lays the figure out.
func composeRouteMap(a *thermal.Assessment, opt Options, tf *typeface) (*scene, error) {
	m, err := bestRouteMap(a, opt, tf)
	if err != nil {
		return nil, err
	}
	return m.sc, nil
}

// bestRouteMap lays the map out in all ways that may be needed and answers the best.
func bestRouteMap(a *thermal.Assessment, opt Options, tf *typeface) (*routeMap, error) {
	if a == nil {
		return nil, errors.New("no assessment to draw a figure of")
	}
	if len(a.Rims) == 0 {
		return nil, errors.New("the assessment has no rim to draw")
	}
	g, err := groundOf(&a.Trace)
	if err != nil {
		return nil, err
	}
	var best *routeMap
	for _, w := range []mapWay{{enlarge: true, roomy: 1}, {enlarge: true, roomy: 1.35}, {}} {
		if best != nil && len(best.instead) == 0 {
			break
		}
		// Words are placed one by one, so that the first ones take the room of the others:
		// both ways round are tried.
		for _, w.crossingFirst = range []bool{false, true} {
			m, err := layRouteMap(a, g, opt, tf, w)
			if err != nil {
				return nil, err
			}
			if best == nil || len(m.instead) < len(best.instead) || len(m.instead) == len(best.instead) && m.cost < best.cost {
				best = m
			}
		}
	}
	return best, nil
}

// A mapWay is a way to lay a map out: with an enlarged part, where one is of use; and with the words of the first
// crossing placed before those of the hottest place.
type mapWay struct {
	enlarge bool
	// roomy multiplies the room round the road in the enlarged part, and its least size.
	roomy         float64
	crossingFirst bool
}

// layRouteMap lays it out in one way.
func layRouteMap(a *thermal.Assessment, g *ground, opt Options, tf *typeface, way mapWay) (*routeMap, error) {
	m := &routeMap{a: a, rim: worstPlaced(a.Rims), u: units{imperial: opt.Imperial}, tf: tf, pal: colours(), look: lookOf(opt.bare), way: way, without: map[role]int{}}
	m.r = &a.Rims[m.rim]
	m.heat = hottest(m.r, func(h *thermal.History) []float64 { return h.TrackC })
	if len(m.heat.v) == 0 {
		return nil, fmt.Errorf("rim %d, which is worst placed, has no temperatures along the route to draw", m.rim+1)
	}
	m.look.padDetail *= way.roomy
	m.look.leastDetail *= way.roomy
	m.chooseScale()

	head := m.header()
	remarks := m.remarks()
	keyH := m.keyH(remarks)
	panelH := m.look.panelH(g)
	if m.look.sheetH > 0 {
		panelH = m.look.sheetH - keyH - head.h
	}
	m.sc = &scene{w: m.look.w, h: head.h + panelH + keyH}
	m.sc.area(rolePaper, noRim, rect{0, 0, m.sc.w, m.sc.h}, m.pal.paper)
	m.writeHeader(head)
	panel := rect{m.look.side, keyH, m.look.w - m.look.side, keyH + panelH}
	m.area = g.bounds()
	m.placeMap(g, panel, way.enlarge)
	m.main.paintRoad()
	if m.detail != nil {
		m.detail.paintRoad()
		m.drawDetail()
		m.detail.placeMarks()
	}
	m.main.placeMarks()
	m.key(remarks)
	return m, nil
}

// chooseScale spans the rim's coolest to its hottest, or to its limit if that lies higher,
// so that a rim that stays cool looks cool. Where no limit is known it goes up to 100 °C
// at least (chosen here, no source).
func (m *routeMap) chooseScale() {
	const atLeastC, mostSteps = 100, 32
	lo, hi := m.heat.bounds()
	limited := false
	for _, l := range append([]thermal.LimitResult{{LimitC: m.r.LimitC}}, m.r.Limits...) {
		if finite(l.LimitC) && l.LimitC > 0 {
			hi, limited = max(hi, l.LimitC), true
		}
	}
	if !limited {
		hi = max(hi, atLeastC)
	}
	lo, hi = m.u.temp(lo), m.u.temp(hi)
	step := roundUp((hi - lo) / mostSteps)
	first, last := math.Floor(lo/step), math.Ceil(hi/step)
	m.steps = int(max(2, last-first))
	m.stepK = m.u.gapK(step)
	lo = m.inC(first * step)
	m.scale = newHeatScale(lo, lo+float64(m.steps)*m.stepK)
}

// inC turns the reader's degrees into °C.
func (m *routeMap) inC(v float64) float64 {
	if m.u.imperial {
		return (v - 32) * 5 / 9
	}
	return v
}

// roundUp is the least 1, 2 or 5 times a power of ten that is not less than v; 1 if v is
// not positive.
func roundUp(v float64) float64 {
	if !(v > 0) || !finite(v) {
		return 1
	}
	ten := math.Pow(10, math.Floor(math.Log10(v)))
	for _, k := range []float64{1, 2, 5} {
		if k*ten >= v*(1-1e-9) {
			return k * ten
		}
	}
	return 10 * ten
}

// trackLimit is the limit of the brake track, if the rim is held against one.
func (m *routeMap) trackLimit() (c float64, assumed, found bool) {
	if !offTrack(m.r.LimitOn) && finite(m.r.LimitC) && m.r.LimitC > 0 {
		return m.r.LimitC, m.r.LimitAssumed, true
	}
	for _, l := range m.r.Limits {
		if l.On == thermal.OnTrack && finite(l.LimitC) && l.LimitC > 0 {
			return l.LimitC, l.Assumed, true
		}
	}
	return 0, false, false
}
