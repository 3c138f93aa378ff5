package rim

import "math"

// Small dense linear algebra of the reduced model. Symmetric matrices are
// packed: entry (i,j), j <= i, stands at i(i+1)/2+j. Those that a step works with
// have an even number of rows, and two of them go side by side, since each addition
// to a sum waits for the one before it.

// packed is where entry (i,j) of a packed matrix stands.
func packed(i, j int) int {
	if i < j {
		i, j = j, i
	}
	return i*(i+1)/2 + j
}

// inner is the sum of w x y.
func inner(w, x, y []float64) float64 {
	var sum float64
	for i, v := range x {
		sum += w[i] * v * y[i]
	}
	return sum
}

func norm(w, x []float64) float64 { return math.Sqrt(inner(w, x, x)) }

// scaled multiplies x by a factor, in place.
func scaled(x []float64, by float64) []float64 {
	for i := range x {
		x[i] *= by
	}
	return x
}

// axpy adds a x to y.
func axpy(a float64, x, y []float64) {
	y = y[:len(x)]
	for i, v := range x {
		y[i] += a * v
	}
}

// takeOut takes the part along b, of unit length in w, out of x.
func takeOut(w, x, b []float64) { axpy(-inner(w, x, b), b, x) }

// addSquare adds g v v' to the packed matrix that a begins with.
func addSquare(a []float64, g float64, v []float64) {
	q := 0
	for i, x := range v {
		axpy(g*x, v[:i+1], a[q:q+i+1])
		q += i + 1
	}
}

// addRows adds x[0] times the first row of a, x[1] times the second and so on
// to y; rows are as long as y. Four rows, then two, go side by
// side.
func addRows(y, x, a []float64) {
	n := len(y)
	for len(x) >= 4 {
		x0, x1, x2, x3 := x[0], x[1], x[2], x[3]
		a0, a1, a2, a3 := a[:n], a[n:][:n], a[2*n:][:n], a[3*n:][:n]
		for i := range y {
			y[i] += (x0*a0[i] + x1*a1[i]) + (x2*a2[i] + x3*a3[i])
		}
		x, a = x[4:], a[4*n:]
	}
	if len(x) >= 2 {
		x0, x1 := x[0], x[1]
		a0, a1 := a[:n], a[n:][:n]
		for i := range y {
			y[i] += x0*a0[i] + x1*a1[i]
		}
		x, a = x[2:], a[2*n:]
	}
	if len(x) == 1 {
		axpy(x[0], a[:n], y)
	}
}

// pair gives rows i and i+1 of the packed a, which begin at q, up to the diagonal,
// and where the next row begins.
func pair(a []float64, q, i int) (r, s []float64, next int) {
	return a[q : q+i+1], a[q+i+1 : q+2*i+3], q + 2*i + 3
}

// times puts the packed a times x into y; an even number of rows.
func times(y, a, x []float64) {
	y = y[:len(x)]
	q := 0
	for i := 0; i+1 < len(x); i += 2 {
		r, s, next := pair(a, q, i)
		q = next
		before, out, t := x[:i], y[:i], s[:i]
		tie, xi, xk := s[i], x[i], x[i+1]
		var u, v float64
		for j, c := range r[:i] {
			u += c * before[j]
			v += t[j] * before[j]
			out[j] += c*xi + t[j]*xk
		}
		y[i], y[i+1] = u+r[i]*xi+tie*xk, v+tie*xi+s[i+1]*xk
	}
}

// factorPacked replaces the packed, positive definite a, of an even number of
// rows, by its LDL' factors: below the diagonal L; invD gets the inverse of D. Two
// rows meet two columns at a time.
func factorPacked(a, invD []float64) error {
	q := 0
	for i := 0; i+1 < len(invD); i += 2 {
		r, s, next := pair(a, q, i)
		q = next
		// First pass: U(i,j) = A(i,j) - sum_k U(i,k) L(j,k), with U = L D.
		p := 0
		for j := 0; j+1 < i; j += 2 {
			lr, ls, below := pair(a, p, j)
			p = below
			x, y, m := r[:j], s[:j], ls[:j]
			rj, rk, sj, sk := r[j], r[j+1], s[j], s[j+1]
			for k, l := range lr[:j] {
				xk, yk, mk := x[k], y[k], m[k]
				rj -= l * xk
				rk -= mk * xk
				sj -= l * yk
				sk -= mk * yk
			}
			r[j], r[j+1], s[j], s[j+1] = rj, rk-ls[j]*rj, sj, sk-ls[j]*sj
		}
		// Second pass: L = U / D and D(i) = A(i,i) - sum U L.
		d, tie, e := r[i], s[i], s[i+1]
		for j, by := range invD[:i] {
			u, v := r[j], s[j]
			l, m := u*by, v*by
			d -= u * l
			tie -= v * l
			e -= v * m
			r[j], s[j] = l, m
		}
		invD[i] = 1 / d
		s[i] = tie * invD[i]
		e -= tie * s[i]
		invD[i+1] = 1 / e
		if !(d > 0 && e > 0) {
			return errNotPositive
		}
	}
	return nil
}

// solvePacked replaces b by the solution of a x = b, after factorPacked.
func solvePacked(a, invD, b []float64) {
	q := 0
	for i := 0; i+1 < len(b); i += 2 {
		r, s, next := pair(a, q, i)
		q = next
		x, t := b[:i], s[:i]
		u, v := b[i], b[i+1]
		for j, l := range r[:i] {
			u -= l * x[j]
			v -= t[j] * x[j]
		}
		b[i], b[i+1] = u, v-s[i]*u
	}
	for i, d := range invD[:len(b)] {
		b[i] *= d
	}
	for i := len(b) - 2; i >= 0; i -= 2 {
		q -= 2*i + 3
		r, s, _ := pair(a, q, i)
		x, t := b[:i], s[:i]
		v := b[i+1]
		u := b[i] - s[i]*v
		b[i] = u
		for j, l := range r[:i] {
			x[j] -= l*u + t[j]*v
		}
	}
}

// symmetricEigen gives the eigenvalues and, in columns, the eigenvectors of
// the symmetric n by n matrix a, which it destroys, by Jacobi's rotations.
func symmetricEigen(a []float64, n int) (values, vectors []float64) {
	v := make([]float64, n*n)
	for i := range n {
		v[i*n+i] = 1
	}
	const sweeps, rounding = 30, 1e-22
	for range sweeps {
		var off, diag float64
		for i := range n {
			diag += a[i*n+i] * a[i*n+i]
			for j := range i {
				off += a[i*n+j] * a[i*n+j]
			}
		}
		if off <= rounding*diag {
			break
		}
		for p := range n {
			for q := p + 1; q < n; q++ {
				rotate(a, v, n, p, q)
			}
		}
	}
	values = make([]float64, n)
	for i := range n {
		values[i] = a[i*n+i]
	}
	return values, v
}

// rotate makes entry (p,q) of a zero and turns the columns of v along.
func rotate(a, v []float64, n, p, q int) {
	apq := a[p*n+q]
	if apq*apq <= 1e-32*math.Abs(a[p*n+p]*a[q*n+q]) {
		return
	}
	theta := (a[q*n+q] - a[p*n+p]) / (2 * apq)
	t := 1 / (math.Abs(theta) + math.Sqrt(theta*theta+1))
	if theta < 0 {
		t = -t
	}
	c := 1 / math.Sqrt(t*t+1)
	sn := t * c
	rowP, rowQ := a[p*n:(p+1)*n], a[q*n:(q+1)*n]
	for k, x := range rowP {
		y := rowQ[k]
		rowP[k], rowQ[k] = c*x-sn*y, sn*x+c*y
	}
	for k := range n {
		x, y := a[k*n+p], a[k*n+q]
		a[k*n+p], a[k*n+q] = c*x-sn*y, sn*x+c*y
		x, y = v[k*n+p], v[k*n+q]
		v[k*n+p], v[k*n+q] = c*x-sn*y, sn*x+c*y
	}
}
