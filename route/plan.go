package route

import "math"

// Rules for headings and corners. Choices of this program, no source, but
// where derived.
const (
	// minCornerRadiusM is the least corner radius given, metres: a bicycle
	// does not turn tighter on a road at any speed that matters.
	minCornerRadiusM = 4.0
	// The position noise that must not look like a corner, standard deviation
	// on each axis, metres, is measured but never taken below minNoiseM or
	// above maxNoiseM. Where points are on the mean more than denseM metres
	// apart it cannot be told from the bends, and is taken as minNoiseM.
	minNoiseM = 1.0
	maxNoiseM = 2.5
	denseM    = 12.0
	// cornerSigmas is how many standard deviations of its noise a turn must
	// reach to count.
	cornerSigmas = 4.0
	// headingChordM is half the chord whose direction is the heading, metres.
	headingChordM = 10.0
)

// cornerChordsM are the chords tried for a corner, shortest first, metres.
// The shortest is short enough for a hairpin of 8 m radius; the longest finds
// bends of up to 500 m.
var cornerChordsM = [...]float64{15, 20, 25, 40, 80}

// maxFirstChordM is how far the shortest chord grows with the spacing of the
// points, metres.
const maxFirstChordM = 25.0

// plan fills HeadingRad and CornerRadiusM.
//
// The turn phi between the chord that ends at a node and the chord of the same
// length w that starts there is w/R on an arc of radius R. Position noise of
// standard deviation s on each axis gives phi the standard deviation
// s sqrt(6)/w (derived). So the shortest chord whose turn clearly exceeds its
// noise is taken: a hairpin is judged over 15 m, a sweeping bend over 80 m,
// and where no chord shows a turn the road is straight.
func (c *course) plan(p *Profile) {
	n := len(p.DistM)
	f := make([]float64, 4*n)
	x, y := f[:n:n], f[n:2*n:2*n]
	p.HeadingRad, p.CornerRadiusM = f[2*n:3*n:3*n], f[3*n:]
	spacing := make([]float64, n)
	c.unroll(p.DistM, x, y, spacing)
	soften(x, y, p.SpacingM)

	half := max(1, int(math.Round(headingChordM/p.SpacingM)))
	heading := 0.0
	for i := range p.HeadingRad {
		a, b := max(i-half, 0), min(i+half, n-1)
		if dx, dy := x[b]-x[a], y[b]-y[a]; dx != 0 || dy != 0 {
			heading = math.Atan2(dx, dy)
		}
		if heading < 0 {
			heading += 2 * math.Pi
		}
		p.HeadingRad[i] = heading
	}
	noise := c.positionNoiseM()
	for i := range p.CornerRadiusM {
		p.CornerRadiusM[i] = math.Inf(1)
		for k, chord := range cornerChordsM {
			if k == 0 {
				chord = min(max(chord, spacing[i]), maxFirstChordM)
			}
			w := max(1, int(math.Round(chord/p.SpacingM)))
			if i < w || i+w >= n {
				continue
			}
			length := float64(w) * p.SpacingM
			least := cornerSigmas * noise * math.Sqrt(6) / length
			ax, ay, bx, by := x[i]-x[i-w], y[i]-y[i-w], x[i+w]-x[i], y[i+w]-y[i]
			if cross, dot := math.Abs(ax*by-ay*bx), ax*bx+ay*by; cross < least*dot {
				continue // tan(turn) < least, without the cost of the angle
			} else if turn := math.Atan2(cross, dot); turn > least {
				p.CornerRadiusM[i] = max(length/turn, minCornerRadiusM)
				break
			}
		}
	}
}

// positionNoiseM estimates the standard deviation of the position noise on
// one axis, metres, from the change from point to point of the sideways step
// out of line, which a steady bend does not have: four positions with weights
// 1, 3, 3, 1 give it the standard deviation sqrt(20) times that of one.
func (c *course) positionNoiseM() float64 {
	n := len(c.dist)
	if n < 5 || c.dist[n-1]/float64(n-1) > denseM {
		return minNoiseM
	}
	change := make([]float64, 0, n)
	before := 0.0
	for i := 1; i+1 < n; i++ {
		turn := math.Remainder(c.azimuth[i]-c.azimuth[i-1], 2*math.Pi)
		aside := turn * (c.dist[i+1] - c.dist[i-1]) / 2
		if i > 1 {
			change = append(change, math.Abs(aside-before))
		}
		before = aside
	}
	return min(max(madToSigma*median(change)/math.Sqrt(20), minNoiseM), maxNoiseM)
}

// unroll lays the course out in a plane, east and north in metres, each step
// with its own length and direction, and gives its position at the distances
// dist, and the length of the step each lies on.
func (c *course) unroll(dist, x, y, spacing []float64) {
	k, px, py := 0, 0.0, 0.0
	sin, cos := math.Sincos(c.azimuth[0])
	for i, d := range dist {
		for k+2 < len(c.dist) && c.dist[k+1] < d {
			step := c.dist[k+1] - c.dist[k]
			px += step * sin
			py += step * cos
			k++
			sin, cos = math.Sincos(c.azimuth[k])
		}
		x[i] = px + (d-c.dist[k])*sin
		y[i] = py + (d-c.dist[k])*cos
		spacing[i] = c.dist[k+1] - c.dist[k]
	}
}

// soften averages positions over three nodes with weights 1/4, 1/2, 1/4 where
// the grid is fine enough for that to leave an 8 m hairpin its shape.
func soften(x, y []float64, spacingM float64) {
	const coarsest = 6.0
	if spacingM > coarsest {
		return
	}
	for _, v := range [...][]float64{x, y} {
		for i, before := 1, v[0]; i+1 < len(v); i++ {
			here := v[i]
			v[i] = before/4 + here/2 + v[i+1]/4
			before = here
		}
	}
}
