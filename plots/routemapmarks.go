package plots

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"

	"rimheat/thermal"
)

// A mark is one place of the map with a symbol and words.
type mark struct {
	r   role
	atM float64
	// words are ways to say it, each in lines, the wanted one first.
	words   [][]string
	bold    bool
	must    bool
	advised bool
	// n is how many rests the mark stands for.
	n int
	// endsToo is set on the start of a loop.
	endsToo bool
	// at is where its symbol went.
	at xy
}

// placeMarks puts symbols, words and arrows on the pane, the most important first.
func (m *mapPane) placeMarks() {
	all := m.marks()
	for i := range all {
		k := &all[i]
		radius := m.radius(k.r)
		k.at = m.site(m.road.place(k.atM), radius)
		m.busy.symbols = append(m.busy.symbols, boxAbout(k.at, radius))
	}
	m.hairpinTicks()
	// Symbols that the rider looks for first lie on top.
	for _, k := range slices.Backward(all) {
		m.draw(k.r, k.r, k.at, k.advised)
		if k.endsToo {
			m.sc.add(shape{role: roleEnd, rim: noRim, pts: square(k.at, 1.9*m.look.symbol), fill: m.pal.ink})
		}
	}
	if m.way.crossingFirst && len(all) > 1 && all[1].r == roleCrossing {
		all[0], all[1] = all[1], all[0]
	}
	for _, k := range all {
		st := m.named()
		if k.bold {
			st = m.strong()
		}
		c := caption{r: k.r, at: k.at, off: m.radius(k.r), must: k.must}
		for _, w := range k.words {
			c.blocks = append(c.blocks, m.block(st, w...))
		}
		if m.caption(c) {
			continue
		}
		if k.must {
			m.instead = append(m.instead, mapKeyItem{strings.Join(k.words[0], " "), 2 * m.radius(k.r), func(mid xy) { m.draw(k.r, roleKey, mid, false) }})
			continue
		}
		m.without[k.r] += k.n
	}
	if m == m.main {
		m.numberDescents()
	}
	m.directionArrows()
}

// marks are those that belong on the pane. What the enlarged part shows of the heat and of
// rests is left away on the map, where it would lie on itself.
func (m *mapPane) marks() []mark {
	all := slices.DeleteFunc(m.heatMarks(), func(k mark) bool { return !m.owns(k.atM) })
	if m == m.main {
		all = append(all, m.endMarks()...)
	}
	return append(all, m.restMarks()...)
}

// enlarges tells whether a place of the road is shown enlarged.
func (m *routeMap) enlarges(atM float64) bool {
	return m.detail != nil && m.detail.shows(atM)
}

// owns tells whether a place of the road is marked on this pane.
func (m *mapPane) owns(atM float64) bool { return m.enlarges(atM) == (m != m.main) }

// hottestPlace is where the brake track is hottest, metres along the route, and how hot, °C.
func (m *routeMap) hottestPlace() (atM, c float64) {
	hot := 0
	for i, v := range m.heat.v {
		if v > m.heat.v[hot] {
			hot = i
		}
	}
	return m.heat.distM[hot], m.heat.v[hot]
}

// heatMarks are the hottest place and the first one over the deciding limit.
func (m *routeMap) heatMarks() []mark {
	atM, c := m.hottestPlace()
	temp, where := m.u.tempText(c), m.whereText(atM)
	out := []mark{{r: roleHottest, atM: atM, bold: true, must: true, words: [][]string{{temp + ", " + where}, {temp + ",", where}}}}
	if len(m.r.Over) > 0 && finite(m.r.Over[0].StartM) {
		limit, where := limitOf(m.r.LimitOn), m.whereText(m.r.Over[0].StartM)
		over := "first over its " + limit
		narrow := []string{"first over its", limit + ",", where}
		if !offTrack(m.r.LimitOn) {
			narrow = []string{"first over", "its " + limit + ",", where}
		}
		out = append(out, mark{r: roleCrossing, atM: m.r.Over[0].StartM, must: true, words: [][]string{{over + ", " + where}, {over + ",", where}, narrow}})
	}
	return out
}

// endMarks are start and end, or one for both where they coincide.
func (m *mapPane) endMarks() []mark {
	const together = 5.0 // points
	from, to := m.road.startM(), m.road.endM()
	p, q := m.road.place(from), m.road.place(to)
	if math.Hypot(q.x-p.x, q.y-p.y) < together {
		return []mark{{r: roleStart, atM: from, must: true, endsToo: true, words: [][]string{{"start and end"}, {"start", "and end"}}}}
	}
	return []mark{{r: roleStart, atM: from, must: true, words: [][]string{{"start"}}}, {r: roleEnd, atM: to, must: true, words: [][]string{{"end"}}}}
}

// leastRestS is the shortest recorded rest that is marked, s: shorter ones are traffic
// (chosen here, no source). Those that a rider planned are marked all.
const leastRestS = 60

// restMarks are the rests on the pane, those that would lie on one another on paper as one.
func (m *mapPane) restMarks() []mark {
	const together = 10.0 // points
	type rests struct {
		atM, s  float64
		n       int
		rolling bool
	}
	var all []rests
	stands, advised := m.stands()
	for _, s := range stands {
		if !m.owns(s.AtM) {
			continue
		}
		p := m.road.place(s.AtM)
		k := slices.IndexFunc(all, func(r rests) bool {
			q := m.road.place(r.atM)
			return math.Hypot(q.x-p.x, q.y-p.y) < together
		})
		if k < 0 {
			all, k = append(all, rests{atM: s.AtM}), len(all)
		}
		all[k].s, all[k].n, all[k].rolling = all[k].s+s.S, all[k].n+1, s.RollMps > 0
	}
	slices.SortStableFunc(all, func(a, b rests) int { return cmp.Compare(b.s, a.s) })
	var out []mark
	for _, r := range all {
		says := m.restText(r.n, r.s, r.rolling, advised)
		out = append(out, mark{r: roleRest, atM: r.atM, n: r.n, advised: advised, words: [][]string{{says}}})
	}
	return out
}

// stands are the rests that are marked: those of the ride, or where it has none those that
// are advised for this rim.
func (m *routeMap) stands() (all []thermal.Stand, advised bool) {
	for _, s := range m.a.Trace.Stands {
		if finite(s.AtM) && finite(s.S) && s.S > 0 && (!s.Recorded || s.S >= leastRestS) {
			all = append(all, s)
		}
	}
	if len(m.a.Trace.Stands) > 0 || m.a.Outlook == nil {
		return all, false
	}
	for _, advice := range m.a.Outlook.Rests {
		if advice.RimID != m.r.ID {
			continue
		}
		for _, s := range advice.Stops {
			if finite(s.AtM) && finite(s.S) && s.S > 0 {
				all = append(all, thermal.Stand{AtM: s.AtM, S: s.S, RollMps: s.RollMps})
			}
		}
	}
	return all, len(all) > 0
}

// numberDescents numbers the starts of the judged descents as the table does, those with
// the greatest drop first.
func (m *mapPane) numberDescents() {
	rows := m.descents()
	slices.SortStableFunc(rows, func(i, j int) int { return cmp.Compare(m.a.Descents[j].DropM, m.a.Descents[i].DropM) })
	st := m.named()
	st.size = m.look.note - 1
	if m.look.bare {
		st.size = m.look.note
	}
	for _, i := range rows {
		b := m.block(st, strconv.Itoa(i+1))
		b.w = max(b.w+5, st.size+4)
		b.h = b.w
		c := caption{r: roleDescent, at: m.road.place(m.a.Descents[i].StartM), off: m.look.casing / 2, blocks: []block{b}, shield: true}
		if !m.caption(c) {
			m.without[roleDescent]++
		}
	}
}

// descents lists the rows of the table that have a start on the map.
func (m *routeMap) descents() []int {
	var out []int
	for i, d := range m.a.Descents {
		if finite(d.StartM) {
			out = append(out, i)
		}
	}
	return out
}
