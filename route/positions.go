package route

import (
	"math"
	"slices"
	"strconv"
)

// Rules for positions with noise. Choices of this program, no source, but
// where derived.
const (
	// White noise of standard deviation s on each axis makes a road with
	// points every h metres longer by s*s/(h*h) (derived); positions are
	// smoothed where that is more than maxLengthening: 0.7 m at 10 m.
	maxLengthening = 0.005
	// leastJitterM is the noise that is never worth smoothing, metres: half
	// the step of positions given to five decimals of a degree.
	leastJitterM = 0.3
	// leastSwaps is the least part of neighbouring turns that go to opposite
	// sides where noise makes them, sparseSwaps where points are on the mean
	// more than denseM metres apart, so that bends of the road may do so too:
	// white noise alone gives 0.73 (arccos(-2/3)/pi, derived), a road of steady
	// bends nearly none. Beyond loosestM noise is not looked for.
	leastSwaps, sparseSwaps = 0.45, 0.60
	denseM, loosestM        = 12.0, 60.0
	// smoothestM and the noise give the length, metres, on which positions
	// are smoothed: smoothing*(s*s*h)^(1/3). The road is then longer by
	// 0.0442 s*s*h/length^3 of itself (derived), 0.1 % of it.
	smoothing = 3.5
	// A bend is smoothed less where the smoothed road turns by more than
	// bendSigmas standard deviations of what noise leaves.
	bendSigmas = 5.5
	// bendLengthM is the length on which bends are smoothed at most, metres: it
	// leaves a hairpin of 8 m radius nine tenths of it.
	bendLengthM = 5.0
	// widestWave bounds the spacing of the points over the smoothing length.
	widestWave = 1.3
	// straighter is the part of the road taken for its straighter part, normal
	// the size which that part of normally distributed values does not exceed,
	// rayleigh that of the lengths of such vectors, in standard deviations.
	straighter, normal, rayleigh = 0.30, 0.3853, 0.8446
	// smoothingPasses is how often bends are looked for and spared.
	smoothingPasses = 2
	// leastLeftM is what smoothing is taken to leave at least, metres, or
	// sparedPart of small noise: where a bend is spared by mistake all of it
	// stays, and slow wander beside it.
	leastLeftM, sparedPart = 0.9, 1.2
	// halfWindow is half the window, steps, in which the spacing of the points
	// is taken; it grows with the square of noise over spacing to maxHalfWindow.
	halfWindow, maxHalfWindow = 15, 200
	// maxSamples is how many places, or twice as many, are enough to measure
	// noise at.
	maxSamples = 2000
	// polarDeg is the latitude beyond which positions are left alone, degrees.
	polarDeg = 85.0
)

// lay gives every point a place in a plane, east and north in metres: each
// step with its own length and direction.
func (c *course) lay() {
	n := len(c.dist)
	if cap(c.east) < n {
		f := make([]float64, 2*n)
		c.east, c.north = f[:0:n], f[n:n:2*n]
	}
	c.east, c.north = c.east[:n], c.north[:n]
	x, y := 0.0, 0.0
	for i := range c.east {
		c.east[i], c.north[i] = x, y
		if i+1 < n {
			sin, cos := math.Sincos(c.azimuth[i])
			step := c.dist[i+1] - c.dist[i]
			x += step * sin
			y += step * cos
		}
	}
}

// measureNoise estimates the standard deviation of white position noise on
// one axis, metres, and 0 where it cannot be told from the road: from the
// third difference of positions across the direction of travel, which a
// steady bend does not have; weights 1, 3, 3, 1 give it the standard
// deviation sqrt(20) times that of one position.
func (c *course) measureNoise() float64 {
	const wide = 2 // steps on either side for the direction of travel
	n := len(c.dist)
	mean := c.dist[n-1] / float64(n-1)
	if n < 4+2*wide || mean > loosestM {
		return 0
	}
	least := leastSwaps
	if mean > denseM {
		least = sparseSwaps
	}
	if c.swaps() < least {
		return 0
	}
	aside := c.thirdDifferences(1, wide, max(1, n/maxSamples))
	return madToSigma * median(aside) / math.Sqrt(20)
}

// swaps is the part of neighbouring turns that go to opposite sides.
func (c *course) swaps() float64 {
	x, y := c.east, c.north
	swaps, all, before := 0, 0, 0.0
	for i := 1; i+1 < len(x); i++ {
		turn := (x[i]-x[i-1])*(y[i+1]-y[i]) - (y[i]-y[i-1])*(x[i+1]-x[i])
		if turn != 0 && before != 0 {
			all++
			if turn < 0 != (before < 0) {
				swaps++
			}
		}
		before = turn
	}
	if all == 0 {
		return 0
	}
	return float64(swaps) / float64(all)
}

// repairPositions merges standstills and smooths positions that jitter, but
// near the poles, where degrees of longitude are too short for it.
func (c *course) repairPositions() {
	c.lay()
	if slices.ContainsFunc(c.lat, func(lat float64) bool { return math.Abs(lat) > polarDeg }) {
		return
	}
	c.collapseStops()
	c.smoothPositions()
}

// smoothPositions takes white noise out of the positions where it would make
// the road longer than it is, and says so. The ends stay.
//
// Positions are those that minimise the squared distance to the points plus
// lambda times the squared second differences (see smooth); lambda follows the
// noise and the local spacing, and is less where the road bends more than
// noise could, so that hairpins stay.
func (c *course) smoothPositions() {
	c.noiseM = c.measureNoise()
	c.leftM = c.noiseM
	n := len(c.dist)
	sigma := c.noiseM
	if sigma < leastJitterM {
		return
	}
	spacing, mean := c.trueSpacing(sigma)
	if sigma*sigma < maxLengthening*mean*mean {
		return
	}
	lambda, plain := make([]float64, n), make([]float64, n)
	noise := make([]float64, n) // of a second difference once smoothed
	for i, h := range spacing {
		wave := min(h/(smoothing*math.Cbrt(sigma*sigma*h)), widestWave)
		plain[i] = math.Pow(wave, -4)
		noise[i] = sigma * math.Sqrt(0.0884*math.Pow(wave, 5))
	}
	copy(lambda, plain)
	x, y := make([]float64, n), make([]float64, n)
	factors := make([]float64, 3*n)
	for pass := range smoothingPasses {
		if pass > 0 {
			spareBends(lambda, plain, noise, spacing, x, y)
		}
		if !penalised(x, c.east, lambda, factors) || !penalised(y, c.north, lambda, factors) {
			return
		}
	}
	before := c.dist[n-1]
	c.move(x, y)
	c.lay()
	wave := min(mean/(smoothing*math.Cbrt(sigma*sigma*mean)), widestWave)
	c.leftM = max(sigma*math.Sqrt(0.265*wave), min(sparedPart*sigma, leastLeftM))
	text := "positions jitter by some " + decimals(sigma, 1) + " m: smoothed; the road came out " + percentOf(1-c.dist[n-1]/before) + " shorter than point to point"
	c.note("position-noise", n, text)
}

// trueSpacing gives the local distance between points without what noise adds
// to it, and its mean, metres: the mean square of a step is that of the road
// plus 4 sigma squared (derived).
func (c *course) trueSpacing(sigma float64) (local []float64, mean float64) {
	n := len(c.dist)
	sum := make([]float64, n) // of squared steps before point i
	for i := 1; i < n; i++ {
		d := c.dist[i] - c.dist[i-1]
		sum[i] = sum[i-1] + d*d
	}
	clear := func(a, b int) float64 { return (sum[b]-sum[a])/float64(b-a) - 4*sigma*sigma }
	steps := make([]float64, n-1)
	for i := range steps {
		steps[i] = c.dist[i+1] - c.dist[i]
	}
	typical := median(steps)
	mean = math.Sqrt(max(typical*typical-2.77*sigma*sigma, sigma*sigma/16))
	half := min(int(halfWindow*(1+sigma*sigma/(mean*mean))), maxHalfWindow)
	local = make([]float64, n)
	for i := range local {
		a, b := max(i-half, 0), min(i+half, n-1)
		local[i] = math.Sqrt(max(clear(a, b), mean*mean/4))
	}
	return local, mean
}

// spareBends lowers the weights lambda from plain where the second differences
// of x and y stand out of the noise, and beside such places. Where even the
// straighter part of the road has more of them than white noise leaves,
// positions wander slowly too, and that much more is asked of a bend.
func spareBends(lambda, plain, noise, spacing, x, y []float64) {
	n := len(x)
	if n < 3 {
		return
	}
	bend := make([]float64, n-2, 2*(n-2))
	for i := range bend {
		bend[i] = math.Hypot(x[i]-2*x[i+1]+x[i+2], y[i]-2*y[i+1]+y[i+2]) / noise[i+1]
	}
	sorted := append(bend[n-2:], bend...)
	slices.Sort(sorted)
	wander := math.Sqrt(max(1, sorted[int(straighter*float64(n-2))]/rayleigh))
	for i, b := range bend {
		least := math.Pow(bendLengthM/spacing[i+1], 4)
		l := plain[i+1]
		lambda[i+1] = max(l/(1+math.Pow(b/(bendSigmas*wander), 8)), min(least, l))
	}
	before := lambda[1]
	for i := 1; i+1 < n; i++ {
		here := lambda[i]
		lambda[i] = min(before, here, lambda[min(i+1, n-2)])
		before = here
	}
}

// penalised writes to dst the values that minimise the squared distance to src
// plus lambda[i] times the square of each second difference, the ends kept.
// All have one length; factors has three times that and is overwritten. It is
// false where numbers are too large or small for that.
func penalised(dst, src, lambda, factors []float64) bool {
	n := len(src)
	copy(dst, src)
	if n < 3 {
		return true
	}
	clear(factors)
	a, b, e := factors[:n], factors[n:2*n], factors[2*n:3*n]
	for i := range a {
		a[i] = 1
	}
	const held = 1e9 // weight of the ends
	a[0], a[n-1] = held, held
	dst[0] *= held
	dst[n-1] *= held
	for i := 1; i+1 < n; i++ {
		l := lambda[i]
		a[i-1] += l
		a[i] += 4 * l
		a[i+1] += l
		b[i-1] -= 2 * l
		b[i] -= 2 * l
		e[i-1] += l
	}
	solved := solvePentadiagonal(dst, a, b, e)
	dst[0], dst[n-1] = src[0], src[n-1]
	return solved
}

// move puts the points at new places in the plane of lay and measures the
// distances anew.
func (c *course) move(x, y []float64) {
	for i := range x {
		c.shift(i, x[i]-c.east[i], y[i]-c.north[i])
	}
	c.remeasure()
}

// shift moves point i by metres east and north.
func (c *course) shift(i int, east, north float64) {
	if east == 0 && north == 0 {
		return
	}
	perLat, perLon := metresPerDegree(c.lat[i])
	c.lat[i] += north / perLat
	c.lon[i] = wrap(c.lon[i] + east/perLon)
}

// remeasure gives dist and azimuth of points that were moved. Points that came
// to lie on each other are kept minStepM apart.
func (c *course) remeasure() {
	total := 0.0
	for i := range c.azimuth {
		step, azimuth := inverse(c.lat[i], c.lon[i], c.lat[i+1], c.lon[i+1])
		total += max(step, minStepM)
		c.azimuth[i], c.dist[i+1] = azimuth, total
	}
}

// metresPerDegree are the lengths of a degree of latitude and of longitude on
// WGS84 (series in the latitude of the meridian's and the parallel's radius,
// derived; NIMA TR8350.2, 3rd edition 2000, for the ellipsoid, from memory).
func metresPerDegree(latDeg float64) (north, east float64) {
	const a, f, rad = 6378137.0, 1 / 298.257223563, math.Pi / 180
	const e2 = f * (2 - f)
	sin, cos := math.Sincos(latDeg * rad)
	w := 1 - e2*sin*sin
	return a * (1 - e2) / (w * math.Sqrt(w)) * rad, a / math.Sqrt(w) * cos * rad
}

func decimals(v float64, n int) string { return strconv.FormatFloat(v, 'f', n, 64) }

// percentOf words a share in per cent, two digits of it.
func percentOf(v float64) string { return strconv.FormatFloat(100*v, 'g', 2, 64) + " %" }

// wander is the noise of positions k points apart, metres, as measureNoise has
// it, taken from the straighter part of the road, for at that distance bends
// are in it too. For a random walk turns have sqrt(10/9) of it (derived).
func (c *course) wander(k int) float64 {
	aside := c.thirdDifferences(k, 0, max(1, k/4, len(c.east)/maxSamples))
	if len(aside) == 0 {
		return 0
	}
	slices.Sort(aside)
	return aside[int(straighter*float64(len(aside)))] / (normal * math.Sqrt(20)) * math.Sqrt(10.0/9)
}

// thirdDifferences gives the sizes of third differences of positions k points
// apart across the direction of travel, which is taken from wide points before
// them to wide points after, metres. Every so many points are taken, counted
// from both ends, so that a route and its reverse have the same.
func (c *course) thirdDifferences(k, wide, every int) []float64 {
	x, y := c.east, c.north
	last := len(x) - 1 - 3*k
	aside := make([]float64, 0, 2*(max(last, 0)/every+1))
	at := func(i int) {
		dx, dy := x[i+3*k+wide]-x[i-wide], y[i+3*k+wide]-y[i-wide]
		ax, ay := x[i+3*k]-3*x[i+2*k]+3*x[i+k]-x[i], y[i+3*k]-3*y[i+2*k]+3*y[i+k]-y[i]
		if d := math.Hypot(dx, dy); d > 0 {
			aside = append(aside, math.Abs(ax*dy-ay*dx)/d)
		}
	}
	for i := wide; i+wide <= last; i += every {
		at(i)
		if every > 1 {
			at(last - i)
		}
	}
	return aside
}
