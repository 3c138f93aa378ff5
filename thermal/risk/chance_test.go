package risk

import (
	"fmt"
	"math"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"
)

// Wilson's interval in print: R. G. Newcombe, Two-sided confidence intervals for
// the single proportion: comparison of seven methods, Statistics in Medicine 17
// (1998) 857, table I, method 3 (from memory).
func TestWilsonPublished(t *testing.T) {
	for _, c := range []struct {
		count, n  int
		low, high float64
	}{
		{81, 263, 0.2553, 0.3662}, {15, 148, 0.0624, 0.1605}, {0, 20, 0, 0.1611}, {1, 29, 0.0061, 0.1718},
	} {
		low, high := wilson(float64(c.count)/float64(c.n), float64(c.n), 1.96)
		near(t, "low", low, c.low, 0.00005)
		near(t, "high", high, c.high, 0.00005)
	}
}

// The interval holds the truth in 95 cases of 100. Many designs are drawn in
// which the chance is known: where one input decides, where five normal ones
// are summed, where two decide only together, and where points are independent.
// With 1000 designs the share is uncertain by 0.007, so that of 48 the least
// should be within three of these, 0.021, of 0.945. Where one input decides or few
// points are over, only some shares can come out, and most are higher.
func TestChanceCoverage(t *testing.T) {
	const designs, least = 1000, 0.945 - 0.021
	five := func(limit float64) func(u []float64) float64 {
		return func(u []float64) float64 {
			sum := -limit
			for _, v := range u {
				sum += distuv.UnitNormal.Quantile(v)
			}
			return sum
		}
	}
	for _, des := range []struct{ blocks, perBlock int }{{8, 64}, {20, 50}} {
		for _, p := range []float64{0.003, 0.0107, 0.02, 0.05, 0.5, 0.97} {
			for _, c := range []struct {
				name     string
				dims     int
				perBlock int
				f        func(u []float64) float64
			}{
				{"one", 1, des.perBlock, func(u []float64) float64 { return u[0] - (1 - p) }},
				{"five", 5, des.perBlock, five(math.Sqrt(5) * distuv.UnitNormal.Quantile(1-p))},
				{"together", 2, des.perBlock, func(u []float64) float64 {
					v := u[0] + u[1] // of which the rest beyond whole numbers is uniform
					return v - math.Floor(v) - (1 - p)
				}},
				{"independent", 1, 1, func(u []float64) float64 { return u[0] - (1 - p) }},
			} {
				t.Run(fmt.Sprintf("%s,%dx%d,%g", c.name, des.blocks, des.perBlock, p), func(t *testing.T) {
					held, off, said := 0, 0.0, 0.0
					for seed := range uint64(designs) {
						d := design(t, des.blocks*des.perBlock/c.perBlock, c.perBlock, c.dims, seed)
						got, err := Exceedance(over(d, c.f), des.perBlock)
						if err != nil {
							t.Fatal(err)
						}
						if got.Low <= p && p <= got.High {
							held++
						}
						off += (got.P - p) * (got.P - p) / designs
						said += got.SE * got.SE / designs
					}
					share := float64(held) / designs
					t.Logf("held in %.3f; off by %.4f, said %.4f", share, math.Sqrt(off), math.Sqrt(said))
					if share < least {
						t.Errorf("held in %.3f of cases, want 0.95, at least %g", share, least)
					}
					if ratio := math.Sqrt(said / off); ratio < 0.9 {
						t.Errorf("the error is said to be %.2f times what it is", ratio)
					}
				})
			}
		}
	}
}

// None or all of the points over the limit is no certainty.
func TestChanceOfNoneAndAll(t *testing.T) {
	y := make([]float64, 8*64)
	for _, c := range []struct{ value, p, low, high float64 }{
		// 3.84/(512+3.84), by hand.
		{-1, 0, 0, 0.00745}, {1, 1, 1 - 0.00745, 1}, {0, 1, 1 - 0.00745, 1},
	} {
		for i := range y {
			y[i] = c.value
		}
		got, err := Exceedance(y, 64)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "P", got.P, c.p, 0)
		near(t, "low", got.Low, c.low, 0.00001)
		near(t, "high", got.High, c.high, 0.00001)
		if !(got.SE > 0.5/512 && got.SE < 2.0/512) {
			t.Errorf("%g: the error is %g", c.value, got.SE)
		}
	}
}

// Blocks that agree by accident leave some doubt: one input decides, and every
// block has the same count.
func TestChanceOfBlocksAlike(t *testing.T) {
	d := design(t, 10, 100, 1, 1)
	got, err := Exceedance(over(d, func(u []float64) float64 { return u[0] - 0.7 }), 100)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "P", got.P, 0.3, 1e-15)
	// By hand: 3.84/(10+3.84)/100 either way.
	near(t, "low", got.Low, 0.3-0.002775, 0.00001)
	near(t, "high", got.High, 0.3+0.002775, 0.00001)
}
