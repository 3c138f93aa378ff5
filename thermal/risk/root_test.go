package risk

import (
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"sort"
	"testing"
)

// counted counts the calls of a function and checks that they stay inside.
func counted(t *testing.T, s Search, calls *int, f func(x float64) float64) func(x float64) (float64, error) {
	return func(x float64) (float64, error) {
		*calls++
		if !(x >= s.Lo && x <= s.Hi) {
			t.Errorf("called at %g, outside %g to %g", x, s.Lo, s.Hi)
		}
		return f(x), nil
	}
}

// checkCrossing checks what holds for every crossing of a function.
func checkCrossing(t *testing.T, s Search, c Crossing, f func(x float64) float64) {
	t.Helper()
	if !slices.IsSortedFunc(c.Tried, func(a, b Try) int { return cmpX(a, b) }) {
		t.Errorf("tries out of order: %v", c.Tried)
	}
	for _, at := range c.Tried {
		if at.F != f(at.X) {
			t.Errorf("at %g: kept %g", at.X, at.F)
		}
	}
	if c.Side != Crosses {
		if !math.IsNaN(c.X) || !math.IsNaN(c.Safe) {
			t.Errorf("%s, and yet x = %g", c.Side, c.X)
		}
		for _, at := range c.Tried {
			if (at.F < 0) != (c.Side == Below) {
				t.Errorf("%s, but %g at %g", c.Side, at.F, at.X)
			}
		}
		return
	}
	if !(c.Lo < c.Hi && c.Lo <= c.X && c.X <= c.Hi && c.Hi-c.Lo <= s.Tol) {
		t.Errorf("x = %g in a bracket from %g to %g, wanted within %g", c.X, c.Lo, c.Hi, s.Tol)
	}
	if (f(c.Lo) < 0) != c.Rising || (f(c.Hi) < 0) == c.Rising || !(f(c.Safe) < 0) || (c.Safe != c.Lo && c.Safe != c.Hi) {
		t.Errorf("rising %t, safe %g: %g at %g, %g at %g", c.Rising, c.Safe, f(c.Lo), c.Lo, f(c.Hi), c.Hi)
	}
}

func cmpX(a, b Try) int {
	switch {
	case a.X < b.X:
		return -1
	case a.X > b.X:
		return 1
	}
	return 0
}

// Smooth functions with known roots, rising and falling. The secant saves more
// than a third of bisection's calls, but not where most of the rise is in a small
// part of the range.
func TestCrossSmooth(t *testing.T) {
	for _, c := range []struct {
		name  string
		f     func(x float64) float64
		s     Search
		root  float64
		saves bool
	}{
		{"line", func(x float64) float64 { return x - 31.4 }, Search{Lo: -20, Hi: 50, Tol: 0.01}, 31.4, true},
		{"falling line", func(x float64) float64 { return 31.4 - x }, Search{Lo: -20, Hi: 50, Tol: 0.01}, 31.4, true},
		{"cube", func(x float64) float64 { return x*x*x - 8 }, Search{Lo: 0, Hi: 10, Tol: 1e-6}, 2, true},
		{"exponential", func(x float64) float64 { return math.Exp(x) - 100 }, Search{Lo: 0, Hi: 20, Tol: 1e-9}, math.Log(100), true},
		{"logistic", func(x float64) float64 { return 1/(1+math.Exp(-x)) - 0.05 }, Search{Lo: -30, Hi: 30, Tol: 1e-6}, math.Log(1.0 / 19), false},
		{"root at an end", func(x float64) float64 { return x }, Search{Lo: -1, Hi: 0, Tol: 1e-6}, 0, true},
		{"far off", func(x float64) float64 { return x - 1e9 }, Search{Lo: 1e9 - 10, Hi: 1e9 + 20, Tol: 0.01}, 1e9, true},
	} {
		t.Run(c.name, func(t *testing.T) {
			calls := 0
			got, err := c.s.Cross(counted(t, c.s, &calls, c.f))
			if err != nil {
				t.Fatal(err)
			}
			checkCrossing(t, c.s, got, c.f)
			near(t, "x", got.X, c.root, c.s.Tol/2*(1+1e-9))
			if got.NotMonotonic {
				t.Errorf("from %v to %v", got.From, got.To)
			}
			bisection := 2 + c.s.halvings(c.s.Hi-c.s.Lo)
			t.Logf("%d calls, bisection %d", calls, bisection)
			if calls > bisection+1 || c.saves && calls > bisection*2/3 {
				t.Errorf("%d calls, bisection %d", calls, bisection)
			}
		})
	}
}

// Step functions of any kind: never more calls than said, always the step that
// passes 0, never called not monotonic.
func TestCrossSteps(t *testing.T) {
	rng := rand.New(rand.NewPCG(8, 1))
	more := 0 // calls than bisection
	for range 3000 {
		s := Search{Lo: -10 * rng.Float64(), Hi: 10 * rng.Float64(), Probes: rng.IntN(6)}
		s.Tol = math.Pow(10, -8*rng.Float64())
		steps := make([]float64, 1+rng.IntN(12))
		for k := range steps {
			steps[k] = s.Lo + rng.Float64()*(s.Hi-s.Lo)
		}
		sort.Float64s(steps)
		zero := rng.IntN(len(steps) + 1) // steps up to which it is below 0
		height := math.Pow(10, 6*rng.Float64()-3)
		sign := float64(1 - 2*rng.IntN(2))
		f := func(x float64) float64 {
			n := sort.SearchFloat64s(steps, x)
			return sign * (float64(n-zero)*height + 0.5*height) // 0 is between two steps
		}
		calls := 0
		got, err := s.Cross(counted(t, s, &calls, f))
		if err != nil {
			t.Fatal(err)
		}
		checkCrossing(t, s, got, f)
		if calls > s.Tries() {
			t.Errorf("%+v: %d calls, said %d", s, calls, s.Tries())
		}
		more = max(more, calls-(s.Tries()-1))
		if got.NotMonotonic {
			t.Errorf("%+v: from %v to %v", s, got.From, got.To)
		}
		if got.Side == Crosses {
			if step := steps[zero-1]; step < got.Lo || step > got.Hi {
				t.Errorf("%+v: bracket %g to %g without the step at %g", s, got.Lo, got.Hi, step)
			}
		} else if (f(s.Lo) < 0) != (f(s.Hi) < 0) {
			t.Errorf("%+v: %s", s, got.Side)
		}
	}
	if more != 1 {
		t.Errorf("at worst %d calls more than bisection, want 1", more)
	}
}

// No crossing: below or above all over. 0 counts as above.
func TestCrossNowhere(t *testing.T) {
	s := Search{Lo: 0, Hi: 1, Tol: 0.01, Probes: 3}
	for _, c := range []struct {
		f      func(x float64) float64
		side   Side
		rising bool
	}{
		{func(x float64) float64 { return x - 2 }, Below, true},
		{func(x float64) float64 { return -1 - x }, Below, false},
		{func(x float64) float64 { return x }, Above, true},
		{func(x float64) float64 { return 1 - x }, Above, false},
		{func(x float64) float64 { return 0 }, Above, true},
		{func(x float64) float64 { return math.Inf(-1) }, Below, true},
	} {
		calls := 0
		got, err := s.Cross(counted(t, s, &calls, c.f))
		if err != nil {
			t.Fatal(err)
		}
		checkCrossing(t, s, got, c.f)
		if got.Side != c.side || got.Rising != c.rising || calls != 5 || got.NotMonotonic {
			t.Errorf("%+v after %d calls, want %s", got, calls, c.side)
		}
	}
}

// What goes up and down again is told, if it was tried, and by how much.
func TestCrossNotMonotonic(t *testing.T) {
	hill := func(x float64) float64 { return 1 - x*x } // above 0 from -1 to 1 only
	bare := Search{Lo: -3, Hi: 3, Tol: 0.001}
	got, err := bare.Cross(func(x float64) (float64, error) { return hill(x), nil })
	if err != nil || got.Side != Below || got.NotMonotonic {
		t.Errorf("without probes: %+v (%v)", got, err)
	}
	probed := bare
	probed.Probes = 5
	got, err = probed.Cross(func(x float64) (float64, error) { return hill(x), nil })
	if err != nil {
		t.Fatal(err)
	}
	checkCrossing(t, probed, got, hill)
	near(t, "x", got.X, -1, 0.0005)
	if !got.NotMonotonic || got.From != (Try{0, 1}) || got.To != (Try{3, -8}) {
		t.Errorf("from %v to %v", got.From, got.To)
	}
	// A dip of 0.3 in a rise is one, unless the slack is as large.
	dip := func(x float64) float64 {
		if x == 2 {
			return 0.7
		}
		return math.Min(1, 1.5*x-0.5)
	}
	for _, c := range []struct {
		slack float64
		told  bool
	}{{0, true}, {0.29, true}, {0.31, false}} {
		s := Search{Lo: 0, Hi: 3, Tol: 0.001, Probes: 2, Slack: c.slack}
		got, err := s.Cross(func(x float64) (float64, error) { return dip(x), nil })
		if err != nil {
			t.Fatal(err)
		}
		if got.Side != Crosses || !got.Rising || got.NotMonotonic != c.told {
			t.Errorf("slack %g: %+v", c.slack, got)
		}
	}
	// A small rise before a long fall within the slack: the fall is what counts.
	late := func(x float64) float64 { return []float64{-0.1, 0.1, 0.05, -50}[int(x)] }
	s := Search{Lo: 0, Hi: 3, Tol: 0.5, Probes: 2, Slack: 0.3}
	got, err = s.Cross(func(x float64) (float64, error) { return late(x), nil })
	if err != nil || got.Rising || got.NotMonotonic || got.Lo < 2 {
		t.Errorf("%+v (%v)", got, err)
	}
}

// An error of the function ends the search at once and comes back.
func TestCrossError(t *testing.T) {
	stop := errors.New("stopped")
	for after := range 6 {
		calls := 0
		s := Search{Lo: 0, Hi: 1, Tol: 1e-6, Probes: 1}
		got, err := s.Cross(func(x float64) (float64, error) {
			if calls++; calls > after {
				return 0, stop
			}
			return x - 0.3, nil
		})
		if !errors.Is(err, stop) || calls != after+1 || len(got.Tried) != after {
			t.Errorf("after %d calls: %v, %d tried", calls, err, len(got.Tried))
		}
	}
	_, err := Search{Lo: 0, Hi: 1, Tol: 0.1}.Cross(func(x float64) (float64, error) { return math.NaN(), nil })
	fails(t, err, "at 0: the function is not a number")
}

func TestSearchRefuses(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	for _, c := range []struct {
		s    Search
		says string
	}{
		{Search{Lo: 1, Hi: 1, Tol: 1}, "lesser first"}, {Search{Lo: 2, Hi: 1, Tol: 1}, "lesser first"},
		{Search{Lo: nan, Hi: 1, Tol: 1}, "lesser first"}, {Search{Lo: -inf, Hi: 1, Tol: 1}, "finite"}, {Search{Lo: 0, Hi: inf, Tol: 1}, "finite"},
		{Search{Lo: 0, Hi: 1}, "positive"}, {Search{Lo: 0, Hi: 1, Tol: nan}, "positive"}, {Search{Lo: 0, Hi: 1, Tol: inf}, "positive"},
		{Search{Lo: 0, Hi: 1, Tol: 1e-16}, "finer"}, {Search{Lo: 1e9, Hi: 2e9, Tol: 1e-4}, "finer"},
		{Search{Lo: 0, Hi: 1, Tol: 0.1, Probes: -1}, "-1 probes"}, {Search{Lo: 0, Hi: 1, Tol: 0.1, Probes: 1001}, "1001 probes"},
		{Search{Lo: 0, Hi: 1, Tol: 0.1, Slack: -1}, "slack of -1"}, {Search{Lo: 0, Hi: 1, Tol: 0.1, Slack: nan}, "slack of NaN"},
	} {
		got, err := c.s.Cross(func(x float64) (float64, error) { return x, nil })
		fails(t, err, c.says)
		if !math.IsNaN(got.X) || c.s.Tries() != 0 {
			t.Errorf("%+v: x = %g, %d tries", c.s, got.X, c.s.Tries())
		}
	}
}

// Whatever the function, monotonic or not, the bracket holds a change of sign and
// the calls keep to their number.
func FuzzCross(f *testing.F) {
	f.Add([]byte{0, 50, 100, 150, 200, 255}, 0.0, 1.0, 0.001, uint8(2))
	f.Add([]byte{255, 0, 255}, -5.0, 40.0, 0.5, uint8(0))
	f.Add([]byte{128}, 1e9, 1e9+1, 1e-2, uint8(7))
	f.Add([]byte{1, 254}, -1e150, 1e150, 1e140, uint8(1))
	f.Fuzz(func(t *testing.T, heights []byte, lo, hi, tol float64, probes uint8) {
		if len(heights) == 0 {
			return
		}
		s := Search{Lo: lo, Hi: hi, Tol: tol, Probes: int(probes)}
		fn := func(x float64) float64 { // straight lines through the heights, some of them infinite
			at := (x/2 - lo/2) / (hi/2 - lo/2) * float64(len(heights)-1)
			i := min(int(at), len(heights)-1)
			j := min(i+1, len(heights)-1)
			value := func(b byte) float64 {
				if b == 255 {
					return math.Inf(1)
				}
				return float64(b) - 128
			}
			if w := at - float64(i); w > 0 && i != j && heights[i] != 255 {
				return value(heights[i])*(1-w) + value(heights[j])*w
			}
			return value(heights[i])
		}
		calls := 0
		got, err := s.Cross(counted(t, s, &calls, fn))
		if err != nil {
			if calls > 0 {
				t.Fatalf("%+v: %v", s, err)
			}
			return
		}
		checkCrossing(t, s, got, fn)
		if calls > s.Tries() {
			t.Errorf("%+v: %d calls, said %d", s, calls, s.Tries())
		}
	})
}
