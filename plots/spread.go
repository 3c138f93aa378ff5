package plots

// spread moves spans along a line so that none overlaps the next, and
// answers where each one's centre goes. centre holds the wanted centres in
// rising order, size the extents; the result stays in that order and inside
// [lo, hi] if they fit at all. Spans that do not collide stay where they are;
// colliding ones are moved as a group, as little as the group allows.
func spread(centre, size []float64, lo, hi float64) []float64 {
	type group struct{ first, n int }
	low := func(g group, wanted float64) float64 {
		extent := 0.0
		for i := g.first; i < g.first+g.n; i++ {
			extent += size[i]
		}
		return max(lo, min(wanted-extent/2, hi-extent))
	}
	mean := func(g group) (centreOfAll, extent float64) {
		for i := g.first; i < g.first+g.n; i++ {
			extent += size[i]
		}
		// The group's middle is chosen so that the mean displacement of its
		// members is nil.
		off := 0.0
		sum := 0.0
		for i := g.first; i < g.first+g.n; i++ {
			sum += centre[i] - (off + size[i]/2 - extent/2)
			off += size[i]
		}
		return sum / float64(g.n), extent
	}
	var groups []group
	for i := range centre {
		groups = append(groups, group{i, 1})
		for len(groups) > 1 {
			a, b := groups[len(groups)-2], groups[len(groups)-1]
			ca, ea := mean(a)
			cb, _ := mean(b)
			if low(a, ca)+ea <= low(b, cb)+1e-9 {
				break
			}
			groups = append(groups[:len(groups)-2], group{a.first, a.n + b.n})
		}
	}
	out := make([]float64, len(centre))
	for _, g := range groups {
		c, _ := mean(g)
		at := low(g, c)
		for i := g.first; i < g.first+g.n; i++ {
			out[i] = at + size[i]/2
			at += size[i]
		}
	}
	return out
}
