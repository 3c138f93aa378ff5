package route_test

import (
	"math"
	"strings"
	"testing"

	"rimheat/route"
	"rimheat/testdata/roads"
)

// slope is a straight road of n points at a spacing and grade, from 1,500 m on.
func slope(n int, spacingM, grade float64) *route.Track {
	length := float64(n-1) * spacingM
	b := roads.NewBuilder(-0.3, -22, 1500, []roads.Slope{{LengthM: length, Grade: grade}})
	r := b.Road()
	var pts []roads.Point
	for i := range n {
		m := float64(i) * spacingM
		lat, lon := r.PositionAt(m)
		pts = append(pts, roads.Point{M: m, LatDeg: lat, LonDeg: lon, HeightM: r.HeightAt(m)})
	}
	return trackOf(pts)
}

func profiled(t *testing.T, tr *route.Track) *route.Profile {
	t.Helper()
	p, err := route.NewProfile(tr, route.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func refused(t *testing.T, tr *route.Track, what string) {
	t.Helper()
	_, err := route.NewProfile(tr, route.Options{})
	if err == nil || !strings.Contains(err.Error(), what) {
		t.Errorf("error %v, want %q", err, what)
	}
}

// onLine checks that the heights are those of the slope, within tolM.
func onLine(t *testing.T, p *route.Profile, grade, tolM float64) {
	t.Helper()
	for i, d := range p.DistM {
		if e := p.HeightM[i] - (1500 + grade*d); math.Abs(e) > tolM {
			t.Fatalf("height off by %.2f m at %.0f m", e, d)
		}
	}
}

func TestMissingHeights(t *testing.T) {
	lack := func(tr *route.Track, from, to int) *route.Track {
		for i := from; i < to; i++ {
			tr.Points[i].HasHeight = false
		}
		return tr
	}
	p := profiled(t, lack(slope(400, 10, -0.08), 100, 148))
	if repaired(p.Repairs, "height-filled") != 48 {
		t.Errorf("repairs %v", p.Repairs)
	}
	onLine(t, p, -0.08, 1e-3)
	p = profiled(t, lack(lack(slope(400, 10, -0.08), 0, 20), 395, 400))
	if repaired(p.Repairs, "height-filled") != 25 || math.Abs(p.HeightM[0]-p.RawHeightM[20]) > 0.01 {
		t.Errorf("repairs %v, first height %v", p.Repairs, p.HeightM[0])
	}
	refused(t, lack(slope(400, 10, -0.08), 100, 151), "51 points in a row from point 101 on have no height over 520 m, more than 500 m")
	refused(t, lack(slope(400, 10, -0.08), 0, 60), "more than 500 m")
	refused(t, lack(lack(slope(400, 10, -0.08), 0, 45), 300, 340), "85 of 400 points have no height")
}

func TestZeroRunsAreMissing(t *testing.T) {
	tr := slope(400, 10, -0.08)
	for i := 200; i < 230; i++ {
		tr.Points[i].HeightM = 0
	}
	p := profiled(t, tr)
	if repaired(p.Repairs, "height-filled") != 30 {
		t.Errorf("repairs %v", p.Repairs)
	}
	onLine(t, p, -0.08, 1e-3)
	for i := range 5 {
		tr.Points[i].HeightM = 0
		tr.Points[399-i].HeightM = math.Copysign(0, -1)
	}
	if n := repaired(profiled(t, tr).Repairs, "height-filled"); n != 40 {
		t.Errorf("%d filled, want 40", n)
	}
	// A road that touches the sea keeps its zeros.
	tr = slope(400, 10, 0)
	for i := range tr.Points {
		tr.Points[i].HeightM = max(0, 10-0.05*float64(i))
	}
	if p := profiled(t, tr); len(p.Repairs) != 0 {
		t.Errorf("repairs %v on a road to the sea", p.Repairs)
	}
	// Numbers no road can have are missing, too.
	tr = slope(400, 10, -0.08)
	tr.Points[7].HeightM, tr.Points[9].HeightM = -32768, 9999
	if n := repaired(profiled(t, tr).Repairs, "height-filled"); n != 2 {
		t.Errorf("%d filled, want 2", n)
	}
}

func TestSpikes(t *testing.T) {
	for name, c := range map[string]struct {
		spacing, grade, size float64
		at, n                int
	}{
		"up on a descent":      {10, -0.08, 30, 100, 1},
		"down on a descent":    {10, -0.08, -30, 100, 1},
		"dense recording":      {3, -0.08, 8, 100, 2},
		"sparse":               {50, -0.08, 60, 40, 1},
		"plateau":              {10, -0.12, 40, 100, 20},
		"three":                {10, 0.05, -25, 100, 3},
		"wild":                 {10, 0.05, 4000, 100, 1},
		"last but one":         {10, 0.05, 40, 298, 1},
		"first but one":        {10, 0.05, 40, 1, 1},
		"on the steepest hill": {10, -0.25, 20, 100, 1},
	} {
		t.Run(name, func(t *testing.T) {
			tr := slope(300, c.spacing, c.grade)
			for i := c.at; i < c.at+c.n; i++ {
				tr.Points[i].HeightM += c.size
			}
			p := profiled(t, tr)
			if n := repaired(p.Repairs, "height-spike"); n != c.n || len(p.Repairs) != 1+repaired(p.Repairs, "very-steep") {
				t.Errorf("repairs %v, want %d spikes", p.Repairs, c.n)
			}
			onLine(t, p, c.grade, 1e-3)
		})
	}
}

func TestHillsAreNoSpikes(t *testing.T) {
	steep := func(spacing, grade float64) *route.Track {
		tr := slope(201, spacing, grade)
		for i := range tr.Points { // up to the middle and down again
			tr.Points[i].HeightM = 100 + grade*spacing*float64(100-max(i-100, 100-i))
		}
		return tr
	}
	stairs := slope(2000, 3, -0.25)
	for i := range stairs.Points {
		stairs.Points[i].HeightM = math.Round(stairs.Points[i].HeightM)
	}
	kerb := slope(300, 10, 0)
	for i := 150; i < 300; i++ {
		kerb.Points[i].HeightM += 8
	}
	hump := slope(300, 5, 0)
	hump.Points[150].HeightM += 3
	for name, tr := range map[string]*route.Track{
		"a hump of 3 m": hump,
		"25 % at 10 m":  steep(10, 0.25), "25 % at 50 m": steep(50, 0.25), "25 % at 2 m": steep(2, 0.25),
		"whole metres": stairs, "a step": kerb,
	} {
		if p := profiled(t, tr); repaired(p.Repairs, "height-spike") != 0 {
			t.Errorf("%s: %v", name, p.Repairs)
		}
	}
}

func TestSteepHeights(t *testing.T) {
	refused(t, slope(300, 10, -0.5), "are steeper than 30 %, so the heights are wrong")
	third := slope(500, 10, -0.08)
	for i := range third.Points { // 90 m of 489 m
		third.Points[i].HeightM -= 90 * min(max(float64(i-200)/15, 0), 1)
	}
	refused(t, third, "are steeper than 30 %")
	tr := slope(1000, 10, -0.08)
	for i := range tr.Points {
		if i > 500 {
			tr.Points[i].HeightM -= 60 // a false cliff
		}
	}
	p := profiled(t, tr)
	if repaired(p.Repairs, "too-steep") == 0 {
		t.Errorf("repairs %v", p.Repairs)
	}
	for i, g := range p.Grade {
		if math.Abs(g) > route.MaxGrade {
			t.Fatalf("grade %v at node %d", g, i)
		}
	}
	if len(p.Descents) != 2 {
		t.Fatalf("descents %v, want one on each side of the cliff", p.Descents)
	}
	for _, d := range p.Descents {
		if math.Abs(d.MeanGrade+0.08) > 0.01 {
			t.Errorf("descent %+v holds part of the cliff", d)
		}
	}
}

func TestPositionOutliers(t *testing.T) {
	clean := profiled(t, slope(400, 10, -0.08))
	for _, n := range []int{1, 2, 3} {
		tr := slope(400, 10, -0.08)
		for i := 200; i < 200+n; i++ {
			tr.Points[i].LatDeg += 0.05
		}
		p := profiled(t, tr)
		if repaired(p.Repairs, "position-outlier") != n || math.Abs(p.DistanceM-clean.DistanceM) > 0.01 {
			t.Errorf("%d outliers: repairs %v, length %v", n, p.Repairs, p.DistanceM)
		}
	}
	tr := slope(400, 10, -0.08)
	tr.Points[200].LatDeg, tr.Points[200].LonDeg = 0, 0
	if p := profiled(t, tr); repaired(p.Repairs, "position-outlier") != 1 {
		t.Errorf("repairs %v", p.Repairs)
	}
}

func TestGapsAreBridged(t *testing.T) {
	tr := slope(400, 10, -0.05)
	tr.Points = append(tr.Points[:100:100], tr.Points[200:]...)
	p := profiled(t, tr)
	if repaired(p.Repairs, "gap") != 1 || !strings.Contains(p.Repairs[0].Text, "1,010 m") {
		t.Errorf("repairs %v", p.Repairs)
	}
	onLine(t, p, -0.05, 1e-3)
}

func TestDuplicatesAreMerged(t *testing.T) {
	tr := slope(100, 10, -0.05)
	var pts []route.Point
	for i, p := range tr.Points {
		pts = append(pts, p)
		if i%10 == 0 {
			q := p
			p.HeightM++
			q.HeightM--
			pts = append(pts, p, q)
		}
	}
	tr.Points = pts
	p := profiled(t, tr)
	if repaired(p.Repairs, "duplicate-point") != 20 || p.Points != 120 {
		t.Errorf("repairs %v of %d points", p.Repairs, p.Points)
	}
	onLine(t, p, -0.05, 1e-3)
}

func TestTrackIsNotChanged(t *testing.T) {
	tr := slope(400, 10, -0.08)
	tr.Points[100].HasHeight = false
	tr.Points[200].HeightM += 50
	before := append([]route.Point(nil), tr.Points...)
	profiled(t, tr)
	for i := range before {
		if tr.Points[i] != before[i] {
			t.Fatalf("point %d changed", i)
		}
	}
}
