package plots

import (
	"math"
	"slices"

	"rimheat/thermal"
)

// A series is what a curve is drawn from: places along the route, metres,
// in rising order, and the values there. All values are finite.
type series struct{ distM, v []float64 }

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }

// clampSeries keeps the entries that are finite and holds the distances back
// from running backwards. The shorter slice decides the length.
func clampSeries(distM, v []float64) series {
	n := min(len(distM), len(v))
	s := series{distM: make([]float64, 0, n), v: make([]float64, 0, n)}
	far := math.Inf(-1)
	for i := range n {
		if !finite(distM[i]) || !finite(v[i]) {
			continue
		}
		far = max(far, distM[i])
		s.distM, s.v = append(s.distM, far), append(s.v, v[i])
	}
	return s
}

// hottest is the hotter of the two wheels at each step. pick chooses the
// history's column, °C. The end of the series is the hottest moment of the
// stop at the end of the route: the cooling after it would be an upright
// line on a distance axis.
func hottest(r *thermal.RimResult, pick func(*thermal.History) []float64) series {
	front, rear := pick(&r.Front), pick(&r.Rear)
	distM := r.Front.DistM
	if len(distM) == 0 {
		distM = r.Rear.DistM
	}
	n := len(distM)
	v := make([]float64, n)
	for i := range v {
		v[i] = math.NaN()
		if i < len(front) && finite(front[i]) {
			v[i] = front[i]
		}
		if i < len(rear) && finite(rear[i]) && !(v[i] >= rear[i]) {
			v[i] = rear[i]
		}
	}
	return clampSeries(distM, v).withoutFinalCooling()
}

// withoutFinalCooling cuts the series at its highest value at the last place.
func (s series) withoutFinalCooling() series {
	n := len(s.v)
	if n == 0 {
		return s
	}
	best := n - 1
	for i := n - 2; i >= 0 && s.distM[i] == s.distM[n-1]; i-- {
		if s.v[i] >= s.v[best] {
			best = i
		}
	}
	return series{distM: s.distM[:best+1], v: s.v[:best+1]}
}

// thin leaves at most four entries in each of n equal parts of [0, endM]:
// the first, the lowest, the highest and the last. No peak is lost.
func (s series) thin(endM float64, n int) series {
	var out series
	keep := func(i int) {
		out.distM, out.v = append(out.distM, s.distM[i]), append(out.v, s.v[i])
	}
	part := func(i int) int { return max(0, min(n-1, int(s.distM[i]/endM*float64(n)))) }
	for i := 0; i < len(s.v); {
		j, lo, hi := i, i, i
		for ; j < len(s.v) && part(j) == part(i); j++ {
			if s.v[j] < s.v[lo] {
				lo = j
			}
			if s.v[j] > s.v[hi] {
				hi = j
			}
		}
		a, b := min(lo, hi), max(lo, hi)
		keep(i)
		if a > i {
			keep(a)
		}
		if b > a && b > i {
			keep(b)
		}
		if j-1 > b {
			keep(j - 1)
		}
		i = j
	}
	return out
}

// between cuts the series to [fromM, toM], with values interpolated at the
// two ends.
func (s series) between(fromM, toM float64) series {
	var out series
	put := func(d, v float64) { out.distM, out.v = append(out.distM, d), append(out.v, v) }
	for i := range s.v {
		if i > 0 {
			for _, d := range []float64{fromM, toM} {
				if s.distM[i-1] < d && d < s.distM[i] {
					f := (d - s.distM[i-1]) / (s.distM[i] - s.distM[i-1])
					put(d, s.v[i-1]+f*(s.v[i]-s.v[i-1]))
				}
			}
		}
		if s.distM[i] >= fromM && s.distM[i] <= toM {
			put(s.distM[i], s.v[i])
		}
	}
	return out
}

// bounds are the lowest and highest value; +Inf and -Inf if there is none.
func (s series) bounds() (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for _, v := range s.v {
		lo, hi = min(lo, v), max(hi, v)
	}
	return lo, hi
}

// at is the value at m, metres, interpolated; beyond its ends the series goes on level.
// It is NaN for an empty one.
func (s series) at(m float64) float64 {
	n := len(s.v)
	if n == 0 {
		return math.NaN()
	}
	k, _ := slices.BinarySearch(s.distM, m)
	switch {
	case k == 0:
		return s.v[0]
	case k == n:
		return s.v[n-1]
	}
	return s.v[k-1] + (m-s.distM[k-1])/(s.distM[k]-s.distM[k-1])*(s.v[k]-s.v[k-1])
}
