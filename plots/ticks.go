package plots

import "math"

// ticks are the marks of an axis.
type ticks struct {
	at       []float64
	decimals int
}

// ticksIn places at most most marks at round values in [lo, hi].
func ticksIn(lo, hi float64, most int) ticks {
	span := hi - lo
	if !(span > 0) || most < 1 {
		return ticks{}
	}
	exp := math.Floor(math.Log10(span / float64(most)))
	for ; ; exp++ {
		for _, m := range []float64{1, 2, 5} {
			step := m * math.Pow(10, exp)
			first, last := math.Ceil(lo/step-1e-9), math.Floor(hi/step+1e-9)
			if last-first+1 > float64(most) {
				continue
			}
			t := ticks{decimals: max(0, int(-exp))}
			for i := first; i <= last; i++ {
				t.at = append(t.at, i*step)
			}
			return t
		}
	}
}
