package route_test

import (
	"strings"
	"testing"

	"rimheat/route"
	"rimheat/testdata/roads"
)

func TestPointsThatShowNoRoadAreRefused(t *testing.T) {
	refused(t, line(0, -20, 0, -20.5, 0, -21), "the points lie 55.7 km apart on average, more than 250 m")
	refused(t, slope(40, 260, -0.05), "the points lie 260 m apart on average")
	// Dense at both ends, 55 % of the length in between without a point.
	tr := slope(1000, 10, -0.05)
	tr.Points = append(tr.Points[:200:200], tr.Points[750:]...)
	refused(t, tr, "points more than 250 m apart leave 5.5 km of 10.0 km without a road, more than 50 %; the longest step, 5,510 m, is after point 200 near km 2.0")
	// With 45 % it is a road with a gap.
	tr = slope(1000, 10, -0.05)
	tr.Points = append(tr.Points[:300:300], tr.Points[750:]...)
	if p := profiled(t, tr); repaired(p.Repairs, "gap") != 1 || len(p.Repairs) != 1 {
		t.Errorf("repairs %v", p.Repairs)
	}
}

// TestPlannedSpacingPassesWithoutAWord: points every 20 to 58 m, and straights
// of 300 m without one.
func TestPlannedSpacingPassesWithoutAWord(t *testing.T) {
	for _, spacing := range []float64{20, 40, 58} {
		if p := profiled(t, slope(200, spacing, -0.07)); len(p.Repairs) != 0 || len(p.Doubtful) != 0 {
			t.Errorf("every %v m: repairs %v, doubtful %v", spacing, p.Repairs, p.Doubtful)
		}
	}
	tr := slope(1000, 20, -0.07)
	var kept []route.Point
	for i, p := range tr.Points {
		if i%50 == 0 || i%50 >= 15 { // 300 m without a point in every kilometre
			kept = append(kept, p)
		}
	}
	tr.Points = kept
	if p := profiled(t, tr); len(p.Repairs) != 0 || len(p.Doubtful) != 0 {
		t.Errorf("straights: repairs %v, doubtful %v", p.Repairs, p.Doubtful)
	}
}

func TestSparsePointsAreReported(t *testing.T) {
	for spacing, text := range map[float64]string{85: "points lie 85 m apart on average: bends between them are not seen", 240: "points lie 240 m apart"} {
		p := profiled(t, slope(100, spacing, -0.07))
		if repaired(p.Repairs, "sparse") != 100 || !strings.Contains(p.Repairs[0].Text, text) {
			t.Errorf("every %v m: repairs %v", spacing, p.Repairs)
		}
	}
}

// TestThinnedDemosAreReported: where thinning leaves 100 m between points the
// hairpins are gone and the profile says so.
func TestThinnedDemosAreReported(t *testing.T) {
	p := profileOf(t, roads.Thin(roads.TwoPassesHot().Points, 100))
	if repaired(p.Repairs, "sparse") != p.Points {
		t.Errorf("repairs %v", p.Repairs)
	}
}
