package route

import "math"

// Rules for smoothing distance in time. Choices of this program, made on
// simulated recordings (derived), but where a source is said.
const (
	// pacePSD is the spectral density of a rider's acceleration along the road
	// while they neither brake hard nor sprint, m2/s3: 0.2 m/s2 that lasts for some
	// seconds.
	pacePSD = 0.5
	// brakeMps2 is the acceleration, m/s2, from which on a change of speed counts
	// as one that the smoother must follow.
	brakeMps2 = 0.4
	// paceRounds is how often such changes are looked for, doubtSigmas from how many
	// standard deviations on a distance is in doubt: a jump of the receiver is no
	// speed.
	paceRounds  = 5
	doubtSigmas = 3.0
)

// smoothPace finds the distances s and speeds v of a rider at times t, s, from
// distances y with noise of standard deviation noiseM, metres: those that
// minimise the sum of (y - s)^2/(noise^2 d) plus w a^2 h/q, where a is the
// acceleration by divided differences over h seconds and q is pacePSD. Doubts d
// grow with the residual and weights w fall with the acceleration, both found by
// iteration. It is false where times do not increase.
func smoothPace(t, y, s, v []float64, noiseM float64) bool {
	n := len(t)
	copy(s, y)
	if n < 3 {
		for i := range v {
			v[i] = (y[n-1] - y[0]) / (t[n-1] - t[0])
		}
		return true
	}
	f := make([]float64, 6*n)
	a, b, e, doubt, weight, acc := f[:n], f[n:2*n], f[2*n:3*n], f[3*n:4*n], f[4*n:5*n], f[5*n:]
	for i := range doubt {
		doubt[i], weight[i] = 1, 1
	}
	// row gives the weights of three values in the acceleration at k, and h.
	row := func(k int) (l, m, r, h float64) {
		h0, h1 := t[k]-t[k-1], t[k+1]-t[k]
		l, r = 2/(h0*(h0+h1)), 2/(h1*(h0+h1))
		return l, -l - r, r, (h0 + h1) / 2
	}
	for range paceRounds {
		for i := range a {
			a[i] = 1 / (noiseM * noiseM * doubt[i])
			b[i], e[i] = 0, 0
			s[i] = a[i] * y[i]
		}
		for k := 1; k+1 < n; k++ {
			l, m, r, h := row(k)
			c := weight[k] * h / pacePSD
			a[k-1] += c * l * l
			a[k] += c * m * m
			a[k+1] += c * r * r
			b[k-1] += c * l * m
			b[k] += c * m * r
			e[k-1] += c * l * r
		}
		if !solvePentadiagonal(s, a, b, e) {
			return false
		}
		for k := 1; k+1 < n; k++ {
			l, m, r, _ := row(k)
			acc[k] = l*s[k-1] + m*s[k] + r*s[k+1]
		}
		for i := range doubt {
			r := (y[i] - s[i]) / (doubtSigmas * noiseM)
			doubt[i] = 1 + r*r*r*r
			// Neighbours count with it: braking lasts for some seconds.
			sum, m := 0.0, 0.0
			for k := max(i-1, 1); k <= min(i+1, n-2); k++ {
				sum += acc[k] * acc[k]
				m++
			}
			x := 1 + sum/math.Max(m, 1)/(brakeMps2*brakeMps2)
			root := math.Sqrt(x)
			weight[i] = 1 / (root * math.Sqrt(root))
		}
	}
	for i := range v {
		switch {
		case i == 0:
			v[i] = (s[1] - s[0]) / (t[1] - t[0])
		case i == n-1:
			v[i] = (s[n-1] - s[n-2]) / (t[n-1] - t[n-2])
		default:
			h0, h1 := t[i]-t[i-1], t[i+1]-t[i]
			v[i] = (h1*(s[i]-s[i-1])/h0 + h0*(s[i+1]-s[i])/h1) / (h0 + h1)
		}
	}
	return true
}
