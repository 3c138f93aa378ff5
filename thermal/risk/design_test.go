package risk

import (
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/stat"
)

// design is one that must work.
func design(t testing.TB, blocks, perBlock, dims int, seed uint64) *Design {
	t.Helper()
	d, err := NewDesign(blocks, perBlock, dims, seed)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// over is a function's values at the points of a design.
func over(d *Design, f func(u []float64) float64) []float64 {
	y := make([]float64, d.Len())
	for i := range y {
		y[i] = f(d.Point(i))
	}
	return y
}

// fails checks that an error names what was wrong.
func fails(t *testing.T, err error, names string) {
	t.Helper()
	if err == nil || !strings.Contains(err.Error(), names) {
		t.Errorf("got %v, want an error that says %q", err, names)
	}
}

// near compares, with a tolerance in the values' own unit.
func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: got %.6g, want %.6g within %.2g", what, got, want, tol)
	}
}

// Every block has one point in each of as many equal parts of every input.
func TestBlocksAreLatinHypercubes(t *testing.T) {
	for _, c := range []struct{ blocks, perBlock, dims int }{{2, 1, 1}, {2, 7, 3}, {8, 64, 14}, {3, 1000, 2}} {
		d := design(t, c.blocks, c.perBlock, c.dims, 5)
		if d.Len() != c.blocks*c.perBlock || d.Dims() != c.dims || d.PerBlock() != c.perBlock || d.Blocks() != c.blocks {
			t.Fatalf("%v: %d points, %d inputs, %d blocks of %d", c, d.Len(), d.Dims(), d.Blocks(), d.PerBlock())
		}
		for dim := range c.dims {
			seen := map[[2]int]bool{}
			for i := range d.Len() {
				u := d.Point(i)[dim]
				if !(u > 0 && u < 1) {
					t.Fatalf("%v: point %d has %g", c, i, u)
				}
				seen[[2]int{d.Block(i), int(u * float64(c.perBlock))}] = true
			}
			if len(seen) != d.Len() {
				t.Errorf("%v: input %d is in %d parts of all blocks, not %d", c, dim, len(seen), d.Len())
			}
		}
	}
}

// A block does not depend on how many others there are, nor an input on how
// many follow it; another seed gives other points.
func TestDesignGrowsWithoutChange(t *testing.T) {
	small, more := design(t, 3, 40, 4, 9), design(t, 8, 40, 6, 9)
	other := design(t, 3, 40, 4, 10)
	same := 0
	for i := range small.Len() {
		for dim, u := range small.Point(i) {
			if v := more.Point(i)[dim]; u != v {
				t.Fatalf("point %d, input %d: %g and %g", i, dim, u, v)
			}
			if u == other.Point(i)[dim] {
				same++
			}
		}
	}
	if same > 0 {
		t.Errorf("%d values are those of another seed", same)
	}
	a, b := small.Point(0), small.Point(small.PerBlock())
	if a[0] == b[0] || a[1] == b[1] {
		t.Error("two blocks begin alike")
	}
}

// Inputs go together at random: correlations are those of chance, 1/sqrt(n).
func TestInputsAreIndependent(t *testing.T) {
	const dims = 8
	d := design(t, 10, 200, dims, 1)
	columns := make([][]float64, dims)
	for i := range d.Len() {
		for dim, u := range d.Point(i) {
			columns[dim] = append(columns[dim], u)
		}
	}
	var chi float64 // of 28 pairs
	for i := range dims {
		for j := range i {
			r := stat.Correlation(columns[i], columns[j], nil)
			chi += r * r * float64(d.Len())
		}
	}
	if sd := math.Sqrt(2 * 28); math.Abs(chi-28) > 4*sd {
		t.Errorf("correlations squared come to %.1f, want 28 ± %.1f", chi, sd)
	}
}

// What an input does alone is averaged away: the mean of n points is off by some
// n^-3/2 instead of n^-1/2.
func TestHypercubeBeatsChance(t *testing.T) {
	const perBlock = 100
	d := design(t, 200, perBlock, 5, 3)
	means := make([]float64, d.Blocks())
	for i, y := range over(d, func(u []float64) float64 { return u[0] + u[1] + u[2] + u[3] + u[4] }) {
		means[d.Block(i)] += y / perBlock
	}
	// Each part's value is uniform in 1/n of the range: five inputs' mean of n of
	// them has variance 5/(12 n^3).
	near(t, "sd of the mean", spread(means, 2.5), math.Sqrt(5.0/12)*math.Pow(perBlock, -1.5), 0.15*math.Sqrt(5.0/12)*math.Pow(perBlock, -1.5))
}

func TestPointsStayInside(t *testing.T) {
	for _, u := range []float64{0, 0.25, 1} {
		if v := inside(u); !(v > 0 && v < 1) || math.Abs(u-v) > 1e-15 {
			t.Errorf("%g became %g", u, v)
		}
	}
}

func TestDesignRefuses(t *testing.T) {
	for _, c := range []struct {
		blocks, perBlock, dims int
		says                   string
	}{
		{1, 10, 2, "1 blocks"}, {-3, 10, 2, "-3 blocks"}, {2, 0, 2, "block of 0"}, {2, 10, 0, "0 inputs"},
		{1 << 40, 1 << 40, 2, "use fewer"}, {1 << 20, 1 << 10, 1, "use fewer"}, {8, 1 << 20, 1 << 30, "use fewer"},
	} {
		_, err := NewDesign(c.blocks, c.perBlock, c.dims, 1)
		fails(t, err, c.says)
	}
}
