package risk

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/floats"
)

// leastNew is the part of a term's mean square that the terms before it may not
// already contain, or it adds nothing but rounding.
const leastNew = 0.01

// A path is least squares with one term after the other, orthogonalised as they
// come, from all points but those of one group of blocks. Vectors run over all
// points; sums over the points it learns from.
type path struct {
	e         *Expansion
	out, past int // it does not learn from points out to past-1
	taken     []bool
	terms     []int       // into the expansion's
	q         [][]float64 // the terms' orthonormal parts
	r         [][]float64 // column k: term k is the sum of r[k][j] q[j]
	c         []float64   // the output is the sum of c[j] q[j] ...
	rest      []float64   // ... and the rest
	missed    []float64   // sum of squares of the rest at the points left out, after each term
}

func newPath(e *Expansion, y []float64, out, past int) *path {
	p := &path{e: e, out: out, past: past, taken: make([]bool, len(e.terms)), rest: slices.Clone(y)}
	p.add(0)
	return p
}

// dot is the sum of x y over the points that it learns from.
func (p *path) dot(x, y []float64) float64 {
	return floats.Dot(x[:p.out], y[:p.out]) + floats.Dot(x[p.past:], y[p.past:])
}

// add takes one more term in, unless it is nearly made of those before it.
func (p *path) add(j int) bool {
	p.taken[j] = true
	q := slices.Clone(p.e.values.RawRowView(j))
	whole := p.dot(q, q)
	column := make([]float64, len(p.q)+1)
	for k, before := range p.q {
		column[k] = p.dot(q, before)
		floats.AddScaled(q, -column[k], before)
	}
	left := p.dot(q, q)
	if !(left > leastNew*whole) {
		return false
	}
	column[len(p.q)] = math.Sqrt(left)
	floats.Scale(1/math.Sqrt(left), q)
	c := p.dot(q, p.rest)
	floats.AddScaled(p.rest, -c, q)
	p.terms, p.q, p.r, p.c = append(p.terms, j), append(p.q, q), append(p.r, column), append(p.c, c)
	missed := p.rest[p.out:p.past]
	p.missed = append(p.missed, floats.Dot(missed, missed))
	return true
}

// grow takes in the terms that go best with the rest: as many as asked for, if
// there are. with[j] is the sum of term j times the rest.
func (p *path) grow(many int, with []float64) {
	gain := make([]float64, len(with))
	order := make([]int, 0, len(with))
	for j, s := range with {
		gain[j] = s * s / p.e.square[j]
		if !p.taken[j] {
			order = append(order, j)
		}
	}
	slices.SortFunc(order, func(a, b int) int {
		return cmp.Or(cmp.Compare(gain[b], gain[a]), cmp.Compare(a, b))
	})
	for _, j := range order {
		if many == 0 {
			return
		}
		if p.add(j) {
			many--
		}
	}
}

// learned copies the rest into dst, with 0 at the points that it does not learn
// from.
func (p *path) learned(dst []float64) {
	copy(dst, p.rest)
	clear(dst[p.out:p.past])
}

// polynomial is that of the first terms, as many as asked for.
func (p *path) polynomial(many int) polynomial {
	r := blas64.Triangular{Uplo: blas.Upper, Diag: blas.NonUnit, N: many, Stride: many, Data: make([]float64, many*many)}
	of := polynomial{beta: slices.Clone(p.c[:many])}
	for k, column := range p.r[:many] {
		for j, v := range column {
			r.Data[j*many+k] = v
		}
		of.terms = append(of.terms, p.e.terms[p.terms[k]])
	}
	blas64.Trsv(blas.NoTrans, r, blas64.Vector{N: many, Inc: 1, Data: of.beta})
	return of
}
