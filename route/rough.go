package route

import (
	"math"
	"slices"
)

// roughRadiusM is the mean Earth radius, metres (IUGG mean radius R1 of
// GRS80; Moritz, Geodetic Reference System 1980, J. Geodesy 74 (2000) 128;
// from memory). The spherical distance it gives is within 0.6 % (derived) and
// serves only to compare lengths.
const roughRadiusM = 6_371_008.8

// roughDistanceM is the haversine distance, metres.
func roughDistanceM(lat1, lon1, lat2, lon2 float64) float64 {
	const rad = math.Pi / 180
	a, b := math.Sin((lat2-lat1)*rad/2), math.Sin((lon2-lon1)*rad/2)
	h := a*a + math.Cos(lat1*rad)*math.Cos(lat2*rad)*b*b
	return 2 * roughRadiusM * math.Asin(math.Sqrt(min(1, h)))
}

// median reorders v and gives its median, 0 for none.
func median(v []float64) float64 {
	if len(v) == 0 {
		return 0
	}
	slices.Sort(v)
	if n := len(v); n%2 == 0 {
		return (v[n/2-1] + v[n/2]) / 2
	}
	return v[len(v)/2]
}
