package plots

import "math"

// envelopeW is the width of the parts that an envelope is taken over, points.
const envelopeW = 3.0

// envelope gives the upper and the lower bound of a curve on the sheet: its
// highest and lowest point in each part of envelopeW, with both of the
// curve's ends. The highest point of the curve is in the upper bound.
func envelope(line []xy) (upper, lower []xy) {
	for i := 0; i < len(line); {
		part := math.Floor(line[i].x / envelopeW)
		lo, hi := line[i], line[i]
		for ; i < len(line) && math.Floor(line[i].x/envelopeW) == part; i++ {
			if line[i].y < lo.y {
				lo = line[i]
			}
			if line[i].y > hi.y {
				hi = line[i]
			}
		}
		upper, lower = append(upper, hi), append(lower, lo)
	}
	if n := len(line); n > 0 {
		upper = append(append([]xy{line[0]}, upper...), line[n-1])
		lower = append(append([]xy{line[0]}, lower...), line[n-1])
	}
	return upper, lower
}

// sawing tells whether a curve goes up and down so often that its line would
// run together: it travels more than three times as far in height as its
// upper bound does.
func sawing(line, upper []xy) bool {
	return travel(line) > 3*travel(upper)
}

// travel is the way up and down along a curve, points.
func travel(line []xy) float64 {
	sum := 0.0
	for i := 1; i < len(line); i++ {
		sum += math.Abs(line[i].y - line[i-1].y)
	}
	return sum
}
