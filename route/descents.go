package route

import (
	"math"
	"slices"
)

// Rules of the descent finder, choices of this program with no source.
//
// A descent goes from a high point down to the lowest point reached before
// the road rises again by more than MaxCounterRiseM, or goes on for more than
// MaxFlatM without getting lower. Its ends are then trimmed to the stretch
// that loses most height over and above TrimGrade, so that a false flat before
// or after is left out while one in the middle stays. What is left is a
// descent if it loses at least MinDropM at MinMeanGrade or more, MinExcessM of
// it over and above TrimGrade: air and rolling resistance alone hold a bicycle
// on the first two percent.
const (
	// MinDropM is the least height lost, metres.
	MinDropM = 60.0
	// MinMeanGrade is the least mean grade, dimensionless, positive.
	MinMeanGrade = 0.025
	// MaxCounterRiseM is the greatest rise inside a descent, metres.
	MaxCounterRiseM = 15.0
	// MaxFlatM is the longest stretch inside a descent that gets no lower,
	// metres.
	MaxFlatM = 1000.0
	// TrimGrade is the grade, dimensionless and positive, that an end must
	// beat to belong to the descent.
	TrimGrade = 0.02
	// MinExcessM is the least height lost beyond TrimGrade times the length,
	// metres.
	MinExcessM = 40.0
	// SteepestWindowM is the length over which SteepestGrade is taken, metres.
	SteepestWindowM = 500.0
	// maxCappedM is the length of road at the cap of MaxGrade, metres, that
	// no descent may hold: the heights there are wrong.
	maxCappedM = 50.0
)

// findDescents finds the descents of p in the order ridden. Nodes marked in
// capped had their grade cut to MaxGrade.
func findDescents(p *Profile, capped []bool) []Descent {
	var found []Descent
	n := len(p.HeightM)
	longest := int(math.Ceil(maxCappedM / p.SpacingM))
	first := 0
	for i := 0; i < n; {
		if !capped[i] {
			i++
			continue
		}
		end := i
		for end < n && capped[end] {
			end++
		}
		if end-i > longest {
			found = splitDescents(found, p, first, i)
			first = end
		}
		i = end
	}
	return splitDescents(found, p, first, n-1)
}

// splitDescents cuts nodes first to last where the road rises or stays level
// for too long.
func splitDescents(found []Descent, p *Profile, first, last int) []Descent {
	if last <= first {
		return found
	}
	h := p.HeightM
	flat := int(MaxFlatM / p.SpacingM)
	top, low := first, first
	for i := first + 1; i <= last; i++ {
		switch {
		case low == top && h[i] >= h[top]:
			top, low = i, i
		case h[i] < h[low]:
			low = i
		case h[i]-h[low] > MaxCounterRiseM, i-low > flat:
			found = trimDescent(found, p, top, low)
			// What follows the low point is searched anew: it may hold the
			// top of the next descent.
			i, top = low, low
		}
	}
	return trimDescent(found, p, top, low)
}

// trimDescent takes from nodes first to last the stretch with the greatest
// loss of height over and above TrimGrade, then looks again on both sides.
func trimDescent(found []Descent, p *Profile, first, last int) []Descent {
	h := p.HeightM
	if last <= first || h[first]-h[last] < MinDropM && !mayHoldDescent(h[first:last+1]) {
		return found
	}
	allowed := TrimGrade * p.SpacingM
	best, start, end := 0.0, first, first
	for i, from, sum := first+1, first, 0.0; i <= last; i++ {
		if sum += h[i-1] - h[i] - allowed; sum <= 0 {
			sum, from = 0, i
		}
		if sum > best {
			best, start, end = sum, from, i
		}
	}
	if best < MinExcessM {
		return found
	}
	found = trimDescent(found, p, first, start)
	if d := describe(p, start, end); d.DropM >= MinDropM && -d.MeanGrade >= MinMeanGrade {
		found = append(found, d)
	}
	return trimDescent(found, p, end, last)
}

// mayHoldDescent tells whether the heights fall by MinDropM anywhere.
func mayHoldDescent(h []float64) bool {
	top := h[0]
	for _, v := range h {
		top = max(top, v)
		if top-v >= MinDropM {
			return true
		}
	}
	return false
}

func describe(p *Profile, start, end int) Descent {
	d := Descent{Start: start, End: end, StartM: p.DistM[start], EndM: p.DistM[end], DropM: p.HeightM[start] - p.HeightM[end]}
	d.MeanGrade = -d.DropM / (d.EndM - d.StartM)
	d.SteepestGrade, _ = steepest(p, start, end)
	d.SharpestCornerM = slices.Min(p.CornerRadiusM[start : end+1])
	for _, m := range p.HairpinM {
		if m >= d.StartM && m <= d.EndM {
			d.Hairpins++
		}
	}
	return d
}

// steepest is the most negative mean grade over SteepestWindowM between two
// nodes, over all of it if shorter, and the node at which that stretch begins.
func steepest(p *Profile, start, end int) (grade float64, at int) {
	w := int(math.Round(SteepestWindowM / p.SpacingM))
	if w < 1 || w > end-start {
		w = end - start
	}
	grade, at = (p.HeightM[end]-p.HeightM[start])/(p.DistM[end]-p.DistM[start]), start
	for i := start; i+w <= end; i++ {
		if g := (p.HeightM[i+w] - p.HeightM[i]) / (p.DistM[i+w] - p.DistM[i]); g < grade {
			grade, at = g, i
		}
	}
	return grade, at
}
