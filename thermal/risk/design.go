package risk

import (
	"fmt"
	"math"
	"math/rand/v2"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"
	"gonum.org/v1/gonum/stat/sampleuv"
)

// mostValues bounds the size of a design, points times inputs: half a gigabyte.
const mostValues = 1 << 26

// A Design is a replicated Latin hypercube: blocks that are independent of one
// another, each a Latin hypercube of its own (M. D. McKay, R. J. Beckman and
// W. J. Conover, A comparison of three methods for selecting values of input
// variables in the analysis of output from a computer code, Technometrics 21
// (1979) 239). Cut any input's range into as many equal parts as a block has
// points, and there is one point of the block in each part.
//
// Why blocks: the points of one hypercube depend on each other, so that their
// scatter does not tell how far an estimate is from the truth. Blocks do not,
// so that the spread of an estimate from block to block does, for means,
// quantiles and sensitivities alike. Eight blocks or more are worth having: with
// B of them a standard error is itself uncertain by 1/sqrt(2(B-1)) of it.
type Design struct {
	points   *mat.Dense // Len by Dims
	perBlock int
}

// NewDesign draws a design of blocks times perBlock points in dims inputs. Each
// block has a stream of random numbers of its own, keyed by seed and the block's
// index, and within it one input is drawn after the other: more blocks leave the
// earlier ones as they are, and so do more inputs the earlier inputs.
func NewDesign(blocks, perBlock, dims int, seed uint64) (*Design, error) {
	switch {
	case blocks < 2:
		return nil, fmt.Errorf("a design of %d blocks has no spread between them: use 2 or more, better 8", blocks)
	case perBlock < 1:
		return nil, fmt.Errorf("a block of %d points: use 1 or more", perBlock)
	case dims < 1:
		return nil, fmt.Errorf("a design in %d inputs: use 1 or more", dims)
	case blocks > mostValues/perBlock || dims > mostValues/(blocks*perBlock):
		return nil, fmt.Errorf("%d blocks of %d points in %d inputs are over %d values: use fewer", blocks, perBlock, dims, mostValues)
	}
	d := &Design{points: mat.NewDense(blocks*perBlock, dims, nil), perBlock: perBlock}
	column := make([]float64, perBlock)
	for b := range blocks {
		cube := sampleuv.LatinHypercube{Q: distuv.UnitUniform, Src: rand.NewPCG(seed, uint64(b))}
		for dim := range dims {
			cube.Sample(column)
			for i, u := range column {
				d.points.Set(b*perBlock+i, dim, inside(u))
			}
		}
	}
	return d, nil
}

// inside keeps u off 0, which may be drawn, and off 1, to which the last part's
// upper end may be rounded: quantile functions are infinite there.
func inside(u float64) float64 {
	const least = 0x1p-53
	return math.Max(least, math.Min(1-least, u))
}

// Point is the i-th point, one value strictly between 0 and 1 for each input.
// It belongs to the design: read it, do not write to it.
func (d *Design) Point(i int) []float64 { return d.points.RawRowView(i) }

// Len is the number of points, over all blocks; Dims the number of inputs.
func (d *Design) Len() int { return d.points.RawMatrix().Rows }

// Dims is the number of inputs.
func (d *Design) Dims() int { return d.points.RawMatrix().Cols }

// PerBlock is the number of points in each block. Points of one block follow
// each other.
func (d *Design) PerBlock() int { return d.perBlock }

// Blocks is the number of blocks.
func (d *Design) Blocks() int { return d.Len() / d.perBlock }

// Block is the block that the i-th point belongs to.
func (d *Design) Block(i int) int { return i / d.perBlock }

// Only is a design of some of the points, in the order given, as one block: what they
// say is of them alone and tells nothing of how far an estimate is from the truth.
func (d *Design) Only(points []int) *Design {
	out := &Design{points: mat.NewDense(len(points), d.Dims(), nil), perBlock: len(points)}
	for k, i := range points {
		out.points.SetRow(k, d.Point(i))
	}
	return out
}
