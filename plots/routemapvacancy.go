package plots

import "math"

// A vacancy tells where on the panel there is no road, by squares of cell points; sums
// counts those with road below and left of each corner.
type vacancy struct {
	panel rect
	nx    int
	sums  []int
}

const vacancyCell = 4.0

// vacancies looks where the map's road runs.
func (m *routeMap) vacancies() vacancy {
	p := m.main.panel
	v := vacancy{panel: p, nx: int((p.x1-p.x0)/vacancyCell) + 2}
	ny := int((p.y1-p.y0)/vacancyCell) + 2
	v.sums = make([]int, v.nx*ny)
	mark := func(q xy) {
		i, j := v.cell(q)
		v.sums[j*v.nx+i] = 1
	}
	at := m.main.road.at
	mark(at[0])
	for k := 1; k < len(at); k++ {
		n := max(1, math.Ceil(2*math.Hypot(at[k].x-at[k-1].x, at[k].y-at[k-1].y)/vacancyCell))
		for i := 1.0; i <= n; i++ {
			mark(xy{at[k-1].x + i/n*(at[k].x-at[k-1].x), at[k-1].y + i/n*(at[k].y-at[k-1].y)})
		}
	}
	for j := range ny {
		for i := range v.nx {
			k := j*v.nx + i
			if i > 0 {
				v.sums[k] += v.sums[k-1]
			}
			if j > 0 {
				v.sums[k] += v.sums[k-v.nx]
			}
			if i > 0 && j > 0 {
				v.sums[k] -= v.sums[k-v.nx-1]
			}
		}
	}
	return v
}

// cell is the square of a place, counted from 1 so that there is one before the first.
func (v vacancy) cell(q xy) (i, j int) {
	ny := len(v.sums) / v.nx
	i, j = 1+int((q.x-v.panel.x0)/vacancyCell), 1+int((q.y-v.panel.y0)/vacancyCell)
	return max(1, min(v.nx-1, i)), max(1, min(ny-1, j))
}

// empty tells whether no road runs through a box.
func (v vacancy) empty(b rect) bool {
	i0, j0 := v.cell(xy{b.x0, b.y0})
	i1, j1 := v.cell(xy{b.x1, b.y1})
	sum := func(i, j int) int { return v.sums[j*v.nx+i] }
	return sum(i1, j1)-sum(i0-1, j1)-sum(i1, j0-1)+sum(i0-1, j0-1) == 0
}
