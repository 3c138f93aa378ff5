package route

import "math"

// gridOf is a profile of which only the grid is known, of steps of about step
// metres.
func (c *course) gridOf(step float64) (*Profile, error) {
	length := c.dist[len(c.dist)-1]
	n := max(1, int(math.Round(length/step))) + 1
	if n > MaxNodes {
		return nil, c.fail(0, "a grid of "+count(n)+" nodes is more than "+count(MaxNodes)+", the limit", "choose a larger grid step")
	}
	p := &Profile{SpacingM: length / float64(n-1), DistanceM: length, DistM: make([]float64, n)}
	for i := range p.DistM {
		p.DistM[i] = float64(i) * p.SpacingM
	}
	p.DistM[n-1] = length
	return p, nil
}

// toGrid interpolates position and height to the nodes, linear between points.
func (c *course) toGrid(p *Profile) {
	n := len(p.DistM)
	f := make([]float64, 3*n)
	p.LatDeg, p.LonDeg, p.RawHeightM = f[:n:n], f[n:2*n:2*n], f[2*n:]
	k := 0
	for i, d := range p.DistM {
		for k+2 < len(c.dist) && c.dist[k+1] < d {
			k++
		}
		t := (d - c.dist[k]) / (c.dist[k+1] - c.dist[k])
		// Longitudes take the short way round, across 180 degrees if need be.
		dLon := math.Remainder(c.lon[k+1]-c.lon[k], 360)
		p.LatDeg[i] = c.lat[k] + t*(c.lat[k+1]-c.lat[k])
		p.LonDeg[i] = wrap(c.lon[k] + t*dLon)
		p.RawHeightM[i] = c.h[k] + t*(c.h[k+1]-c.h[k])
	}
	last := len(c.h) - 1
	p.LatDeg[n-1], p.LonDeg[n-1], p.RawHeightM[n-1] = c.lat[last], c.lon[last], c.h[last]
}

// wrap brings a longitude into [-180, 180] degrees.
func wrap(lon float64) float64 {
	if lon > 180 || lon < -180 {
		return math.Remainder(lon, 360)
	}
	return lon
}
