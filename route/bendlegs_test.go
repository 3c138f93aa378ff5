package route_test

import (
	"math"
	"testing"

	"rimheat/route"
	"rimheat/testdata/roads"
)

// TestLegsAcrossBendsGetTheirLength: points every 30 to 50 m cut hairpins and
// bends short; the profile is as long as the road within 1.5 %. On nothing but
// hairpins of 10 to 15 m, with points at uneven distances of 40 to 60 m, most of
// what is lost stays lost, up to 11 %: whether a vertex is drawn or cut short cannot
// be told there, and a road made too long would hide heat.
func TestLegsAcrossBendsGetTheirLength(t *testing.T) {
	for name, r := range map[string]*roads.Road{
		"hairpins of 10 m": hairpinRoad(10, 60), "hairpins of 15 m": hairpinRoad(15, 60),
		"two passes": roads.TwoPassesHot().Road, "mountain": roads.Mountain(40_000, 10, 2).Road,
	} {
		for _, c := range []struct {
			what           string
			shortM, longM  float64
			within, loseTo float64
		}{
			{"every 50 m", 50, 50, 0.01, 0.35},
			{"every 40 to 60 m", 40, 60, 0.11, 0.8},
			{"every 28 to 36 m", 28, 36, 0.015, 0.6},
		} {
			pts := r.Sample(c.shortM, c.longM, seeded(9))
			p := profileOf(t, pts)
			chords := 0.0
			for i := 1; i < len(pts); i++ {
				ax, ay := r.PlaneAt(pts[i-1].M)
				bx, by := r.PlaneAt(pts[i].M)
				chords += math.Hypot(bx-ax, by-ay)
			}
			off, lost := p.DistanceM/r.LengthM()-1, chords/r.LengthM()-1
			t.Logf("%s, %s: %+.2f %%, point to point %+.2f %%", name, c.what, 100*off, 100*lost)
			if math.Abs(off) > c.within || math.Abs(off) > c.loseTo*math.Abs(lost)+0.002 {
				t.Errorf("%s, %s: length off by %+.2f %%, point to point %+.2f %%", name, c.what, 100*off, 100*lost)
			}
		}
	}
}

// TestStraightLegsKeepTheirLength: a straight, however it is sampled, is no longer
// than its chords, and a lone right angle of two streets adds little.
func TestStraightLegsKeepTheirLength(t *testing.T) {
	p := profileOf(t, straightRoad(5000).Sample(40, 60, seeded(1)))
	if p.DistanceM > 5000.5 {
		t.Errorf("a straight of 5,000 m came out as %.2f m", p.DistanceM)
	}
	tr := line(0, -20)
	for i := 1; i <= 20; i++ {
		tr.Points = append(tr.Points, route.Point{LatDeg: 0, LonDeg: -20 + 0.0005*float64(i), HeightM: 10, HasHeight: true})
	}
	for i := 1; i <= 20; i++ {
		tr.Points = append(tr.Points, route.Point{LatDeg: 0.0005 * float64(i), LonDeg: -20 + 0.01, HeightM: 10, HasHeight: true})
	}
	q := profiled(t, tr)
	if want := 0.01 * (111_319.5 + 110_574.3); q.DistanceM > want+8 || q.DistanceM < want-0.5 {
		t.Errorf("two streets of %.0f m in all came out as %.1f m", want, q.DistanceM)
	}
}
