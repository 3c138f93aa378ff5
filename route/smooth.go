package route

import (
	"errors"
	"math"
)

// The road's own shape, as the smoother expects it. Choices of this program,
// made on invented roads and on recorded ones to which noise was added: they
// gave the least error of the heat that a descent makes (derived).
const (
	// bendPerM is the change of grade per metre of road, 1/m, from which on a
	// change counts as a bend of the road that the smoother must follow; below
	// it the penalty is quadratic, above it grows with the power 1/2.
	bendPerM = 2e-5
	// bendWindowM is half the length over which that change is averaged, metres.
	bendWindowM = 100.0
	// roughest is the roughness that no bend exceeds, squared grade per metre: a
	// step in the heights is drawn out, as no road has one.
	roughest = 1e-5
	// enough is by how much more a rougher road must explain, in the units of
	// the criterion, to be believed: the bends found are not counted in it.
	enough = 11.0
	// reweightings is how often the bends are found anew for each roughness.
	reweightings = 8
)

// roughnesses are the intensities tried for the wandering of a road's grade,
// squared grade per metre, roughest first. That of the road at hand is found
// from its heights; where these show no noise it makes no difference, and one is
// enough.
func roughnesses(noise heightNoise) []float64 {
	tried := []float64{4e-7, 1.6e-7, 6.4e-8, 2.5e-8}
	if noise.quiet() {
		return tried[3:]
	}
	return tried
}

// A smoother finds the heights of a road under noise: those that minimise
//
//	r'P r + sum of w_i (z_i-1 - 2 z_i + z_i+1)^2 / (q dx^3)
//
// where r = src - z, P is the inverse covariance of the noise, q the roughness
// and w_i the weights of (1 + (bend_i/bendPerM)^2)^-3/4, found by iteration:
// the smoother of P. H. C. Eilers, A perfect smoother, Anal. Chem. 75 (2003)
// 3631-3636, with noise that may be correlated, and with a penalty under which
// a road of steady grades keeps its kinks (as in S.-J. Kim, K. Koh, S. Boyd and
// D. Gorinevsky, l1 trend filtering, SIAM Review 51 (2009) 339-360; both from
// memory). Straight slopes pass unchanged, and so do the sum and the trend of
// all heights.
type smoother struct {
	dx       float64
	rho, v   float64 // noise: r_i = rho r_i-1 + e_i with variance v of e_i, m2
	halfBend int
	// One entry a node.
	a, b, e, weight, bend []float64
}

// newSmoother is a smoother of n heights dx metres apart whose noise follows
// r_i = rho r_i-1 + e_i with variance v of e_i, m2.
func newSmoother(n int, dx, rho, v float64) *smoother {
	f := make([]float64, 5*n)
	s := &smoother{dx: dx, rho: rho, v: v, a: f[:n:n], b: f[n : 2*n : 2*n], e: f[2*n : 3*n : 3*n], weight: f[3*n : 4*n : 4*n], bend: f[4*n:]}
	for i := range s.weight {
		s.weight[i] = 1
	}
	s.halfBend = int(math.Round(bendWindowM / dx))
	return s
}

var errNotSmooth = errors.New("the equations of the smoother cannot be solved")

// smooth writes the smoothed heights to dst, with the roughness that suits them
// of those given, roughest first.
func (s *smoother) smooth(dst, src []float64, roughnesses []float64) error {
	n := len(src)
	copy(dst, src)
	if n < 3 {
		return nil
	}
	best := make([]float64, n)
	least := math.Inf(1)
	for _, q := range roughnesses {
		for i := range s.weight {
			s.weight[i] = 1
		}
		for k := range reweightings {
			if k > 0 {
				s.reweigh(dst, q/roughest)
			}
			if !s.solve(dst, src, 1/(q*s.dx*s.dx*s.dx)) {
				return errNotSmooth
			}
		}
		cp := s.criterion(dst, src)
		if cp < least+enough {
			least = math.Min(cp, least)
			copy(best, dst)
		}
	}
	copy(dst, best)
	return nil
}

// solve finds the heights for one weight of the second differences squared,
// 1/m2, and the weights at hand, and leaves the factors of the matrix in a, b
// and e.
func (s *smoother) solve(dst, src []float64, stiff float64) bool {
	n := len(src)
	// Heights far above the sea would cost digits.
	datum := src[n/2]
	s.noiseMatrix()
	for i := range dst {
		z := s.a[i] * (src[i] - datum)
		if i > 0 {
			z += s.b[i-1] * (src[i-1] - datum)
		}
		if i+1 < n {
			z += s.b[i] * (src[i+1] - datum)
		}
		dst[i] = z
	}
	for i := 1; i+1 < n; i++ {
		c := stiff * s.weight[i]
		s.a[i-1] += c
		s.a[i] += 4 * c
		s.a[i+1] += c
		s.b[i-1] -= 2 * c
		s.b[i] -= 2 * c
		s.e[i-1] = c
	}
	s.e[n-2], s.e[n-1] = 0, 0
	if !solvePentadiagonal(dst, s.a, s.b, s.e) {
		return false
	}
	for i := range dst {
		dst[i] += datum
	}
	return true
}

// smoothOver writes to dst the heights smoothed so that a wave of a length in
// samples is halved in amplitude: longer ones pass, shorter ones go.
func smoothOver(dst, src []float64, samples float64) error {
	copy(dst, src)
	if len(src) < 3 || samples <= 2 {
		return nil
	}
	s := newSmoother(len(src), 1, 0, 1)
	if !s.solve(dst, src, lambdaFor(samples)) {
		return errNotSmooth
	}
	return nil
}

// lambdaFor is the weight of the roughness that halves a wave of n samples:
// (2 sin(pi/n))^-4, from |H(w)| = 1/(1 + lambda (2 sin(w/2))^4) (derived).
func lambdaFor(n float64) float64 { return math.Pow(2*math.Sin(math.Pi/n), -4) }

// noiseMatrix fills a and b with P, the inverse covariance of the noise, which
// has entries on and beside its diagonal.
func (s *smoother) noiseMatrix() {
	n := len(s.a)
	for i := range s.a {
		s.a[i], s.b[i] = (1+s.rho*s.rho)/s.v, -s.rho/s.v
	}
	s.a[0], s.a[n-1], s.b[n-1] = 1/s.v, 1/s.v, 0
}

// reweigh finds the weights from the bends of z; none is less than least.
func (s *smoother) reweigh(z []float64, least float64) {
	n := len(z)
	per := 1 / (s.dx * s.dx * bendPerM)
	for i := 1; i+1 < n; i++ {
		k := (z[i-1] - 2*z[i] + z[i+1]) * per
		s.bend[i] = k * k
	}
	s.bend[0], s.bend[n-1] = 0, 0
	sum := 0.0
	for j := 1; j < min(1+s.halfBend, n-1); j++ {
		sum += s.bend[j]
	}
	for i := 1; i+1 < n; i++ {
		lo, hi := i-s.halfBend, i+s.halfBend
		if hi < n-1 {
			sum += s.bend[hi]
		}
		if lo > 1 {
			sum -= s.bend[lo-1]
		}
		count := min(hi, n-2) - max(lo, 1) + 1
		x := 1 + math.Max(sum, 0)/float64(count)
		root := math.Sqrt(x)
		s.weight[i] = math.Max(least, 1/(root*math.Sqrt(root)))
	}
}

// criterion is Mallows' Cp of the heights just found (C. L. Mallows, Some
// comments on Cp, Technometrics 15 (1973) 661-675, from memory): what the noise
// leaves unexplained plus twice the degrees of freedom spent, tr(M^-1 P). Least
// is best. The entries of M^-1 beside its diagonal come from the factors by the
// recursion of K. Takahashi, J. Fagan and M.-S. Chin, Formation of a sparse bus
// impedance matrix (1973), from memory.
func (s *smoother) criterion(z, src []float64) float64 {
	n := len(z)
	inner, beside := (1+s.rho*s.rho)/s.v, -s.rho/s.v
	var d1, d2, o1 float64 // diagonal of the inverse one and two on, entry beside it one on
	freedom, misfit := 0.0, 0.0
	after := 0.0
	for i := n - 1; i >= 0; i-- {
		l1, l2 := s.b[i], s.e[i]
		two := -l1*o1 - l2*d2
		one := -l1*d1 - l2*o1
		d0 := 1/s.a[i] - l1*one - l2*two
		p := inner
		if i == 0 || i == n-1 {
			p = 1 / s.v
		}
		r := src[i] - z[i]
		freedom += p * d0
		misfit += p * r * r
		if i+1 < n {
			freedom += 2 * beside * one
			misfit += 2 * beside * r * after
		}
		after = r
		d2, d1, o1 = d1, d0, one
	}
	return misfit + 2*freedom
}

// solvePentadiagonal solves A x = x in place for a symmetric positive definite A
// given by its diagonal a and the two diagonals right of it, b and e (zero past
// the end); all are overwritten by the factors of A = L D L': D in a, and below
// the diagonal of L, b and e. No allocation, time linear in len(x). It is false
// where A is not positive definite.
func solvePentadiagonal(x, a, b, e []float64) bool {
	n := len(x)
	a, b, e = a[:n], b[:n], e[:n]
	for i := 0; i < n; i++ {
		if !(a[i] > 0) {
			return false
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
	return true
}
