package route_test

import (
	"math"
	"testing"

	"rimheat/route"
)

// TestStepsHiddenBySmoothingAreRefused: heights that scatter are smoothed so
// much that steps of 30 m come out below 30 %; where they make a large part of
// the climb and drop the heights are wrong all the same, and where they make
// little of it they are kept and told.
func TestStepsHiddenBySmoothingAreRefused(t *testing.T) {
	stepped := func(grade float64, every int) *route.Track {
		tr := slope(401, 20, grade)
		for i := range tr.Points {
			tr.Points[i].HeightM += 30 * math.Mod(math.Floor(float64(i)/float64(every)), 2)
		}
		return noisy(tr, 3, 21)
	}
	refused(t, stepped(-0.005, 40), "are steeper than 30 %, so the heights are wrong")
	p := profiled(t, stepped(-0.1, 150))
	if repaired(p.Repairs, "height-step") != 2 || len(p.Repairs) != 1 {
		t.Errorf("repairs %v", p.Repairs)
	}
}

// TestScatterIsNoStep: heights that scatter by 5 m differ by more than 15 m
// between many neighbours, and the road is there all the same.
func TestScatterIsNoStep(t *testing.T) {
	p := profiled(t, noisy(slope(1001, 10, -0.06), 5, 22))
	if repaired(p.Repairs, "height-step") != 0 || math.Abs(p.DropM-600) > 30 {
		t.Errorf("drop %.0f m, repairs %v", p.DropM, p.Repairs)
	}
}
