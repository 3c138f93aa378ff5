package rim

import "math"

// Small dense linear algebra of the reduced model. Symmetric matrices are
// packed: entry (i,j), j <= i, stands at i(i+1)/2+j.

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

// times puts the packed a times x into y.
func times(y, a, x []float64) {
	q := 0
	for i, xi := range x {
		row := a[q : q+i]
		below, out := x[:i], y[:i]
		var sum float64
		for j, v := range row {
			sum += v * below[j]
			out[j] += v * xi
		}
		y[i] = sum + a[q+i]*xi
		q += i + 1
	}
}

// factorPacked replaces the packed, positive definite a by its LDL' factors:
// below the diagonal L; invD gets the inverse of D. Two columns of a row are
// found side by side.
func factorPacked(a, invD []float64) error {
	q := 0
	for i := range invD {
		ri := a[q : q+i+1]
		p, j := 0, 0
		for ; j+1 < i; j += 2 {
			rj, rk := a[p:p+j], a[p+j+1:p+2*j+1]
			rk = rk[:len(rj)]
			x := ri[:len(rj)]
			u, v := ri[j], ri[j+1]
			for k, l := range rj {
				w := x[k]
				u -= l * w
				v -= rk[k] * w
			}
			ri[j], ri[j+1] = u, v-a[p+2*j+1]*u
			p += 2*j + 3
		}
		if j < i {
			rj := a[p : p+j]
			x := ri[:len(rj)]
			u := ri[j]
			for k, l := range rj {
				u -= l * x[k]
			}
			ri[j] = u
		}
		d := ri[i]
		for j, u := range ri[:i] {
			l := u * invD[j]
			d -= u * l
			ri[j] = l
		}
		if !(d > 0) {
			return errNotPositive
		}
		invD[i] = 1 / d
		q += i + 1
	}
	return nil
}

// solvePacked replaces b by the solution of a x = b, after factorPacked.
func solvePacked(a, invD, b []float64) {
	q := 0
	for i := range b {
		x := b[:i]
		sum := b[i]
		for j, v := range a[q : q+i] {
			sum -= v * x[j]
		}
		b[i] = sum
		q += i + 1
	}
	for i := range b {
		b[i] *= invD[i]
	}
	for i := len(b) - 1; i > 0; i-- {
		q -= i + 1
		axpy(-b[i], a[q:q+i], b[:i])
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
