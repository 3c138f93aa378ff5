package risk

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat"
)

// mostValue is the greatest size of a value: squares of greater ones overflow.
const mostValue = 1e150

// An Estimate is a number found from a sample, and its standard error: how far
// such an estimate is from the truth, root mean square, because the sample is
// no larger.
type Estimate struct {
	Value, SE float64
}

// A Summary is the distribution of one output over a design, in the output's
// unit.
type Summary struct {
	// P05, P50 and P95 are the 5 %, 50 % and 95 % quantiles of all values.
	P05, P50, P95 Estimate
	// Mean and Sd are mean and standard deviation (with n-1).
	Mean, Sd float64
}

// Summarise finds the distribution of the values y, which stand in the order of
// the points of a design with perBlock points to a block.
//
// Standard errors of quantiles are by sectioning: the root mean square distance,
// with B-1, of the B blocks' own quantiles from that of all values, over sqrt(B)
// (H. Dong and M. K. Nakayama, Quantile estimation with Latin hypercube sampling,
// Operations Research 65 (2017) 1678, compares this with other ways). A block
// too small to have the quantile, one of fewer than 20 points for P05, gives
// its end instead, and the error comes out too large rather than too small.
func Summarise(y []float64, perBlock int) (Summary, error) {
	if err := checkValues(y, perBlock); err != nil {
		return Summary{}, err
	}
	all := slices.Sorted(slices.Values(y))
	var blocks [][]float64
	for b := range slices.Chunk(y, perBlock) {
		blocks = append(blocks, slices.Sorted(slices.Values(b)))
	}
	at := func(p float64) Estimate {
		e := Estimate{Value: quantile(all, p)}
		own := make([]float64, len(blocks))
		for b, sorted := range blocks {
			own[b] = quantile(sorted, p)
		}
		e.SE = spread(own, e.Value) / math.Sqrt(float64(len(own)))
		return e
	}
	s := Summary{P05: at(0.05), P50: at(0.50), P95: at(0.95)}
	s.Mean, s.Sd = stat.MeanStdDev(y, nil)
	return s, nil
}

// Quantiles sorts the values, of which there must be one at least, and appends to dst
// their quantiles at each of ps, 0 to 1.
func Quantiles(dst, y []float64, ps ...float64) []float64 {
	slices.Sort(y)
	for _, p := range ps {
		dst = append(dst, quantile(y, p))
	}
	return dst
}

// quantile is the p-quantile of sorted values, by straight lines through the
// middles of the steps of their distribution function: the i-th of n values,
// from 1, is the (i-1/2)/n quantile, and the ends hold beyond the first and the
// last (definition 5 of R. J. Hyndman and Y. Fan, Sample quantiles in
// statistical packages, The American Statistician 50 (1996) 361). Where one
// input alone decides, that is the middle of the part which the value was
// drawn from.
func quantile(sorted []float64, p float64) float64 {
	n := len(sorted)
	at := math.Max(0, math.Min(float64(n-1), p*float64(n)-0.5))
	i := int(at)
	if i+1 == n {
		return sorted[i]
	}
	return math.Min(sorted[i+1], sorted[i]+(at-float64(i))*(sorted[i+1]-sorted[i]))
}

// spread is the root mean square distance of the values from centre, with n-1.
func spread(v []float64, centre float64) float64 {
	var sum float64
	for _, x := range v {
		sum += (x - centre) * (x - centre)
	}
	return math.Sqrt(sum / float64(len(v)-1))
}

// checkValues reports values that are not those of a design.
func checkValues(y []float64, perBlock int) error {
	if perBlock < 1 {
		return fmt.Errorf("a block of %d points: use 1 or more", perBlock)
	}
	if len(y)%perBlock != 0 || len(y)/perBlock < 2 {
		return fmt.Errorf("%d values are not two or more whole blocks of %d points", len(y), perBlock)
	}
	for i, v := range y {
		if !(math.Abs(v) <= mostValue) { // NaN too
			return fmt.Errorf("the value at point %d is %g: every point needs one within ±%g", i, v, mostValue)
		}
	}
	return nil
}
