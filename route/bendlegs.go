package route

import (
	"math"
	"slices"
)

// Rules for lengthening legs that cut a bend short. Choices of this program, no
// source, but where derived.
const (
	// Only legs between these lengths, metres, are lengthened: shorter ones hide
	// little, longer ones are no bend of a road.
	shortestLegM, longestLegM = 26.0, 100.0
	// loneTurnRad is the turn of neighbours below which they say little of where a
	// bend lies.
	loneTurnRad = 0.35
	// Points are evenly spaced along the road if evenShare of the legs are within
	// alikePart of the middle one. A leg that bends by evenTurnRad then is as long as
	// the others, up to evenMost times its chord. Points that come with times are
	// evenly spaced in time: their legs are short where the rider was slow.
	evenShare, alikePart  = 0.70, 0.15
	evenTurnRad, evenMost = 0.7, 2.5
	// A leg bent by theta is at least cos(theta/2) of its length long (derived: two
	// straights that meet in one fold); foldSlack of that, as the bend is estimated.
	// A shorter one has more points than the others.
	foldSlack = 0.6
	// lengthenedShown is the part of the road from which on the user is told.
	lengthenedShown = 0.001
)

// lengthenBends gives legs that cut bends short the length of a road that bends
// smoothly. What it turns at a vertex belongs to the legs on either side in
// proportion to the turns, to the same hand, at their other ends: half each on a
// circle, nearly all to the leg between two vertices of a hairpin, and none where
// neither turns: a corner drawn as one vertex is no arc. A leg that so bends by p at
// its start and by q at its end, to the same hand, is chord to an arc of p + q and,
// for what they differ, to an S: longer by h/sin(h) - 1 + s^2/10 of itself,
// h = (p+q)/2 and s = (p-q)/2 (derived; the second from a cubic with these end
// slopes). Without it the drop of a hairpin falls on the
// chord across it, and looks twice as steep. It leaves the distances from point to
// point in straight, or nil there if none changed.
func (c *course) lengthenBends() {
	n := len(c.dist)
	turn := func(k int) float64 {
		if k < 1 || k > n-2 {
			return 0
		}
		return math.Remainder(c.azimuth[k]-c.azimuth[k-1], 2*math.Pi)
	}
	// share is the turn at vertex k that belongs to the leg towards vertex to.
	share := func(k, to, from int) float64 {
		t := turn(k)
		same := func(v float64) float64 {
			if v*t <= 0 {
				return 0
			}
			return math.Abs(v)
		}
		a, b := same(turn(to)), same(turn(from))
		return t * a / (a + b + loneTurnRad)
	}
	straight := slices.Clone(c.dist)
	even := 0.0
	if !c.timed() {
		even = evenLegM(straight)
	}
	added, legs := 0.0, 0
	for k := 0; k+1 < n; k++ {
		leg := straight[k+1] - straight[k]
		p, q := share(k, k+1, k-1), share(k+1, k, k+2)
		bend := math.Min(math.Abs(p+q), math.Pi)
		switch {
		case leg > longestLegM:
		case even >= shortestLegM:
			// A leg as long as the others has lost nothing.
			if bend >= evenTurnRad && leg < even*(1-alikePart/4) && leg > foldSlack*even*math.Cos(bend/2) {
				added += math.Min(even, evenMost*leg) - leg
				legs++
			}
		case leg >= shortestLegM && bend > 0:
			added += leg * (bend/2/math.Sin(bend/2) - 1 + (p-q)*(p-q)/40)
			legs++
		}
		c.dist[k+1] += added
	}
	if added == 0 {
		return
	}
	c.straight = straight
	if part := added / straight[n-1]; part >= lengthenedShown {
		c.note("bend-lengthened", legs, "bends between far points are taken as arcs: the road comes out "+percentOf(part)+" longer than point to point")
	}
}

// timed tells whether most points have times.
func (c *course) timed() bool {
	with := 0
	for i := range c.track.Points {
		if !c.track.Points[i].Time.IsZero() {
			with++
		}
	}
	return 2*with > len(c.track.Points)
}

// evenLegM is the length of evenly spaced legs, metres, 0 where they are not.
func evenLegM(dist []float64) float64 {
	legs := make([]float64, len(dist)-1)
	for k := range legs {
		legs[k] = dist[k+1] - dist[k]
	}
	middle := median(legs)
	alike := 0
	for _, leg := range legs {
		if math.Abs(leg-middle) <= alikePart*middle {
			alike++
		}
	}
	if float64(alike) < evenShare*float64(len(legs)) {
		return 0
	}
	return middle
}

// takePlan fills heading, radius and hairpins of p from a plan whose grid is laid
// on the distances from point to point.
func (c *course) takePlan(p, plan *Profile) {
	if c.straight == nil {
		p.HeadingRad, p.CornerRadiusM, p.HairpinM = plan.HeadingRad, plan.CornerRadiusM, plan.HairpinM
		return
	}
	n := len(p.DistM)
	f := make([]float64, 2*n)
	p.HeadingRad, p.CornerRadiusM = f[:n:n], f[n:]
	k := 0
	for i, d := range p.DistM {
		for k+2 < len(c.dist) && c.dist[k+1] < d {
			k++
		}
		at := c.straight[k] + (d-c.dist[k])/(c.dist[k+1]-c.dist[k])*(c.straight[k+1]-c.straight[k])
		j := min(max(int(math.Round(at/plan.SpacingM)), 0), len(plan.DistM)-1)
		p.HeadingRad[i], p.CornerRadiusM[i] = plan.HeadingRad[j], plan.CornerRadiusM[j]
	}
	k = 0
	p.HairpinM = make([]float64, 0, len(plan.HairpinM))
	for _, m := range plan.HairpinM {
		for k+2 < len(c.straight) && c.straight[k+1] < m {
			k++
		}
		p.HairpinM = append(p.HairpinM, c.dist[k]+(m-c.straight[k])/(c.straight[k+1]-c.straight[k])*(c.dist[k+1]-c.dist[k]))
	}
}
