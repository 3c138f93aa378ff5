package risk

import (
	"fmt"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
)

const (
	// mostCandidates is how many terms there are to choose from. With 14 inputs
	// these are each alone up to degree 12 and pairs up to a sum of 6, and 6
	// times 1; with ten or fewer, triples too. The cost is proportional.
	mostCandidates = 1700
	// pointsPerTerm is how many points there must be for each term, in those that
	// it is found from.
	pointsPerTerm = 3
	// mostEntries bounds tables over points: 128 megabytes.
	mostEntries = 1 << 24
)

// An Expansion writes outputs of a model as polynomials of its inputs, from
// values at the points of a design. It may be shared by goroutines.
type Expansion struct {
	design *Design
	groups int // of blocks
	terms  []term
	values *mat.Dense // of the terms at the points: one row a term
	square []float64  // sum of squares of each row
}

// NewExpansion prepares expansions over a design. Without its largest group of
// blocks (see Fit) it needs three points for every input, and three more.
func NewExpansion(d *Design) (*Expansion, error) {
	n, dims := d.Len(), d.Dims()
	groups := min(d.Blocks(), mostGroups)
	largest := (d.Blocks() + groups - 1) / groups * d.PerBlock()
	if least := pointsPerTerm*(dims+1) + largest; n < least {
		return nil, fmt.Errorf("%d points are too few for sensitivities to %d inputs: use %d or more, in more blocks", n, dims, least)
	}
	e := &Expansion{design: d, groups: groups, terms: candidates(dims, min(mostCandidates, mostEntries/n))}
	if len(e.terms) <= dims || e.mostTerms() <= dims {
		return nil, fmt.Errorf("%d points in %d inputs are too many for sensitivities: use fewer", n, dims)
	}
	alone := make([][]float64, dims*(mostDegree+1)) // polynomials of each input at the points
	for i := range alone {
		alone[i] = make([]float64, n)
	}
	var at [mostDegree + 1]float64
	for i := range n {
		for dim, u := range d.Point(i) {
			legendre(at[:], u)
			for degree, p := range at {
				alone[dim*(mostDegree+1)+degree][i] = p
			}
		}
	}
	e.values = mat.NewDense(len(e.terms), n, nil)
	for j, t := range e.terms {
		row := e.values.RawRowView(j)
		for i := range row {
			row[i] = 1
		}
		for _, f := range t {
			floats.Mul(row, alone[f.dim*(mostDegree+1)+f.degree])
		}
		e.square = append(e.square, floats.Dot(row, row))
	}
	return e, nil
}

// mostTerms is how many terms a fit may have, with the constant.
func (e *Expansion) mostTerms() int {
	return min(mostTerms, len(e.terms), mostEntries/(e.design.Len()*(e.groups+1)))
}
