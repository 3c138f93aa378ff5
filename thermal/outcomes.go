package thermal

import (
	"math"
	"slices"

	"rimheat/thermal/risk"
)

// outcomes are what the draws gave for one candidate.
type outcomes struct {
	m      *sampler
	design *risk.Design
	hot    []hottest
	limits []LimitResult
	// leastK is the least margin on the whole ride of each draw, K, once risk has run.
	leastK []float64
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

// margins is what is left to each limit, K: [limit][stretch][draw], the whole ride's
// last.
func (o *outcomes) margins() [][][]float64 {
	out := make([][][]float64, len(o.limits))
	for l := range out {
		out[l] = make([][]float64, len(o.m.spans)+1)
		for i := range out[l] {
			out[l][i] = make([]float64, o.design.Len())
		}
	}
	for k := range o.hot {
		t := o.m.doubts.truth(o.design.Point(k))
		for l := range out {
			limitC := t.limitIn(&o.limits[l])
			for i, c := range o.hot[k].at(placeOf(o.limits[l].On)) {
				out[l][i][k] = limitC - c
			}
		}
	}
	return out
}

// least is the least of the margins to all limits: [stretch][draw].
func (o *outcomes) least(margins [][][]float64) [][]float64 {
	out := make([][]float64, len(o.m.spans)+1)
	for i := range out {
		out[i] = slices.Repeat([]float64{math.Inf(1)}, o.design.Len())
		for l := range margins {
			for k, m := range margins[l][i] {
				out[i][k] = min(out[i][k], m)
			}
		}
	}
	return out
}
