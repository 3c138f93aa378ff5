package rim

import (
	"math"
	"slices"
)

// A reduction is the Solver's equations in patterns of temperature: all that a
// Reduced knows of its wheel. Nothing changes it once it is made, so clones
// share it. Matrices are symmetric and packed: entry (i,j), j <= i, stands at
// i(i+1)/2+j. Places are rows: times the coordinates they give a temperature
// above reference.
type reduction struct {
	// r is the number of patterns; the even one is 1 K everywhere at even.
	r    int
	even float64

	// cap0 is heat capacity at the reference, J/K, and capRise its rise with
	// each coordinate, a packed row each, nil where specific heat is fixed.
	// mostRise is the largest rise of specific heat, as a part per kelvin.
	cap0, capRise []float64
	mostRise      float64
	// cond are the conductances inside, to hollow and tyre and out through
	// the tyre, W/K; tyreOut the last of them per pattern.
	cond, tyreOut []float64
	zones         []zone
	// zoneMean and zoneSquare hold the zones' sums over their faces, a row
	// each: area times pattern, and packed area times two patterns, m2.
	zoneMean, zoneSquare []float64

	wall, midWall, innerWall, bedCentre, spokeBed, tyreAir []float64
	tyreSide, fairing                                      [][]float64
	track                                                  []trackRow
	trackMean                                              trackRow
	// trackSkin is that of every zone of the track.
	trackSkin skin

	sec                    Section
	trackAreaM2, sunAreaM2 float64 // one side
	massKg                 float64 // both sides
}

// A zone is a stretch of outer faces with one skin.
type zone struct {
	skin
	areaM2 float64
	mean   []float64 // its row of zoneMean
}

// skin is what makes outer faces alike.
type skin struct {
	track bool
	// half is the half-cell resistance behind the face, m2 K/W.
	half, emissivity, absorptivity float64
}

// skinOf gives the skin of an outer face.
func skinOf(f *face) skin {
	return skin{f.kind == faceTrack, f.half, f.emissivity, f.absorptivity}
}

// like tells whether two skins differ by rounding only.
func (k skin) like(o skin) bool {
	return k.track == o.track && math.Abs(k.half-o.half) <= 1e-9*k.half && k.emissivity == o.emissivity && k.absorptivity == o.absorptivity
}

// trackRow is a row of the track or the mean of all: the temperature of its
// cell, and what a flow on into the wall adds at the surface (Solver.swept).
type trackRow struct{ cell, inner []float64 }

// zoneSpreadK is how far temperatures lie apart within a zone, of a section
// at basisRiseK: the radiation of a zone is a line through that of its mean.
const zoneSpreadK = 25.0

// project makes the reduction of s.
func (s *Solver) project() (*reduction, error) {
	basis, err := s.newBasis()
	if err != nil {
		return nil, err
	}
	r, n := len(basis), s.rows
	p := &reduction{
		r: r, even: 1 / basis[0][0],
		sec: s.sec, trackAreaM2: s.mesh.trackAreaM, sunAreaM2: s.mesh.sunAreaM2, massKg: s.mesh.massKg,
	}
	flat := make([]float64, n*r)
	for k, v := range basis {
		for i, x := range v {
			flat[i*r+k] = x
		}
	}
	at := func(node int) []float64 { return flat[node*r : (node+1)*r] }

	pairs := r * (r + 1) / 2
	p.cap0, p.cond = make([]float64, pairs), make([]float64, pairs)
	for i, c := range s.c0 {
		addSquare(p.cap0, c, at(i))
		p.mostRise = max(p.mostRise, s.c1[i]/c)
	}
	if p.mostRise > 0 {
		p.capRise = make([]float64, r*pairs)
		for i, c := range s.c1 {
			for k, x := range at(i) {
				addSquare(p.capRise[k*pairs:], c*x, at(i))
			}
		}
	}
	apart := make([]float64, r)
	tie := func(g float64, a, b int) {
		x, y := at(a), at(b)
		for k := range apart {
			apart[k] = x[k] - y[k]
		}
		addSquare(p.cond, g, apart)
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
	p.tyreOut = scaled(slices.Clone(at(s.tyre)), tyreLossWPerK/2)
	addSquare(p.cond, tyreLossWPerK/2, at(s.tyre))
	p.report(s, at)
	return p, p.cut(s, at)
}

// cut gathers the outer faces into zones: of one skin, and alike in
// temperature if they radiate.
func (p *reduction) cut(s *Solver, at func(node int) []float64) error {
	level, err := s.longBraked()
	if err != nil {
		return err
	}
	var skins []skin
	for i := range s.mesh.faces {
		if f := &s.mesh.faces[i]; f.kind <= faceOuter && !slices.ContainsFunc(skins, skinOf(f).like) {
			skins = append(skins, skinOf(f))
		}
	}
	for _, k := range skins {
		if k.track {
			p.trackSkin = k
		}
		open, lo, hi := false, 0.0, 0.0
		for i := range s.mesh.faces {
			f := &s.mesh.faces[i]
			if f.kind > faceOuter || !k.like(skinOf(f)) {
				continue
			}
			t := level[f.cell]
			if !open || k.emissivity > 0 && max(hi, t)-min(lo, t) > zoneSpreadK {
				open, lo, hi = true, t, t
				p.zones = append(p.zones, zone{skin: k})
				p.zoneMean = append(p.zoneMean, make([]float64, p.r)...)
				p.zoneSquare = append(p.zoneSquare, make([]float64, len(p.cap0))...)
			}
			lo, hi = min(lo, t), max(hi, t)
			last := len(p.zones) - 1
			p.zones[last].areaM2 += f.areaM
			axpy(f.areaM, at(f.cell), p.zoneMean[last*p.r:])
			addSquare(p.zoneSquare[last*len(p.cap0):], f.areaM, at(f.cell))
		}
	}
	for i := range p.zones {
		p.zones[i].mean = p.zoneMean[i*p.r : (i+1)*p.r]
	}
	return nil
}

// report projects what State tells.
func (p *reduction) report(s *Solver, at func(node int) []float64) {
	mean := func(ws []weight) []float64 {
		v := make([]float64, p.r)
		for _, w := range ws {
			axpy(w.w, at(w.cell), v)
		}
		return v
	}
	p.wall, p.midWall, p.innerWall = mean(s.mesh.wall), mean(s.mesh.midWall), mean(s.mesh.innerWall)
	p.bedCentre, p.spokeBed, p.tyreAir = mean(s.mesh.bedCentre), mean(s.mesh.spokeBed), at(s.tyre)
	p.trackMean = trackRow{make([]float64, p.r), make([]float64, p.r)}
	for _, w := range s.mesh.track {
		row := trackRow{at(w.cell), make([]float64, p.r)}
		by := s.mesh.faces[w.face].half / 3 * w.g
		axpy(by, at(w.cell), row.inner)
		axpy(-by, at(w.next), row.inner)
		p.track = append(p.track, row)
		axpy(w.w, row.cell, p.trackMean.cell)
		axpy(w.w, row.inner, p.trackMean.inner)
	}
	for _, c := range s.mesh.tyreFaces {
		p.tyreSide = append(p.tyreSide, at(c))
	}
	for _, j := range s.mesh.joint {
		above, below := at(j.above), at(j.below)
		for _, part := range []float64{j.over, 1 - j.under} {
			row := make([]float64, len(above))
			for i := range row {
				row[i] = above[i] - part*(above[i]-below[i])
			}
			p.fairing = append(p.fairing, row)
		}
	}
}
