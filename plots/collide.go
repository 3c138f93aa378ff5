package plots

// grown is the box made larger by d on every side, points.
func (b rect) grown(d float64) rect { return rect{b.x0 - d, b.y0 - d, b.x1 + d, b.y1 + d} }

// meets tells whether two boxes share any area.
func (b rect) meets(o rect) bool {
	return b.x0 < o.x1 && o.x0 < b.x1 && b.y0 < o.y1 && o.y0 < b.y1
}

// cutBy tells whether the straight line from p to q passes through the box.
func (b rect) cutBy(p, q xy) bool {
	_, _, cut := b.span(p, q)
	return cut
}

// span is the part of the straight line from p to q that lies in the box, 0 to 1.
func (b rect) span(p, q xy) (t0, t1 float64, cut bool) {
	t1 = 1
	for _, s := range [2][4]float64{{p.x, q.x - p.x, b.x0, b.x1}, {p.y, q.y - p.y, b.y0, b.y1}} {
		from, d, lo, hi := s[0], s[1], s[2], s[3]
		if d == 0 {
			if from <= lo || from >= hi {
				return 0, 0, false
			}
			continue
		}
		a, z := (lo-from)/d, (hi-from)/d
		t0, t1 = max(t0, min(a, z)), min(t1, max(a, z))
	}
	return t0, t1, t0 < t1
}

// cross tells whether two straight pieces cross.
func cross(a, b, c, d xy) bool {
	side := func(p, q, r xy) float64 { return (q.x-p.x)*(r.y-p.y) - (q.y-p.y)*(r.x-p.x) }
	return side(a, b, c)*side(a, b, d) < 0 && side(c, d, a)*side(c, d, b) < 0
}
