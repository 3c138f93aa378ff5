package route

import "math"

// What the noise of heights is taken to be. Barometers scatter by 0.1 to 0.5 m;
// satellite-only heights wander by 3 to 10 m over 10 to 100 s, some 200 m of
// descent (all from memory).
const (
	// leastWhiteM2M is the noise that every file is taken to have, variance
	// times spacing, m3: 0.1 m at every 10 m of road.
	leastWhiteM2M = 0.1 * 0.1 * 10
	// quietWhites times that is still quiet: 0.2 m at every 10 m.
	quietWhites = 4.0
	// wanderLengthM is the length over which wandering heights forget, metres.
	wanderLengthM = 200.0
	// wanderShownM is the wandering from which on the user is told, metres:
	// less cannot be told from the road.
	wanderShownM = 0.9
	// wanderPart is the least part of the roughness from point to point that
	// wandering must make up to be believed.
	wanderPart = 0.30
	// scatterShownM is the same for independent scatter, metres.
	scatterShownM = 0.4
	// A file has stair-stepped heights if at least stairShare of its points on
	// sloping road have the height of the point before and the steps between
	// are of stairM metres and more.
	stairShare = 0.35
	stairM     = 0.45
)

// A heightNoise is what was found of the noise in a file's heights.
type heightNoise struct {
	// whiteM2M is the spectral density of independent noise, variance times
	// spacing, m3; scatterM its standard deviation at one point, metres.
	whiteM2M, scatterM float64
	// wanderM is the standard deviation of noise correlated over
	// wanderLengthM, metres, 0 for none.
	wanderM float64
	// stepM is the median height of stairs, metres, 0 for none, and stairLengthM
	// the median length of a tread.
	stepM, stairLengthM float64
	// rounded says that the stairs are whole metres.
	rounded bool
}

// quiet tells that nothing was found beyond what every file has.
func (h heightNoise) quiet() bool { return h.wanderM == 0 && h.whiteM2M <= quietWhites*leastWhiteM2M }

// recursion gives the noise on a grid of dx metres as r_i = rho r_i-1 + e_i, e_i
// of variance v, m2. Of two kinds the one that hides the road more is taken.
func (h heightNoise) recursion(dx float64) (rho, v float64) {
	if h.wanderM > 0 && h.cutoff(h.wanderDensity) < h.cutoff(h.whiteDensity) {
		rho = math.Exp(-dx / wanderLengthM)
		return rho, h.wanderM * h.wanderM * (1 - rho*rho)
	}
	return 0, h.whiteM2M / dx
}

func (h heightNoise) whiteDensity(float64) float64 { return h.whiteM2M }

// wanderDensity is the spectral density of an exponentially correlated noise at
// wave number u, 1/m: 2 s^2 L/(1 + u^2 L^2) (derived).
func (h heightNoise) wanderDensity(u float64) float64 {
	return 2 * h.wanderM * h.wanderM * wanderLengthM / (1 + u*u*wanderLengthM*wanderLengthM)
}

// cutoff is the wave number, 1/m, above which noise of the given density hides
// the height of a road of middling roughness: u^4 S(u) = q.
func (h heightNoise) cutoff(density func(u float64) float64) float64 {
	const q = 1e-6
	lo, hi := 1e-5, 10.0
	for range 60 {
		u := math.Sqrt(lo * hi)
		if u*u*u*u*density(u) < q {
			lo = u
		} else {
			hi = u
		}
	}
	return lo
}

// smoothedOverM is the wavelength, metres, at which noise and a road of middling
// roughness weigh the same.
func (h heightNoise) smoothedOverM() float64 {
	return 2 * math.Pi / math.Min(h.cutoff(h.wanderDensity), h.cutoff(h.whiteDensity))
}

// noise finds the noise of the heights: stairs from equal heights in a row, the
// rest from how the second difference of height grows with its length. That of
// independent scatter of variance s2 stays at 6 s2; that of heights that wander
// starts as 4 s2 d/L; that of a road of roughness q grows as (2/3) q d^3 (all
// derived). Medians make bends of the road, crests and spikes count little.
func (c *course) noise() heightNoise {
	h := heightNoise{whiteM2M: leastWhiteM2M}
	n := len(c.h)
	length := c.dist[n-1]
	spacing := length / float64(n-1)
	h.rounded = c.wholeMetres()
	sloping := c.sloping()
	h.stepM, h.stairLengthM = c.stairs(h.rounded, sloping)
	if h.stepM > 0 {
		// A height rounded to steps is off by up to half a step, evenly.
		h.whiteM2M = math.Max(h.whiteM2M, h.stepM*h.stepM/12*h.stairLengthM)
	}
	var lags, vs []float64
	for lag := math.Max(10, spacing); len(lags) < 6 && lag < length/30; lag *= 1.6 {
		v, ok := c.secondDifference(lag, sloping)
		if !ok {
			continue
		}
		lags, vs = append(lags, lag), append(vs, v)
	}
	if len(lags) < 3 {
		return h
	}
	white, wander := fitNoise(lags, vs, true)
	if wander*wandering(lags[0]) < wanderPart*vs[0] {
		// Wandering shows from point to point too. A road whose grade changes every
		// hundred metres does not, and must not be taken for it.
		white, wander = fitNoise(lags, vs, false)
	}
	if h.stepM == 0 {
		h.scatterM = math.Sqrt(white)
		h.whiteM2M = math.Max(h.whiteM2M, white*spacing)
	}
	if w := math.Sqrt(wander); w >= wanderShownM {
		h.wanderM = w
	}
	return h
}

// sloping marks the points where noise is looked for: where the road falls or rises
// by slopeGrade over some 300 m, as brakes and legs are at work there, or all points
// of a road that hardly has such. A level kilometre may be free of noise that the
// next hill is full of.
func (c *course) sloping() []bool {
	const halfM, slopeGrade, leastPoints, leastPart = 150.0, 0.02, 100, 0.10
	n := len(c.h)
	on := make([]bool, n)
	a, b, count := 0, 0, 0
	for i := range c.h {
		for c.dist[i]-c.dist[a] > halfM {
			a++
		}
		for b+1 < n && c.dist[b+1]-c.dist[i] <= halfM {
			b++
		}
		if rise := math.Abs(c.h[b] - c.h[a]); rise > slopeGrade*(c.dist[b]-c.dist[a]) {
			on[i] = true
			count++
		}
	}
	if count < leastPoints || float64(count) < leastPart*float64(n) {
		for i := range on {
			on[i] = true
		}
	}
	return on
}

// secondDifference gives the variance of h(x-d) - 2 h(x) + h(x+d) for d about
// lag metres where the road slopes, from the median of its square, and whether
// there is enough of it.
func (c *course) secondDifference(lag float64, sloping []bool) (variance float64, ok bool) {
	const atLeast = 30
	n := len(c.h)
	squares := make([]float64, 0, n)
	a, b := 0, 0
	for i := range c.h {
		for a+1 < i && c.dist[i]-c.dist[a+1] >= lag {
			a++
		}
		for b < n-1 && c.dist[b]-c.dist[i] < lag {
			b++
		}
		before, after := c.dist[i]-c.dist[a], c.dist[b]-c.dist[i]
		if !sloping[i] || before < lag || after < lag || before > 1.5*lag || after > 1.5*lag {
			continue
		}
		d := 2 * c.departure(i, a, b)
		squares = append(squares, d*d)
	}
	// The median of the square of a normal variable is 0.4549 of its variance
	// (derived).
	return median(squares) / 0.4549, len(squares) >= atLeast
}

// wandering is the variance of the second difference over d metres of noise that
// is exponentially correlated over wanderLengthM, as part of its own (derived).
func wandering(d float64) float64 {
	rho := math.Exp(-d / wanderLengthM)
	return 2 * (3 - 4*rho + rho*rho)
}

// fitNoise fits 6 white + 4 wander g(d) + (2/3) q d^3 to the variances v at the
// lags d by least squares of relative errors, no part below zero, and gives the
// first two, m2; without the second if the heights may not wander.
func fitNoise(lags, v []float64, mayWander bool) (white, wander float64) {
	basis := func(k int, d float64) float64 {
		switch k {
		case 0:
			return 6
		case 1:
			return wandering(d)
		}
		return d * d * d * 2 / 3
	}
	bestError := math.Inf(1)
	for subset := 1; subset < 8; subset++ {
		if subset&2 != 0 && !mayWander {
			continue
		}
		var m [3][4]float64
		for i, d := range lags {
			var f [3]float64
			for k := range f {
				if subset&(1<<k) != 0 {
					f[k] = basis(k, d) / v[i]
				}
			}
			for r := range 3 {
				for k := range 3 {
					m[r][k] += f[r] * f[k]
				}
				m[r][3] += f[r]
			}
		}
		for k := range 3 {
			if subset&(1<<k) == 0 {
				m[k][k] = 1
			}
		}
		x, ok := solve3(m)
		if !ok || x[0] < 0 || x[1] < 0 || x[2] < 0 {
			continue
		}
		sum := 0.0
		for i, d := range lags {
			e := -1.0
			for k := range 3 {
				e += x[k] * basis(k, d) / v[i]
			}
			sum += e * e
		}
		if sum < bestError {
			bestError, white, wander = sum, x[0], x[1]
		}
	}
	return white, wander
}

// solve3 solves three equations, the right-hand sides in the last column.
func solve3(m [3][4]float64) (x [3]float64, ok bool) {
	for k := range 3 {
		p := k
		for r := k + 1; r < 3; r++ {
			if math.Abs(m[r][k]) > math.Abs(m[p][k]) {
				p = r
			}
		}
		m[k], m[p] = m[p], m[k]
		if m[k][k] == 0 {
			return x, false
		}
		for r := range 3 {
			if r == k {
				continue
			}
			f := m[r][k] / m[k][k]
			for j := k; j < 4; j++ {
				m[r][j] -= f * m[k][j]
			}
		}
	}
	for k := range 3 {
		x[k] = m[k][3] / m[k][k]
		if math.IsNaN(x[k]) {
			return x, false
		}
	}
	return x, true
}

// stairs finds heights that go in steps: the median step and the median
// length of a tread, metres, or zeros.
func (c *course) stairs(rounded bool, sloping []bool) (stepM, treadM float64) {
	var same, all int
	var treads, steps []float64
	last := 0.0
	for i := 1; i < len(c.h); i++ {
		if !sloping[i] {
			last = c.dist[i]
			continue
		}
		d := c.h[i] - c.h[i-1]
		all++
		if d == 0 {
			same++
			continue
		}
		treads = append(treads, c.dist[i]-last)
		last = c.dist[i]
		steps = append(steps, math.Abs(d))
	}
	if len(treads) == 0 || all < 30 {
		return 0, 0
	}
	if rounded {
		return 1, median(treads)
	}
	if float64(same) < stairShare*float64(all) {
		return 0, 0
	}
	if stepM = median(steps); stepM < stairM {
		return 0, 0
	}
	return stepM, median(treads)
}

// wholeMetres tells whether the heights are rounded to metres.
func (c *course) wholeMetres() bool {
	const share = 0.95
	whole := 0
	for _, h := range c.h {
		if h == math.Trunc(h) {
			whole++
		}
	}
	return float64(whole) >= share*float64(len(c.h))
}
