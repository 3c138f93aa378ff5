package plots

import (
	"math"
	"slices"
)

// hatch gives the pieces of upward lines at 45 degrees, the given distance apart
// along x, that lie in a box, outside the closed loops and outside the free
// boxes.
func hatch(b rect, apart float64, loops [][]xy, free []rect) [][2]xy {
	const shortest = 1.0
	var out [][2]xy
	// A line is the places with x - y = c.
	first := math.Ceil((b.x0 - b.y1) / apart)
	for k := first; k*apart < b.x1-b.y0; k++ {
		c := k * apart
		cuts := []float64{max(b.x0, b.y0+c), min(b.x1, b.y1+c)}
		if cuts[1]-cuts[0] < shortest {
			continue
		}
		lo, hi := cuts[0], cuts[1]
		for _, l := range loops {
			for i, p := range l {
				q := l[(i+1)%len(l)]
				s, t := p.x-p.y-c, q.x-q.y-c
				if (s < 0) != (t < 0) {
					cuts = append(cuts, max(lo, min(hi, p.x+(q.x-p.x)*s/(s-t))))
				}
			}
		}
		slices.Sort(cuts)
		for i := 0; i+1 < len(cuts); i += 2 {
			piece := []xy{{cuts[i], cuts[i] - c}, {cuts[i+1], cuts[i+1] - c}}
			for _, part := range around(piece, free) {
				if p, q := part[0], part[len(part)-1]; q.x-p.x >= shortest {
					out = append(out, [2]xy{p, q})
				}
			}
		}
	}
	return out
}

// around cuts what lies in the boxes out of a run of points.
func around(pts []xy, boxes []rect) [][]xy {
	runs := [][]xy{pts}
	for _, b := range boxes {
		var next [][]xy
		for _, r := range runs {
			next = append(next, aroundOne(r, b)...)
		}
		runs = next
	}
	return runs
}

func aroundOne(pts []xy, b rect) [][]xy {
	var out [][]xy
	var run []xy
	for i := range pts {
		if i == 0 {
			run = []xy{pts[0]}
			continue
		}
		p, q := pts[i-1], pts[i]
		t0, t1, cut := b.span(p, q)
		if !cut {
			run = append(run, q)
			continue
		}
		at := func(t float64) xy { return xy{p.x + t*(q.x-p.x), p.y + t*(q.y-p.y)} }
		if t0 > 0 {
			run = append(run, at(t0))
		}
		if len(run) > 1 {
			out = append(out, run)
		}
		run = nil
		if t1 < 1 {
			run = []xy{at(t1), q}
		} else {
			run = []xy{q}
		}
	}
	if len(run) > 1 {
		out = append(out, run)
	}
	return out
}
