package thermal

import (
	"context"
	"errors"
	"fmt"

	"rimheat/route"
	"rimheat/thermal/rim"
	"rimheat/thermal/risk"
)

// An inquiry asks again and again how one candidate does on one profile, each time
// with the same draws, so that answers differ by what was changed alone.
type inquiry struct {
	profile *route.Profile
	setup   Setup // with one wheel
	// families is as newSampler takes it.
	families []*rim.Family
	limits   []LimitResult
	design   *risk.Design
}

// A Reply is what the draws say to one question.
type Reply struct {
	// MarginK is the least margin to any limit on the whole ride.
	MarginK Percentiles `json:"margin_K"`
	Chance  Chance      `json:"chance"`
	// MarginSE is the standard error of MarginK.P05 by sampling, K.
	MarginSE float64 `json:"margin_p05_se_K"`
}

// Within says whether nineteen in twenty draws stay below every limit.
func (r Reply) Within() bool { return r.Chance.P < MarginalChance }

// newInquiry prepares one about a setup with one wheel.
func newInquiry(p *route.Profile, s Setup) (*inquiry, error) {
	if err := s.Validate(); err != nil {
		return nil, err
	}
	if err := s.fits(p); err != nil {
		return nil, err
	}
	if len(s.Wheels) != 1 {
		return nil, fmt.Errorf("one rim at a time, not %d", len(s.Wheels))
	}
	if s.Sampling.Samples == 0 {
		return nil, fmt.Errorf("nothing is drawn: give a number of draws")
	}
	w := s.Wheels[0]
	q := &inquiry{profile: p, setup: s, limits: limitsOf(w)}
	var err error
	if !s.Sampling.Full {
		if q.families, err = newFamilies(s.Wheels); err != nil {
			return nil, err
		}
	}
	q.design, err = design(s.Sampling)
	return q, err
}

// ask rides in all the draws of a setup that differs from the inquiry's.
func (q *inquiry) ask(ctx context.Context, s Setup) (Reply, error) {
	leastK, err := q.leastMargins(ctx, s)
	if err != nil {
		return Reply{}, err
	}
	return q.replyTo(leastK)
}

// leastMargins gives the least margin to any limit on the whole ride of each draw, K.
func (q *inquiry) leastMargins(ctx context.Context, s Setup) ([]float64, error) {
	hot, m, err := q.hottest(ctx, s, nil)
	if err != nil {
		return nil, err
	}
	o := outcomes{m: m, design: q.design, hot: hot, limits: q.limits}
	return o.least(o.margins())[0], nil
}

// hottest gives the hottest temperatures of each draw on stretches of road.
func (q *inquiry) hottest(ctx context.Context, s Setup, spans []span) ([]hottest, *sampler, error) {
	if err := s.Validate(); err != nil {
		return nil, nil, err
	}
	m, err := newSampler(q.profile, s, q.families, spans)
	if err != nil {
		return nil, nil, err
	}
	hot, err := m.run(ctx, q.design, nil)
	if err != nil {
		return nil, nil, err
	}
	return hot[0], m, nil
}

// replyTo sums up margins.
func (q *inquiry) replyTo(marginK []float64) (Reply, error) {
	o := outcomes{design: q.design}
	s, err := risk.Summarise(marginK, q.design.PerBlock())
	r := Reply{MarginK: Percentiles{s.P05.Value, s.P50.Value, s.P95.Value}, MarginSE: s.P05.SE, Chance: o.chance(marginK)}
	return r, errors.Join(err, o.err)
}

// HeldLimit is one limit that a rim is held against; LowC and HighC are the range
// from which an assumed one is drawn, missing for a maker's figure.
type HeldLimit struct {
	On      string  `json:"on"`
	LimitC  float64 `json:"limit_C"`
	Assumed bool    `json:"assumed"`
	LowC    float64 `json:"low_C,omitempty"`
	HighC   float64 `json:"high_C,omitempty"`
}

func heldLimits(w Wheel) []HeldLimit {
	var out []HeldLimit
	for _, l := range limitsOf(w) {
		out = append(out, HeldLimit{l.On, l.LimitC, l.Assumed, l.LowC, l.HighC})
	}
	return out
}

// A span is a stretch of road, m.
type span struct{ startM, endM float64 }

func spansOf(ds []route.Descent) []span {
	out := make([]span, 0, len(ds))
	for _, d := range ds {
		out = append(out, span{d.StartM, d.EndM})
	}
	return out
}
