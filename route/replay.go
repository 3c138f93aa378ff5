package route

import (
	"math"
	"time"
)

// toNodes turns the times of the course's points into a Ride on the profile's
// grid: speed along the road from a spline in time between stops, stops at the
// node nearest to where they were.
func (r *recording) toNodes(c *course, p *Profile) (*Ride, error) {
	n := len(c.dist)
	arrive, leave := make([]float64, n), make([]float64, n)
	for k := range c.dist {
		arrive[k] = r.arrive[c.number[k]-1]
		// Points merged into this one are part of a stop, or a position that the
		// receiver held for a moment.
		next := len(r.arrive)
		if k+1 < n {
			next = c.number[k+1] - 1
		}
		leave[k] = r.leave[next-1]
		if leave[k]-arrive[k] < leastStopS {
			leave[k] = arrive[k]
		}
	}
	ride := r.ride
	nodes := len(p.DistM)
	buf := make([]float64, 3*nodes)
	ride.TimeS, ride.StandS, ride.SpeedMps = buf[:nodes:nodes], buf[nodes:2*nodes:2*nodes], buf[2*nodes:]

	alpha := ride.NoiseM * ride.NoiseM / pacePSD
	// Independent noise of standard deviation s every h seconds leaves the slope
	// of the spline the variance s2 h w^3/(8 sqrt 2), w^4 = 1/(alpha h) (derived).
	if n > 1 {
		steps := make([]float64, 0, n)
		for k := 1; k < n; k++ {
			steps = append(steps, arrive[k]-leave[k-1])
		}
		h := median(steps)
		ride.StepS = h
		w := math.Pow(alpha*h, -0.25)
		ride.SpeedNoiseMps = ride.NoiseM * math.Sqrt(h*w*w*w/(8*math.Sqrt2))
	}
	node := 0
	for first := 0; first+1 < n; {
		last := first + 1
		for last+1 < n && leave[last] == arrive[last] {
			last++
		}
		m := newMotion(c.dist[first:last+1], arrive[first:last+1], leave[first], ride.NoiseM)
		for ; node < nodes && (p.DistM[node] <= c.dist[last] || last == n-1); node++ {
			ride.TimeS[node], ride.SpeedMps[node] = m.at(p.DistM[node])
		}
		first = last
	}
	start := leave[0]
	for i := range ride.TimeS {
		ride.TimeS[i] -= start
	}
	ride.Start = ride.Start.Add(time.Duration(start * float64(time.Second)))
	for k := 1; k+1 < n; k++ {
		stood := leave[k] - arrive[k]
		if stood <= 0 {
			continue
		}
		ride.Stops++
		ride.StoodS += stood
		i := min(max(int(math.Round(c.dist[k]/p.SpacingM)), 1), nodes-2)
		if p.DistM[i] > c.dist[k] {
			ride.TimeS[i] -= stood
		}
		ride.StandS[i] += stood
		ride.SpeedMps[i] = 0
	}
	// Rounding must not turn time back, whatever the file says.
	ride.TimeS[0] = 0
	for i := 1; i < nodes; i++ {
		from := ride.TimeS[i-1] + ride.StandS[i-1]
		if least := from + p.SpacingM/maxReplayMps; !(ride.TimeS[i] >= least) {
			ride.TimeS[i] = least
		}
	}
	paces := c.doubtPace(p, &ride)
	ride.reachable(p.SpacingM)
	if paces > fewPaces && float64(paces) > pacesPerKm*p.DistanceM/1000 {
		return nil, c.fail(0, "the times in the file are not those of a ride: the speed changes as no rider's does in "+count(paces)+" places over "+kilometres(p.DistanceM), onlyRides)
	}
	return &ride, nil
}

// Changes of speed that no rider makes, m/s2: braking harder than tyres and balance
// allow (0.7 g), and gaining more than falling down 30 % and sprinting give. They
// are told where speed changes by paceStepMps at least. Common practice, no source.
const (
	mostSlowing, mostGaining = 7.0, 4.0
	paceStepMps              = 2.0
	// hardestMps2 is the hardest braking of a replay, m/s2: both brakes of eight bicycles
	// reached 0.40-0.71 g (N. Famiglietti et al., maximum braking of eight bicycles,
	// SAE paper 2020-01-0876, published); riders tip over at some 0.6 g.
	hardestMps2 = 5.9
	// More of them than fewPaces, and than pacesPerKm on every kilometre, are no
	// ride's: a planner spaces vertices and counts them as seconds.
	fewPaces, pacesPerKm = 5, 2.0
)

// reachable lowers speeds that no brake takes down to those that follow, and no
// gain up from those before. The clock stays as it is.
func (r *Ride) reachable(spacingM float64) {
	v := r.SpeedMps
	for i := len(v) - 2; i >= 0; i-- {
		v[i] = math.Min(v[i], math.Sqrt(v[i+1]*v[i+1]+2*hardestMps2*spacingM))
	}
	for i := 1; i < len(v); i++ {
		v[i] = math.Min(v[i], math.Sqrt(v[i-1]*v[i-1]+2*mostGaining*spacingM))
	}
}

// doubtPace marks where the recorded speeds change as no rider's do, and counts it.
func (c *course) doubtPace(p *Profile, r *Ride) int {
	var where []spot
	for i := 1; i < len(p.DistM); i++ {
		a, b := r.SpeedMps[i-1], r.SpeedMps[i]
		gain := (b*b - a*a) / (2 * p.SpacingM)
		if math.Abs(b-a) < paceStepMps || gain > -mostSlowing && gain < mostGaining {
			continue
		}
		where = append(where, spot{p.DistM[i], math.Abs(gain)})
		c.doubts = append(c.doubts, doubt{startM: p.DistM[i-1], endM: p.DistM[i], paces: 1})
	}
	if len(where) > 0 {
		c.note("impossible-pace", len(where), "the recorded speed changes as no rider's does in "+plural(len(where), "place", "places")+", "+near(where))
	}
	return len(where)
}

// maxReplayMps bounds the speed of a replay, m/s.
const maxReplayMps = 60.0

// A motion is the ride along one stretch between stops: distance against time,
// a cubic in each step that never goes back.
type motion struct {
	t, s, v []float64
	k       int // step that the last answer was in
}

// newMotion fits the distances, metres, at times of arrival; the rider leaves the
// first at leaveS.
func newMotion(dist, arrive []float64, leaveS, noiseM float64) *motion {
	n := len(dist)
	buf := make([]float64, 3*n)
	m := &motion{t: buf[:n:n], s: buf[n : 2*n : 2*n], v: buf[2*n:]}
	copy(m.t, arrive)
	m.t[0] = leaveS
	if !smoothPace(m.t, dist, m.s, m.v, noiseM) {
		copy(m.s, dist)
	}
	// Both ends are where they are.
	a, b := dist[0]-m.s[0], dist[n-1]-m.s[n-1]
	for i := range m.s {
		f := (m.t[i] - m.t[0]) / (m.t[n-1] - m.t[0])
		m.s[i] += a + f*(b-a)
	}
	for i := 1; i < n; i++ {
		m.s[i] = math.Max(m.s[i], m.s[i-1])
	}
	m.s[n-1] = dist[n-1]
	for i := n - 2; i >= 0; i-- {
		m.s[i] = math.Min(m.s[i], m.s[i+1])
	}
	// Slopes within three times those of both steps beside keep a cubic from
	// going back (F. N. Fritsch and R. E. Carlson, Monotone piecewise cubic
	// interpolation, SIAM J. Numer. Anal. 17 (1980) 238-246, from memory).
	for i := range m.v {
		most := math.Inf(1)
		if i > 0 {
			most = math.Min(most, 3*(m.s[i]-m.s[i-1])/(m.t[i]-m.t[i-1]))
		}
		if i+1 < n {
			most = math.Min(most, 3*(m.s[i+1]-m.s[i])/(m.t[i+1]-m.t[i]))
		}
		m.v[i] = math.Min(math.Max(m.v[i], 0), most)
	}
	return m
}

// at gives time and speed at a distance; distances must not fall from call to
// call.
func (m *motion) at(d float64) (timeS, speedMps float64) {
	n := len(m.s)
	for m.k+2 < n && m.s[m.k+1] < d {
		m.k++
	}
	k := m.k
	h := m.t[k+1] - m.t[k]
	cubic := func(u float64) float64 {
		return m.s[k]*(1+2*u)*(1-u)*(1-u) + m.s[k+1]*u*u*(3-2*u) + h*u*(1-u)*(m.v[k]*(1-u)-m.v[k+1]*u)
	}
	lo, hi := 0.0, 1.0
	for range 50 {
		if mid := (lo + hi) / 2; cubic(mid) < d {
			lo = mid
		} else {
			hi = mid
		}
	}
	u := hi
	slope := 6*u*(1-u)*(m.s[k+1]-m.s[k])/h + m.v[k]*(1-u)*(1-3*u) + m.v[k+1]*u*(3*u-2)
	return m.t[k] + u*h, math.Min(math.Max(slope, 0), maxReplayMps)
}
