package risk

import (
	"math"
	"math/rand/v2"
	"reflect"
	"runtime"
	"slices"
	"sync"
	"testing"
)

// fresh is the part of a function's variance that a fit foretells at points that
// it has nothing to do with.
func fresh(t *testing.T, fit *Fit, f func(u []float64) float64, dims int) float64 {
	t.Helper()
	d := design(t, 5, 400, dims, 1e6)
	y := over(d, f)
	s, err := Summarise(y, 400)
	if err != nil {
		t.Fatal(err)
	}
	var missed float64
	for i, v := range y {
		got, err := fit.At(d.Point(i))
		if err != nil {
			t.Fatal(err)
		}
		missed += (got - v) * (got - v)
	}
	return 1 - missed/float64(len(y)-1)/(s.Sd*s.Sd)
}

// What is said to be explained is what is explained at fresh points, for smooth
// functions, for ones with kinks or a jump, and for noise, whole or in part.
func TestExplainedIsTrue(t *testing.T) {
	noise := func(u []float64) float64 { // as good as random from point to point
		v := 1e7 * (u[0] + math.Sqrt2*u[1] + math.Sqrt(3)*u[2])
		return v - math.Floor(v) - 0.5
	}
	smooth := normals().f
	cases := []known{
		gFunction(0, 1, 4.5, 9), normals(),
		{name: "half noise", f: func(u []float64) float64 { return smooth(u) + 5*noise(u) }, first: make([]float64, 14)},
		{name: "noise", f: noise, first: make([]float64, 14)},
		{name: "jump", f: func(u []float64) float64 { return math.Round(u[0]+0.3*u[1]) + u[2] }, first: make([]float64, 14)},
	}
	for _, k := range cases {
		for _, c := range [][2]int{{8, 50}, {10, 200}} {
			dims := len(k.first)
			d := design(t, c[0], c[1], dims, 3)
			f := fitted(t, d, over(d, k.f))
			truth := fresh(t, f, k.f, dims)
			t.Logf("%s, %v: %d terms, %.4f said, %.4f true", k.name, c, f.Terms, f.Explained, truth)
			// What is missed, from n points, is off by sqrt(2/n) of it if normal. It may
			// be said to be more than it is: it was missed by fits to fewer points.
			chance := 3 * math.Sqrt(2/float64(d.Len()))
			if r := (1 - f.Explained) / (1 - truth); r < 1-chance || r > 1.5 {
				t.Errorf("%s: %.4f explained, in truth %.4f", k.name, f.Explained, truth)
			}
		}
	}
}

// A polynomial of few terms comes back exactly, and At follows it.
func TestPolynomialComesBack(t *testing.T) {
	p := func(u []float64) float64 {
		return 4 + u[0] - 3*u[1]*u[1] + 2*u[2]*u[3]*u[4] + u[5]*u[5]*u[5]*u[0]
	}
	d := design(t, 8, 40, 6, 1)
	f := fitted(t, d, over(d, p))
	near(t, "explained", f.Explained, 1, 1e-12)
	rng := rand.New(rand.NewPCG(3, 3))
	for range 100 {
		u := make([]float64, 6)
		for k := range u {
			u[k] = rng.Float64()
		}
		got, err := f.At(u)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "value", got, p(u), 1e-9)
	}
}

// Outputs that do not vary, or by rounding only, have no sensitivities and are
// no error.
func TestConstantOutput(t *testing.T) {
	d := design(t, 8, 20, 3, 1)
	for _, f := range []func(u []float64) float64{
		func([]float64) float64 { return 0 },
		func([]float64) float64 { return 0.1 },
		func(u []float64) float64 { return 350 + 1e-12*u[0] },
	} {
		y := over(d, f)
		got := fitted(t, d, y)
		if got.Explained != 0 || got.Terms != 0 {
			t.Errorf("%d terms explain %g", got.Terms, got.Explained)
		}
		for i, index := range each(t, got, 3) {
			if index != (Index{}) {
				t.Errorf("input %d: %+v", i, index)
			}
		}
		v, err := got.At([]float64{0.5, 0.5, 0.5})
		if err != nil {
			t.Fatal(err)
		}
		near(t, "value", v, y[0], 1e-11)
	}
}

// Shift, scale and sign of the output change no index; very large and very small
// outputs do as well as others.
func TestIndicesWithoutUnit(t *testing.T) {
	k := ishigami()
	d := design(t, 8, 64, 3, 2)
	y := over(d, k.f)
	want := each(t, fitted(t, d, y), 3)
	for _, c := range []struct{ scale, shift float64 }{{-1, 0}, {1e140, 0}, {1e-160, 0}, {2, 500}} {
		z := slices.Clone(y)
		for i := range z {
			z[i] = c.scale*z[i] + c.shift
		}
		for i, got := range each(t, fitted(t, d, z), 3) {
			near(t, "first", got.First.Value, want[i].First.Value, 1e-6)
			near(t, "total", got.Total.Value, want[i].Total.Value, 1e-6)
		}
	}
}

// The same bytes on any number of cores, and for several outputs at once.
func TestFitOnAnyCores(t *testing.T) {
	k := normals()
	d := design(t, 10, 60, 14, 5)
	y := over(d, k.f)
	before := runtime.GOMAXPROCS(1)
	defer runtime.GOMAXPROCS(before)
	want := fitted(t, d, y)
	runtime.GOMAXPROCS(8)
	e, err := NewExpansion(d)
	if err != nil {
		t.Fatal(err)
	}
	var wg sync.WaitGroup
	for range 4 {
		wg.Go(func() {
			got, err := e.Fit(y)
			if err != nil || !reflect.DeepEqual(got, want) {
				t.Errorf("another fit on eight cores (%v)", err)
			}
		})
	}
	wg.Wait()
}

// More blocks than groups, and groups of unequal size: 23 blocks in ten groups.
func TestMoreBlocksThanGroups(t *testing.T) {
	k := ishigami()
	d := design(t, 23, 30, 3, 1)
	e, err := NewExpansion(d)
	if err != nil {
		t.Fatal(err)
	}
	_, without := e.begin(over(d, k.f))
	next := 0
	for _, p := range without {
		if size := p.past - p.out; p.out != next || size%30 != 0 || size < 60 || size > 90 {
			t.Errorf("a group from %d to %d", p.out, p.past)
		}
		next = p.past
	}
	if len(without) != mostGroups || next != d.Len() {
		t.Errorf("%d groups to %d", len(without), next)
	}
	for i, got := range each(t, fitted(t, d, over(d, k.f)), 3) {
		near(t, "total", got.Total.Value, k.total[i], 0.002)
	}
}

// A term that is there already, or nearly so, is not taken in.
func TestTermTwice(t *testing.T) {
	d := design(t, 8, 20, 2, 1)
	e, err := NewExpansion(d)
	if err != nil {
		t.Fatal(err)
	}
	p := newPath(e, over(d, func(u []float64) float64 { return u[0] }), 0, 20)
	if !p.add(1) || !p.add(2) || p.add(1) || p.add(0) {
		t.Error("a term came twice")
	}
	if len(p.terms) != 3 || len(p.q) != 3 || len(p.r) != 3 || len(p.c) != 3 || len(p.missed) != 3 {
		t.Errorf("%d terms, want 3", len(p.terms))
	}
	for k, q := range p.q {
		for j := range k + 1 {
			want := 0.0
			if j == k {
				want = 1
			}
			near(t, "product", p.dot(q, p.q[j]), want, 1e-12)
		}
		near(t, "product with the rest", p.dot(q, p.rest), 0, 1e-12)
	}
}

// Few points give few terms and no nonsense.
func TestFewPoints(t *testing.T) {
	for _, c := range []struct{ blocks, perBlock, dims int }{{2, 6, 1}, {5, 12, 10}, {8, 8, 14}, {60, 1, 10}} {
		d := design(t, c.blocks, c.perBlock, c.dims, 1)
		y := over(d, func(u []float64) float64 { return math.Exp(u[0]) })
		e, err := NewExpansion(d)
		if err != nil {
			t.Errorf("%v: %v", c, err)
			continue
		}
		f, err := e.Fit(y)
		if err != nil {
			t.Errorf("%v: %v", c, err)
			continue
		}
		if f.Terms >= d.Len()/pointsPerTerm {
			t.Errorf("%v: %d terms of %d points", c, f.Terms, d.Len())
		}
		got := each(t, f, c.dims)[0].Total
		t.Logf("%v: %d terms explain %.3f, first input %.3f ± %.3f", c, f.Terms, f.Explained, got.Value, got.SE)
		if f.Explained < 0.5 || math.Abs(got.Value-1) > 3*got.SE+1-f.Explained {
			t.Errorf("%v: %.3f explained, total %+v", c, f.Explained, got)
		}
	}
}

func TestExpansionRefuses(t *testing.T) {
	_, err := NewExpansion(design(t, 4, 10, 14, 1))
	fails(t, err, "use 55 or more")
	_, err = NewExpansion(design(t, 10, 11000, 14, 1))
	fails(t, err, "use fewer")
	d := design(t, 8, 10, 3, 1)
	e, err := NewExpansion(d)
	if err != nil {
		t.Fatal(err)
	}
	_, err = e.Fit(make([]float64, 70))
	fails(t, err, "70 values for a design of 80 points")
	_, err = e.Fit(append(make([]float64, 79), math.NaN()))
	fails(t, err, "point 79 is NaN")
	f := fitted(t, d, over(d, func(u []float64) float64 { return u[0] }))
	_, err = f.Indices([][]int{{0}, {1, 3}})
	fails(t, err, "no input 3")
	_, err = f.Indices([][]int{{-1}})
	fails(t, err, "no input -1")
	_, err = f.At([]float64{0, 0})
	fails(t, err, "2 values for 3 inputs")
	_, err = f.At([]float64{0, 1.5, 0})
	fails(t, err, "input 1 is 1.5")
	_, err = f.At([]float64{0, 1, math.NaN()})
	fails(t, err, "input 2 is NaN")
}
