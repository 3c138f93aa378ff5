package route

import "math"

// toGrid interpolates position and height to n nodes, linear between points.
func (c *course) toGrid(p *Profile, n int) {
	f := make([]float64, 4*n)
	p.DistM, p.LatDeg, p.LonDeg, p.RawHeightM = f[:n:n], f[n:2*n:2*n], f[2*n:3*n:3*n], f[3*n:]
	k := 0
	for i := range p.DistM {
		d := float64(i) * p.SpacingM
		if i == n-1 {
			d = p.DistanceM
		}
		for k+2 < len(c.dist) && c.dist[k+1] < d {
			k++
		}
		t := (d - c.dist[k]) / (c.dist[k+1] - c.dist[k])
		// Longitudes take the short way round, across 180 degrees if need be.
		dLon := math.Remainder(c.lon[k+1]-c.lon[k], 360)
		p.DistM[i] = d
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
