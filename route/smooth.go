package route

import (
	"errors"
	"math"
)

// WavelengthM is the wavelength of height, metres, that the smoother halves
// in amplitude: longer waves pass, shorter ones are taken as noise. A choice
// of this program between the two errors: noise of 0.1 m in every height
// leaves about 0.1 % of grade, and a change of grade is drawn out over about
// a third of the wavelength.
const WavelengthM = 150.0

// lambdaFor is the weight of the roughness that halves a wave of n samples:
// (2 sin(pi/n))^-4, from |H(w)| = 1/(1 + lambda (2 sin(w/2))^4) (derived).
func lambdaFor(n float64) float64 { return math.Pow(2*math.Sin(math.Pi/n), -4) }

// smooth writes to dst the heights that minimise the squared distance to src
// plus lambda times the squared second differences (the smoother of
// P. H. C. Eilers, A perfect smoother, Anal. Chem. 75 (2003) 3631-3636), with
// both end heights kept exactly, which keeps the height lost from end to end.
// Wavelength is in samples. Both slices have the same length.
func smooth(dst, src []float64, wavelength float64) error {
	n := len(src)
	copy(dst, src)
	if n < 3 || wavelength <= 2 {
		return nil
	}
	lambda := lambdaFor(wavelength)
	// Row i of I + lambda D'D: diagonal a[i], then b[i] and e[i] right of it.
	m := n - 2
	buf := make([]float64, 3*m)
	a, b, e := buf[:m], buf[m:2*m], buf[2*m:]
	z := dst[1 : n-1]
	for k := range a {
		i := k + 1
		a[k] = 1 + lambda*diagonal(i, n)
		b[k] = lambda * firstOff(i, n)
		e[k] = lambda
	}
	// The known ends go to the right-hand side.
	z[0] -= lambda * firstOff(0, n) * src[0]
	z[m-1] -= lambda * firstOff(n-2, n) * src[n-1]
	if n > 3 {
		z[1] -= lambda * src[0]
		z[m-2] -= lambda * src[n-1]
	}
	return solvePentadiagonal(z, a, b, e)
}

// diagonal is entry (i,i) of D'D, D the second differences of n values.
func diagonal(i, n int) float64 {
	d := 0.0
	if i+2 < n {
		d++
	}
	if i >= 1 && i+1 < n {
		d += 4
	}
	if i >= 2 {
		d++
	}
	return d
}

// firstOff is entry (i,i+1) of D'D.
func firstOff(i, n int) float64 {
	d := 0.0
	if i+2 < n {
		d -= 2
	}
	if i >= 1 {
		d -= 2
	}
	return d
}

var errNotDefinite = errors.New("matrix not positive definite")

// solvePentadiagonal solves A x = x in place for a symmetric positive
// definite A given by its diagonal a and the two diagonals right of it, b and
// e (entries past the end are not used); all are overwritten by the factors
// of A = L D L'. No allocation, time linear in len(x).
func solvePentadiagonal(x, a, b, e []float64) error {
	n := len(x)
	a, b, e = a[:n], b[:n], e[:n]
	for i := 0; i < n; i++ {
		if !(a[i] > 0) {
			return errNotDefinite
		}
		li, lj := b[i]/a[i], e[i]/a[i]
		if i+1 < n {
			a[i+1] -= li * b[i]
			b[i+1] -= li * e[i]
			x[i+1] -= li * x[i]
		}
		if i+2 < n {
			a[i+2] -= lj * e[i]
			x[i+2] -= lj * x[i]
		}
		b[i], e[i] = li, lj
	}
	for i := n - 1; i >= 0; i-- {
		v := x[i] / a[i]
		if i+1 < n {
			v -= b[i] * x[i+1]
		}
		if i+2 < n {
			v -= e[i] * x[i+2]
		}
		x[i] = v
	}
	return nil
}
