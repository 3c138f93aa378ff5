package rim

import (
	"math"
)

// Resolution sets how fine the mesh is. The zero value means standard.
type Resolution struct {
	// Factor divides every target cell size: 2 halves the cells.
	Factor float64
}

// fine is the factor, 1 for the zero value.
func (r Resolution) fine() float64 {
	if r.Factor == 0 {
		return 1
	}
	return r.Factor
}

const (
	// Target cell sizes of the standard mesh, metres, and growth from cell to
	// cell. Sizes are across the wall; along it they are larger by alongPart
	// times the root of the ratio of conductivities. Found by a random search
	// for the least error per cost against finite elements on three sections;
	// inner corners, where heat squeezes round into bed and flank, want by far
	// the finest cells.
	cornerCellM  = 0.048e-3
	wallCellMax  = 0.44e-3
	flankCellMax = 1.35e-3
	cellGrowth   = 2.0
	flankGrowth  = 1.6
	alongPart    = 0.74
	// A cell may be as large as this part of the length that heat spreads in
	// a second, so that metals get few cells across a wall.
	spreadPart = 0.2
	// noseMinM and leanTangent shape a tapered rim: the flanks lean in by at
	// most 12.4 degrees and leave a spoke bed at least 8 mm wide, which a
	// spoke nipple needs; common practice, no source.
	noseMinM    = 8e-3
	leanTangent = 0.22
)

// sizes are the target sizes of cells, metres.
type sizes struct{ corner, across, along, long, sharp float64 }

// cellSizes gives the sizes for the finest of the section's materials. Sizes
// along follow sizes across by the ratio in which heat spreads. A skin is too
// thin to carry heat along the wall and has its own cells across.
func (sec *Section) cellSizes(fine float64) sizes {
	of := func(m *Material) sizes {
		spread := func(k float64) float64 {
			return spreadPart * math.Sqrt(k/(m.Density.Value*m.SpecificHeat.Value))
		}
		kA, kT := m.ConductivityAlong.Value, m.ConductivityThrough.Value
		stretch := alongPart * math.Sqrt(kA/kT)
		corner := math.Max(cornerCellM, spread(kT)) / fine
		return sizes{
			corner: corner, across: math.Max(wallCellMax, spread(kT)) / fine,
			along: math.Max(wallCellMax*stretch, spread(kA)) / fine,
			long:  math.Max(flankCellMax, spread(kA)) / fine, sharp: corner * stretch,
		}
	}
	z := of(&sec.Material)
	if sec.HasFairing() {
		o := of(&sec.Fairing.Material)
		z = sizes{min(z.corner, o.corner), min(z.across, o.across), min(z.along, o.along), min(z.long, o.long), min(z.sharp, o.sharp)}
	}
	return z
}

// bothWays appends breaks from the last one to b whose cells are about first
// at the start and last at the end, grow by the ratio from both ends, and are
// never larger than most.
func bothWays(dst []float64, b, first, last, most, ratio float64) []float64 {
	a := dst[len(dst)-1]
	// Cells that grow by the ratio are (ratio-1) times the distance from
	// their end larger than the end's own size.
	return fill(dst, b, func(done float64) float64 {
		up := first + (ratio-1)*done
		down := (last + (ratio-1)*(b-a-done)) / ratio
		return min(up, max(down, last), most)
	})
}

// fill appends cells of the sizes that size tells, given the
// length done so far, stretched so that the last one ends at b.
func fill(dst []float64, b float64, size func(done float64) float64) []float64 {
	a := dst[len(dst)-1]
	if b-a < 1e-9 {
		return dst
	}
	var sizes []float64
	var sum float64
	for sum < b-a {
		d := size(sum)
		sizes = append(sizes, d)
		sum += d
	}
	// The last cell would overshoot: drop it if that leaves less to stretch.
	if n := len(sizes); n > 1 && sum-(b-a) > sizes[n-1]/2 {
		sum -= sizes[n-1]
		sizes = sizes[:n-1]
	}
	x := a
	for i, d := range sizes {
		x += d * (b - a) / sum
		if i == len(sizes)-1 {
			x = b
		}
		dst = append(dst, x)
	}
	return dst
}
