package route

import "math"

// stops finds where the rider stood and makes one point of each stop; drop-outs
// are counted. A stop is a run of points that stand, or a pause of the recorder in
// which the rider got next to nowhere.
func (r *recording) stops(f []fix) []fix {
	gap := r.dropOut(f)
	within := sameStopM + 4*r.ride.NoiseM
	slow := slowness(f, gap, math.Max(standWindowS, standPerNoise*r.ride.NoiseM)/2)
	out := f[:0:0]
	still := func(i, j int) bool { return slow[i] < standingMps && slow[j] < walkingMps }
	pushed := false
	for i := 0; i < len(f); {
		j := i
		for j+1 < len(f) && still(i, j+1) && distanceTo(f[i], f[j+1]) < within && (f[j+1].arriveS-f[j].arriveS <= gap || paused(f, j)) {
			j++
		}
		// Who leaves the place of a stop at this pace pushes the bicycle.
		far := j+1 < len(f) && still(i, j+1) && f[j+1].arriveS-f[j].arriveS <= gap
		pushed = j > i && (far || pushed) && distanceTo(f[i], f[j]) > pushingMps*(f[j].arriveS-f[i].arriveS)
		if pushed {
			out = append(out, f[i:j+1]...)
			i = j + 1
			continue
		}
		s := f[i]
		if j > i && f[j].arriveS-f[i].arriveS >= leastStopS && frozen(f, j, r.ride.NoiseM) {
			// The receiver stood, not the rider: what lies between is bridged.
			r.ride.DropOuts++
			r.ride.LongestS = math.Max(r.ride.LongestS, f[j+1].arriveS-f[i].arriveS)
		} else if j > i && f[j].arriveS-f[i].arriveS >= leastStopS {
			s = meanFix(f[i : j+1])
		} else {
			out = append(out, f[i:j]...)
			s = f[j]
		}
		if j+1 < len(f) {
			if dt := f[j+1].arriveS - f[j].arriveS; dt > gap && paused(f, j) {
				// Part of the way to the next point was ridden after the pause.
				s.end = math.Max(s.end, f[j+1].arriveS-distanceTo(s, f[j+1])/speedAfter(f, j+1))
			} else if dt > gap {
				r.ride.DropOuts++
				r.ride.LongestS = math.Max(r.ride.LongestS, dt)
			}
		}
		out = append(out, s)
		i = j + 1
	}
	return oneStopEach(out, within)
}

// oneStopEach makes one of stops that follow each other within betweenStopsS and
// lie nearer than withinM: a receiver that wanders while the rider stands.
func oneStopEach(f []fix, withinM float64) []fix {
	out := f[:0:0]
	last := -1 // the latest stop in out
	for _, p := range f {
		if p.end > p.arriveS {
			if last >= 0 && p.arriveS-out[last].end < betweenStopsS && distanceTo(out[last], p) < withinM {
				out[last].end = p.end
				out = out[:last+1]
				continue
			}
			last = len(out)
		}
		out = append(out, p)
	}
	return out
}

// slowness is the speed at each point, m/s, from the points up to halfS before and
// after that no gap parts from it.
func slowness(f []fix, gap, halfS float64) []float64 {
	slow := make([]float64, len(f))
	near := func(i, j int) bool {
		return math.Abs(f[j].arriveS-f[i].arriveS) <= halfS
	}
	for i := range f {
		lo, hi := i, i
		for lo > 0 && f[lo].arriveS-f[lo-1].arriveS <= gap && (near(i, lo-1) || lo == i) {
			lo--
		}
		for hi+1 < len(f) && f[hi+1].arriveS-f[hi].arriveS <= gap && (near(i, hi+1) || hi == i) {
			hi++
		}
		slow[i] = math.Inf(1)
		if lo < hi {
			slow[i] = meanSpeed(f[lo:i+1], f[i:hi+1])
		}
	}
	return slow
}

// paused tells whether next to no way was made between points j and j+1.
func paused(f []fix, j int) bool {
	d := distanceTo(f[j], f[j+1])
	return d < pauseM && d < standingMps*(f[j+1].arriveS-f[j].arriveS)
}

// frozen tells whether the rider only seems to stand up to point j: no rider gets
// from a standstill to the next point in its time.
func frozen(f []fix, j int, noiseM float64) bool {
	if j+1 >= len(f) {
		return false
	}
	return tooFarFromRest(f[j+1].arriveS-f[j].arriveS, distanceTo(f[j], f[j+1])-4*noiseM)
}

func distanceTo(a, b fix) float64 { return math.Hypot(b.east-a.east, b.north-a.north) }

// speedAfter is the speed from point j on, m/s, that of getting going at least.
func speedAfter(f []fix, j int) float64 {
	const gettingGoing, most = 1.5, 8.0
	if j+1 >= len(f) {
		return gettingGoing
	}
	return math.Min(math.Max(distanceTo(f[j], f[j+1])/(f[j+1].arriveS-f[j].arriveS), gettingGoing), most)
}

// meanFix makes one stop of points: their mean place and height, from the first
// arrival to the last.
func meanFix(f []fix) fix {
	s := f[0]
	s.end = f[len(f)-1].arriveS
	k := float64(len(f))
	var east, north, lat, lon, h, heights float64
	for _, p := range f {
		east, north = east+p.east/k, north+p.north/k
		lat += p.point.LatDeg / k
		lon += math.Remainder(p.point.LonDeg-s.point.LonDeg, 360) / k
		if p.point.HasHeight {
			h += p.point.HeightM
			heights++
		}
	}
	s.east, s.north, s.point.LatDeg, s.point.LonDeg = east, north, lat, wrap(s.point.LonDeg+lon)
	if heights > 0 {
		s.point.HeightM, s.point.HasHeight = h/heights, true
	}
	return s
}

// dropOut is the time between points from which on some are missing, s.
func (r *recording) dropOut(f []fix) float64 {
	steps := make([]float64, 0, len(f))
	for i := 1; i < len(f); i++ {
		steps = append(steps, f[i].arriveS-f[i-1].arriveS)
	}
	return math.Max(dropOutS, dropOutSteps*median(steps))
}

// meanSpeed is the speed between the means of two runs of points, m/s.
func meanSpeed(a, b []fix) float64 {
	mean := func(f []fix) (t, east, north float64) {
		k := float64(len(f))
		for _, p := range f {
			t, east, north = t+p.arriveS/k, east+p.east/k, north+p.north/k
		}
		return t, east, north
	}
	ta, ea, na := mean(a)
	tb, eb, nb := mean(b)
	if tb <= ta {
		return math.Inf(1)
	}
	return math.Hypot(eb-ea, nb-na) / (tb - ta)
}
