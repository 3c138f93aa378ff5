package rim

import (
	"cmp"
	"math"
	"slices"
)

// A mesh is half a rim's cross-section cut into finite volumes, all the way
// round the wheel. The half section is a union of upright and level walls, so
// it lies on one grid: x from the outer face of the track (0) towards the
// middle plane of the wheel, s from the edge down along the wall towards the
// spoke bed. A tapered rim is the same grid with s measured along the leaning
// flank, a shorter spoke bed, and each ring at its own radius. Cells are
// numbered row by row, s slow and x fast.
type mesh struct {
	n     int
	cells []cell
	links []link
	faces []face

	massKg     float64 // whole rim, both halves
	trackAreaM float64 // swept area of one side, m2
	sunAreaM2  float64 // outer area of one side times absorptivity, m2
	outline    Outline
	// Lists of faces or cells that are reported, with weights that sum to 1.
	track                                         []weight // swept faces by area
	tyreFaces                                     []int    // cells touched by tyre, tape or tube
	joint                                         []joint  // where a fairing begins
	wall, spokeBed, bedCentre, midWall, innerWall []weight
}

type cell struct {
	volumeM3 float64
	// half resistances from the centre to a face, m2 K/W per unit area of
	// that face: along s and along x.
	halfS, halfX float64
	radiusM      float64
	dx, ds       float64
	// of is what the cell is made of.
	of *Material
	// fairing says that it belongs to the fairing, skin to the track's layer.
	fairing, skin bool
}

// joint is one pair of cells at a fairing's bond. over and under are the parts
// of the difference between their centres that lie above and below the bond.
type joint struct {
	above, below int
	over, under  float64
}

// link is a conductance between two cells, W/K.
type link struct {
	a, b int
	g    float64
}

type faceKind uint8

const (
	faceTrack  faceKind = iota // swept outer face
	faceOuter                  // outer face in the air
	faceTyre                   // towards tyre, tape and tube
	faceCavity                 // towards the hollow between rim bed and spoke bed
)

// face is a boundary face of a cell.
type face struct {
	cell  int
	kind  faceKind
	areaM float64 // m2
	half  float64 // half-cell resistance behind the face, m2 K/W
	// emissivity and absorptivity are those of an outer face.
	emissivity, absorptivity float64
}

type weight struct {
	cell int
	face int // index into faces, or -1
	w    float64
	// Of a swept face: the cell behind its own, and the conductance to it per
	// area of the face, W/(m2 K).
	next int
	g    float64
}

// plan gives the flank's path length and the half width of the spoke bed.
func (g Geometry) plan(wallEnd float64) (pathEnd, noseHalf float64) {
	if g.Shape == Box {
		return g.DepthM, g.OuterWidthM / 2
	}
	h := g.DepthM - wallEnd
	nose := math.Max(noseMinM, g.OuterWidthM-2*leanTangent*h)
	nose = math.Min(nose, g.OuterWidthM)
	lean := (g.OuterWidthM - nose) / 2
	return wallEnd + math.Hypot(h, lean), nose / 2
}

func (g Geometry) wallEndM() float64 {
	return math.Max(g.TrackBelowEdgeM+g.TrackHeightM, g.BedBelowEdgeM+g.BedM)
}

// newMesh cuts the section, which must be valid.
func newMesh(section Section, res Resolution) *mesh {
	fine := res.fine()
	return cutMesh(section, section.cellSizes(fine), fine)
}

// cutMesh cuts the section into cells of given target sizes that grow as those of
// a mesh fine times finer do. Sections that differ in what they are made of
// alone get the same cells.
func cutMesh(section Section, z sizes, fine float64) *mesh {
	sec := &section // cells point to its materials
	g := sec.Geometry
	wall, flank := g.WallM(), g.FlankM
	wallEnd := g.wallEndM()
	pathEnd, noseHalf := g.plan(wallEnd)
	half := g.OuterWidthM / 2

	corner, across, along, long := z.corner, z.across, z.along, z.long
	// Growth from cell to cell is finer too, so that every cell shrinks.
	ratio, flankRatio := math.Pow(cellGrowth, 1/fine), math.Pow(flankGrowth, 1/fine)

	// Breaks across: they conform with the inner faces of flank and wall,
	// then run to the middle plane.
	a, b := math.Min(wall, flank), math.Max(wall, flank)
	xs := []float64{0}
	first := across
	type borderAt struct{ at, size float64 }
	breaks := []borderAt{{a, corner}, {b, corner}}
	skinM := sec.Surface.ThicknessM
	if skinM > 0 {
		// A skin has two cells at least, and the wall below it begins as fine.
		first = math.Min(across, skinM/2)
		breaks = append(breaks, borderAt{skinM, first})
		slices.SortStableFunc(breaks, func(p, q borderAt) int { return cmp.Compare(p.at, q.at) })
	}
	for _, to := range breaks {
		if to.at-xs[len(xs)-1] < 1e-9 {
			first = math.Min(first, to.size)
			continue
		}
		most := across
		if to.at <= skinM {
			most = math.Min(across, skinM/2)
		}
		xs = bothWays(xs, to.at, math.Min(first, most), math.Min(to.size, most), most, ratio)
		first = to.size
	}
	xs = bothWays(xs, half, z.sharp, long, long, ratio)

	// Breaks along: they conform with the borders of track and bed, the end
	// of the thick wall and the spoke bed, and are fine at inner corners,
	// where heat squeezes round into bed and flank.
	plain := along
	sharp := z.sharp
	type stop struct{ at, size float64 }
	stops := []stop{
		{g.TrackBelowEdgeM, plain}, {g.TrackBelowEdgeM + g.TrackHeightM, plain},
		{g.BedBelowEdgeM, sharp}, {g.BedBelowEdgeM + g.BedM, sharp}, {wallEnd, sharp},
	}
	slices.SortStableFunc(stops, func(a, b stop) int { return cmp.Compare(a.at, b.at) })
	ss := []float64{0}
	size := plain
	for _, e := range stops {
		if e.at-ss[len(ss)-1] > 1e-6 {
			ss = bothWays(ss, e.at, size, e.size, along, ratio)
			size = e.size
		} else {
			size = math.Min(size, e.size)
		}
	}
	if f := sec.Fairing.BelowEdgeM; sec.HasFairing() && f-ss[len(ss)-1] > 1e-6 {
		ss = bothWays(ss, f, sharp, sharp, long, flankRatio)
	}
	ss = bothWays(ss, pathEnd-g.SpokeBedM, sharp, long/2, long, flankRatio)
	ss = bothWays(ss, pathEnd, math.Max(along, g.SpokeBedM/2), g.SpokeBedM/2, along, ratio)

	edge := g.EdgeRadiusM()
	radial := 1.0 // dr/ds below the wall: a leaning flank loses radius slower
	if pathEnd > wallEnd {
		radial = (g.DepthM - wallEnd) / (pathEnd - wallEnd)
	}
	radius := func(s float64) float64 {
		if s <= wallEnd {
			return edge - s
		}
		return edge - wallEnd - (s-wallEnd)*radial
	}

	me := &mesh{}
	draw := drawer{half: half, flank: flank, noseHalf: noseHalf, wallEnd: wallEnd, pathEnd: pathEnd, depth: g.DepthM}
	nx, ns := len(xs)-1, len(ss)-1
	id := make([]int, nx*ns)
	type owner uint8
	const (
		none owner = iota
		upright
		level
	)
	own := make([]owner, nx*ns)
	inSpokeBed := func(s float64) bool { return s > pathEnd-g.SpokeBedM }
	inBed := func(s float64) bool { return s > g.BedBelowEdgeM && s < g.BedBelowEdgeM+g.BedM }
	for j := range ns {
		sc := (ss[j] + ss[j+1]) / 2
		thick := wall
		if sc > wallEnd {
			thick = flank
		}
		for i := range nx {
			xc := (xs[i] + xs[i+1]) / 2
			q := j*nx + i
			id[q] = -1
			switch {
			case xc < thick:
				own[q] = upright
			case inBed(sc) || inSpokeBed(sc):
				own[q] = level
			default:
				continue
			}
			id[q] = len(me.cells)
			dx, ds := xs[i+1]-xs[i], ss[j+1]-ss[j]
			if own[q] == level && inSpokeBed(sc) {
				// The spoke bed of a tapered rim is shorter than the grid.
				dx *= math.Max(noseHalf-flank, 0.5e-3) / (half - flank)
			}
			m := &sec.Material
			skin := xc < sec.Surface.ThicknessM && sc < wallEnd
			fairing := sc > sec.Fairing.BelowEdgeM && sec.HasFairing()
			switch {
			case skin:
				m = &sec.Surface.Material
			case fairing:
				m = &sec.Fairing.Material
			}
			ks, kx := m.ConductivityAlong.Value, m.ConductivityThrough.Value
			if own[q] == level {
				ks, kx = kx, ks
			}
			me.outline = append(me.outline, draw.cell(xs[i], xs[i+1], ss[j], ss[j+1], own[q] == level))
			r := radius(sc)
			me.cells = append(me.cells, cell{
				volumeM3: 2 * math.Pi * r * dx * ds,
				halfS:    ds / 2 / ks, halfX: dx / 2 / kx,
				radiusM: r, dx: dx, ds: ds, of: m, fairing: fairing, skin: skin,
			})
		}
	}
	me.n = len(me.cells)
	at := func(i, j int) int {
		if i < 0 || j < 0 || i >= nx || j >= ns {
			return -1
		}
		return id[j*nx+i]
	}
	addFace := func(c int, k faceKind, area, half float64) int {
		m := me.cells[c].of
		f := face{cell: c, kind: k, areaM: area, half: half, emissivity: m.EmissivityBody.Value, absorptivity: m.AbsorptivityBody.Value}
		if k == faceTrack {
			f.emissivity, f.absorptivity = m.EmissivityTrack.Value, m.AbsorptivityTrack.Value
		}
		me.faces = append(me.faces, f)
		return len(me.faces) - 1
	}
	for j := range ns {
		sc := (ss[j] + ss[j+1]) / 2
		for i := range nx {
			c := at(i, j)
			if c < 0 {
				continue
			}
			cc := me.cells[c]
			sideArea := 2 * math.Pi * cc.radiusM * cc.ds
			endArea := 2 * math.Pi * radius(ss[j+1]) * cc.dx
			if d := at(i+1, j); d >= 0 {
				bond := 0.0
				if cc.skin && !me.cells[d].skin {
					bond = sec.Surface.BondM2KPerW
				}
				me.links = append(me.links, link{c, d, sideArea / (cc.halfX + bond + me.cells[d].halfX)})
			} else if i+1 < nx { // inner face of a wall
				k := faceCavity
				if sc < g.BedBelowEdgeM {
					k = faceTyre
				}
				addFace(c, k, sideArea, cc.halfX)
			}
			if d := at(i, j+1); d >= 0 {
				dd := me.cells[d]
				// Where a tapered spoke bed meets its flank the cells above
				// and below have one width; elsewhere the narrower rules.
				area := endArea * math.Min(cc.dx, dd.dx) / cc.dx
				bond := 0.0
				if cc.skin != dd.skin { // the skin's lower end
					bond += sec.Surface.BondM2KPerW
				}
				if dd.fairing && !cc.fairing {
					bond += sec.Fairing.BondM2KPerW
					me.joint = append(me.joint, joint{above: c, below: d, over: cc.halfS / (cc.halfS + bond + dd.halfS), under: dd.halfS / (cc.halfS + bond + dd.halfS)})
				}
				me.links = append(me.links, link{c, d, area / (cc.halfS + bond + dd.halfS)})
			} else { // a lower face
				k := faceCavity
				if j+1 == ns {
					k = faceOuter // inner circle of the rim, in the spokes' air
				}
				addFace(c, k, endArea, cc.halfS)
			}
			if at(i, j-1) < 0 && j > 0 { // an upper face below the edge
				k := faceCavity
				if sc < g.BedBelowEdgeM+g.BedM {
					k = faceTyre
				}
				addFace(c, k, 2*math.Pi*radius(ss[j])*cc.dx, cc.halfS)
			}
			if i == 0 {
				k := faceOuter
				if sc > g.TrackBelowEdgeM && sc < g.TrackBelowEdgeM+g.TrackHeightM {
					k = faceTrack
				}
				f := addFace(c, k, sideArea, cc.halfX)
				if k == faceTrack {
					me.track = append(me.track, weight{cell: c, face: f, w: sideArea, next: at(1, j)})
					me.trackAreaM += sideArea
				}
			}
		}
	}
	me.report(g, xs, ss, at, nx, ns, wallEnd, pathEnd)
	for _, c := range me.cells {
		me.massKg += 2 * c.volumeM3 * c.of.Density.Value
	}
	for _, f := range me.faces {
		if f.kind <= faceOuter {
			me.sunAreaM2 += f.areaM * f.absorptivity
		}
	}
	return me
}
