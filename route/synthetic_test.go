package route_test

import (
	"bytes"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"rimheat/route"
	"rimheat/testdata/roads"
)

// trackOf is a track through sampled points.
func trackOf(pts []roads.Point) *route.Track {
	t := &route.Track{File: "synthetic"}
	for _, p := range pts {
		t.Points = append(t.Points, route.Point{LatDeg: p.LatDeg, LonDeg: p.LonDeg, HeightM: p.HeightM, HasHeight: true})
	}
	return t
}

// line is a track through positions in degrees at a height of 10 m.
func line(latLon ...float64) *route.Track {
	t := &route.Track{File: "r.gpx"}
	for i := 0; i < len(latLon); i += 2 {
		t.Points = append(t.Points, route.Point{LatDeg: latLon[i], LonDeg: latLon[i+1], HeightM: 10, HasHeight: true})
	}
	return t
}

func profileOf(tb testing.TB, pts []roads.Point) *route.Profile {
	tb.Helper()
	p, err := route.NewProfile(trackOf(pts), route.Options{})
	if err != nil {
		tb.Fatal(err)
	}
	return p
}

func seeded(i uint64) *rand.Rand { return rand.New(rand.NewPCG(7, i)) }

// onRoad gives the true distance along the road of node i of a profile: the
// points tell which stretch of the road a stretch of the profile is, since
// chords across bends make the profile shorter.
func onRoad(pts []roads.Point, p *route.Profile) []float64 {
	m := make([]float64, len(p.DistM))
	dist := make([]float64, len(pts))
	whole := 0.0
	for k := 1; k < len(pts); k++ {
		whole += math.Hypot((pts[k].LatDeg-pts[k-1].LatDeg)*110_574, (pts[k].LonDeg-pts[k-1].LonDeg)*111_319)
		dist[k] = whole
	}
	k := 0
	for i, d := range p.DistM {
		d *= whole / p.DistanceM
		for k+2 < len(pts) && dist[k+1] < d {
			k++
		}
		m[i] = pts[k].M + (pts[k+1].M-pts[k].M)*(d-dist[k])/(dist[k+1]-dist[k])
	}
	return m
}

func TestCommittedRoutesAreReproduced(t *testing.T) {
	for _, d := range roads.Committed() {
		want := d.GPX()
		got, err := os.ReadFile(filepath.Join("..", "testdata", d.File))
		if err != nil {
			t.Error(err)
		} else if !bytes.Equal(got, want) {
			t.Errorf("%s is not what go run ./testdata/roads/cmd writes", d.File)
		}
	}
}

// TestProfileOfKnownRoads compares profiles of noisy samples with the truth.
func TestProfileOfKnownRoads(t *testing.T) {
	demos := append(roads.Committed(), roads.Mountain(40_000, 10, 3))
	for _, d := range demos {
		t.Run(d.File, func(t *testing.T) {
			p := profileOf(t, d.Points)
			const lengthTol, dropTol = 0.005, 0.01
			if e := p.DistanceM/d.Road.LengthM() - 1; math.Abs(e) > lengthTol {
				t.Errorf("length off by %.2f %%", 100*e)
			}
			if d.File != "flat_loop.gpx" { // where drop is all noise
				if e := p.DropM/d.Road.DropM() - 1; math.Abs(e) > dropTol {
					t.Errorf("drop %.1f m, true %.1f m", p.DropM, d.Road.DropM())
				}
			}
			n := len(p.HeightM)
			// The ends are as noisy as all else, and no more is made of them.
			const endTolM = 0.5
			if math.Abs(p.HeightM[0]-d.Road.HeightAt(0)) > endTolM || math.Abs(p.HeightM[n-1]-d.Road.HeightAt(d.Road.LengthM())) > endTolM {
				t.Errorf("end heights %.2f and %.2f m, true %.2f and %.2f m", p.HeightM[0], p.HeightM[n-1], d.Road.HeightAt(0), d.Road.HeightAt(d.Road.LengthM()))
			}
			sum, worst := 0.0, 0.0
			for i, m := range onRoad(d.Points, p) {
				e := math.Abs(p.Grade[i] - d.Road.GradeAt(m))
				sum += e * e
				worst = max(worst, e)
			}
			rms := math.Sqrt(sum / float64(n))
			t.Logf("grade error: rms %.3f %%, worst %.3f %%", 100*rms, 100*worst)
			if rms > 0.005 {
				t.Errorf("rms error of grade %.3f %% points, want below 0.5", 100*rms)
			}
		})
	}
}

// TestGradeWithoutNoise: on clean samples of a road without hairpins, whose
// chords would shorten the road, every node is within half a percent point,
// but for the feet of the hill, where 12 % begins and ends within 120 m: there
// the smoother rounds the change off.
func TestGradeWithoutNoise(t *testing.T) {
	const tol, tolFoot, footM = 0.005, 0.0125, 150
	d := roads.DragHill()
	for _, spacing := range []float64{3, 10, 25, 50} {
		pts := d.Road.Sample(0.9*spacing, 1.1*spacing, seeded(1))
		p := profileOf(t, pts)
		worst, worstFoot := 0.0, 0.0
		for i, m := range onRoad(pts, p) {
			e := math.Abs(p.Grade[i] - d.Road.GradeAt(m))
			if math.Abs(m-800) < footM || math.Abs(m-12_800) < footM {
				worstFoot = max(worstFoot, e)
			} else {
				worst = max(worst, e)
			}
		}
		t.Logf("spacing %v m: worst %.3f %% points, at the feet %.3f", spacing, 100*worst, 100*worstFoot)
		if worst > tol || worstFoot > tolFoot {
			t.Errorf("spacing %v m: grade off by %.3f %% points, at the feet by %.3f", spacing, 100*worst, 100*worstFoot)
		}
	}
}

// TestThinningAndNoise: thinned to 50 m, or with a metre of white height noise,
// the long descents stay what they are.
func TestThinningAndNoise(t *testing.T) {
	d := roads.TwoPassesHot()
	want := profileOf(t, d.Points)
	noisy := append([]roads.Point(nil), d.Points...)
	roads.AddWhiteHeight(noisy, 1, seeded(2))
	stairs := append([]roads.Point(nil), d.Points...)
	roads.StairSteps(stairs, 1)
	for name, pts := range map[string][]roads.Point{"thinned": roads.Thin(d.Points, 50), "noisy": noisy, "whole metres": stairs} {
		p := profileOf(t, pts)
		if n := len(p.Repairs); n != 0 && !(name == "thinned" && n == repairedKinds(p.Repairs, "bend-lengthened")) {
			t.Errorf("%s: repairs %v", name, p.Repairs)
		}
		if len(p.Descents) != len(want.Descents) {
			t.Fatalf("%s: %d descents, want %d", name, len(p.Descents), len(want.Descents))
		}
		for i, g := range p.Descents {
			w := want.Descents[i]
			if math.Abs(g.DropM-w.DropM) > 0.01*w.DropM || math.Abs(g.StartM-w.StartM) > 0.01*want.DistanceM {
				t.Errorf("%s: descent %+v, want %+v", name, g, w)
			}
		}
	}
}

// TestGridStep: the grid step does not decide the grade.
func TestGridStep(t *testing.T) {
	tr := trackOf(roads.DragHill().Points)
	at := func(step float64) *route.Profile {
		p, err := route.NewProfile(tr, route.Options{SpacingM: step})
		if err != nil {
			t.Fatal(err)
		}
		return p
	}
	want := at(5)
	for _, step := range []float64{1, 2.5, 10} {
		p := at(step)
		worst := 0.0
		for i, d := range p.DistM {
			k := min(int(math.Round(d/want.SpacingM)), len(want.Grade)-1)
			worst = max(worst, math.Abs(p.Grade[i]-want.Grade[k]))
		}
		if worst > 0.004 || math.Abs(p.DropM-want.DropM) > 2 {
			t.Errorf("step %v m: grade differs by up to %.2f %% points, drop %v and %v m", step, 100*worst, p.DropM, want.DropM)
		}
	}
}

func reversed(t *route.Track) *route.Track {
	r := &route.Track{File: t.File}
	for i := len(t.Points) - 1; i >= 0; i-- {
		r.Points = append(r.Points, t.Points[i])
	}
	return r
}

func TestReversingSwapsClimbAndDrop(t *testing.T) {
	tr := trackOf(roads.Mountain(30_000, 12, 9).Points)
	a, err := route.NewProfile(tr, route.Options{})
	if err != nil {
		t.Fatal(err)
	}
	b, err := route.NewProfile(reversed(tr), route.Options{})
	if err != nil {
		t.Fatal(err)
	}
	const tolM = 1e-5
	if math.Abs(a.ClimbM-b.DropM) > tolM || math.Abs(a.DropM-b.ClimbM) > tolM || math.Abs(a.DistanceM-b.DistanceM) > tolM {
		t.Errorf("climb %v drop %v; reversed climb %v drop %v", a.ClimbM, a.DropM, b.ClimbM, b.DropM)
	}
	for i := range a.Grade {
		j := len(b.Grade) - 1 - i
		if math.Abs(a.Grade[i]+b.Grade[j]) > 1e-6 {
			t.Fatalf("grade %v at node %d, reversed %v", a.Grade[i], i, b.Grade[j])
		}
		if ra, rb := a.CornerRadiusM[i], b.CornerRadiusM[j]; math.Abs(1/ra-1/rb) > 0.05/min(ra, rb) {
			t.Fatalf("radius %v at node %d, reversed %v", ra, i, rb)
		}
	}
}

func TestShiftingHeightsChangesNothingElse(t *testing.T) {
	tr := trackOf(roads.DragHill().Points)
	a, err := route.NewProfile(tr, route.Options{})
	if err != nil {
		t.Fatal(err)
	}
	for i := range tr.Points {
		tr.Points[i].HeightM += 100
	}
	b, err := route.NewProfile(tr, route.Options{})
	if err != nil {
		t.Fatal(err)
	}
	for i := range a.Grade {
		if math.Abs(a.Grade[i]-b.Grade[i]) > 1e-8 || math.Abs(a.HeightM[i]+100-b.HeightM[i]) > 1e-7 {
			t.Fatalf("node %d: grade %v became %v", i, a.Grade[i], b.Grade[i])
		}
	}
	if len(a.Descents) != len(b.Descents) || len(b.Repairs) != 0 || math.Abs(a.DropM-b.DropM) > 1e-6 {
		t.Errorf("descents %v became %v", a.Descents, b.Descents)
	}
}

func TestSplittingIntoSegmentsChangesNothing(t *testing.T) {
	d := roads.DragHill()
	whole := d.GPX()
	split := whole
	for _, every := range []string{"0</ele></trkpt>\n", "5</ele></trkpt>\n"} {
		split = bytes.ReplaceAll(split, []byte(every), []byte(every+"</trkseg><trkseg>"))
	}
	a := mustLoad(t, whole)
	b := mustLoad(t, split)
	tr, err := route.Read(bytes.NewReader(split), "x", route.Options{})
	if err != nil || len(tr.SegmentStarts) < 50 {
		t.Fatalf("%v, %d segments", err, len(tr.SegmentStarts))
	}
	for name, pair := range map[string][2][]float64{
		"DistM": {a.DistM, b.DistM}, "LatDeg": {a.LatDeg, b.LatDeg}, "LonDeg": {a.LonDeg, b.LonDeg}, "HeightM": {a.HeightM, b.HeightM},
		"RawHeightM": {a.RawHeightM, b.RawHeightM}, "Grade": {a.Grade, b.Grade}, "HeadingRad": {a.HeadingRad, b.HeadingRad},
		"CornerRadiusM": {a.CornerRadiusM, b.CornerRadiusM},
	} {
		if len(pair[0]) != len(pair[1]) {
			t.Fatalf("%s: %d and %d nodes", name, len(pair[0]), len(pair[1]))
		}
		for i := range pair[0] {
			if math.Float64bits(pair[0][i]) != math.Float64bits(pair[1][i]) {
				t.Fatalf("%s differs at node %d", name, i)
			}
		}
	}
}

func mustLoad(t *testing.T, gpx []byte) *route.Profile {
	t.Helper()
	p, err := route.Load("-", bytes.NewReader(gpx), route.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// TestShortRoutes: two points 20 m apart are a route.
func TestShortRoutes(t *testing.T) {
	tr := line(0, -20, 0, -19.99982)
	tr.Points[1].HeightM = 9
	p, err := route.NewProfile(tr, route.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if len(p.DistM) != 5 || math.Abs(p.DropM-1) > 1e-9 || len(p.Descents) != 0 || math.Abs(p.DistanceM-20.04) > 0.01 {
		t.Errorf("%+v", p)
	}
	for i := range p.DistM {
		if math.Abs(p.Grade[i]+1/p.DistanceM) > 1e-9 || !math.IsInf(p.CornerRadiusM[i], 1) || math.Abs(p.HeadingRad[i]-math.Pi/2) > 1e-6 {
			t.Errorf("node %d: grade %v, radius %v, heading %v", i, p.Grade[i], p.CornerRadiusM[i], p.HeadingRad[i])
		}
	}
	if p, err = route.NewProfile(line(0, -20, 0, -19.99998), route.Options{}); err != nil || len(p.DistM) != 2 {
		t.Errorf("2 m route: %v, %v", p, err)
	}
	if _, err = route.NewProfile(line(0, -20, 0, -19.999999), route.Options{}); err == nil {
		t.Error("a route of 11 cm was accepted")
	}
}

// repairedKinds counts the repairs of a kind, not what they touched.
func repairedKinds(repairs []route.Repair, kind string) int {
	n := 0
	for _, r := range repairs {
		if r.Kind == kind {
			n++
		}
	}
	return n
}
