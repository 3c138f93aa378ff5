package rim

// An Outline is where each cell of half a section lies in a drawing of it.
type Outline []CellOutline

// A CellOutline is one cell: its corners in order, X metres from the plane of the wheel
// outwards, Y metres below the edge, both as the section is drawn (a leaning flank
// leans).
type CellOutline struct{ X, Y [4]float64 }

// Outline gives the cells in the order of AppendCells.
func (s *Solver) Outline() Outline { return s.mesh.outline }

// AppendCells appends the temperatures of all cells at the end of the last step, K.
func (s *Solver) AppendCells(dst []float64) []float64 { return append(dst, s.t[:s.mesh.n]...) }

// drawer turns the grid's places, x across from the outer face and s along the wall
// from the edge, into those of a drawing.
type drawer struct {
	half, flank, noseHalf   float64
	wallEnd, pathEnd, depth float64
}

// leastFloorM is what a flank leaves of half a spoke bed's width, m: see cutMesh.
const leastFloorM = 0.5e-3

// corner is a place of the drawing. level says that the cell belongs to a level wall,
// which reaches to the plane of the wheel whatever the flank leans. Neighbours get the
// same corners to the last bit.
func (d drawer) corner(x, s float64, level bool) (fromPlane, belowEdge float64) {
	if s <= d.wallEnd {
		return d.half - x, s
	}
	part := (s - d.wallEnd) / (d.pathEnd - d.wallEnd)
	belowEdge = d.wallEnd + part*(d.depth-d.wallEnd)
	outer := d.half - part*(d.half-d.noseHalf)
	// A flank thicker than half the spoke bed is drawn thinner where it would pass the
	// plane of the wheel.
	flank := min(d.flank, outer-leastFloorM)
	if !level || x <= d.flank {
		return outer - x*(flank/d.flank), belowEdge
	}
	// The grid's width beyond the flank is squeezed into what is left of it.
	return (outer - flank) * (d.half - x) / (d.half - d.flank), belowEdge
}

// cell is the outline of the cell between two places across and two along.
func (d drawer) cell(x0, x1, s0, s1 float64, level bool) (o CellOutline) {
	for k, at := range [4][2]float64{{x0, s0}, {x1, s0}, {x1, s1}, {x0, s1}} {
		o.X[k], o.Y[k] = d.corner(at[0], at[1], level)
	}
	return o
}
