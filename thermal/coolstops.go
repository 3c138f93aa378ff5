package thermal

import (
	"cmp"
	"context"
	"fmt"
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
	// mostStops is how many stops anybody makes on one ride. The nearPlaces places
	// before a crossing are tried for one, and every farStep-th before those:
	// braking to a stop heats, so that an early one may serve where a late one does
	// not.
	mostStops, nearPlaces, farStep = 8, 8, 3
	// apartM is the least that places lie apart.
	apartM = 100.0
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
			if n := len(places); !math.IsNaN(best) && (n == 0 || best-places[n-1] >= apartM) {
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
	// sampler is the base setup's, nil until it is needed.
	sampler *sampler
	// known holds what was asked, asked counts it, and most is how often may be
	// asked to find some.
	known       map[string]int
	asked, most int
	// polish is how many more may be asked to make them shorter. farthest is how many
	// places before a crossing are looked at, 0 for all.
	polish, farthest int
	// near moves stops by one place at most when they are made shorter.
	near bool
}

const (
	// mostAsked is how many sets of stops are tried to find some, mostPolished how
	// many to make them shorter, and branches how many places for the next stop are
	// followed up: a search that finds few stops, and no proof that there are none
	// fewer or shorter.
	mostAsked, mostPolished, branches = 120, 80, 2
)

// stops finds few stops, each as short as can be, with which a setup stays within
// its limits; nil if it finds none.
func (q *inquiry) stops(ctx context.Context, s Setup) (*Way, error) {
	most := mostAsked
	// Where most draws are over as it is, stops hardly ever serve.
	if r, err := q.ask(ctx, s); err != nil {
		return nil, err
	} else if r.Chance.P >= OverChance {
		most /= 3
	}
	z := q.stopper(s, most, mostPolished)
	var pauses []ride.Pause
	var err error
	for n := 1; n <= mostStops && pauses == nil && z.asked < z.most; n++ {
		if pauses, err = z.search(ctx, nil, 0, n); err != nil {
			return nil, err
		}
	}
	if pauses == nil {
		return nil, nil
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

// stopper looks for stops with so many sets at most, and as many more to make them
// shorter.
func (q *inquiry) stopper(s Setup, most, polish int) *stopper {
	z := &stopper{q: q, base: s, places: stopPlaces(q.profile), known: map[string]int{}, most: most, polish: polish}
	start := 0.0
	for _, m := range append(slices.Clone(z.places), q.profile.DistM[len(q.profile.DistM)-1]) {
		z.spans = append(z.spans, span{start, m})
		start = m
	}
	return z
}

// with is the setup with more pauses than it has.
func (z *stopper) with(pauses []ride.Pause) Setup {
	s := z.base
	s.Style.Pauses = append(slices.Clone(s.Style.Pauses), pauses...)
	return s
}

// firstOver is the first stretch up to whose end too many draws have reached a
// limit, the number of stretches if none is.
func (z *stopper) firstOver(ctx context.Context, pauses []ride.Pause) (int, error) {
	key := fmt.Sprint(pauses)
	if i, ok := z.known[key]; ok {
		return i, nil
	}
	i, err := z.ask(ctx, pauses)
	if err == nil {
		z.known[key] = i
		z.asked++
	}
	return i, err
}

// ask rides in all draws for firstOver.
func (z *stopper) ask(ctx context.Context, pauses []ride.Pause) (int, error) {
	s := z.with(pauses)
	if err := s.Validate(); err != nil {
		return 0, err
	}
	if z.sampler == nil {
		var err error
		if z.sampler, err = newSampler(z.q.profile, z.base, z.q.families, z.spans); err != nil {
			return 0, err
		}
	}
	m := z.sampler.restyled(s.Style, z.spans)
	ridden, err := m.run(ctx, z.q.design, nil)
	if err != nil {
		return 0, err
	}
	hot := ridden[0]
	o := outcomes{m: m, design: z.q.design, hot: hot, limits: z.q.limits}
	least := o.least(o.margins())
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

// search adds up to so many long stops to those there are, from place earliest on,
// and gives nil if that does not serve. Of the places before the first stretch that
// is over those are followed up that get furthest, the later ones first where
// they get as far: braking to a stop heats, so that the very last place may be too
// late.
func (z *stopper) search(ctx context.Context, pauses []ride.Pause, earliest, more int) ([]ride.Pause, error) {
	over, err := z.firstOver(ctx, pauses)
	if err != nil {
		return nil, err
	}
	if over == len(z.spans) {
		return pauses, nil
	}
	if more == 0 {
		return nil, nil
	}
	minutes := stopMinutes()
	type next struct{ place, over int }
	var found []next
	last := min(over, len(z.places)) - 1 // place i ends stretch i
	for i := last; i >= earliest && z.asked < z.most; i-- {
		if back := last - i; back >= nearPlaces && back%farStep != 0 {
			continue
		} else if z.farthest > 0 && back > z.farthest {
			break
		}
		with := append(slices.Clone(pauses), ride.Pause{AtM: z.places[i], S: 60 * minutes[len(minutes)-1]})
		n, err := z.firstOver(ctx, with)
		if err != nil {
			return nil, err
		}
		if n > over {
			found = append(found, next{i, n})
		}
	}
	slices.SortStableFunc(found, func(a, b next) int { return b.over - a.over })
	for _, f := range found[:min(branches, len(found))] {
		with := append(slices.Clone(pauses), ride.Pause{AtM: z.places[f.place], S: 60 * minutes[len(minutes)-1]})
		if out, err := z.search(ctx, with, f.place+1, more-1); err != nil || out != nil {
			return out, err
		}
	}
	return nil, nil
}

// shorten makes stops shorter, the longest first, and moves them and the next one by
// a place or two where that lets it, until none can be any shorter.
func (z *stopper) shorten(ctx context.Context, pauses []ride.Pause) ([]ride.Pause, error) {
	most := z.asked + z.polish
	for {
		order := make([]int, len(pauses))
		for i := range order {
			order[i] = i
		}
		slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(pauses[b].S, pauses[a].S) })
		better := []ride.Pause(nil)
		for _, i := range order {
			var err error
			if better, err = z.shorter(ctx, pauses, i, most); err != nil {
				return nil, err
			}
			if better != nil {
				break
			}
		}
		if better == nil {
			return pauses, nil
		}
		pauses = better
	}
}

// shorter finds stops of which number i is one size shorter; nil if it finds none
// before so many sets were asked.
func (z *stopper) shorter(ctx context.Context, pauses []ride.Pause, i, most int) ([]ride.Pause, error) {
	minutes := stopMinutes()
	size := slices.Index(minutes, pauses[i].S/60)
	if size <= 0 {
		return nil, nil
	}
	moves, movesNext := []int{0, -1, 1, -2, 2}, []int{0, -1, 1}
	if z.near {
		moves, movesNext = moves[:3], movesNext[:1]
	}
	for _, move := range moves {
		for _, moveNext := range movesNext {
			if moveNext != 0 && i+1 == len(pauses) {
				continue
			}
			if z.asked >= most {
				return nil, nil
			}
			with := slices.Clone(pauses)
			with[i].S = 60 * minutes[size-1]
			ok := z.moved(with, i, move)
			if moveNext != 0 {
				ok = ok && z.moved(with, i+1, moveNext)
			}
			if !ok {
				continue
			}
			over, err := z.firstOver(ctx, with)
			if err != nil {
				return nil, err
			}
			if over == len(z.spans) {
				return with, nil
			}
		}
	}
	return nil, nil
}

// moved puts stop i so many places further; not past its neighbours.
func (z *stopper) moved(pauses []ride.Pause, i, by int) bool {
	at := slices.Index(z.places, pauses[i].AtM) + by
	if at < 0 || at >= len(z.places) {
		return false
	}
	pauses[i].AtM = z.places[at]
	return (i == 0 || pauses[i-1].AtM < pauses[i].AtM) && (i+1 == len(pauses) || pauses[i].AtM < pauses[i+1].AtM)
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
