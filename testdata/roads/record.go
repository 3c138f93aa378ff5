package roads

import (
	"math/rand/v2"
	"time"
)

// A Fix is one point of an invented recording.
type Fix struct {
	Point
	Time time.Time
}

// Record rides the road from the start at the times and distances given, each
// strictly increasing but for stops, and takes a fix every stepS seconds, with
// independent position noise on each axis and height noise, both standard
// deviations in metres.
func (r *Road) Record(timeS, distM []float64, stepS, positionM, heightM float64, start time.Time, rng *rand.Rand) []Fix {
	var fixes []Fix
	k := 0
	for t := timeS[0]; t <= timeS[len(timeS)-1]; t += stepS {
		for k+2 < len(timeS) && timeS[k+1] <= t {
			k++
		}
		m := distM[k]
		if step := timeS[k+1] - timeS[k]; step > 0 {
			m += (distM[k+1] - distM[k]) * (t - timeS[k]) / step
		}
		lat, lon := r.PositionAt(m)
		fixes = append(fixes, Fix{Point{m, lat, lon, r.HeightAt(m) + heightM*rng.NormFloat64()}, start.Add(time.Duration(t * float64(time.Second)))})
	}
	pts := make([]Point, len(fixes))
	for i := range fixes {
		pts[i] = fixes[i].Point
	}
	if positionM > 0 {
		r.AddPositionNoise(pts, positionM, 0, rng)
	}
	for i := range fixes {
		fixes[i].Point = pts[i]
	}
	return fixes
}
