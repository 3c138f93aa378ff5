package plots

// grown is the box made larger by d on every side, points.
func (b rect) grown(d float64) rect { return rect{b.x0 - d, b.y0 - d, b.x1 + d, b.y1 + d} }

// meets tells whether two boxes share any area.
func (b rect) meets(o rect) bool {
	return b.x0 < o.x1 && o.x0 < b.x1 && b.y0 < o.y1 && o.y0 < b.y1
}

// cutBy tells whether the straight line from p to q passes through the box.
func (b rect) cutBy(p, q xy) bool {
	// The part [t0, t1] of the line that lies inside each pair of sides.
	t0, t1 := 0.0, 1.0
	for _, s := range [2][4]float64{{p.x, q.x - p.x, b.x0, b.x1}, {p.y, q.y - p.y, b.y0, b.y1}} {
		from, d, lo, hi := s[0], s[1], s[2], s[3]
		if d == 0 {
			if from <= lo || from >= hi {
				return false
			}
			continue
		}
		a, z := (lo-from)/d, (hi-from)/d
		if a > z {
			a, z = z, a
		}
		t0, t1 = max(t0, a), min(t1, z)
	}
	return t0 < t1
}
