package thermal_test

import (
	"math/rand/v2"
	"testing"

	"rimheat/testdata/roads"
)

// The rows carry what the route tells of its bends; a straight descent has no
// sharpest corner.
func TestDescentsCarryTheirBends(t *testing.T) {
	p := demo(t, "two_passes_hot.gpx")
	a := assess(t, p, setup(t, 88.5, 38, "steady"))
	for i, d := range a.Descents {
		was := p.Descents[i]
		if d.SharpestCornerM == nil || *d.SharpestCornerM != was.SharpestCornerM || d.Hairpins != was.Hairpins || was.Hairpins == 0 && i == 0 {
			t.Errorf("descent %d: %+v, the profile has %+v", i+1, d, was)
		}
	}
	b := roads.NewBuilder(-0.3, -22, 3000, []roads.Slope{{LengthM: 3000, Grade: -0.06}})
	b.Straight(3000)
	r := b.Road()
	a = assess(t, profile(t, r.Sample(9, 11, rand.New(rand.NewPCG(1, 1)))), setup(t, 88.5, 38, "steady"))
	if len(a.Descents) != 1 || a.Descents[0].SharpestCornerM != nil || a.Descents[0].Hairpins != 0 {
		t.Errorf("a straight descent: %+v", a.Descents)
	}
}
