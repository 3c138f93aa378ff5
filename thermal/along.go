package thermal

import "rimheat/thermal/risk"

// mostCuts is into how many stretches a route is cut for what the draws say along it: as
// many as a figure can show.
const mostCuts = 400

// A trail raises the highest temperature of the brake track on each of the stretches of
// one length that a route is cut into. Without stretches it does nothing.
type trail struct {
	c []float32
	// lengthM is the whole route's.
	lengthM float64
	// at is the stretch that the ride has come to, beforeM and beforeC are where and
	// how hot the last step ended.
	at               int
	beforeM, beforeC float64
}

// step takes in the end of a step, m and °C. A step may pass over whole stretches: the
// temperature goes straight meanwhile.
func (t *trail) step(m, c float64) {
	n := len(t.c)
	if n == 0 {
		return
	}
	to := t.at
	if t.lengthM > 0 {
		to = min(max(int(m/t.lengthM*float64(n)), t.at), n-1)
	}
	for ; t.at < to; t.at++ {
		edgeM := t.lengthM * float64(t.at+1) / float64(n)
		there := t.beforeC
		if m > t.beforeM {
			there += min(max((edgeM-t.beforeM)/(m-t.beforeM), 0), 1) * (c - t.beforeC)
		}
		t.raise(t.at, there)
		t.raise(t.at+1, there)
	}
	t.raise(to, c)
	t.beforeM, t.beforeC = m, c
}

func (t *trail) raise(i int, c float64) { t.c[i] = max(t.c[i], float32(c)) }

// alongOf sums up the trails of all draws.
func alongOf(hot []hottest, lengthM float64) *Along {
	n := len(hot[0].trail)
	if n == 0 {
		return nil
	}
	all := make([]float64, 4*n)
	a := &Along{DistM: all[:n:n], P05C: all[n : 2*n : 2*n], P50C: all[2*n : 3*n : 3*n], P95C: all[3*n:]}
	v, q := make([]float64, len(hot)), make([]float64, 0, 3)
	for i := range n {
		for k := range hot {
			v[k] = float64(hot[k].trail[i])
		}
		q = risk.Quantiles(q[:0], v, 0.05, 0.5, 0.95)
		a.DistM[i] = (float64(i) + 0.5) * lengthM / float64(n)
		a.P05C[i], a.P50C[i], a.P95C[i] = q[0], q[1], q[2]
	}
	return a
}
