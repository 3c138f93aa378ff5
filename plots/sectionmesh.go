package plots

import (
	"math"

	"rimheat/thermal"
)

// A sectionMesh is a rim's whole cross-section cut into triangles, on which the
// temperature goes straight between nodes: metres from the plane of the wheel to the
// right and from the edge upwards, °C. The nodes are the corners of the field's cells,
// which neighbours share, each with the mean of the cells about it, and the middle
// between a cell's corners. So none is cooler or hotter than all cells about it.
type sectionMesh struct {
	at  []xy
	c   []float64
	tri [][3]int
	// border are the edges that belong to one cell alone, the section on their left.
	border [][2]int
}

// newSectionMesh mirrors half a section into a whole one.
func newSectionMesh(cells []thermal.FieldCell) *sectionMesh {
	m := &sectionMesh{}
	ids, weight := map[xy]int{}, []float64{}
	node := func(p xy) int {
		id, ok := ids[p]
		if !ok {
			id = len(m.at)
			ids[p] = id
			m.at, m.c, weight = append(m.at, p), append(m.c, 0), append(weight, 0)
		}
		return id
	}
	var quads [][4]int
	for _, side := range []float64{1, -1} {
		for i := range cells {
			pts := cornersOf(&cells[i], side)
			area := loopArea(pts[:])
			if !(area > 0) {
				continue
			}
			var q [4]int
			for k, p := range pts {
				id := node(p)
				q[k] = id
				// The smaller of two cells has its middle nearer to the corner: on a
				// grid the reciprocal areas weigh as a straight line between does.
				m.c[id] += cells[i].C / area
				weight[id] += 1 / area
			}
			quads = append(quads, q)
		}
	}
	for i := range m.c {
		m.c[i] /= weight[i]
	}
	count := map[[2]int]int{}
	var order [][2]int
	for _, q := range quads {
		mid := len(m.at)
		var p xy
		c := 0.0
		for k, a := range q {
			b := q[(k+1)%4]
			p.x, p.y, c = p.x+m.at[a].x/4, p.y+m.at[a].y/4, c+m.c[a]/4
			if a == b {
				continue
			}
			m.tri = append(m.tri, [3]int{a, b, mid})
			e := [2]int{a, b}
			if count[e]++; count[e] == 1 {
				order = append(order, e)
			}
		}
		m.at, m.c = append(m.at, p), append(m.c, c)
	}
	for _, e := range order {
		if count[[2]int{e[1], e[0]}] == 0 {
			m.border = append(m.border, e)
		}
	}
	return m
}

// cornersOf are a cell's corners anticlockwise on the side of the plane of the wheel
// that is named by its sign.
func cornersOf(f *thermal.FieldCell, side float64) [4]xy {
	var pts [4]xy
	for k := range pts {
		pts[k] = xy{side * f.X[k], -f.Y[k]}
	}
	if loopArea(pts[:]) < 0 {
		pts[1], pts[3] = pts[3], pts[1]
	}
	return pts
}

// loopArea is what a closed run of points encloses, less than nothing if it goes
// clockwise.
func loopArea(pts []xy) float64 {
	sum := 0.0
	for i, p := range pts {
		q := pts[(i+1)%len(pts)]
		sum += p.x*q.y - q.x*p.y
	}
	return sum / 2
}

// A meshPlace is a node, b being -1, or where a level crosses the edge from node a to a
// greater b.
type meshPlace struct{ a, b int }

func (p meshPlace) crossing() bool { return p.b >= 0 }

func crossingOf(a, b int) meshPlace { return meshPlace{min(a, b), max(a, b)} }

// place is where that is.
func (m *sectionMesh) place(p meshPlace, level float64) xy {
	if !p.crossing() {
		return m.at[p.a]
	}
	a, b := m.at[p.a], m.at[p.b]
	t := max(0, min(1, (level-m.c[p.a])/(m.c[p.b]-m.c[p.a])))
	return xy{a.x + t*(b.x-a.x), a.y + t*(b.y-a.y)}
}

// above gives the closed loops round what is hotter than a level, °C, that on their
// left: anticlockwise round the outside of such a part, clockwise round a hole.
func (m *sectionMesh) above(level float64) [][]meshPlace {
	next := map[meshPlace][]meshPlace{}
	var order []meshPlace
	link := func(p, q meshPlace) {
		next[p] = append(next[p], q)
		order = append(order, p)
	}
	hot := func(i int) bool { return m.c[i] > level }
	for _, t := range m.tri {
		var from, to meshPlace
		found := false
		for k := range t {
			switch p, q := t[k], t[(k+1)%3]; {
			case hot(p) && !hot(q):
				from, found = crossingOf(p, q), true
			case !hot(p) && hot(q):
				to = crossingOf(p, q)
			}
		}
		if found {
			link(from, to)
		}
	}
	for _, e := range m.border {
		p, q := meshPlace{e[0], -1}, meshPlace{e[1], -1}
		switch {
		case hot(e[0]) && hot(e[1]):
			link(p, q)
		case hot(e[0]):
			link(p, crossingOf(e[0], e[1]))
		case hot(e[1]):
			link(crossingOf(e[0], e[1]), q)
		}
	}
	var out [][]meshPlace
	for _, p := range order {
		var loop []meshPlace
		for len(next[p]) > 0 {
			to := next[p][0]
			next[p] = next[p][1:]
			loop = append(loop, p)
			p = to
		}
		if len(loop) > 2 {
			out = append(out, loop)
		}
	}
	return out
}

// places puts a loop's places on the section.
func (m *sectionMesh) places(loop []meshPlace, level float64) []xy {
	out := make([]xy, len(loop))
	for i, p := range loop {
		out[i] = m.place(p, level)
	}
	return out
}

// isotherms are the runs of a loop that lie inside the section: not along its border.
func isotherms(loop []meshPlace) [][]meshPlace {
	n, start := len(loop), 0
	for start < n && loop[start].crossing() {
		start++
	}
	if start == n { // closed
		return [][]meshPlace{append(loop[:n:n], loop[0])}
	}
	var out [][]meshPlace
	var run []meshPlace
	for k := range n + 1 {
		p := loop[(start+k)%n]
		if p.crossing() {
			run = append(run, p)
			continue
		}
		if len(run) > 1 {
			out = append(out, run)
		}
		run = nil
	}
	return out
}

// plain leaves away the points of a run without which it lies nowhere further off than
// tol.
func plain(pts []xy, tol float64) []xy {
	if len(pts) < 3 {
		return pts
	}
	p, q := pts[0], pts[len(pts)-1]
	far, at := tol, 0
	for i := 1; i < len(pts)-1; i++ {
		if d := offLine(pts[i], p, q); d > far {
			far, at = d, i
		}
	}
	if at == 0 {
		return []xy{p, q}
	}
	head := plain(pts[:at+1], tol)
	return append(head[:len(head)-1:len(head)-1], plain(pts[at:], tol)...)
}

// offLine is how far a point is off the straight piece from p to q.
func offLine(at, p, q xy) float64 {
	dx, dy := q.x-p.x, q.y-p.y
	if l := dx*dx + dy*dy; l > 0 {
		t := max(0, min(1, ((at.x-p.x)*dx+(at.y-p.y)*dy)/l))
		p = xy{p.x + t*dx, p.y + t*dy}
	}
	return math.Hypot(at.x-p.x, at.y-p.y)
}
