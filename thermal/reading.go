package thermal

import (
	"context"
	"fmt"
	"math"

	"rimheat/route"
	"rimheat/thermal/air"
	"rimheat/thermal/ride"
	"rimheat/thermal/rim"
)

// A Reading is a temperature that was measured on a wheel.
type Reading struct {
	// AtM is where, m from the start, and AfterS how long after getting there, s, 0
	// for a label.
	// A planned rider stops there to read; a recorded one did what they did.
	AtM, AfterS float64
	Rear        bool
	// On is OnTrack, OnTyreSide or OnSpokeBed.
	On string
	// A thermometer showed C give or take SdC, its standard deviation, °C.
	C, SdC float64
	// A label that turns at fixed temperatures says that the highest so far was at
	// least OverC and less than UnderC, °C; NaN without a label.
	OverC, UnderC float64
}

// OnSpokeBed is a place that a reading can be on.
const OnSpokeBed = "spoke bed"

const (
	// DefaultReadAfterS is how long it takes to get off and measure, s, and
	// DefaultReadingSd how well a contact thermometer on a cooling rim reads, K;
	// common practice, no source.
	DefaultReadAfterS, DefaultReadingSd = 30.0, 4.0
	// labelSd is how well labels turn where they say, K; from memory, makers state
	// 1 to 2 %.
	labelSd = 1.5
)

// What anybody reads off a rim, °C.
const leastReadC, mostReadC = -30.0, 500.0

// isLabel says whether a label was read.
func (r Reading) isLabel() bool { return !math.IsNaN(r.OverC) || !math.IsNaN(r.UnderC) }

// Validate reports what nobody reads.
func (r Reading) Validate(p *route.Profile) error {
	end := p.DistM[len(p.DistM)-1]
	if !(r.AtM > 0 && r.AtM <= end+1) {
		return fmt.Errorf("km %.2f is not on the road, which ends at km %.2f", r.AtM/1000, end/1000)
	}
	if r.On != OnTrack && r.On != OnTyreSide && r.On != OnSpokeBed {
		return fmt.Errorf("nothing is read on the %q", r.On)
	}
	if !(r.AfterS >= 0 && r.AfterS <= 1800) {
		return fmt.Errorf("read %g s after getting there, outside 0 to 1800 s", r.AfterS)
	}
	if r.isLabel() {
		if r.AfterS != 0 {
			return fmt.Errorf("a label says what was the highest on the way there: it has no time after")
		}
		for _, c := range []float64{r.OverC, r.UnderC} {
			if c < leastReadC || c > mostReadC {
				return fmt.Errorf("a label for %g °C is outside %g to %g °C", c, leastReadC, mostReadC)
			}
		}
		if !math.IsNaN(r.OverC) && !math.IsNaN(r.UnderC) && !(r.UnderC > r.OverC) {
			return fmt.Errorf("a label that reached %g °C did not stay below %g °C", r.OverC, r.UnderC)
		}
		return nil
	}
	if !(r.C >= leastReadC && r.C <= mostReadC) {
		return fmt.Errorf("a reading of %g °C is outside %g to %g °C", r.C, leastReadC, mostReadC)
	}
	if !(r.SdC >= 0.2 && r.SdC <= 50) {
		return fmt.Errorf("a standard deviation of %g K is outside 0.2 to 50 K", r.SdC)
	}
	return nil
}

// chance is how likely the reading is if the wheel is at c, °C, in units of its
// most likely; moreSd is what else is not known, K.
func (r Reading) chance(c, moreSd float64) float64 {
	if r.isLabel() {
		sd := math.Hypot(labelSd, moreSd)
		p := 1.0
		if !math.IsNaN(r.OverC) {
			p *= normal((c - r.OverC) / sd)
		}
		if !math.IsNaN(r.UnderC) {
			p *= normal((r.UnderC - c) / sd)
		}
		return p
	}
	x := (c - r.C) / math.Hypot(r.SdC, moreSd)
	return math.Exp(-x * x / 2)
}

// normal is the standard normal distribution function.
func normal(x float64) float64 { return 0.5 * math.Erfc(-x/math.Sqrt2) }

// foretold gives what each draw of an inquiry foretells for a reading, °C.
func (q *inquiry) foretold(ctx context.Context, r Reading) ([]float64, error) {
	s := q.setup
	// A planned ride ends in a stop anyway.
	if end := q.profile.DistM[len(q.profile.DistM)-1]; q.profile.Ride == nil && !r.isLabel() && r.AtM < end-50 {
		s.Style.Pauses = append(s.Style.Pauses[:len(s.Style.Pauses):len(s.Style.Pauses)], ride.Pause{AtM: r.AtM, S: r.AfterS + 60})
	}
	m, err := newSampler(q.profile, s, q.families, nil)
	if err != nil {
		return nil, err
	}
	out := make([]float64, q.design.Len())
	err = m.each(ctx, q.design.Len(), nil, func(d *rider, k int) error {
		c, err := d.read(m.doubts.truth(q.design.Point(k)), r)
		out[k] = c
		return err
	})
	return out, err
}

// read rides in one world as far as the reading and gives the temperature that is
// read, °C.
func (r *rider) read(t truth, what Reading) (float64, error) {
	m := r.m
	plan := r.planner.Ride(t.load, t.weather, t.resistance, t.style)
	duty := &r.duty
	standS := max(StandS, what.AfterS+60)
	if m.families == nil {
		duty = plan.Duty(standS)
	} else {
		plan.SampleDuty(duty, standS)
	}
	model, err := r.wheel(0, m.setup.Wheels[0], t)
	if err != nil {
		return 0, err
	}
	power := duty.FrontW
	if what.Rear {
		power = duty.RearW
	}
	at := func(st rim.State) float64 {
		switch what.On {
		case OnTyreSide:
			return st.TyreSideK - air.ZeroCelsiusK
		case OnSpokeBed:
			return st.SpokeBedK - air.ZeroCelsiusK
		}
		return st.SweptK - air.ZeroCelsiusK
	}
	node := min(int(math.Round(what.AtM/m.profile.SpacingM)), len(plan.TimeS)-1)
	until := plan.TimeS[node] + what.AfterS
	model.Reset(duty.AirK[0] + t.weather.RoadAirK)
	before, hottest := duty.AirK[0]+t.weather.RoadAirK-air.ZeroCelsiusK, math.Inf(-1)
	for i := range duty.DtS {
		if err := model.Step(driveOf(duty, power, &t.weather, i)); err != nil {
			return 0, fmt.Errorf("at km %.2f: %w", duty.DistM[i]/1000, err)
		}
		c := at(model.State())
		if end := duty.TimeS[i]; end >= until {
			part := 1 - (end-until)/duty.DtS[i]
			c = before + part*(c-before)
			if what.isLabel() {
				return max(hottest, c), nil
			}
			return c, nil
		}
		before, hottest = c, max(hottest, c)
	}
	return 0, fmt.Errorf("the ride and the standing after it end before the reading, %.0f s after km %.2f", what.AfterS, what.AtM/1000)
}
