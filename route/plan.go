package route

import "math"

// headingChordM is half the chord whose direction is the heading, metres. A
// choice of this program, no source.
const headingChordM = 10.0

// plan fills HeadingRad, CornerRadiusM and HairpinM.
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
	c.corners(p, x, y, spacing)
}

// unroll gives the places in the plane of lay at the distances dist, metres,
// and the length of the step each lies on.
func (c *course) unroll(dist, x, y, spacing []float64) {
	k := 0
	for i, d := range dist {
		for k+2 < len(c.dist) && c.dist[k+1] < d {
			k++
		}
		spacing[i] = c.dist[k+1] - c.dist[k]
		t := (d - c.dist[k]) / spacing[i]
		x[i] = c.east[k] + t*(c.east[k+1]-c.east[k])
		y[i] = c.north[k] + t*(c.north[k+1]-c.north[k])
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
