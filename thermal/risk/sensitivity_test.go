package risk

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
)

// fitted is an expansion that must work.
func fitted(t testing.TB, d *Design, y []float64) *Fit {
	t.Helper()
	e, err := NewExpansion(d)
	if err != nil {
		t.Fatal(err)
	}
	f, err := e.Fit(y)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// each is the index of every input by itself.
func each(t testing.TB, f *Fit, dims int) []Index {
	t.Helper()
	groups := make([][]int, dims)
	for k := range groups {
		groups[k] = []int{k}
	}
	indices, err := f.Indices(groups)
	if err != nil {
		t.Fatal(err)
	}
	return indices
}

// The published figures, to their digits: S = 0.3139, 0.4424, 0; T = 0.5576,
// 0.4424, 0.2437 (A. Saltelli et al., Global sensitivity analysis: the primer
// (2008), from memory).
func TestIshigamiFormula(t *testing.T) {
	k := ishigami()
	for i, want := range []float64{0.3139, 0.4424, 0} {
		near(t, "first", k.first[i], want, 0.00005)
	}
	for i, want := range []float64{0.5576, 0.4424, 0.2437} {
		near(t, "total", k.total[i], want, 0.00005)
	}
}

// Indices of functions with known ones, from 512 and from 2,000 points, are
// within three of the errors that are said and what is not explained could add;
// and these errors are small enough to mean something.
func TestIndicesOfKnownFunctions(t *testing.T) {
	// By function: the least that must be explained and the greatest standard
	// error, at 512 and at 2,000 points.
	bounds := map[string]struct{ explained, se [2]float64 }{
		"Ishigami":          {[2]float64{0.9999, 0.9999}, [2]float64{0.0005, 0.0001}},
		"g":                 {[2]float64{0.995, 0.998}, [2]float64{0.007, 0.002}},
		"g in 14":           {[2]float64{0.985, 0.993}, [2]float64{0.01, 0.004}},
		"linear with pairs": {[2]float64{0.9999, 0.9999}, [2]float64{1e-9, 1e-9}},
		"normals":           {[2]float64{0.99, 0.995}, [2]float64{0.01, 0.004}},
	}
	for _, k := range knowns() {
		for size, c := range [][2]int{{8, 64}, {10, 200}} {
			t.Run(fmt.Sprintf("%s,%dx%d", k.name, c[0], c[1]), func(t *testing.T) {
				d := design(t, c[0], c[1], len(k.first), 1)
				f := fitted(t, d, over(d, k.f))
				missing := 1 - f.Explained
				if f.Explained < bounds[k.name].explained[size] {
					t.Errorf("%.5f explained, want %g", f.Explained, bounds[k.name].explained[size])
				}
				var worst, said float64
				for i, got := range each(t, f, len(k.first)) {
					for what, c := range map[string]struct {
						got  Estimate
						want float64
					}{"first": {got.First, k.first[i]}, "total": {got.Total, k.total[i]}} {
						const rounding = 1e-12
						tol := 3*c.got.SE + missing*math.Max(c.got.Value, 1-c.got.Value) + rounding
						near(t, fmt.Sprintf("%s of input %d", what, i), c.got.Value, c.want, tol)
						worst, said = math.Max(worst, math.Abs(c.got.Value-c.want)), math.Max(said, c.got.SE)
						if c.got.SE > bounds[k.name].se[size] {
							t.Errorf("%s of input %d: a standard error of %.5f, want %g", what, i, c.got.SE, bounds[k.name].se[size])
						}
					}
					if got.First.Value > got.Total.Value {
						t.Errorf("input %d: first %g, total %g", i, got.First.Value, got.Total.Value)
					}
				}
				t.Logf("%d terms explain %.5f; worst index off by %.5f, greatest error said %.5f", f.Terms, f.Explained, worst, said)
			})
		}
	}
}

// Standard errors are as large as the errors: over twelve designs of 512 points
// the root mean square of the errors of all indices worth naming is at most 1.5
// of what was said, and not under a third of it.
func TestIndexErrorsAreTrue(t *testing.T) {
	for _, k := range []known{gFunction(0, 1, 4.5, 9), normals()} {
		var off, said, explained float64
		for seed := range uint64(12) {
			d := design(t, 8, 64, len(k.first), 100+seed)
			f := fitted(t, d, over(d, k.f))
			explained += f.Explained / 12
			for i, got := range each(t, f, len(k.first)) {
				if k.total[i] < 0.02 {
					continue
				}
				off += math.Pow(got.First.Value-k.first[i], 2) + math.Pow(got.Total.Value-k.total[i], 2)
				said += got.First.SE*got.First.SE + got.Total.SE*got.Total.SE
			}
		}
		ratio := math.Sqrt(off / said)
		t.Logf("%s: errors are %.2f times what is said, %.4f explained", k.name, ratio, explained)
		if ratio > 1.5 || ratio < 1.0/3 {
			t.Errorf("%s: errors are %.2f times what is said", k.name, ratio)
		}
	}
}

// pickFreeze estimates indices in another way, with many runs and no polynomial:
// A. Saltelli et al., Variance based sensitivity analysis of model output, Computer
// Physics Communications 181 (2010) 259, table 2: first order (b), total (f),
// the latter M. J. W. Jansen's of 1999. It gives standard errors too. The output
// is taken from its middle, which the estimates do not depend on but their errors
// do.
func pickFreeze(f func(u []float64) float64, dims, n int, group []int) (first, total Estimate) {
	rng := rand.New(rand.NewPCG(77, 1))
	a, b, ab := make([]float64, dims), make([]float64, dims), make([]float64, dims)
	for k := range dims {
		a[k] = 0.5
	}
	middle := f(a)
	var sum, squares, s, s2, t, t2 float64
	for range n {
		for k := range dims {
			a[k], b[k] = rng.Float64(), rng.Float64()
		}
		copy(ab, a)
		for _, k := range group {
			ab[k] = b[k]
		}
		fa, fb, fab := f(a)-middle, f(b)-middle, f(ab)-middle
		sum += (fa + fb) / 2
		squares += (fa*fa + fb*fb) / 2
		vs, vt := fb*(fab-fa), (fa-fab)*(fa-fab)/2
		s, s2, t, t2 = s+vs, s2+vs*vs, t+vt, t2+vt*vt
	}
	m := float64(n)
	v := squares/m - sum/m*sum/m
	se := func(x, x2 float64) float64 { return math.Sqrt((x2/m-x/m*x/m)/m) / v }
	return Estimate{s / m / v, se(s, s2)}, Estimate{t / m / v, se(t, t2)}
}

// A function whose indices no formula gives, against pick and freeze: groups of
// inputs, thresholds, powers and a quotient, as in a model of heat.
func TestIndicesAgainstPickFreeze(t *testing.T) {
	const dims = 8
	model := func(u []float64) float64 {
		mass, grade := 70+20*u[0], 0.05+0.04*u[1]
		drag := 0.2 + 0.15*u[2]*u[2]
		speed := 8 + 4*u[3]
		heat := math.Max(0, mass*9.81*grade*speed-0.6*drag*speed*speed*speed)
		film := 20 * math.Sqrt(speed) * (0.8 + 0.4*u[4])
		return 20 + 15*u[5] + 12*heat*(0.5+0.2*u[6])/film
	}
	d := design(t, 10, 100, dims, 4)
	f := fitted(t, d, over(d, model))
	if f.Explained < 0.99 {
		t.Errorf("%.4f explained", f.Explained)
	}
	groups := [][]int{{0}, {1}, {2}, {3}, {4}, {5}, {6}, {7}, {0, 1}, {2, 3, 4}, {5, 6, 7}, {0, 1, 2, 3, 4, 5, 6, 7}, {}}
	got, err := f.Indices(groups)
	if err != nil {
		t.Fatal(err)
	}
	for g, group := range groups {
		first, total := pickFreeze(model, dims, 1<<16, group)
		missing := 1 - f.Explained
		for what, c := range map[string]struct{ got, want Estimate }{"first": {got[g].First, first}, "total": {got[g].Total, total}} {
			tol := 3*math.Hypot(c.got.SE, c.want.SE) + missing*math.Max(c.got.Value, 1-c.got.Value)
			near(t, fmt.Sprintf("%s of %v", what, group), c.got.Value, c.want.Value, tol)
			t.Logf("%s of %v: %.4f ± %.4f, by pick and freeze %.4f ± %.4f", what, group, c.got.Value, c.got.SE, c.want.Value, c.want.SE)
		}
	}
	for what, v := range map[string]float64{
		"first of all": got[11].First.Value - 1, "total of all": got[11].Total.Value - 1,
		"first of none": got[12].First.Value, "total of none": got[12].Total.Value,
		// What a group has no part in is what the others do by themselves.
		"first and the others' total": got[8].First.Value + total(t, f, 2, 3, 4, 5, 6, 7) - 1,
	} {
		near(t, what, v, 0, 1e-12)
	}
}

// total is the total index of one group.
func total(t *testing.T, f *Fit, group ...int) float64 {
	t.Helper()
	i, err := f.Indices([][]int{group})
	if err != nil {
		t.Fatal(err)
	}
	return i[0].Total.Value
}
