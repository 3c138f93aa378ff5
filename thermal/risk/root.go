package risk

import (
	"fmt"
	"math"
	"slices"
)

const (
	// mostProbes bounds Search.Probes.
	mostProbes = 1000
	// finest is how many distances between numbers a tolerance must have.
	finest = 1 << 12
)

// A Search looks for where a function of x passes 0 between Lo and Hi. The
// function should only rise there, or only fall; it may have steps.
type Search struct {
	Lo, Hi float64
	// Tol is how closely x is wanted: the greatest width of the bracket.
	Tol float64
	// Probes is how many values of x between Lo and Hi, evenly spread, are tried
	// before anything is concluded. With none, a function that comes and
	// goes between the ends is not noticed.
	Probes int
	// Slack is how far the function may go back, in its own unit, and still count
	// as one that only rises or only falls.
	Slack float64
}

// A Side says where a function is.
type Side string

const (
	Crosses Side = "crosses" // below 0 at one end of the bracket and not at the other
	Below   Side = "below"   // below 0 wherever it was tried
	Above   Side = "above"   // 0 or above wherever it was tried
)

// A Try is one value of the function.
type Try struct{ X, F float64 }

// A Crossing is what a Search found.
type Crossing struct {
	Side Side
	// X is the middle of the bracket from Lo to Hi, at most the search's Tol
	// wide, within which the function passes 0; NaN if it does not cross.
	X, Lo, Hi float64
	// Safe is the end of the bracket at which the function is below 0; NaN if it
	// does not cross.
	Safe float64
	// Rising says that the function is below 0 at Lo.
	Rising bool
	// Tried is all that was tried, by rising x.
	Tried []Try
	// NotMonotonic says that the function goes back by more than the slack:
	// from From to To, at the worst. There may then be other crossings.
	NotMonotonic bool
	From, To     Try
}

// Cross finds a crossing. 0 counts as above. The function is called at most
// Tries times; its first error ends the search and comes back wrapped, with
// what was tried so far and a bracket that may be wider than wanted. Where probes show several crossings, the one at the
// lowest x is taken of those in the direction that fits the function best.
//
// Steps are those of I. F. D. Oliveira and R. H. C. Takahashi, An enhancement of
// the bisection method average performance preserving minmax optimality, ACM
// Trans. Math. Softw. 47 (2021) 5: of the secant where the function is smooth,
// and never more than one over bisection's however it is.
func (s Search) Cross(f func(x float64) (float64, error)) (Crossing, error) {
	none := Crossing{X: math.NaN(), Lo: math.NaN(), Hi: math.NaN(), Safe: math.NaN()}
	if err := s.validate(); err != nil {
		return none, err
	}
	var tried []Try
	try := func(x float64) (Try, error) {
		v, err := f(x)
		if err == nil && math.IsNaN(v) {
			err = fmt.Errorf("the function is not a number")
		}
		if err != nil {
			return Try{}, fmt.Errorf("at %g: %w", x, err)
		}
		at := slices.IndexFunc(tried, func(t Try) bool { return t.X > x })
		if at < 0 {
			at = len(tried)
		}
		tried = slices.Insert(tried, at, Try{x, v})
		return Try{x, v}, nil
	}
	for i := range s.Probes + 2 {
		w := float64(i) / float64(s.Probes+1)
		if _, err := try((1-w)*s.Lo + w*s.Hi); err != nil {
			none.Tried = tried
			return none, err
		}
	}
	a, b, ok := bracket(tried)
	var err error
	if ok {
		a, b, err = s.narrow(a, b, try)
	}
	return s.conclude(tried, a, b, ok), err
}

// Tries is the most times that Cross calls its function.
func (s Search) Tries() int {
	if s.validate() != nil {
		return 0
	}
	return s.Probes + 2 + s.halvings(s.Hi-s.Lo) + itpMore
}

// validate reports a search that cannot be done.
func (s Search) validate() error {
	const ends = 1e150 // far from overflow
	switch {
	case !(s.Lo < s.Hi) || s.Lo < -ends || s.Hi > ends:
		return fmt.Errorf("a search from %g to %g: use two finite numbers, the lesser first", s.Lo, s.Hi)
	case !(s.Tol > 0) || math.IsInf(s.Tol, 0):
		return fmt.Errorf("a search to within %g: use a positive number", s.Tol)
	case s.Tol < finest*(nextAfter(s.Lo)+nextAfter(s.Hi)):
		return fmt.Errorf("a search to within %g is finer than numbers near %g and %g are", s.Tol, s.Lo, s.Hi)
	case s.Probes < 0 || s.Probes > mostProbes:
		return fmt.Errorf("%d probes: use 0 to %d", s.Probes, mostProbes)
	case !(s.Slack >= 0):
		return fmt.Errorf("a slack of %g: use 0 or more", s.Slack)
	}
	return nil
}

// nextAfter is the distance from the size of x to the next greater number.
func nextAfter(x float64) float64 {
	x = math.Abs(x)
	return math.Nextafter(x, math.Inf(1)) - x
}

// conclude says what the tries amount to; a and b are the ends of the bracket if
// found.
func (s Search) conclude(tried []Try, a, b Try, found bool) Crossing {
	c := Crossing{Side: Above, X: math.NaN(), Lo: math.NaN(), Hi: math.NaN(), Safe: math.NaN(), Tried: tried}
	falls, rises := worstReturn(tried, 1), worstReturn(tried, -1)
	c.Rising = falls.by <= rises.by
	if tried[0].F < 0 {
		c.Side = Below
	}
	if found {
		c.Side, c.Lo, c.Hi, c.X = Crosses, a.X, b.X, a.X+(b.X-a.X)/2
		c.Rising, c.Safe = true, a.X
		if b.F < 0 {
			c.Rising, c.Safe = false, b.X
		}
	}
	worst := falls
	if !c.Rising {
		worst = rises
	}
	if worst.by > s.Slack {
		c.NotMonotonic, c.From, c.To = true, worst.from, worst.to
	}
	return c
}
