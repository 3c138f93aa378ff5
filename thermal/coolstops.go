package thermal

import (
	"context"
	"math"
	"slices"

	"rimheat/route"
	"rimheat/thermal/ride"
)

// Where riders can stop and get going again; common practice, no source.
const (
	// stopGrade is the steepest that the road may be there.
	stopGrade = 0.12
	// A place must be seen: no bend tighter than sightRadiusM from sightBehindM
	// before it to sightAheadM after it.
	sightRadiusM, sightBehindM, sightAheadM = 40.0, 60.0, 40.0
	// Of the places in every windowM of road the flattest is looked at.
	windowM = 200.0
	// flatGrade is as level as rolling to and fro needs.
	flatGrade = 0.015
	// mostStops is how many stops anybody makes on one ride, and triedPlaces how
	// many places back from a crossing one is looked for: heat from before has
	// gone by then.
	mostStops, triedPlaces = 8, 8
	// rollBackM is how far before a stop a level place to roll about is looked for.
	rollBackM = 2000.0
)

// stopMinutes are the lengths that are tried.
func stopMinutes() []float64 { return []float64{2, 3, 5, 8, 12, 20} }

// stopPlaces lists, in order, where riders can stop on the descents of a profile
// and in the kilometre after them.
func stopPlaces(p *route.Profile) []float64 {
	var places []float64
	last := math.Inf(-1)
	for _, d := range p.Descents {
		from := max(d.StartM+windowM/2, last)
		end := min(d.EndM+1000, p.DistM[len(p.DistM)-1]-windowM)
		for m := from; m < end; m += windowM {
			best, flattest := math.NaN(), stopGrade
			for x := m; x < min(m+windowM, end); x += p.SpacingM {
				if g := math.Abs(gradeAt(p, x)); g <= flattest && seen(p, x) {
					best, flattest = x, g
				}
			}
			if !math.IsNaN(best) {
				places = append(places, best)
			}
			last = m + windowM
		}
	}
	return places
}

// seen says whether a rider who stands at a place is seen from behind, and sees.
func seen(p *route.Profile, m float64) bool {
	i := int(math.Round(m / p.SpacingM))
	lo, hi := i-int(sightBehindM/p.SpacingM), i+int(sightAheadM/p.SpacingM)
	for j := max(lo, 0); j <= min(hi, len(p.CornerRadiusM)-1); j++ {
		if p.CornerRadiusM[j] < sightRadiusM {
			return false
		}
	}
	return true
}

// A stopper looks for stops for one setup.
type stopper struct {
	q      *inquiry
	base   Setup
	places []float64
	spans  []span
}

// stops finds the fewest stops, as late as can be, each as short as can be, with
// which a setup stays within its limits; nil if there are none. A stop as late as
// can be leaves the least road to the next one, so that going on like this takes
// the fewest (a stop long enough to cool down forgets what was before).
func (q *inquiry) stops(ctx context.Context, s Setup) (*Way, error) {
	z := &stopper{q: q, base: s, places: stopPlaces(q.profile)}
	if len(z.places) == 0 {
		return nil, nil
	}
	start := 0.0
	for _, m := range append(slices.Clone(z.places), q.profile.DistM[len(q.profile.DistM)-1]) {
		z.spans = append(z.spans, span{start, m})
		start = m
	}
	pauses, ok, err := z.greedy(ctx)
	if err != nil || !ok {
		return nil, err
	}
	if pauses, err = z.shorten(ctx, pauses); err != nil {
		return nil, err
	}
	if pauses, err = z.rolling(ctx, pauses); err != nil {
		return nil, err
	}
	w, err := q.way(ctx, z.with(pauses))
	return &w, err
}

func (z *stopper) with(pauses []ride.Pause) Setup {
	s := z.base
	s.Style.Pauses = pauses
	return s
}

// firstOver is the first stretch up to whose end too many draws have reached a
// limit, the number of stretches if none is.
func (z *stopper) firstOver(ctx context.Context, pauses []ride.Pause) (int, error) {
	hot, m, err := z.q.hottest(ctx, z.with(pauses), z.spans)
	if err != nil {
		return 0, err
	}
	o := outcomes{m: m, design: z.q.design, hot: hot, limits: z.q.limits}
	least := o.least()
	over := make([]bool, z.q.design.Len())
	for i := range z.spans {
		n := 0
		for k := range over {
			over[k] = over[k] || least[i][k] <= 0
			if over[k] {
				n++
			}
		}
		if float64(n) >= MarginalChance*float64(len(over)) {
			return i, nil
		}
	}
	return len(z.spans), nil
}

// greedy puts long stops as late as can be.
func (z *stopper) greedy(ctx context.Context) (pauses []ride.Pause, ok bool, err error) {
	minutes := stopMinutes()
	longest := 60 * minutes[len(minutes)-1]
	over, err := z.firstOver(ctx, nil)
	if err != nil {
		return nil, false, err
	}
	earliest := 0
	for over < len(z.spans) {
		if len(pauses) == mostStops {
			return nil, false, nil
		}
		// Place i ends stretch i: the last one before the limit is reached.
		found := false
		last := min(over, len(z.places)) - 1
		for i := last; i >= max(earliest, last-triedPlaces+1); i-- {
			with := append(slices.Clone(pauses), ride.Pause{AtM: z.places[i], S: longest})
			next, err := z.firstOver(ctx, with)
			if err != nil {
				return nil, false, err
			}
			if next > over {
				pauses, over, earliest, found = with, next, i+1, true
				break
			}
		}
		if !found {
			return nil, false, nil
		}
	}
	return pauses, true, nil
}

// shorten makes each stop in turn as short as still serves.
func (z *stopper) shorten(ctx context.Context, pauses []ride.Pause) ([]ride.Pause, error) {
	minutes := stopMinutes()
	for i := range pauses {
		lo, hi := 0, len(minutes)-1 // the last one serves
		for lo < hi {
			mid := (lo + hi) / 2
			with := slices.Clone(pauses)
			with[i].S = 60 * minutes[mid]
			over, err := z.firstOver(ctx, with)
			if err != nil {
				return nil, err
			}
			if over == len(z.spans) {
				hi = mid
			} else {
				lo = mid + 1
			}
		}
		pauses[i].S = 60 * minutes[lo]
	}
	return pauses, nil
}

// rolling looks whether rolling to and fro on a level place, there or a little
// before, takes less time than a stop, or cools better in the same.
func (z *stopper) rolling(ctx context.Context, pauses []ride.Pause) ([]ride.Pause, error) {
	for i := range pauses {
		from := pauses[i].AtM - rollBackM
		if i > 0 {
			from = max(from, pauses[i-1].AtM)
		}
		level := math.NaN()
		for _, m := range z.places {
			if m > from && m <= pauses[i].AtM && math.Abs(gradeAt(z.q.profile, m)) <= flatGrade {
				level = m
			}
		}
		if math.IsNaN(level) {
			continue
		}
		for _, m := range stopMinutes() {
			if 60*m > pauses[i].S {
				break
			}
			with := slices.Clone(pauses)
			with[i] = ride.Pause{AtM: level, S: 60 * m, RollMps: rollingMps}
			better, err := z.better(ctx, with, pauses, 60*m < pauses[i].S)
			if err != nil {
				return nil, err
			}
			if better {
				pauses = with
				break
			}
		}
	}
	return pauses, nil
}

// better says whether pauses stay within every limit, and leave more margin than
// others or need not.
func (z *stopper) better(ctx context.Context, pauses, others []ride.Pause, shorter bool) (bool, error) {
	r, err := z.q.ask(ctx, z.with(pauses))
	if err != nil || !r.Within() || shorter {
		return err == nil && r.Within(), err
	}
	o, err := z.q.ask(ctx, z.with(others))
	return err == nil && r.MarginK.P05 > o.MarginK.P05, err
}
