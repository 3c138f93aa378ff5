package risk

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"
)

func TestQuantileDefinition(t *testing.T) {
	four := []float64{1, 2, 4, 8}
	for _, c := range []struct {
		sorted  []float64
		p, want float64
	}{
		// The i-th of four is the (i-1/2)/4 quantile; straight lines between.
		{four, 0.125, 1}, {four, 0.375, 2}, {four, 0.625, 4}, {four, 0.875, 8},
		{four, 0.25, 1.5}, {four, 0.5, 3}, {four, 0.75, 6},
		{four, 0.05, 1}, {four, 0, 1}, {four, 0.95, 8}, {four, 1, 8},
		{[]float64{7}, 0.05, 7}, {[]float64{7}, 0.95, 7},
	} {
		near(t, "quantile", quantile(c.sorted, c.p), c.want, 1e-15)
	}
}

// Quantiles go with shift and scale of the values, and with their sign; the
// order within a block does not count.
func TestSummaryGoesWithTheValues(t *testing.T) {
	d := design(t, 8, 50, 3, 2)
	y := over(d, func(u []float64) float64 { return math.Exp(2*u[0]) + u[1]*u[2] })
	a, err := Summarise(y, 50)
	if err != nil {
		t.Fatal(err)
	}
	moved, turned, mixed := slices.Clone(y), slices.Clone(y), slices.Clone(y)
	rng := rand.New(rand.NewPCG(1, 1))
	for i, v := range y {
		moved[i], turned[i] = 5+3*v, -v
	}
	for b := range slices.Chunk(mixed, 50) {
		rng.Shuffle(len(b), func(i, j int) { b[i], b[j] = b[j], b[i] })
	}
	b, _ := Summarise(moved, 50)
	c, _ := Summarise(turned, 50)
	m, _ := Summarise(mixed, 50)
	near(t, "moved P05", b.P05.Value, 5+3*a.P05.Value, 1e-12)
	near(t, "its error", b.P05.SE, 3*a.P05.SE, 1e-12)
	near(t, "moved sd", b.Sd, 3*a.Sd, 1e-12)
	near(t, "moved mean", b.Mean, 5+3*a.Mean, 1e-12)
	near(t, "turned P95", c.P95.Value, -a.P05.Value, 1e-12)
	near(t, "its error", c.P95.SE, a.P05.SE, 1e-12)
	if m.P05 != a.P05 || m.P50 != a.P50 || m.P95 != a.P95 {
		t.Errorf("other quantiles in another order: %+v and %+v", m, a)
	}
}

// Standard errors are as large as the errors. The output is a sum of normal
// inputs, whose quantiles are known, of which one does the most; many designs are
// drawn, and the root mean square error held against the mean square of what was
// said. With 300 designs their ratio is uncertain by some 5 %.
func TestQuantileErrorsAreTrue(t *testing.T) {
	weights := []float64{2, 1, 1, 0.5}
	sd := math.Sqrt(4 + 1 + 1 + 0.25)
	for _, c := range []struct{ blocks, perBlock int }{{8, 64}, {20, 50}} {
		const designs = 300
		var off, said [3]float64
		for seed := range uint64(designs) {
			y := over(design(t, c.blocks, c.perBlock, len(weights), seed), func(u []float64) float64 {
				var sum float64
				for k, w := range weights {
					sum += w * distuv.UnitNormal.Quantile(u[k])
				}
				return sum
			})
			s, err := Summarise(y, c.perBlock)
			if err != nil {
				t.Fatal(err)
			}
			for k, e := range []Estimate{s.P05, s.P50, s.P95} {
				truth := sd * distuv.UnitNormal.Quantile([]float64{0.05, 0.50, 0.95}[k])
				off[k] += (e.Value - truth) * (e.Value - truth) / designs
				said[k] += e.SE * e.SE / designs
			}
		}
		for k, name := range []string{"P05", "P50", "P95"} {
			ratio := math.Sqrt(said[k] / off[k])
			t.Logf("%v %s: off by %.4f, said %.4f", c, name, math.Sqrt(off[k]), math.Sqrt(said[k]))
			if ratio < 0.85 || ratio > 1.25 {
				t.Errorf("%v: the error of %s is said to be %.2f times what it is", c, name, ratio)
			}
		}
	}
}

func TestValuesRefused(t *testing.T) {
	ten := make([]float64, 10)
	bad := func(v float64) []float64 { y := slices.Clone(ten); y[7] = v; return y }
	for _, c := range []struct {
		y        []float64
		perBlock int
		says     string
	}{
		{ten, 0, "block of 0"}, {ten, -1, "block of -1"}, {ten, 3, "whole blocks of 3"}, {ten, 10, "two or more"},
		{nil, 1, "0 values"}, {nil, math.MaxInt, "0 values"}, {bad(math.NaN()), 5, "point 7 is NaN"}, {bad(math.Inf(-1)), 5, "point 7 is -Inf"}, {bad(1e200), 5, "1e+200"},
	} {
		_, err := Summarise(c.y, c.perBlock)
		fails(t, err, c.says)
		_, err = Exceedance(c.y, c.perBlock)
		fails(t, err, c.says)
	}
}

// Whatever the values, nothing panics and quantiles, interval and chance are in
// order.
func FuzzValues(f *testing.F) {
	f.Add([]byte{0, 1, 2, 3, 250, 251}, 2, 1.0, 0.0)
	f.Add([]byte{128, 128, 128, 128}, 1, 0.0, 1e150)
	f.Add([]byte{9, 8, 7}, 3, math.Inf(1), -1.0)
	f.Fuzz(func(t *testing.T, raw []byte, perBlock int, scale, shift float64) {
		y := make([]float64, len(raw))
		for i, b := range raw {
			y[i] = (float64(b)-128)*scale + shift
		}
		s, err := Summarise(y, perBlock)
		c, err2 := Exceedance(y, perBlock)
		if (err == nil) != (err2 == nil) {
			t.Fatalf("%v and %v", err, err2)
		}
		if err != nil {
			return
		}
		if !(s.P05.Value <= s.P50.Value && s.P50.Value <= s.P95.Value && s.P05.SE >= 0 && s.P50.SE >= 0 && s.P95.SE >= 0 && s.Sd >= 0) {
			t.Errorf("%+v", s)
		}
		if !(0 <= c.Low && c.Low <= c.P && c.P <= c.High && c.High <= 1 && c.SE > 0 && c.Low < c.High) {
			t.Errorf("%+v", c)
		}
	})
}
