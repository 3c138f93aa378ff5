package route_test

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"rimheat/route"
	"rimheat/testdata/roads"
)

// raised adds to the heights of a track between two distances, metres, a hump,
// or a hollow if heightM is negative, that rises over flankM metres on either
// side; the points lie spacingM apart.
func raised(tr *route.Track, spacingM, fromM, toM, flankM, heightM float64) *route.Track {
	for i := range tr.Points {
		m := float64(i) * spacingM
		tr.Points[i].HeightM += heightM * min(1, max(0, min(m-fromM, toM-m)/flankM))
	}
	return tr
}

func noisy(tr *route.Track, sdM float64, seed uint64) *route.Track {
	rng := seeded(seed)
	for i := range tr.Points {
		tr.Points[i].HeightM += sdM * rng.NormFloat64()
	}
	return tr
}

func whole(tr *route.Track) *route.Track {
	for i := range tr.Points {
		tr.Points[i].HeightM = math.Round(tr.Points[i].HeightM)
	}
	return tr
}

func TestTunnelsAndBridges(t *testing.T) {
	for name, c := range map[string]struct {
		tr    *route.Track
		grade float64
		// n is how many, tolM how far the heights may be off the slope.
		n    int
		tolM float64
	}{
		"ridge":                 {raised(slope(1000, 10, -0.02), 10, 4000, 5500, 600, 300), -0.02, 1, 0.5},
		"ridge of 33 %":         {raised(slope(1000, 10, -0.02), 10, 4000, 5500, 300, 115), -0.02, 1, 0.5},
		"gorge":                 {raised(slope(1000, 10, -0.02), 10, 4000, 4150, 75, -120), -0.02, 1, 0.5},
		"gorge, 3 m apart":      {raised(slope(3000, 3, -0.06), 3, 4000, 4150, 75, -120), -0.06, 1, 0.5},
		"gorge, 40 m apart":     {raised(slope(300, 40, -0.02), 40, 4000, 4300, 100, -120), -0.02, 1, 0.5},
		"narrow ridge":          {raised(slope(1000, 10, -0.02), 10, 4000, 4100, 50, 30), -0.02, 1, 0.5},
		"two tunnels, 300 m":    {raised(raised(slope(1000, 10, -0.02), 10, 4000, 5000, 400, 200), 10, 5300, 6000, 300, 150), -0.02, 2, 0.5},
		"tunnel, then bridge":   {raised(raised(slope(1000, 10, -0.02), 10, 4000, 5000, 400, 200), 10, 5060, 5200, 70, -60), -0.02, 2, 0.5},
		"at both ends":          {raised(raised(slope(1000, 10, 0), 10, 60, 1000, 400, 200), 10, 9000, 9900, 400, 200), 0, 2, 0.5},
		"on 8 %":                {raised(slope(1000, 10, -0.08), 10, 4000, 5000, 300, 180), -0.08, 1, 0.5},
		"on 12 %":               {raised(slope(1000, 10, -0.12), 10, 4000, 5000, 300, 180), -0.12, 1, 0.5},
		"noise of half a metre": {noisy(raised(slope(1000, 10, -0.02), 10, 4000, 5500, 600, 300), 0.5, 11), -0.02, 1, 2},
		"whole metres":          {whole(raised(slope(1000, 10, -0.02), 10, 4000, 5500, 600, 300)), -0.02, 1, 1.5},
	} {
		t.Run(name, func(t *testing.T) {
			p := profiled(t, c.tr)
			if n := repaired(p.Repairs, "tunnel-or-bridge"); n != c.n || len(p.Repairs) != 1 {
				t.Errorf("repairs %v, want %d tunnels or bridges", p.Repairs, c.n)
			}
			onLine(t, p, c.grade, c.tolM)
			if len(p.Doubtful) == 0 || !strings.Contains(p.Doubtful[0].Why, "tunnel") {
				t.Errorf("doubtful %v", p.Doubtful)
			}
		})
	}
}

func TestTunnelsSayWhere(t *testing.T) {
	tr := raised(raised(slope(1500, 10, -0.02), 10, 4000, 5000, 400, 200), 10, 12_000, 12_150, 75, -120)
	p := profiled(t, tr)
	wantText(t, p, "tunnel-or-bridge", "in 2 places the heights leave the road by up to 200 m over up to 1,000 m and come back")
	wantText(t, p, "tunnel-or-bridge", "near km 4.5 and 12.1")
	for i, want := range []route.Span{{StartM: 4000, EndM: 5000, Why: "heights of a tunnel or bridge replaced over 1,000 m"}, {StartM: 12_000, EndM: 12_150, Why: "heights of a tunnel or bridge replaced over 150 m"}} {
		if d := p.Doubtful[i]; math.Abs(d.StartM-want.StartM) > 1 || math.Abs(d.EndM-want.EndM) > 1 || d.Why != want.Why {
			t.Errorf("%+v, want %+v", d, want)
		}
	}
	// Where two lie near to each other they are one doubtful stretch.
	p = profiled(t, raised(raised(slope(1500, 10, -0.02), 10, 4000, 5000, 400, 200), 10, 5100, 5250, 75, -120))
	if len(p.Doubtful) != 1 || p.Doubtful[0].Why != "heights of 2 tunnels or bridges replaced over up to 1,000 m" {
		t.Errorf("%+v", p.Doubtful)
	}
}

// TestSteepRoadsAreNoTunnels: hills that a road can have stay what they are,
// also under noise and rounding, and so does what a tunnel could not be.
func TestSteepRoadsAreNoTunnels(t *testing.T) {
	hill := func(spacing, flank, height float64) *route.Track {
		n := int(8000/spacing) + 1
		return raised(slope(n, spacing, -0.02), spacing, 3000, 3000+2*flank+100, flank, height)
	}
	// Some of them may be refused.
	wrong := map[string]bool{"a ridge wider than 3 km": true, "15 % with short walls": true, "a step up and one down": true}
	for name, tr := range map[string]*route.Track{
		"25 %":                     hill(10, 400, 100),
		"27 %":                     hill(10, 400, 108),
		"15 %":                     hill(10, 1000, 150),
		"a hollow of 25 %":         hill(10, 400, -100),
		"25 %, 40 m apart":         hill(40, 400, 100),
		"25 %, noise of 1 m":       noisy(hill(10, 400, 100), 1, 12),
		"25 %, noise of 3 m":       noisy(hill(10, 400, 100), 3, 13),
		"25 %, noise, 3 m apart":   noisy(hill(3, 400, 100), 1, 14),
		"25 %, whole metres":       whole(hill(10, 400, 100)),
		"25 %, whole, 2 m apart":   whole(hill(2, 400, 100)),
		"15 %, noise of 3 m":       noisy(hill(10, 1000, 150), 3, 15),
		"steep on one side alone":  cliff(raised(slope(800, 10, -0.02), 10, 3000, 4000, 500, 60), 600, 0),
		"15 % with short walls":    raised(hill(10, 300, 36), 10, 3120, 3580, 60, 24),
		"a step up and one down":   cliff(cliff(slope(800, 10, -0.02), 300, -30), 400, 30),
		"a ridge wider than 3 km":  raised(slope(2000, 10, -0.02), 10, 4000, 8000, 100, 35),
		"a hump of 12 m":           raised(slope(800, 10, -0.02), 10, 3000, 3100, 30, 12),
		"the end beyond the flank": raised(slope(400, 10, -0.02), 10, 3900, 9000, 60, 21),
	} {
		p, err := route.NewProfile(tr, route.Options{})
		if err == nil && repaired(p.Repairs, "tunnel-or-bridge") != 0 {
			t.Errorf("%s: %v", name, p.Repairs)
		} else if err != nil && !wrong[name] {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// TestRollingRoadInFeetIsRefused: hills of 12 % in feet look like ridges one
// after the other, but not all of a road is tunnels.
func TestRollingRoadInFeetIsRefused(t *testing.T) {
	var slopes []roads.Slope
	for range 8 {
		slopes = append(slopes, roads.Slope{LengthM: 500, Grade: 0.12}, roads.Slope{LengthM: 500, Grade: -0.12})
	}
	pts := roads.NewBuilder(-0.3, -22, 300, slopes).Road().Sample(10, 20, seeded(16))
	for i := range pts {
		pts[i].HeightM /= 0.3048
	}
	refused(t, trackOf(pts), "are steeper than 30 %, so the heights are wrong")
}

// BenchmarkWildHeights: humps too low for tunnels between flanks too steep for
// roads, one after the other, cost the most to look through.
func BenchmarkWildHeights(b *testing.B) {
	for _, spacing := range []float64{0.5, 10} {
		b.Run(strconv.FormatFloat(spacing, 'f', 1, 64)+"m", func(b *testing.B) {
			tr := slope(50_000, spacing, 0)
			for i := range tr.Points {
				tr.Points[i].HeightM += 12 * math.Abs(math.Remainder(float64(i)*spacing/25, 2))
			}
			b.ReportAllocs()
			for b.Loop() {
				p, err := route.NewProfile(tr, route.Options{})
				if err == nil && repaired(p.Repairs, "tunnel-or-bridge") > 0 {
					b.Fatal(p.Repairs)
				}
			}
		})
	}
}

// TestWanderingHeightsMakeNoTunnels: on a hill of 25 % heights that wander over
// tens of metres, as those of satellites do, pass 30 % in many places on both
// sides; yet it is no ridge over a tunnel, and a real one is found all the same.
func TestWanderingHeightsMakeNoTunnels(t *testing.T) {
	wandering := func(tr *route.Track, sdM, overM float64, seed uint64) *route.Track {
		pts := make([]roads.Point, len(tr.Points))
		for i := range pts {
			pts[i].M = 5 * float64(i)
		}
		roads.AddCorrelatedHeight(pts, sdM, overM, seeded(seed))
		for i := range pts {
			tr.Points[i].HeightM += pts[i].HeightM
		}
		return tr
	}
	for _, noise := range [][2]float64{{2, 30}, {3, 50}, {5, 100}} {
		for seed := range uint64(10) {
			p := profiled(t, wandering(raised(slope(1601, 5, -0.02), 5, 3000, 3900, 400, 100), noise[0], noise[1], seed))
			if repaired(p.Repairs, "tunnel-or-bridge") != 0 {
				t.Errorf("noise %v, seed %d: %v", noise, seed, p.Repairs)
			}
			p = profiled(t, wandering(raised(slope(1601, 5, -0.02), 5, 3000, 4500, 600, 300), noise[0], noise[1], seed))
			if repaired(p.Repairs, "tunnel-or-bridge") != 1 {
				t.Errorf("noise %v, seed %d: tunnel not found, %v", noise, seed, p.Repairs)
			}
		}
	}
}
