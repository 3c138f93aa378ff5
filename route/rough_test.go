package route

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

func TestMedian(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for n := range 300 {
		v := make([]float64, n)
		for i := range v {
			v[i] = float64(rng.IntN(1 + n/2)) // with many equal values
		}
		want := 0.0
		if sorted := slices.Sorted(slices.Values(v)); n > 0 {
			want = sorted[n/2]
		}
		if got := median(v); got != want {
			t.Fatalf("median of %d values %v, want %v", n, got, want)
		}
	}
}

func TestRoughDistance(t *testing.T) {
	// One degree of meridian and a hundredth of a degree at 46 degrees north
	// on the sphere (derived).
	if d := roughDistanceM(45, 7, 46, 7); math.Abs(d-111_195.08) > 0.01 {
		t.Error(d)
	}
	if d := roughDistanceM(46, 7, 46, 7.01); math.Abs(d-772.426) > 0.01 {
		t.Error(d)
	}
}
