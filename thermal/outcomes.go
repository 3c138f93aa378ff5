package thermal

import (
	"math"

	"rimheat/thermal/risk"
)

// outcomes are what the draws gave for one candidate.
type outcomes struct {
	m      *sampler
	design *risk.Design
	hot    []hottest
	limits []LimitResult
	// err is the first error of summing up.
	err error
}

// percentiles are those of a value of each draw.
func (o *outcomes) percentiles(v []float64) Percentiles {
	s, err := risk.Summarise(v, o.design.PerBlock())
	if o.err == nil {
		o.err = err
	}
	return Percentiles{s.P05.Value, s.P50.Value, s.P95.Value}
}

// chance is that of a margin used up.
func (o *outcomes) chance(marginK []float64) Chance {
	over := make([]float64, len(marginK))
	for k, m := range marginK {
		over[k] = -m
	}
	c, err := risk.Exceedance(over, o.design.PerBlock())
	if o.err == nil {
		o.err = err
	}
	return Chance{c.P, c.Low, c.High}
}

// peaks are the highest temperatures of a place on a stretch, °C, of each draw.
func (o *outcomes) peaks(place, stretch int) []float64 {
	v := make([]float64, len(o.hot))
	for k := range v {
		v[k] = o.hot[k].at(place)[stretch]
	}
	return v
}

// least is the least margin of all limits to what every draw came to, K, on each
// stretch, the whole ride's last: [stretch][draw].
func (o *outcomes) least() [][]float64 {
	out := make([][]float64, len(o.m.spans)+1)
	for i := range out {
		out[i] = make([]float64, o.design.Len())
		for k := range out[i] {
			out[i][k] = math.Inf(1)
		}
	}
	for l := range o.limits {
		for i, m := range o.margins(l) {
			for k, v := range m {
				out[i][k] = min(out[i][k], v)
			}
		}
	}
	return out
}

// margins is what is left to limit l, K: [stretch][draw], the whole ride's last.
func (o *outcomes) margins(l int) [][]float64 {
	out := make([][]float64, len(o.m.spans)+1)
	for i := range out {
		out[i] = make([]float64, o.design.Len())
	}
	place := placeOf(o.limits[l].On)
	for k := range o.hot {
		t := o.m.doubts.truth(o.design.Point(k))
		limitC := t.limitIn(&o.limits[l])
		for i, c := range o.hot[k].at(place) {
			out[i][k] = limitC - c
		}
	}
	return out
}
