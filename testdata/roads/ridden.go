package roads

import (
	"fmt"
	"math"
	"math/rand/v2"
	"time"
)

// A Manner is how an invented rider rides, without asking what it costs: a cap, a
// sideways acceleration in bends, a deceleration before them and an acceleration
// after them, m/s and m/s2, and a speed uphill.
type Manner struct{ CapMps, CornerMps2, BrakeMps2, GainMps2, ClimbMps float64 }

// A Stop is a place, metres from the start, and how long the rider stands there, s.
type Stop struct{ AtM, ForS float64 }

// Ridden gives times, s, and distances, metres, of a ride in a manner, with stops
// in the order of the road.
func (r *Road) Ridden(m Manner, stops []Stop) (timeS, distM []float64) {
	const step = 1.0
	n := int(r.LengthM()/step) + 1
	v := make([]float64, n)
	for i := range v {
		at := float64(i) * step
		v[i] = math.Min(m.CapMps, math.Sqrt(m.CornerMps2*r.RadiusAt(at)))
		if r.GradeAt(at) > 0.02 {
			v[i] = math.Min(v[i], m.ClimbMps)
		}
	}
	v[0], v[n-1] = 1, 1
	for _, s := range stops {
		v[int(s.AtM/step)] = 0.3
	}
	for i := n - 2; i >= 0; i-- {
		v[i] = math.Min(v[i], math.Sqrt(v[i+1]*v[i+1]+2*m.BrakeMps2*step))
	}
	for i := 1; i < n; i++ {
		v[i] = math.Min(v[i], math.Sqrt(v[i-1]*v[i-1]+2*m.GainMps2*step))
	}
	t, next := 0.0, 0
	for i := range v {
		if i > 0 {
			t += 2 * step / (v[i] + v[i-1])
		}
		timeS, distM = append(timeS, t), append(distM, float64(i)*step)
		if next < len(stops) && i == int(stops[next].AtM/step) {
			t += stops[next].ForS
			timeS, distM = append(timeS, t), append(distM, float64(i)*step)
			next++
		}
	}
	return timeS, distM
}

// InventedRide is what an invented recording says of itself.
const InventedRide = "Invented ride on an invented road on open ocean; nobody rode it."

// RecordedHill is an invented recording of a ride down the second half of a hill
// of 8 %, taken every two seconds by a receiver that is off by some metres, with
// one stop.
func RecordedHill() (name string, fixes []Fix) {
	rng := rand.New(rand.NewPCG(6, 1))
	b := NewBuilder(-0.3, -26.0, 900, []Slope{{600, 0}, {2500, 0.05}, {300, 0}, {2500, -0.08}, {2000, -0.085}, {1500, -0.075}, {500, 0}})
	b.at = 1.0
	b.Wind(3000, Valley, rng)
	b.Wind(6500, Hairpins, rng)
	b.Wind(9500, Winding, rng)
	r := b.Road()
	t, m := r.Ridden(Manner{CapMps: 12.5, CornerMps2: 2.8, BrakeMps2: 1.8, GainMps2: 0.5, ClimbMps: 3.8}, []Stop{{3300, 150}, {6200, 75}})
	fixes = r.Record(t, m, 2, 0.8, 0.2, time.Date(2026, 7, 4, 7, 30, 0, 0, time.UTC), rng)
	return "Recorded hill (invented)", fixes
}

// TimedGPX writes fixes as one GPX 1.1 track with times, UTC.
func TimedGPX(name, desc string, fixes []Fix) []byte {
	pts := make([]Point, len(fixes))
	for i, f := range fixes {
		pts[i] = f.Point
	}
	return gpxOf(name, desc, pts, func(i int) string {
		return fmt.Sprintf("<time>%s</time>", fixes[i].Time.UTC().Format("2006-01-02T15:04:05.999Z"))
	})
}
