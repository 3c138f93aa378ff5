package ride

import (
	"fmt"
	"math"
	"slices"

	"rimheat/route"
	"rimheat/thermal/air"
)

// Rules for learning a style from recorded descents. Common practice, no source.
const (
	// openRadiusM is the radius from which on a bend does not hold a rider up.
	openRadiusM = 120.0
	// A corner is a least radius below cornerRadiusM; leastCorners of them tell
	// a habit.
	cornerRadiusM = 60.0
	leastCorners  = 8
	// A braking is a loss of speed of leastBrakeG or more that takes
	// leastBrakingMps off; leastBrakings of them tell a habit.
	leastBrakingMps = 1.5
	leastBrakings   = 8
	// brakingW is the power from which on the brakes are said to be at work.
	brakingW = 50.0
	// dragShare is the part of the time on descents from which on a rider who
	// brakes is said to drag.
	dragShare = 0.5
	// habitPart is the percentile of bends and brakings that is taken for a habit.
	habitPart = 0.50
	// quickStepS is how often points must come, s, for bends and brakings to be
	// told: a hairpin takes some five seconds, a braking three.
	quickStepS = 2.5
	// climbGrade is the grade of a climb on which the legs' power is read.
	climbGrade = 0.02
)

// A Spread is a distribution of something learned: its percentiles, and from how
// many values.
type Spread struct {
	P50   float64 `json:"p50"`
	P75   float64 `json:"p75"`
	P90   float64 `json:"p90"`
	Count int     `json:"count"`
}

// A Learned is what recorded rides tell of their rider.
type Learned struct {
	// Style is what a planned ride needs: the base style with what was learned.
	Style Style
	// SpeedMps is the speed on open road downhill, by distance; CornerG the
	// sideways acceleration at the tightest point of corners; BrakeG the greatest
	// deceleration of each braking.
	SpeedMps, CornerG, BrakeG Spread
	// CornerLearned, BrakeLearned and PedalLearned say which parts of
	// Style were learned; the rest is the base style's.
	CornerLearned, BrakeLearned, PedalLearned bool
	// Descents is how many descents were used, of DescentM metres, ridden in
	// DescentS seconds without the stops; BrakingShare is the part of that time
	// with a brake at work.
	Descents           int
	DescentM, DescentS float64
	BrakingShare       float64
	// Coasting is drag and rolling resistance, if stretches of coasting told.
	Coasting Coasting
}

// A Recorded is one recorded ride to learn from: a profile with a Ride, and its
// replay.
type Recorded struct {
	Profile *route.Profile
	Plan    *Plan
}

// Learn finds a rider's style from recorded rides, replayed with the given load,
// weather and resistance; base is the style that fills what they do not tell. The
// cap is the one with which the brakes of planned descents take what those of the
// recorded ones did, as far as the time agrees. An error says that there is no descent to learn from.
func Learn(rides []Recorded, load Load, w Weather, r Resistance, base Style) (*Learned, error) {
	l := &Learned{Style: base}
	l.Style.ID, l.Style.Name = "learned", "Learned from recorded rides"
	l.Style.Source = "learned from recorded rides"
	var speeds []weighted
	var corners, brakings []float64
	braking := 0.0
	for _, rec := range rides {
		for _, d := range rec.Profile.Descents {
			l.Descents++
			l.DescentM += d.EndM - d.StartM
			l.DescentS += rec.Plan.MovingS(d.Start, d.End)
			speeds = append(speeds, rec.openSpeeds(d)...)
			if rec.Profile.Ride.StepS <= quickStepS {
				corners = append(corners, rec.corners(d)...)
				brakings = append(brakings, rec.brakings(d)...)
			}
			braking += rec.brakingS(d)
		}
	}
	if l.Descents == 0 {
		return nil, fmt.Errorf("no descent on these rides to learn from")
	}
	if len(speeds) == 0 {
		return nil, fmt.Errorf("these rides go downhill at a walk, or on no open road: they tell no speed to plan with")
	}
	l.BrakingShare = braking / l.DescentS
	l.SpeedMps = spreadOf(speeds)
	l.CornerG, l.BrakeG = spreadOf(evenly(corners)), spreadOf(evenly(brakings))
	if len(corners) >= leastCorners {
		l.CornerLearned = true
		l.Style.CornerG = clampTo(percentile(evenly(corners), habitPart), 0.05, 1)
	}
	if len(brakings) >= leastBrakings {
		l.BrakeLearned = true
		l.Style.BrakeG = clampTo(percentile(evenly(brakings), habitPart), 0.05, 0.6)
	}
	if watts, ok := climbingW(rides); ok {
		l.PedalLearned = true
		l.Style.PedalW = clampTo(watts, 20, 600)
	}
	l.Style.Habit = Pulse
	if l.BrakingShare >= dragShare {
		l.Style.Habit = Drag
	}
	l.Coasting = coasting(rides, load, w, r)
	if l.Coasting.Found {
		r.CdAM2 = l.Coasting.CdAM2
		r.Crr = l.Coasting.Crr
	}
	if err := l.fitCap(rides, load, w, r); err != nil {
		return nil, err
	}
	return l, nil
}

// timePart is by how much planned descents may take longer or shorter than recorded
// ones, all together, for the sake of the brakes.
const timePart = 0.12

// fitCap finds the cap with which the brakes of the planned descents take what those
// of the recorded ones did, as far as the time agrees within timePart.
func (l *Learned) fitCap(rides []Recorded, load Load, w Weather, r Resistance) error {
	brakesJ := 0.0
	for _, rec := range rides {
		again, err := NewReplay(rec.Profile, load, w, r, l.Style)
		if err != nil {
			return err
		}
		for _, d := range rec.Profile.Descents {
			brakesJ += again.Ledger(d.Start, d.End).BrakesJ()
		}
	}
	planned := func(capMps float64) (timeS, brakes float64, err error) {
		st := l.Style
		st.CapMps = capMps
		for _, rec := range rides {
			pl, err := NewPlan(rec.Profile, load, w, r, st)
			if err != nil {
				return 0, 0, err
			}
			for _, d := range rec.Profile.Descents {
				timeS += pl.TimeS[d.End] - pl.TimeS[d.Start]
				brakes += pl.Ledger(d.Start, d.End).BrakesJ()
			}
		}
		return timeS, brakes, nil
	}
	// Both time and braking fall as the cap rises.
	lo, hi := 8/3.6, 130/3.6
	for range 16 {
		mid := math.Sqrt(lo * hi)
		s, j, err := planned(mid)
		if err != nil {
			return err
		}
		slow := s/l.DescentS - 1
		if slow > timePart || slow > -timePart && j > brakesJ {
			lo = mid
		} else {
			hi = mid
		}
	}
	// A cap that holds nobody up is as good as the fastest speed ridden.
	l.Style.CapMps = clampTo(math.Min(math.Sqrt(lo*hi), 1.1*l.SpeedMps.P90), 8/3.6, 130/3.6)
	return nil
}

func clampTo(v, lo, hi float64) float64 { return math.Min(math.Max(v, lo), hi) }

// MovingS is the time from node a to b without the stops, s.
func (pl *Plan) MovingS(a, b int) float64 {
	s := 0.0
	for i := a; i < b; i++ {
		s += pl.TimeS[i+1] - pl.leaveS(i)
	}
	return s
}

// A weighted is a value and what it counts for.
type weighted struct{ v, weight float64 }

// openSpeeds are the speeds on a descent where no bend holds the rider up, by
// distance.
func (rec Recorded) openSpeeds(d route.Descent) []weighted {
	var out []weighted
	for i := d.Start; i < d.End; i++ {
		if rec.Profile.CornerRadiusM[i] >= openRadiusM && rec.Plan.SpeedMps[i] > getGoingMps {
			out = append(out, weighted{rec.Plan.SpeedMps[i], rec.Profile.SpacingM})
		}
	}
	return out
}

// corners are the sideways accelerations, g, at the least radii of a descent.
func (rec Recorded) corners(d route.Descent) []float64 {
	var out []float64
	radius := rec.Profile.CornerRadiusM
	falling := false // the radius was greater before it came to where it is
	for i := max(d.Start, 1); i < min(d.End, len(radius)-1); i++ {
		if radius[i] != radius[i-1] {
			falling = radius[i] < radius[i-1]
		}
		if radius[i] > cornerRadiusM || !falling || radius[i] >= radius[i+1] {
			continue
		}
		if v := rec.Plan.SpeedMps[i]; v > cornerFloorMps {
			out = append(out, v*v/radius[i]/air.StandardGravity)
		}
	}
	return out
}

// brakings are the greatest decelerations, g, of the brakings on a descent.
func (rec Recorded) brakings(d route.Descent) []float64 {
	var out []float64
	pl := rec.Plan
	deceleration := func(i int) float64 {
		return (pl.SpeedMps[i] - pl.SpeedMps[i+1]) / (pl.TimeS[i+1] - pl.leaveS(i)) / air.StandardGravity
	}
	for i := d.Start; i < d.End; {
		if deceleration(i) < leastBrakeG {
			i++
			continue
		}
		j, most := i, 0.0
		for j < d.End && deceleration(j) >= leastBrakeG {
			most = math.Max(most, deceleration(j))
			j++
		}
		if pl.SpeedMps[i]-pl.SpeedMps[j] >= leastBrakingMps && pl.SpeedMps[j] > 0 {
			out = append(out, most)
		}
		i = j
	}
	return out
}

// brakingS is how long a brake is at work on a descent, s.
func (rec Recorded) brakingS(d route.Descent) float64 {
	s := 0.0
	for i := d.Start; i < d.End; i++ {
		if dt := rec.Plan.TimeS[i+1] - rec.Plan.leaveS(i); rec.Plan.power(i) >= brakingW {
			s += dt
		}
	}
	return s
}

// climbingW is the mean power at the pedals on climbs, W.
func climbingW(rides []Recorded) (watts float64, ok bool) {
	joules, s := 0.0, 0.0
	for _, rec := range rides {
		for i, j := range rec.Plan.pedal {
			if rec.Plan.ground.rise[i] > climbGrade*rec.Profile.SpacingM {
				joules += j - rec.Plan.front[i] - rec.Plan.rear[i]
				s += rec.Plan.TimeS[i+1] - rec.Plan.leaveS(i)
			}
		}
	}
	const least = 300 // seconds
	if s < least || joules <= 0 {
		return 0, false
	}
	return joules / s / drivetrain, true
}

func evenly(v []float64) []weighted {
	out := make([]weighted, len(v))
	for i := range v {
		out[i] = weighted{v[i], 1}
	}
	return out
}

// spreadOf gives the percentiles of weighted values, which it sorts.
func spreadOf(v []weighted) Spread {
	return Spread{P50: percentile(v, 0.50), P75: percentile(v, 0.75), P90: percentile(v, 0.90), Count: len(v)}
}

// percentile is the value that part of the weight does not exceed, 0 for none.
func percentile(v []weighted, part float64) float64 {
	if len(v) == 0 {
		return 0
	}
	slices.SortFunc(v, func(a, b weighted) int {
		switch {
		case a.v < b.v:
			return -1
		case a.v > b.v:
			return 1
		}
		return 0
	})
	all := 0.0
	for _, x := range v {
		all += x.weight
	}
	sum := 0.0
	for _, x := range v {
		if sum += x.weight; sum >= part*all {
			return x.v
		}
	}
	return v[len(v)-1].v
}
