package rim

import "errors"

// skyline is a symmetric positive definite matrix held row by row from the
// first non-zero column to the diagonal, and its LDL' factors in the same
// room. It stands in for a banded matrix because the rim bed, the cavity and
// the tyre each tie one row to many.
type skyline struct {
	n     int
	first []int // first column stored in row i
	start []int // position in val of row i's first entry
	val   []float64
	invD  []float64
}

// newSkyline lays out the room for rows whose first columns are given.
func newSkyline(first []int) *skyline {
	s := &skyline{n: len(first), first: first, start: make([]int, len(first)+1), invD: make([]float64, len(first))}
	for i, f := range first {
		s.start[i+1] = s.start[i] + i - f + 1
	}
	s.val = make([]float64, s.start[s.n])
	return s
}

// at gives the position of entry (i,j), j <= i, which must be stored.
func (s *skyline) at(i, j int) int { return s.start[i] + j - s.first[i] }

// row gives row i from column first[i] to the diagonal.
func (s *skyline) row(i int) []float64 { return s.val[s.start[i]:s.start[i+1]] }

var errNotPositive = errors.New("heat matrix is not positive definite")

// factor replaces the matrix by its LDL' factors: row i holds L(i,j) and, on
// the diagonal, D(i).
func (s *skyline) factor() error {
	for i := range s.n {
		ri := s.row(i)
		fi := s.first[i]
		// First pass: U(i,j) = A(i,j) - sum_k U(i,k) L(j,k), with U = L D.
		for j := fi; j < i; j++ {
			fj := s.first[j]
			lo := max(fi, fj)
			if lo >= j {
				continue
			}
			ri[j-fi] -= dot(ri[lo-fi:j-fi], s.val[s.start[j]+lo-fj:s.start[j]+j-fj])
		}
		// Second pass: L = U / D and D(i) = A(i,i) - sum U L.
		d := ri[i-fi]
		for j := fi; j < i; j++ {
			u := ri[j-fi]
			l := u * s.invD[j]
			d -= u * l
			ri[j-fi] = l
		}
		if !(d > 0) {
			return errNotPositive
		}
		ri[i-fi] = d
		s.invD[i] = 1 / d
	}
	return nil
}

// solve replaces b by the solution of A x = b, after factor.
func (s *skyline) solve(b []float64) {
	b = b[:s.n]
	for i := range b {
		l := s.val[s.start[i] : s.start[i+1]-1]
		b[i] -= dot(l, b[i-len(l):i])
	}
	for i := range b {
		b[i] *= s.invD[i]
	}
	for i := s.n - 1; i > 0; i-- {
		l := s.val[s.start[i] : s.start[i+1]-1]
		x := b[i-len(l) : i]
		x = x[:len(l)]
		bi := b[i]
		for k, v := range l {
			x[k] -= v * bi
		}
	}
}

// dot is the inner product of x and the first len(x) of y. Four sums run side
// by side, since each addition waits for the one before it.
func dot(x, y []float64) float64 {
	y = y[:len(x)]
	var a, b, c, d float64
	for len(x) >= 4 && len(y) >= 4 {
		a += x[0] * y[0]
		b += x[1] * y[1]
		c += x[2] * y[2]
		d += x[3] * y[3]
		x, y = x[4:], y[4:]
	}
	for k, v := range x {
		a += v * y[k]
	}
	return (a + b) + (c + d)
}
