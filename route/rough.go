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

func roughLengthM(pts []Point) float64 {
	sum := 0.0
	for i := 1; i < len(pts); i++ {
		sum += roughDistanceM(pts[i-1].LatDeg, pts[i-1].LonDeg, pts[i].LatDeg, pts[i].LonDeg)
	}
	return sum
}

// median reorders v and gives its median (of an even number of values the
// upper middle one), 0 for none. Selection by C. A. R. Hoare, Algorithm 65:
// Find, Comm. ACM 4 (1961) 321 (from memory), a sort where it makes no headway.
func median(v []float64) float64 {
	if len(v) == 0 {
		return 0
	}
	k := len(v) / 2
	lo, hi := 0, len(v)-1
	for rounds := 0; lo < hi; rounds++ {
		if rounds > 64 {
			slices.Sort(v[lo : hi+1])
			break
		}
		a, b, c := v[lo], v[lo+(hi-lo)/2], v[hi]
		pivot := max(min(a, b), min(max(a, b), c))
		i, j := lo, hi
		for i <= j {
			for v[i] < pivot {
				i++
			}
			for v[j] > pivot {
				j--
			}
			if i <= j {
				v[i], v[j] = v[j], v[i]
				i++
				j--
			}
		}
		switch {
		case k <= j:
			hi = j
		case k >= i:
			lo = i
		default:
			return v[k]
		}
	}
	return v[k]
}
