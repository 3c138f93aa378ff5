package risk

import (
	"fmt"
	"math"
)

// An Index says how much of an output's variance a group of inputs is to blame
// for, as a part of all of it, 0 to 1.
type Index struct {
	// First is what the group does by itself, whatever the other inputs are: by
	// how much the variance would fall on average if the group were known.
	First Estimate
	// Total is what the group has any part in: what would be left on average if
	// all other inputs were known. It is never less than First; where it
	// is more, the group acts together with others.
	Total Estimate
}

// Indices finds the sensitivity to groups of inputs, which are numbered from 0
// and may be in several groups. The polynomials of a Fit are uncorrelated and of
// mean square 1, so that its coefficients squared are the parts of the variance
// (B. Sudret, Global sensitivity analysis using polynomial chaos expansions,
// Reliability Engineering and System Safety 93 (2008) 964): First takes
// those of inputs in the group only, Total those of any.
//
// Standard errors are by the jackknife over the groups of blocks that
// Fit left out in turn, each with a choice of terms of its own. They are errors of
// sampling. What the polynomial does not explain may be anybody's: an index s
// may besides be wrong by (1-Explained) times the greater of s and 1-s, and what
// is missed first is what inputs do together.
func (f *Fit) Indices(groups [][]int) ([]Index, error) {
	indices := make([]Index, len(groups))
	for g, group := range groups {
		member := make([]bool, f.dims)
		for _, dim := range group {
			if dim < 0 || dim >= f.dims {
				return nil, fmt.Errorf("there is no input %d: they are numbered from 0 to %d", dim, f.dims-1)
			}
			member[dim] = true
		}
		var first, total []float64
		for _, p := range f.without {
			s, t := p.shares(member)
			first, total = append(first, s), append(total, t)
		}
		s, t := f.all.shares(member)
		indices[g] = Index{First: Estimate{s, jackknife(first)}, Total: Estimate{t, jackknife(total)}}
	}
	return indices, nil
}

// shares are the parts of the polynomial's variance in which no other than the
// member inputs have a part, and in which any of them has.
func (p polynomial) shares(member []bool) (only, any float64) {
	var all float64
	for k, t := range p.terms {
		if len(t) == 0 {
			continue // the constant
		}
		members := 0
		for _, f := range t {
			if member[f.dim] {
				members++
			}
		}
		v := p.beta[k] * p.beta[k]
		all += v
		if members == len(t) {
			only += v
		}
		if members > 0 {
			any += v
		}
	}
	if all == 0 {
		return 0, 0
	}
	return only / all, any / all
}

// jackknife is the standard error of an estimate, from what it is without each
// of the groups in turn (B. Efron and C. Stein, The jackknife estimate of
// variance, The Annals of Statistics 9 (1981) 586); 0 of none.
func jackknife(without []float64) float64 {
	groups := float64(len(without))
	if groups == 0 {
		return 0
	}
	var mean float64
	for _, v := range without {
		mean += v / groups
	}
	return spread(without, mean) * (groups - 1) / math.Sqrt(groups)
}

// At is the polynomial's output at a point, whose values must be within 0 to 1.
func (f *Fit) At(point []float64) (float64, error) {
	if len(point) != f.dims {
		return 0, fmt.Errorf("a point of %d values for %d inputs", len(point), f.dims)
	}
	alone := make([][mostDegree + 1]float64, f.dims)
	for dim, u := range point {
		if !(u >= 0 && u <= 1) {
			return 0, fmt.Errorf("input %d is %g: a polynomial holds from 0 to 1 only", dim, u)
		}
		legendre(alone[dim][:], u)
	}
	var sum float64
	for k, t := range f.all.terms {
		v := f.all.beta[k]
		for _, by := range t {
			v *= alone[by.dim][by.degree]
		}
		sum += v
	}
	return f.mean + f.scale*sum, nil
}
