package risk

import (
	"fmt"
	"math"
	"slices"
	"sync"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat"
)

const (
	// mostTerms is how many terms an expansion takes in; the last of as many
	// change the outcome by less than their error.
	mostTerms = 120
	// mostGroups is how many times the choice is made again without part of the
	// blocks. Ten tell a standard error to a quarter of it.
	mostGroups = 10
	// Terms come in eights, later in halves of what is there: between two looks
	// at what is missing, which is what costs.
	batch, batchPart = 8, 2
	// The search ends when half as many again and some more have not helped.
	patience = 12
)

// A Fit is one output as a polynomial of the inputs. It may be shared by
// goroutines.
type Fit struct {
	// Explained is the part of the output's variance that the polynomial
	// foretells at points that it has not seen, 0 to 1: of blocks that neither its
	// terms nor their coefficients were chosen by. What is missing may be
	// anybody's (see Indices), so that below 0.8 little can be said; common
	// practice, no source.
	Explained float64
	// Terms is how many terms it has, without the constant; 0 if no
	// input is seen to matter.
	Terms int

	dims        int
	mean, scale float64      // the output is mean + scale times the polynomial
	all         polynomial   // from all points
	without     []polynomial // from all but one group of blocks
}

// A polynomial is the sum of terms times their coefficients.
type polynomial struct {
	terms []term
	beta  []float64
}

// Fit finds the expansion of the values y, which stand in the order of the
// points. Where all are the same it is a constant that explains nothing.
//
// Terms are taken in one after the other, always those that go best with what is
// still missing. How many is decided by cross-validation: the same search
// runs beside it without the first, the second and so on of at most ten groups of
// blocks, and the number is the one with which these miss least in the blocks
// that they never saw. Leave-one-out errors from the leverages would be cheaper,
// but they take the terms as given, and of 1,600 many agree with any output by
// accident: at 400 points of a model of heat they said that 0.4 % of the variance
// was missing where 6 % was (derived).
func (e *Expansion) Fit(y []float64) (*Fit, error) {
	d := e.design
	if err := checkValues(y, d.PerBlock()); err != nil {
		return nil, err
	}
	if len(y) != d.Len() {
		return nil, fmt.Errorf("%d values for a design of %d points: every point needs one", len(y), d.Len())
	}
	f := &Fit{dims: d.Dims(), mean: stat.Mean(y, nil)}
	z := slices.Clone(y)
	floats.AddConst(-f.mean, z)
	f.scale = floats.Norm(z, math.Inf(1))
	const rounding = 1e-12
	if f.scale <= rounding*math.Abs(f.mean) {
		return f, nil
	}
	floats.Scale(1/f.scale, z)

	whole, without := e.begin(z)
	missed := e.search(whole, without)
	best := 0
	for k, m := range missed {
		if m < missed[best] {
			best = k
		}
	}
	f.Terms = best
	f.Explained = math.Max(0, 1-missed[best]/float64(len(z))/stat.Variance(z, nil))
	f.all = whole.polynomial(best + 1)
	for _, p := range without {
		f.without = append(f.without, p.polynomial(best+1))
	}
	return f, nil
}

// begin makes the path over all points and those without a group each.
func (e *Expansion) begin(z []float64) (whole *path, without []*path) {
	blocks, perBlock := e.design.Blocks(), e.design.PerBlock()
	for g := range e.groups {
		without = append(without, newPath(e, z, g*blocks/e.groups*perBlock, (g+1)*blocks/e.groups*perBlock))
	}
	return newPath(e, z, 0, 0), without
}

// search follows all paths side by side and gives the sum of squares that those
// without a group miss in it, after each term from the constant on.
func (e *Expansion) search(whole *path, without []*path) (missed []float64) {
	n := e.design.Len()
	paths := append([]*path{whole}, without...)
	most := e.mostTerms()
	for _, p := range without {
		most = min(most, (n-(p.past-p.out))/pointsPerTerm)
	}
	rests := mat.NewDense(len(paths), n, nil)
	var with mat.Dense
	for best := 0; ; {
		ends := most
		for _, p := range paths {
			ends = min(ends, len(p.terms))
		}
		grown := len(missed) < ends
		for k := len(missed); k < ends; k++ {
			var sum float64
			for _, p := range without {
				sum += p.missed[k]
			}
			missed = append(missed, sum)
			if sum < missed[best] {
				best = k
			}
		}
		if !grown || ends >= most || ends > best+best/2+patience {
			return missed
		}
		for k, p := range paths {
			p.learned(rests.RawRowView(k))
		}
		with.Mul(rests, e.values.T())
		many := min(max(batch, ends/batchPart), most-ends)
		var wg sync.WaitGroup
		for k, p := range paths {
			wg.Go(func() { p.grow(many, with.RawRowView(k)) })
		}
		wg.Wait()
	}
}
