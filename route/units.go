package route

import (
	"math"
	"strconv"
	"time"
)

// metresInAFoot is the international foot, exact by definition.
const metresInAFoot = 0.3048

// Rules for telling heights in feet, which GPX does not allow but files hold,
// on roads too mild to be found out by their grades. Choices of this program,
// no source, but where said.
const (
	// highM is the height above which few public roads lie, metres (from
	// memory: some passes of the highest ranges reach 5,000 to 5,900 m).
	highM = 5000.0
	// fastClimb is the rate, metres an hour, that no rider keeps up for
	// fastClimbTime: the best reach some 1,800 (from memory). Faster on the
	// road than climbSpeed, km/h, it was a motor or a planner's clock.
	fastClimb     = 2000.0
	fastClimbTime = 20 * time.Minute
	climbSpeed    = 25.0
	// minMultiples is how many different heights must all be multiples of a
	// unit to tell it: three whole numbers in ten are, so that chance gives
	// twelve of them once in 1.5 million (derived), and decimals more rarely.
	minMultiples = 12
)

// reportUnits asks whether the heights are in feet where something tells of
// it. Heights in feet with decimals on a mild road, low and without times, are
// told by nothing.
func (c *course) reportUnits() {
	if c.fromTiles {
		return // these are in metres
	}
	if n := c.multiplesOf(1 / metresInAFoot); n > 0 {
		c.note("feet-pattern", n, "all "+count(n)+" different heights are whole metres turned into feet, while GPX wants metres: in feet every grade comes out 3.3 times too steep; are the heights in feet?")
	}
	above, highest := 0, 0.0
	for _, h := range c.h {
		if h > highM {
			above++
		}
		highest = max(highest, h)
	}
	if above > 0 {
		c.note("very-high", above, "heights of up to "+metres(highest)+", higher than nearly all public roads: "+c.feetQuestion())
	}
	if rate, at := c.fastestClimb(); rate > fastClimb {
		c.note("fast-climb", 1, "by the recorded times the road climbs by "+metres(rate)+" an hour for "+
			strconv.Itoa(int(fastClimbTime.Minutes()))+" min up to "+atKilometres(c.dist[at])+", more than any rider does: "+c.feetQuestion())
	}
}

// feetQuestion asks about feet, but not where the heights show that they were
// turned from feet into metres.
func (c *course) feetQuestion() string {
	switch {
	case c.fromTiles:
		return "are the elevation tiles right there?"
	case c.multiplesOf(metresInAFoot) > 0:
		return "are the heights right? They are whole feet turned into metres"
	}
	return "are the heights in feet?"
}

// multiplesOf counts the different heights of the file if all are multiples of
// a unit, metres, as exactly as their decimals can tell, and gives 0 if not or
// if there are too few to tell.
func (c *course) multiplesOf(unit float64) int {
	const exact = 1e-6 // metres, for the rounding of what is written and read
	for _, decimal := range [...]float64{1, 0.1, 0.01, 1e-3, 1e-4, 1e-5, 1e-6} {
		if !c.everyHeight(func(h float64) bool {
			return math.Abs(h-decimal*math.Round(h/decimal)) < exact &&
				math.Abs(h-unit*math.Round(h/unit)) < decimal/2+exact
		}) {
			continue
		}
		different := map[float64]bool{}
		c.everyHeight(func(h float64) bool {
			different[h] = true
			return true
		})
		if len(different) >= minMultiples {
			return len(different)
		}
	}
	return 0
}

// everyHeight tells whether all heights of the file that roads can have are ok.
func (c *course) everyHeight(ok func(h float64) bool) bool {
	for i := range c.track.Points {
		p := &c.track.Points[i]
		if p.HasHeight && p.HeightM >= minHeightM && p.HeightM <= maxHeightM && !ok(p.HeightM) {
			return false
		}
	}
	return true
}

// fastestClimb is the greatest rate, metres an hour, at no more than climbSpeed
// over the shortest spans of at least fastClimbTime and at most twice that, and
// the point at its end. A clock that stands or goes back begins anew.
func (c *course) fastestClimb() (rate float64, at int) {
	pts := c.track.Points
	begin := 0 // the first kept point of a span in which the clock runs
	a := 0
	for b := range c.h {
		t := pts[c.number[b]-1].Time
		if b == 0 || t.IsZero() || !t.After(pts[c.number[b-1]-1].Time) {
			begin = b
		}
		a = max(a, begin)
		for a+1 < b && t.Sub(pts[c.number[a+1]-1].Time) >= fastClimbTime {
			a++
		}
		span := t.Sub(pts[c.number[a]-1].Time)
		if span < fastClimbTime || span > 2*fastClimbTime || c.dist[b]-c.dist[a] > climbSpeed*1000*span.Hours() {
			continue
		}
		if r := (c.h[b] - c.h[a]) / span.Hours(); r > rate {
			rate, at = r, b
		}
	}
	return rate, at
}
