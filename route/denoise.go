package route

import (
	"math"
	"slices"
	"strconv"
)

// Rules for smoothing positions. Choices of this program, no source, but where
// derived.
const (
	// White noise of standard deviation s on each axis makes a road with
	// points every h metres longer by s*s/(h*h) (derived); positions are
	// smoothed where that is more than maxLengthening: 0.7 m at 10 m.
	maxLengthening = 0.005
	// leastJitterM is the noise that is never worth smoothing, metres: what
	// rounding to five decimals of a degree makes (derived).
	leastJitterM = 0.3
	// Positions are smoothed on a length of smoothing*(s*s*h)^(1/3) metres. The
	// road is then longer by 0.0442 s*s*h/length^3 of itself, 0.1 % (derived).
	// The spacing over that length is at most widestWave.
	smoothing, widestWave = 3.5, 1.3
	// A bend is smoothed less where the smoothed road turns by more than
	// bendSigmas standard deviations of what noise leaves, on bendLengthM metres
	// at least: a circle of 8 m radius keeps 0.87 of it, 1/(1+(length/radius)^4)
	// (derived).
	bendSigmas, bendLengthM = 5.5, 5.0
	// leastLeftM is what smoothing is taken to leave at least, metres, or
	// sparedPart of small noise: where a bend is spared by mistake all of it
	// stays, and slow wander beside it.
	leastLeftM, sparedPart = 0.9, 1.2
	// halfWindow is half the window, steps, in which the spacing of the points
	// is taken; it grows with the square of noise over spacing to maxHalfWindow.
	halfWindow, maxHalfWindow = 15, 200
)

// What smoothing on a length of 1/wave steps leaves of white noise: parts of
// its variance in second differences, over wave^5, and in positions, over wave
// (derived, by integrating the squares of 1/(1+(k/wave)^4) over wave numbers k).
const (
	leftInBends     = 0.0884
	leftInPositions = 0.265
)

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
		wave := smoothingWave(sigma, h)
		plain[i] = math.Pow(wave, -4)
		noise[i] = sigma * math.Sqrt(leftInBends*math.Pow(wave, 5))
	}
	x, y := make([]float64, n), make([]float64, n)
	factors := make([]float64, 3*n)
	fit := func(lambda []float64) bool {
		return penalised(x, c.east, lambda, factors) && penalised(y, c.north, lambda, factors)
	}
	if !fit(plain) {
		return
	}
	spareBends(lambda, plain, noise, spacing, x, y)
	if !fit(lambda) {
		return
	}
	before := c.dist[n-1]
	c.move(x, y)
	c.lay()
	c.leftM = max(sigma*math.Sqrt(leftInPositions*smoothingWave(sigma, mean)), min(sparedPart*sigma, leastLeftM))
	text := "positions jitter by some " + decimals(sigma, 1) + " m: smoothed; the road came out " + percentOf(max(1-c.dist[n-1]/before, 0)) + " shorter than point to point"
	c.note("position-noise", n, text)
}

// smoothingWave is the spacing of points over the length on which they are
// smoothed.
func smoothingWave(sigma, spacingM float64) float64 {
	return min(spacingM/(smoothing*math.Cbrt(sigma*sigma*spacingM)), widestWave)
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

func decimals(v float64, n int) string { return strconv.FormatFloat(v, 'f', n, 64) }

// percentOf words a share in per cent, to a tenth where it is small.
func percentOf(v float64) string {
	if 100*v < 10 {
		return decimals(100*v, 1) + " %"
	}
	return decimals(100*v, 0) + " %"
}
