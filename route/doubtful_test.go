package route_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"rimheat/route"
	"rimheat/testdata/roads"
)

// cliff lowers all heights from point i on by a number of metres.
func cliff(tr *route.Track, i int, m float64) *route.Track {
	for ; i < len(tr.Points); i++ {
		tr.Points[i].HeightM -= m
	}
	return tr
}

// textOf is the text of the only repair of a kind.
func textOf(t *testing.T, p *route.Profile, kind string) string {
	t.Helper()
	text := ""
	for _, r := range p.Repairs {
		if r.Kind == kind && text != "" {
			t.Errorf("two repairs of the kind %s: %v", kind, p.Repairs)
		}
		if r.Kind == kind {
			text = r.Text
		}
	}
	if text == "" {
		t.Errorf("no repair of the kind %s: %v", kind, p.Repairs)
	}
	return text
}

func wantText(t *testing.T, p *route.Profile, kind, want string) {
	t.Helper()
	if got := textOf(t, p, kind); !strings.Contains(got, want) {
		t.Errorf("%s: %q, want %q", kind, got, want)
	}
}

func TestGapsAreDoubtful(t *testing.T) {
	tr := slope(2000, 10, -0.05)
	tr.Points = append(append(tr.Points[:500:500], tr.Points[600:1000]...), tr.Points[1200:]...)
	p := profiled(t, tr)
	wantText(t, p, "gap", "2 gaps of up to 2,010 m bridged in a straight line, near km 5.0 and 10.0")
	if len(p.Doubtful) != 2 {
		t.Fatalf("%+v", p.Doubtful)
	}
	for i, want := range []route.Span{{StartM: 4990, EndM: 6000, Why: "a gap of 1,010 m bridged"}, {StartM: 9990, EndM: 12_000, Why: "a gap of 2,010 m bridged"}} {
		if d := p.Doubtful[i]; math.Abs(d.StartM-want.StartM) > 0.5 || math.Abs(d.EndM-want.EndM) > 0.5 || d.Why != want.Why {
			t.Errorf("%+v, want %+v", d, want)
		}
	}
}

func TestCappedStretchesAreDoubtful(t *testing.T) {
	tr := cliff(slope(1000, 10, -0.08), 500, 60)
	p := profiled(t, tr)
	if len(p.Doubtful) != 1 {
		t.Fatalf("%+v", p.Doubtful)
	}
	if d := p.Doubtful[0]; d.Why != "steeper than 30 %, a height step of 61 m" || d.StartM > 4990 || d.EndM < 5000 || d.EndM-d.StartM > 200 {
		t.Errorf("%+v", d)
	}
	wantText(t, p, "height-step", "a height step of 61 m between neighbouring points kept, near km 5.0")
	wantText(t, p, "too-steep", "grade capped at 30 % on ")
	wantText(t, p, "too-steep", " near km 5.0; ")
	// The height left out is what the capped steps of the profile lose.
	left := 0.0
	for i := 1; i < len(p.HeightM); i++ {
		left += max(0, math.Abs(p.HeightM[i]-p.HeightM[i-1])-route.MaxGrade*p.SpacingM)
	}
	if left < 20 || left > 60 {
		t.Errorf("%v m left out of a cliff of 60 m", left)
	}
	wantText(t, p, "too-steep", fmt.Sprintf("; %.0f m of climb and drop left out", left))
}

// TestNearbyDoubtsAreOne: a gap and two cliffs, the nearer one 100 m behind it.
func TestNearbyDoubtsAreOne(t *testing.T) {
	tr := cliff(cliff(slope(2000, 10, -0.08), 1012, 50), 1300, 50)
	tr.Points = append(tr.Points[:900:900], tr.Points[1000:]...)
	p := profiled(t, tr)
	if len(p.Doubtful) != 2 {
		t.Fatalf("%+v", p.Doubtful)
	}
	d := p.Doubtful[0]
	if d.Why != "a gap of 1,010 m bridged, steeper than 30 %, a height step of 51 m" || math.Abs(d.StartM-8990) > 0.5 || d.EndM < 10_120 || d.EndM > 10_250 {
		t.Errorf("%+v", d)
	}
	if d := p.Doubtful[1]; d.Why != "steeper than 30 %, a height step of 51 m" {
		t.Errorf("%+v", d)
	}
}

// TestHeightSteps: 15 m between points at most 30 m apart are reported, also
// where smoothing keeps them below the cap; less, or spread over more, is not.
func TestHeightSteps(t *testing.T) {
	for _, c := range []struct {
		spacing, size float64
		want          int
	}{{10, 15, 1}, {10, 14, 0}, {29, 16, 1}, {31, 16, 0}} {
		p := profiled(t, cliff(slope(300, c.spacing, 0), 150, c.size))
		if n := repaired(p.Repairs, "height-step"); n != c.want || len(p.Doubtful) != c.want {
			t.Errorf("%+v: %d reported, doubtful %v", c, n, p.Doubtful)
		}
	}
}

func TestRepairsSayWhere(t *testing.T) {
	tr := slope(6000, 10, -0.02)
	for i, m := range map[int]float64{1230: 40, 1231: 40, 4010: 50, 4100: -60} {
		tr.Points[i].HeightM += m
	}
	for i := 300; i < 310; i++ {
		tr.Points[i].HasHeight = false
	}
	tr.Points[2000].LatDeg += 0.05
	p := profiled(t, tr)
	wantText(t, p, "height-spike", "4 heights far off the neighbours replaced in a straight line, near km 12.3, 40.1 and 41.0")
	wantText(t, p, "height-filled", "10 missing heights filled in a straight line, near km 3.0")
	wantText(t, p, "position-outlier", "1 point far off the route and back left out, near km 20.0")
	// Of more than three places the worst are named, in the order ridden.
	tr = slope(6000, 10, -0.02)
	for i, m := range map[int]float64{1000: 40, 2000: 90, 3000: -70, 4000: 60, 5000: 50} {
		tr.Points[i].HeightM += m
	}
	wantText(t, profiled(t, tr), "height-spike", "5 heights far off the neighbours replaced in a straight line, worst near km 20.0, 30.0 and 40.0")
}

func TestTooSteepNamesTheWorstStep(t *testing.T) {
	tr := cliff(slope(300, 10, -0.08), 200, 120)
	for i := range tr.Points {
		tr.Points[i].Line = 10 + i
	}
	_, err := route.NewProfile(tr, route.Options{})
	for _, want := range []string{"synthetic:209: ", "the worst step, from 1,341 m to 1,220 m of height within 10 m, is after point 200 near km 2.0", "heights in feet or a wrong step are the usual causes"} {
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%v, want %q", err, want)
		}
	}
}

// TestHeightsInFeet: moderate roads whose heights are in feet are refused or
// asked about; in metres, steep ones too pass without a word.
func TestHeightsInFeet(t *testing.T) {
	const feetPerMetre = 1 / 0.3048 // international foot, exact
	for _, grade := range []float64{-0.06, -0.08} {
		tr := slope(400, 10, grade)
		for i := range tr.Points {
			tr.Points[i].HeightM *= feetPerMetre
		}
		p := profiled(t, tr)
		wantText(t, p, "very-steep", ": steeper than nearly all public roads; are the heights in feet?")
	}
	refused(t, func() *route.Track {
		tr := slope(400, 10, -0.1)
		for i := range tr.Points {
			tr.Points[i].HeightM *= feetPerMetre
		}
		return tr
	}(), "heights in feet")
	mild := append([]roads.Point(nil), roads.LongRideMild().Points...)
	for i := range mild {
		mild[i].HeightM *= feetPerMetre
	}
	p := profileOf(t, mild)
	if n := repaired(p.Repairs, "very-steep"); n == 0 {
		t.Errorf("repairs %v, descents %+v", p.Repairs, p.Descents)
	}
	for _, d := range roads.Committed() {
		if p := profileOf(t, d.Points); len(p.Repairs) != 0 || len(p.Doubtful) != 0 {
			t.Errorf("%s: repairs %v, doubtful %v", d.File, p.Repairs, p.Doubtful)
		}
	}
}

func TestVerySteepDescents(t *testing.T) {
	road := func(slopes ...roads.Slope) *route.Profile {
		return profileOf(t, roads.NewBuilder(-0.3, -22, 2500, slopes).Road().Sample(10, 20, seeded(5)))
	}
	before, after := roads.Slope{LengthM: 3000, Grade: -0.07}, roads.Slope{LengthM: 3000, Grade: -0.07}
	p := road(before, roads.Slope{LengthM: 900, Grade: -0.27}, after)
	wantText(t, p, "very-steep", " % over 500 m near km 3.")
	p = road(before, roads.Slope{LengthM: 900, Grade: -0.23}, after)
	if len(p.Repairs) != 0 {
		t.Errorf("23 %% over 900 m: %v", p.Repairs)
	}
	p = road(roads.Slope{LengthM: 2000}, roads.Slope{LengthM: 3000, Grade: -0.19}, roads.Slope{LengthM: 2000})
	wantText(t, p, "very-steep", " m near km 2.0: steeper")
	p = road(roads.Slope{LengthM: 2000}, roads.Slope{LengthM: 3000, Grade: -0.17}, roads.Slope{LengthM: 2000})
	if len(p.Repairs) != 0 {
		t.Errorf("17 %% over 3 km: %v", p.Repairs)
	}
	p = road(roads.Slope{LengthM: 2000}, roads.Slope{LengthM: 850, Grade: -0.26}, roads.Slope{LengthM: 2000})
	if len(p.Repairs) != 0 || len(p.Descents) != 1 {
		t.Errorf("less than 1 km: %v, %+v", p.Repairs, p.Descents)
	}
}
