package plots

import "math"

// A field is a value all over a part of the sheet, on a grid so fine that
// straight lines between its nodes will do: v[i][j] at x[j] and y[i], both
// rising.
type field struct {
	x, y []float64
	v    [][]float64
}

// fieldParts is into how many parts a coarse grid's meshes are cut each way.
const fieldParts = 8

// fieldOf interpolates a coarse grid bilinearly.
func fieldOf(x, y []float64, v [][]float64) field {
	f := field{x: cutUp(x), y: cutUp(y)}
	for i := range f.y {
		a, s := i/fieldParts, float64(i%fieldParts)/fieldParts
		row := make([]float64, len(f.x))
		for j := range f.x {
			b, t := j/fieldParts, float64(j%fieldParts)/fieldParts
			at := func(k int) float64 { return between(v[k], b, t) }
			row[j] = at(a)
			if s > 0 {
				row[j] = at(a)*(1-s) + at(a+1)*s
			}
		}
		f.v = append(f.v, row)
	}
	return f
}

// cutUp puts so many more values between each two.
func cutUp(x []float64) []float64 {
	out := make([]float64, (len(x)-1)*fieldParts+1)
	for i := range out {
		out[i] = between(x, i/fieldParts, float64(i%fieldParts)/fieldParts)
	}
	return out
}

// between is the value a part t of the way from entry i to the next.
func between(v []float64, i int, t float64) float64 {
	if t == 0 {
		return v[i]
	}
	return v[i]*(1-t) + v[i+1]*t
}

// A mesh node of a field, from -1 to one beyond the last: the ring of nodes about
// the field lies on its edge and is below every level, so that every line of a
// level closes.
type node struct{ i, j int }

func (f *field) ring(n node) bool {
	return n.i < 0 || n.j < 0 || n.i >= len(f.y) || n.j >= len(f.x)
}

func (f *field) above(n node, level float64) bool { return !f.ring(n) && f.v[n.i][n.j] > level }

// An edge joins two nodes.
type edge struct{ a, b node }

func edgeOf(a, b node) edge {
	if a.i > b.i || a.i == b.i && a.j > b.j {
		return edge{b, a}
	}
	return edge{a, b}
}

// cross is where a level crosses an edge. At the field's own edge that is the
// node itself.
func (f *field) cross(e edge, level float64) (at xy) {
	place := func(n node) xy { return xy{f.x[n.j], f.y[n.i]} }
	switch {
	case f.ring(e.a):
		return place(e.b)
	case f.ring(e.b):
		return place(e.a)
	}
	a, b := f.v[e.a.i][e.a.j], f.v[e.b.i][e.b.j]
	t := max(0, min(1, (level-a)/(b-a)))
	p, q := place(e.a), place(e.b)
	return xy{p.x + t*(q.x-p.x), p.y + t*(q.y-p.y)}
}

// A contour goes once round a part of the field, what is above its level on its
// left: anticlockwise round what is above, clockwise round what is not.
type contour struct {
	pts []xy
	// border marks the points where it follows the edge of the field.
	border []bool
}

// contours gives those of a level, by marching over the triangles into which the
// meshes are cut.
func (f *field) contours(level float64) []contour {
	next := map[edge]edge{}
	var order []edge
	for i := -1; i < len(f.y); i++ {
		for j := -1; j < len(f.x); j++ {
			a, b, c, d := node{i, j}, node{i, j + 1}, node{i + 1, j + 1}, node{i + 1, j}
			for _, t := range [2][3]node{{a, b, c}, {a, c, d}} {
				var from, to edge
				found := false
				for k := range t {
					p, q := t[k], t[(k+1)%3]
					switch in, out := f.above(p, level), f.above(q, level); {
					case in && !out:
						from, found = edgeOf(p, q), true
					case !in && out:
						to = edgeOf(p, q)
					}
				}
				if found {
					next[from] = to
					order = append(order, from)
				}
			}
		}
	}
	var out []contour
	done := map[edge]bool{}
	for _, e := range order {
		var c contour
		for !done[e] {
			done[e] = true
			c.pts = append(c.pts, f.cross(e, level))
			c.border = append(c.border, f.ring(e.a) || f.ring(e.b))
			e = next[e]
		}
		if len(c.pts) > 2 {
			out = append(out, c)
		}
	}
	return out
}

// area is what the contour encloses, less than nothing if it is not above its
// level.
func (c *contour) area() float64 {
	sum := 0.0
	for i, p := range c.pts {
		q := c.pts[(i+1)%len(c.pts)]
		sum += p.x*q.y - q.x*p.y
	}
	return sum / 2
}

// inner gives the runs of the contour that do not follow the field's edge.
func (c *contour) inner() [][]xy {
	n, start := len(c.pts), 0
	for start < n && !c.border[start] {
		start++
	}
	if start == n { // closed
		return [][]xy{append(c.pts[:n:n], c.pts[0])}
	}
	var out [][]xy
	var run []xy
	for k := range n + 1 {
		i := (start + k) % n
		if !c.border[i] {
			run = append(run, c.pts[i])
			continue
		}
		if len(run) > 1 {
			out = append(out, run)
		}
		run = nil
	}
	return out
}

// bounds are the least and the greatest value.
func (f *field) bounds() (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for _, row := range f.v {
		for _, v := range row {
			lo, hi = min(lo, v), max(hi, v)
		}
	}
	return lo, hi
}
