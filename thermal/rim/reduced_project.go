package rim

// A projection is the Solver's equations in patterns of temperature, for one
// place of its conductivities. Matrices are symmetric and packed: entry (i,j),
// j <= i, stands at i(i+1)/2+j. Places are rows: times the coordinates they give
// a temperature above reference. All its numbers stand in one row, so that
// projections can be blended: whatever is linear in them, as the balance is,
// holds for the blend as well.
type projection struct {
	all []float64

	// capRise is the rise of heat capacity with each coordinate, a packed row
	// each, J/K2; nothing where specific heat is fixed. At the reference, heat
	// capacity is 1 for each pattern and 0 for two.
	capRise []float64
	// cond are the conductances inside, to hollow and tyre and out through
	// the tyre, W/K; tyreOut the last of them per pattern.
	cond, tyreOut []float64
	// zoneMean and zoneSquare hold the zones' sums over their faces, a row
	// each: area times pattern, and packed area times two patterns, m2.
	zoneMean, zoneSquare []float64
	// zoneHalf and trackHalf are the half-cell resistances behind the faces of
	// each zone and of the track, m2 K/W.
	zoneHalf, trackHalf []float64

	wall, midWall, innerWall, bedCentre, spokeBed, tyreAir []float64
	// tyreSide and track are the rows of them that may be the hottest, trackMean
	// the mean of all of the track. trackInner and meanInner are what a flow on
	// into the wall adds at the surface (Solver.swept).
	tyreSide, fairing, track, trackInner, trackMean, meanInner []float64
}

// newProjection makes room for one.
func (p *reduction) newProjection() projection {
	r, pairs := p.r, p.pairs()
	var v projection
	type part struct {
		of   *[]float64
		long int
	}
	parts := []part{{&v.cond, pairs}, {&v.zoneHalf, len(p.zones)}, {&v.trackHalf, 1},
		{&v.zoneMean, len(p.zones) * r}, {&v.zoneSquare, len(p.zones) * pairs},
		{&v.tyreSide, len(p.tyreSide) * r}, {&v.fairing, 2 * p.joints * r}, {&v.track, len(p.track) * r}, {&v.trackInner, len(p.track) * r}}
	for _, row := range []*[]float64{&v.tyreOut, &v.wall, &v.midWall, &v.innerWall, &v.bedCentre, &v.spokeBed, &v.tyreAir, &v.trackMean, &v.meanInner} {
		parts = append(parts, part{row, r})
	}
	if p.mostRise > 0 {
		parts = append(parts, part{&v.capRise, r * pairs})
	}
	long := 0
	for _, x := range parts {
		long += x.long
	}
	v.all = make([]float64, long)
	rest := v.all
	for _, x := range parts {
		*x.of, rest = rest[:x.long:x.long], rest[x.long:]
	}
	return v
}

// project puts s, which has the reduction's cells, into patterns of temperature.
func (p *reduction) project(s *Solver, basis [][]float64) projection {
	r, pairs := p.r, p.pairs()
	flat := make([]float64, s.rows*r) // node by node
	for k, b := range basis {
		for i, x := range b {
			flat[i*r+k] = x
		}
	}
	at := func(node int) []float64 { return flat[node*r : (node+1)*r] }
	v := p.newProjection()
	v.rise(s, at)
	v.conduct(s, at)
	for i := range s.mesh.faces {
		f := &s.mesh.faces[i]
		if f.kind > faceOuter {
			continue
		}
		k := p.zoneOf[i]
		v.zoneHalf[k] += f.half * f.areaM / p.zones[k].areaM2
		axpy(f.areaM, at(f.cell), v.zoneMean[k*r:])
		addSquare(v.zoneSquare[k*pairs:], f.areaM, at(f.cell))
	}
	v.report(p, s, at)
	return v
}

// rise projects the rise of heat capacity. Its entry is the same in whatever order
// its three patterns are named: it is worked out with the last one first.
func (v *projection) rise(s *Solver, at func(node int) []float64) {
	if len(v.capRise) == 0 {
		return
	}
	r := len(v.tyreOut)
	pairs := r * (r + 1) / 2
	for i, c := range s.c1 {
		for k, x := range at(i) {
			addSquare(v.capRise[k*pairs:], c*x, at(i)[:k+1])
		}
	}
	for k := range r {
		for i := k + 1; i < r; i++ {
			for j := range i + 1 {
				v.capRise[k*pairs+i*(i+1)/2+j] = v.capRise[i*pairs+packed(j, k)]
			}
		}
	}
}

// conduct projects the conductances.
func (v *projection) conduct(s *Solver, at func(node int) []float64) {
	apart := make([]float64, len(v.tyreOut))
	tie := func(g float64, a, b int) {
		x, y := at(a), at(b)
		for k := range apart {
			apart[k] = x[k] - y[k]
		}
		addSquare(v.cond, g, apart)
	}
	for _, l := range s.mesh.links {
		tie(l.g, l.a, l.b)
	}
	for _, l := range s.cavG {
		tie(l.g, l.cell, s.cavity)
	}
	for _, l := range s.tyreG {
		tie(l.g, l.cell, s.tyre)
	}
	addSquare(v.cond, tyreLossWPerK/2, at(s.tyre))
	axpy(tyreLossWPerK/2, at(s.tyre), v.tyreOut)
}

// report projects what State tells.
func (v *projection) report(p *reduction, s *Solver, at func(node int) []float64) {
	r, me := p.r, s.mesh
	mean := func(row []float64, ws []weight) {
		for _, w := range ws {
			axpy(w.w, at(w.cell), row)
		}
	}
	mean(v.wall, me.wall)
	mean(v.midWall, me.midWall)
	mean(v.innerWall, me.innerWall)
	mean(v.bedCentre, me.bedCentre)
	mean(v.spokeBed, me.spokeBed)
	mean(v.trackMean, me.track)
	copy(v.tyreAir, at(s.tyre))
	inner := func(row []float64, w *weight, part float64) {
		by := part * me.faces[w.face].half / 3 * w.g
		axpy(by, at(w.cell), row)
		axpy(-by, at(w.next), row)
	}
	for i := range me.track {
		w := &me.track[i]
		v.trackHalf[0] += w.w * me.faces[w.face].half
		inner(v.meanInner, w, w.w)
	}
	for i, k := range p.track {
		copy(v.track[i*r:], at(me.track[k].cell))
		inner(v.trackInner[i*r:][:r], &me.track[k], 1)
	}
	for i, k := range p.tyreSide {
		copy(v.tyreSide[i*r:], at(me.tyreFaces[k]))
	}
	for i, j := range me.joint {
		for k, part := range []float64{j.over, 1 - j.under} {
			row := v.fairing[(2*i+k)*r:][:r]
			axpy(1-part, at(j.above), row)
			axpy(part, at(j.below), row)
		}
	}
}
