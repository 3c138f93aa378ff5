package route

import "math"

// HairpinTurnRad and HairpinRadiusM say what a hairpin is: a bend that turns
// the road by this much, radians (135 degrees), with a radius below this,
// metres. Common practice, no source.
const (
	HairpinTurnRad = 0.75 * math.Pi
	HairpinRadiusM = 25.0
)

// Rules for telling one bend from two. Choices of this program, no source.
const (
	// bendRadiusM is the radius, metres, below which the road is inside a
	// bend that may be a hairpin.
	bendRadiusM = 30.0
	// tailRadiusM: a bend goes on to where the radius passes this, metres.
	tailRadiusM = 200.0
	// A chord of shortChordM shows a straight of some 8 m between two arcs of
	// 10 m radius. It grows with the spacing of the points, to longChordM, and
	// with noise, to noiseChords times its standard deviation.
	shortChordM, longChordM = 10.0, 30.0
	noiseChords             = 12.0
)

// hairpins gives the distances of the middles of hairpins, metres. x and y are
// the road in a plane, spacing the step between points at each node, all in
// metres, nodes stepM apart; noise is what the positions have, metres.
func hairpins(stepM float64, x, y, spacing []float64, noise float64) []float64 {
	n := len(x)
	bent := make([]float64, n) // 1/radius, 1/m, positive to the right
	for i := range bent {
		w := max(1, int(math.Round(min(max(spacing[i], shortChordM, noiseChords*noise), longChordM)/stepM)))
		if i < w || i+w >= n {
			continue
		}
		ax, ay, bx, by := x[i]-x[i-w], y[i]-y[i-w], x[i+w]-x[i], y[i+w]-y[i]
		length := float64(w) * stepM
		if cross, dot := ay*bx-ax*by, ax*bx+ay*by; math.Abs(cross) > dot*length/tailRadiusM {
			bent[i] = math.Atan2(cross, dot) / length
		}
	}
	// Noise must not break a bend in two.
	goesOn := 1 / (bendRadiusM * max(1, noise/quietNoiseM))
	var found []float64
	for i := 0; i < n; {
		side := math.Copysign(1, bent[i])
		if side*bent[i] < 1/bendRadiusM {
			i++
			continue
		}
		first, end := i, i
		most := 0.0
		for end < n && side*bent[end] >= goesOn {
			most = max(most, side*bent[end])
			end++
		}
		last := end - 1
		for first > 0 && side*bent[first-1] > 1/tailRadiusM && side*bent[first-1] <= side*bent[first] {
			first--
		}
		for last+1 < n && side*bent[last+1] > 1/tailRadiusM && side*bent[last+1] <= side*bent[last] {
			last++
		}
		turn, moment := 0.0, 0.0
		for j := first; j <= last; j++ {
			t := side * bent[j] * stepM
			turn += t
			moment += t * float64(j) * stepM
		}
		if turn >= HairpinTurnRad && most > 1/HairpinRadiusM {
			found = append(found, moment/turn)
		}
		i = end
	}
	return found
}
