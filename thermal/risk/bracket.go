package risk

import "math"

const (
	// Parameters of the search within a bracket, as its authors choose them:
	// kappa2 = 2 and kappa1 = 0.2 over the first width; n0 = 1 step more than
	// bisection takes.
	itpTruncation = 0.2
	itpMore       = 1
	// inner is what is aimed at, of the tolerance: steps are planned to end with
	// just that width, and rounding, at most some of finest's, must not make
	// it another step.
	inner = 1 - 1.0/256
)

// below is the sign of the search: 0 is above.
func (t Try) below() bool { return t.F < 0 }

// bracket finds neighbours between which the function passes 0: the first in
// the direction in which it goes back less, or else the first.
func bracket(tried []Try) (a, b Try, ok bool) {
	rising := worstReturn(tried, 1).by <= worstReturn(tried, -1).by
	for i, t := range tried[1:] {
		if tried[i].below() == t.below() {
			continue
		}
		if fits := tried[i].below() == rising; fits || !ok {
			a, b, ok = tried[i], t, true
			if fits {
				return a, b, true
			}
		}
	}
	return a, b, ok
}

// A goesBack is how far a function goes against its direction.
type goesBack struct {
	by       float64
	from, to Try
}

// worstReturn is the greatest fall between any two tries by rising x, or with a
// sign of -1 the greatest rise.
func worstReturn(tried []Try, sign float64) (worst goesBack) {
	top := tried[0]
	for _, t := range tried[1:] {
		if by := sign*top.F - sign*t.F; by > worst.by {
			worst = goesBack{by, top, t}
		}
		if sign*t.F > sign*top.F {
			top = t
		}
	}
	return worst
}

// halvings is how often bisection halves a bracket of some width until it is
// narrow enough.
func (s Search) halvings(width float64) int {
	return max(0, int(math.Ceil(math.Log2(width/(inner*s.Tol)))))
}

// narrow closes the bracket by interpolation, truncation and projection; a.X is
// less than b.X. With an error the bracket is the last one.
func (s Search) narrow(a, b Try, try func(x float64) (Try, error)) (Try, Try, error) {
	first := b.X - a.X
	most := s.halvings(first) + itpMore
	for j := 0; b.X-a.X > s.Tol; j++ {
		width, half := b.X-a.X, a.X+(b.X-a.X)/2
		// Interpolation: the secant through both ends.
		x := (a.X*b.F - b.X*a.F) / (b.F - a.F)
		if math.IsNaN(x) {
			x = half // infinite, or both ends 0
		}
		// Truncation: a little towards the middle, so that the far end moves too.
		if move := itpTruncation / first * width * width; move < math.Abs(half-x) {
			x += math.Copysign(move, half-x)
		} else {
			x = half
		}
		// Projection: so near the middle that bisection could still do the rest.
		reach := math.Max(0, inner*s.Tol/2*math.Exp2(float64(most-j))-width/2)
		x = math.Max(half-reach, math.Min(half+reach, x))
		if !(x > a.X && x < b.X) {
			x = half
		}
		t, err := try(x)
		if err != nil {
			return a, b, err
		}
		if t.below() == a.below() {
			a = t
		} else {
			b = t
		}
	}
	return a, b, nil
}
