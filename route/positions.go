package route

import (
	"math"
	"slices"
)

// polarDeg is the latitude beyond which positions are left as they are,
// degrees. A choice of this program, no source.
const polarDeg = 85.0

// repairPositions merges standstills and smooths positions that jitter, but
// near the poles, where degrees of longitude are too short for it. Standstills of a
// replay are told by their times, before.
func (c *course) repairPositions(replay bool) {
	c.lay()
	if slices.ContainsFunc(c.lat, func(lat float64) bool { return math.Abs(lat) > polarDeg }) {
		return
	}
	if !replay {
		c.collapseStops()
	}
	c.smoothPositions()
}

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
