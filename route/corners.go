package route

import "math"

// Rules for corners. Choices of this program, no source, but where derived.
const (
	// minCornerRadiusM is the least corner radius given, metres: a bicycle
	// does not turn tighter on a road at any speed that matters.
	minCornerRadiusM = 4.0
	// cornerNoiseM is the position noise that must not look like a corner,
	// standard deviation on each axis, metres, where it cannot be measured;
	// where it can, or where at most quietSwaps of the turns change sides (see
	// leastSwaps), it is never taken below quietNoiseM.
	cornerNoiseM, quietNoiseM = 1.2, 0.5
	quietSwaps, unquietSwaps  = 0.35, 0.55
	// cornerSigmas is how many standard deviations of its noise a turn must
	// reach to count.
	cornerSigmas = 5.0
	// maxFirstChordM is how far the shortest chord grows with the spacing of
	// the points, metres.
	maxFirstChordM = 25.0
	// sparseTurnRad: points more than a chord apart that turn by less than this
	// each may lie on a bend as long as their distance, radians.
	sparseTurnRad = 1.2
	// momentChords: a bend shorter than so many of its chords is measured by
	// its vertices, see arcOf, if it turns by less than maxMomentRad.
	momentChords = 2.5
	maxMomentRad = 2.1
	// A bend that a chord shows as long as itself is likely to be shortest of
	// that length, and one shown twice as long to be so; the square of what is
	// likely is known to likelySD of itself.
	shortest, likelySD = 0.5, 0.6
	// Vertices are asked only about bends whose turn is certain times what
	// noise must not reach, and believed if they turn by sameTurn of it; they
	// make no bend sharper than sharper of what the chord shows.
	certain, sameTurn, sharper = 1.2, 0.8, 0.4
	// vertexNoiseM is the noise of vertices that lie farther apart than noise
	// can be measured, standard deviation, metres.
	vertexNoiseM = 0.5
	// steadierM is the length, metres, on which slow wander of the positions
	// is measured.
	steadierM = 20.0
)

// cornerChordsM are the chords tried for a corner, shortest first, metres.
// The shortest is short enough for a hairpin of 8 m radius; the longest finds
// bends of up to 500 m.
var cornerChordsM = [...]float64{15, 20, 25, 40, 80}

// A turning is how the road turns at a node: the angle, radians, positive to
// the right, between two chords of the length chordM that meet there; both 0
// where it is straight.
type turning struct{ rad, chordM float64 }

// corners fills CornerRadiusM and HairpinM; x and y are the road in a plane,
// metres, spacing the length of the step between points at each node.
//
// The turn phi between the chord that ends at a node and the chord of the same
// length w that starts there is w/R on an arc of radius R. Position noise of
// standard deviation s on each axis gives phi the standard deviation
// s sqrt(6)/w (derived). So the shortest chord whose turn clearly exceeds its
// noise is taken: a hairpin is judged over 15 m, a sweeping bend over 80 m,
// and where no chord shows a turn the road is straight.
func (c *course) corners(p *Profile, x, y, spacing []float64) {
	n := len(x)
	noise := c.cornerNoise()
	turns := make([]turning, n)
	for i := range turns {
		p.CornerRadiusM[i] = math.Inf(1)
		for k, chord := range cornerChordsM {
			if k == 0 {
				chord = min(max(chord, spacing[i]), maxFirstChordM)
			}
			w := max(1, int(math.Round(chord/p.SpacingM)))
			if i < w || i+w >= n {
				continue
			}
			length := float64(w) * p.SpacingM
			least := leastTurn(noise, length)
			ax, ay, bx, by := x[i]-x[i-w], y[i]-y[i-w], x[i+w]-x[i], y[i+w]-y[i]
			cross, dot := ay*bx-ax*by, ax*bx+ay*by
			if math.Abs(cross) < least*dot {
				continue // tan(turn) < least, without the cost of the angle
			}
			if turn := math.Atan2(cross, dot); math.Abs(turn) > least {
				if math.Abs(turn) < sparseTurnRad {
					length = max(length, min(spacing[i], sparseM))
				}
				p.CornerRadiusM[i] = max(length/math.Abs(turn), minCornerRadiusM)
				turns[i] = turning{turn, length}
				break
			}
		}
	}
	c.shortBends(p, turns, noise)
	p.HairpinM = hairpins(p.SpacingM, x, y, spacing, noise)
}

// leastTurn is the turn between two chords, radians, that noise does not
// reach. Slow wander grows with the root of the chord, as a random walk does.
func leastTurn(noise, chordM float64) float64 {
	return cornerSigmas * noise * math.Sqrt(6*max(chordM/steadierM, 1)) / chordM
}

// cornerNoise is the position noise to be told from corners, metres: what
// smoothing left of white noise, or the slow wander that is no less over
// longer chords.
func (c *course) cornerNoise() float64 {
	k := c.steadier()
	if k < 2 {
		unquiet := min(max((c.swaps()-quietSwaps)/(unquietSwaps-quietSwaps), 0), 1)
		return max(c.leftM, quietNoiseM+unquiet*(cornerNoiseM-quietNoiseM))
	}
	return max(c.leftM, min(c.wander(k), cornerNoiseM), quietNoiseM)
}

// steadier is how many points make up steadierM, 0 where the route is too
// short for it.
func (c *course) steadier() int {
	n := len(c.dist)
	k := int(math.Round(steadierM / (c.dist[n-1] / float64(n-1))))
	if n < 8*k {
		return 0
	}
	return k
}

// shortBends gives bends that are short beside their chords, which draw them
// out, the radius that the vertices tell.
func (c *course) shortBends(p *Profile, turns []turning, noise float64) {
	vertices := min(noise, vertexNoiseM)
	k := 1 // the first vertex of the bend
	for i := 0; i < len(turns); {
		if turns[i].rad == 0 {
			i++
			continue
		}
		end, best := i, i
		for end < len(turns) && turns[end].rad*turns[i].rad > 0 {
			if p.CornerRadiusM[end] < p.CornerRadiusM[best] {
				best = end
			}
			end++
		}
		for k+1 < len(c.dist) && c.dist[k] < p.DistM[i] {
			k++
		}
		side := math.Copysign(1, turns[i].rad)
		seen, chord, shown := math.Abs(turns[best].rad), turns[best].chordM, p.CornerRadiusM[best]
		least := leastTurn(noise, chord)
		// A bend shows up to the longest chord beyond either of its ends.
		var a arc
		if p.DistM[end-1]-p.DistM[i] < momentChords*chord+2*cornerChordsM[len(cornerChordsM)-1] {
			a = c.arcOf(k, p.DistM[i], p.DistM[end-1], side, vertices)
		}
		if seen > certain*least && a.rad > sameTurn*seen && a.rad < maxMomentRad {
			// A chord w shows an arc shorter than w as nearly w long.
			likely := shown * a.rad * min(max(shortest+(1-shortest)*(shown*a.rad/chord-1), shortest), 1)
			// Only vertices on either side of an arc tell of it.
			for range 2 {
				half := max(a.lengthM, likely) / 2
				a = c.arcOf(k, max(a.middleM-half, p.DistM[i]), min(a.middleM+half, p.DistM[end-1]), side, vertices)
			}
			length := a.lengthNear(likely)
			if a.rad > sameTurn*seen && length < momentChords*chord {
				radius := max(length/a.rad, sharper*shown, minCornerRadiusM)
				for j := i; j < end; j++ {
					if radius > p.CornerRadiusM[j] || math.Abs(p.DistM[j]-a.middleM) <= max(length, p.SpacingM)/2 {
						p.CornerRadiusM[j] = radius
					}
				}
			}
		}
		i = end
	}
}

// An arc is the bend that the vertices of a stretch tell: its turn, radians,
// middle and length, metres, and the standard deviation of the square of the
// length, square metres.
type arc struct{ rad, middleM, lengthM, squareSD float64 }

// lengthNear is the length, metres, once what the vertices tell is weighed
// against what is likely, known to likelySD of its square.
func (a arc) lengthNear(likelyM float64) float64 {
	own, given := 1/(a.squareSD*a.squareSD), 1/math.Pow(likelySD*likelyM*likelyM, 2)
	return math.Sqrt((own*a.lengthM*a.lengthM + given*likelyM*likelyM) / (own + given))
}

// arcOf is the arc that the vertices from startM to endM tell with one on
// either side; k is a vertex not after the first of them, side +1 or -1 the side to which they
// turn, noise that of positions, metres.
//
// A bend of the road spreads over the vertices beside it as a load does over
// the supports beside it: sum and centre of the turns are those of the bend,
// and their mean squared distance from the centre is that of the bend, a*a/12
// for an arc of length a, plus the mean of u*v over it, u and v being the
// distances to the vertices on either side (derived, for turns that are small
// at each vertex). Noise turns the outermost steps, of length h, by noise
// sqrt(2)/h, each at its distance from the centre.
func (c *course) arcOf(k int, startM, endM, side, noise float64) arc {
	for k+1 < len(c.dist) && c.dist[k] < startM {
		k++
	}
	first, last := max(k-1, 1), k
	for last+1 < len(c.azimuth) && c.dist[last] <= endM {
		last++
	}
	last = min(last, len(c.azimuth)-1)
	turn := func(i int) float64 {
		t := side * math.Remainder(c.azimuth[i]-c.azimuth[i-1], 2*math.Pi)
		if least := cornerSigmas * noise * math.Sqrt(6) / (c.dist[i+1] - c.dist[i-1]); t < -least && (i == first || i == last) {
			return 0 // the next bend, to the other side
		}
		return t
	}
	var a arc
	moment := 0.0
	for i := first; i <= last; i++ {
		t := turn(i)
		a.rad += t
		moment += t * c.dist[i]
	}
	if a.rad <= 0 {
		return arc{}
	}
	a.middleM = min(max(moment/a.rad, startM), endM)
	spread := 0.0
	for i := first; i <= last; i++ {
		from := c.dist[i] - a.middleM
		spread += turn(i) * from * from / a.rad
	}
	low, high := 0.0, c.dist[last+1]-c.dist[first-1]
	for range 14 {
		a.lengthM = (low + high) / 2
		if a.lengthM*a.lengthM/12+c.meanProduct(first, a.middleM-a.lengthM/2, a.middleM+a.lengthM/2) < spread {
			low = a.lengthM
		} else {
			high = a.lengthM
		}
	}
	before, after := a.middleM-c.dist[first], c.dist[last]-a.middleM
	wrong := math.Hypot(before*before/(c.dist[first]-c.dist[first-1]), after*after/(c.dist[last+1]-c.dist[last]))
	a.squareSD = max(12*math.Sqrt2*noise*wrong/a.rad, 1)
	return a
}

// meanProduct is the mean of u*v from fromM to toM, see arcOf, by the
// midpoint rule.
func (c *course) meanProduct(k int, fromM, toM float64) float64 {
	const parts = 16
	sum := 0.0
	for k > 0 && c.dist[k] > fromM {
		k--
	}
	for i := range parts {
		m := fromM + (toM-fromM)*(float64(i)+0.5)/parts
		for k+2 < len(c.dist) && c.dist[k+1] < m {
			k++
		}
		sum += max((m-c.dist[k])*(c.dist[k+1]-m), 0)
	}
	return sum / parts
}
