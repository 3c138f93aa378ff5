package rim

// report fills the lists of places whose temperature is told.
func (me *mesh) report(g Geometry, xs, ss []float64, at func(i, j int) int, nx, ns int, wallEnd, pathEnd float64) {
	normalise(me.track)
	for i := range me.track {
		w := &me.track[i]
		if w.next < 0 { // one cell across: nothing flows on through the wall
			w.next = w.cell
			continue
		}
		w.g = 1 / (me.cells[w.cell].halfX + me.cells[w.next].halfX)
	}
	seen := map[int]bool{}
	for _, f := range me.faces {
		if f.kind == faceTyre && !seen[f.cell] {
			seen[f.cell] = true
			me.tyreFaces = append(me.tyreFaces, f.cell)
		}
	}
	// Middle and inner face of the wall, over the height of the track that
	// lies on the thick wall; the two columns beside the middle are weighted
	// so that the value is at the middle exactly.
	mid := g.WallM() / 2
	for j := range ns {
		sc := (ss[j] + ss[j+1]) / 2
		if sc < g.TrackBelowEdgeM || sc > g.TrackBelowEdgeM+g.TrackHeightM || sc > wallEnd {
			continue
		}
		ds := ss[j+1] - ss[j]
		lastX := -1
		for i := range nx {
			if at(i, j) < 0 || (xs[i]+xs[i+1])/2 > g.WallM() {
				break
			}
			lastX = i
			me.wall = append(me.wall, weight{cell: at(i, j), face: -1, w: me.cells[at(i, j)].volumeM3})
		}
		before := -1
		if lastX > 0 {
			before = at(lastX-1, j)
		}
		me.innerWall = append(me.innerWall, me.atFace(before, at(lastX, j), ds)...)
		for i := range lastX {
			x0, x1 := (xs[i]+xs[i+1])/2, (xs[i+1]+xs[i+2])/2
			if x0 <= mid && mid < x1 {
				f := (mid - x0) / (x1 - x0)
				me.midWall = append(me.midWall, weight{cell: at(i, j), face: -1, w: ds * (1 - f)}, weight{cell: at(i+1, j), face: -1, w: ds * f})
			}
		}
		if lastX == 0 {
			me.midWall = append(me.midWall, weight{cell: at(0, j), face: -1, w: ds})
		}
	}
	for j := range ns {
		sc := (ss[j] + ss[j+1]) / 2
		ds := ss[j+1] - ss[j]
		if sc > g.BedBelowEdgeM && sc < g.BedBelowEdgeM+g.BedM {
			me.bedCentre = append(me.bedCentre, me.atFace(at(nx-2, j), at(nx-1, j), ds)...)
		}
		if sc > pathEnd-g.SpokeBedM {
			for i := range nx {
				if c := at(i, j); c >= 0 {
					me.spokeBed = append(me.spokeBed, weight{cell: c, face: -1, w: me.cells[c].volumeM3})
				}
			}
		}
	}
	for _, w := range [][]weight{me.wall, me.midWall, me.innerWall, me.bedCentre, me.spokeBed} {
		normalise(w)
	}
}

// atFace gives the temperature at the far, uncrossed face of a cell whose heat
// comes from the cell before: with a parabola in the cell, its mean less the
// sixth of what the inflow would make of its whole width. w is the weight of
// the row; before is -1 where the cell stands alone.
func (me *mesh) atFace(before, c int, w float64) []weight {
	if before < 0 {
		return []weight{{cell: c, face: -1, w: w}}
	}
	a, b := me.cells[before], me.cells[c]
	part := b.halfX / 3 / (a.halfX + b.halfX)
	return []weight{{cell: c, face: -1, w: w * (1 + part)}, {cell: before, face: -1, w: -w * part}}
}

func normalise(ws []weight) {
	var sum float64
	for _, w := range ws {
		sum += w.w
	}
	for i := range ws {
		ws[i].w /= sum
	}
}
