package thermal

import (
	"context"
	"math"
	"slices"

	"rimheat/route"
	"rimheat/thermal/ride"
)

// A CoolPlan is what a rider can do so that a rim stays within its limits in
// nineteen of twenty draws.
type CoolPlan struct {
	RimID string `json:"rim"`
	Name  string `json:"name"`
	Route string `json:"route"`
	Draws int    `json:"draws"`
	Seed  uint64 `json:"seed"`
	// Limits are those that the rim is held against.
	Limits []HeldLimit `json:"limits"`
	// AsPlanned is the ride with the setup's own technique and without a stop.
	AsPlanned Way `json:"as_planned"`
	// Coolest is the technique that cools best within the rider's comfort, without
	// a stop; Tried is all that was tried on the way to it.
	Coolest Way   `json:"coolest"`
	Tried   []Way `json:"tried"`
	// Stops is the own technique with stops, Both the coolest one with stops;
	// missing where none is needed or none helps.
	Stops *Way `json:"stops,omitempty"`
	Both  *Way `json:"both,omitempty"`
	// Fits says whether one of them stays within.
	Fits bool `json:"fits"`
	// Instead is what to do where it does not.
	Instead string `json:"instead,omitempty"`
	// Hottest is where and at what speed holding back heats most.
	Hottest  *HottestSpeed `json:"hottest_speed,omitempty"`
	Cautions []string      `json:"cautions"`
	// Imperial holds the cautions with °F.
	Imperial []string `json:"-"`
}

// A Way is a way to ride the road, and what the draws say of it.
type Way struct {
	Habit      string      `json:"brake_habit"`
	FrontShare float64     `json:"front_share"`
	CapMps     float64     `json:"cap_mps"`
	Stops      []CoolStop  `json:"stops"`
	DurationS  float64     `json:"duration_s"`
	MarginK    Percentiles `json:"margin_K"`
	Chance     Chance      `json:"chance"`
}

// Within says whether nineteen of twenty draws stay below every limit.
func (w *Way) Within() bool { return w != nil && w.Chance.P < MarginalChance }

// A CoolStop is one rest to let the rims cool.
type CoolStop struct {
	AtM     float64 `json:"at_m"`
	HeightM float64 `json:"height_m"`
	Grade   float64 `json:"grade"`
	S       float64 `json:"stop_s"`
	// RollMps is how fast to roll to and fro instead of standing, 0 for standing.
	RollMps float64 `json:"roll_mps"`
}

// steepStop is the grade from which on a stop is called steep; common practice, no
// source.
const steepStop = 0.08

// Steep says that the road is so steep there that a bicycle must be held.
func (s CoolStop) Steep() bool { return math.Abs(s.Grade) > steepStop }

// HottestSpeed is the speed at which holding back heats most on a descent, by the
// closed form: 0.30 to 0.45 of the speed at which the bicycle would roll by
// itself, as the film grows with the 0.8th to 0.5th power of the speed (derived).
type HottestSpeed struct {
	AtM         float64 `json:"at_m"`
	Grade       float64 `json:"grade"`
	TerminalMps float64 `json:"terminal_mps"`
	FromMps     float64 `json:"from_mps"`
	ToMps       float64 `json:"to_mps"`
}

const (
	// hottestFrom and hottestTo are the square root of (1-n)/(3-n) for films that
	// grow with speed to the power n of 0.8 and 0.5 (derived).
	hottestFrom, hottestTo = 0.3015, 0.4472
	// rollingMps is a walk on wheels, to and fro on the level; common practice, no
	// source.
	rollingMps = 12 / 3.6
)

// PlanCooling searches for as few stops as it can find, and for the technique, that
// keep the one candidate of a setup within its limits. The rider is at ease up to mostMps, m/s;
// a faster cap is never proposed, none above the own one for 0. told, if not nil,
// hears what is done.
func PlanCooling(ctx context.Context, p *route.Profile, s Setup, mostMps float64, told func(stage string)) (*CoolPlan, error) {
	q, err := newInquiry(p, s)
	if err != nil {
		return nil, err
	}
	if told == nil {
		told = func(string) {}
	}
	w := s.Wheels[0]
	c := &CoolPlan{RimID: w.Rim.ID, Name: w.Rim.Name, Route: p.Name, Draws: q.design.Len(), Seed: s.Sampling.Seed, Limits: heldLimits(w),
		Cautions: phrasing{}.askedCautions(w), Imperial: phrasing{imperial: true}.askedCautions(w)}
	if c.AsPlanned, err = q.way(ctx, s); err != nil {
		return nil, err
	}
	c.Hottest = hottestSpeed(p, s)
	told("trying ways to brake")
	best, err := q.technique(ctx, s, mostMps, c)
	if err != nil {
		return nil, err
	}
	if !c.AsPlanned.Within() {
		told("looking for places to stop")
		if c.Stops, err = q.stops(ctx, s); err != nil {
			return nil, err
		}
		if !c.Coolest.Within() {
			told("looking for places to stop with another technique")
			if c.Both, err = q.stops(ctx, best); err != nil {
				return nil, err
			}
		}
	}
	for _, way := range []*Way{&c.AsPlanned, &c.Coolest, c.Stops, c.Both} {
		c.Fits = c.Fits || way.Within()
	}
	if !c.Fits {
		c.Instead = "Take another road, less load or a cooler hour."
		if w.Rim.ResinInTrack() {
			c.Instead = "Take other wheels: aluminium is advised; hold it against this road with rimheat assess."
		}
	}
	return c, nil
}

// way rides a setup in all draws.
func (q *inquiry) way(ctx context.Context, s Setup) (Way, error) {
	r, err := q.ask(ctx, s)
	if err != nil {
		return Way{}, err
	}
	plan, err := ride.NewPlan(q.profile, s.Load, s.Weather, s.Resistance, s.Style)
	if err != nil {
		return Way{}, err
	}
	w := Way{
		Habit: string(s.Style.Habit), FrontShare: s.Style.FrontShare, CapMps: s.Style.CapMps,
		DurationS: plan.TimeS[len(plan.TimeS)-1], MarginK: r.MarginK, Chance: r.Chance, Stops: coolStops(q.profile, s.Style.Pauses),
	}
	return w, nil
}

// Comfort: how far from their own technique riders are asked to go; common
// practice, no source. Nobody is asked to ride faster than they say they are at
// ease with.
// Nor is a cap proposed at which holding back heats most.
func comfortCaps(own, most float64, hot *HottestSpeed) []float64 {
	var caps []float64
	for _, f := range []float64{0.6, 0.7, 0.8, 0.9} {
		if v := f * own; v >= slowestCapMps && (hot == nil || v < hot.FromMps || v > hot.ToMps) {
			caps = append(caps, v)
		}
	}
	for _, f := range []float64{0.25, 0.5, 0.75, 1} {
		if most > own {
			caps = append(caps, own+f*(most-own))
		}
	}
	return caps
}

func comfortShares() []float64 { return []float64{0.45, 0.5, 0.55, 0.6, 0.65, 0.7} }

// technique goes from the setup's own way to the coolest one near it: the habit
// first, then how the brakes share, then the cap, and the sharing once more.
func (q *inquiry) technique(ctx context.Context, s Setup, mostMps float64, c *CoolPlan) (Setup, error) {
	best, way := s, c.AsPlanned
	try := func(change func(*ride.Style)) error {
		t := best
		change(&t.Style)
		if t.Style.Habit == best.Style.Habit && t.Style.FrontShare == best.Style.FrontShare && t.Style.CapMps == best.Style.CapMps {
			return nil
		}
		w, err := q.way(ctx, t)
		if err != nil {
			return err
		}
		c.Tried = append(c.Tried, w)
		// A technique that gains nothing worth having is not recommended, least of
		// all one that takes longer.
		least := worthwhileK
		if w.DurationS > way.DurationS+60 {
			least = worthTimeK
		}
		if w.MarginK.P05 > way.MarginK.P05+least {
			best, way = t, w
		}
		return nil
	}
	share := func() error {
		from := best
		for _, f := range comfortShares() {
			if err := try(func(st *ride.Style) { *st = from.Style; st.FrontShare = f }); err != nil {
				return err
			}
		}
		return nil
	}
	for _, h := range []ride.Habit{ride.Drag, ride.Pulse, ride.Alternate} {
		if err := try(func(st *ride.Style) { st.Habit = h }); err != nil {
			return s, err
		}
	}
	if err := share(); err != nil {
		return s, err
	}
	from := best
	for _, v := range comfortCaps(s.Style.CapMps, mostMps, c.Hottest) {
		if err := try(func(st *ride.Style) { *st = from.Style; st.CapMps = v }); err != nil {
			return s, err
		}
	}
	if err := share(); err != nil {
		return s, err
	}
	c.Coolest = way
	return best, nil
}

// worthwhileK is the least gain for which anybody is asked to ride another way, K,
// and worthTimeK the least for which they are asked to be longer on the road: more
// than what the number of draws leaves open; common practice, no source.
const worthwhileK, worthTimeK = 1.0, 5.0

// hottestSpeed is that of the descent that is the steepest in the mean; nil if
// nothing rolls.
func hottestSpeed(p *route.Profile, s Setup) *HottestSpeed {
	if len(p.Descents) == 0 {
		return nil
	}
	s = s.as(newDoubts(&s, false).central()) // as readings have it
	d := slices.MinFunc(p.Descents, func(a, b route.Descent) int {
		if a.MeanGrade < b.MeanGrade {
			return -1
		}
		return 1
	})
	v := TerminalMps(s, heightAt(p, (d.StartM+d.EndM)/2), d.MeanGrade)
	if v == 0 {
		return nil
	}
	return &HottestSpeed{AtM: d.StartM, Grade: d.MeanGrade, TerminalMps: v, FromMps: hottestFrom * v, ToMps: hottestTo * v}
}

// gradeAt is the mean grade over some 30 m about a place.
func gradeAt(p *route.Profile, m float64) float64 {
	const reach = 3
	i := int(math.Round(m / p.SpacingM))
	lo, hi := max(i-reach, 0), min(i+reach, len(p.HeightM)-1)
	return (p.HeightM[hi] - p.HeightM[lo]) / (float64(hi-lo) * p.SpacingM)
}
