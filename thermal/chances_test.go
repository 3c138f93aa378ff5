package thermal

import (
	"math"
	"strings"
	"testing"

	"rimheat/route"
	"rimheat/thermal/ride"
)

func assessed(t *testing.T, p *route.Profile, s Setup) *Assessment {
	t.Helper()
	a, err := Assess(p, s)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// The verdict follows the chance, the chance rises with mass, percentiles are in
// order and hold the central estimate, no descent is likelier to be over than the
// ride, and a limit that the maker gives is not drawn.
func TestRisk(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	p := demoRoad(t, "two_passes_hot.gpx")
	before := -1.0
	seen := map[Verdict]bool{}
	for _, kg := range []float64{42, 54, 66, 90} {
		s := drawing(t, 200, "carbon-hot-resin")
		s.Load.RiderKg = kg
		s.Wheels[0].Rim.MakerLimitK = 273.15 + 150
		s.Wheels[0].TyreSide.LimitC, s.Wheels[0].TyreSide.LowC, s.Wheels[0].TyreSide.HighC = 400, 390, 400
		a := assessed(t, p, s)
		r := a.Rims[0]
		k := r.Risk
		if k == nil || a.Sampling == nil || a.Sampling.Samples != 200 || r.PoorCooling != nil {
			t.Fatalf("risk %+v, sampling %+v", k, a.Sampling)
		}
		seen[r.Verdict] = true
		want := Within
		if k.MarginK.P50 <= 0 {
			want = Over
		} else if k.MarginK.P05 <= 0 {
			want = Marginal
		}
		// The chance is a count, the percentile lies between two of the counted.
		if r.Verdict != want && math.Abs(k.MarginK.P50) > 0.5 && math.Abs(k.MarginK.P05) > 0.5 {
			t.Errorf("%g kg: %s with margins %+v", kg, r.Verdict, k.MarginK)
		}
		if k.Chance.P < before {
			t.Errorf("%g kg: chance %g, with less load %g", kg, k.Chance.P, before)
		}
		before = k.Chance.P
		if !(k.Chance.Low <= k.Chance.P && k.Chance.P <= k.Chance.High && k.Chance.Low < k.Chance.High) {
			t.Errorf("%g kg: chance %+v", kg, k.Chance)
		}
		if q := k.TrackC; !(q.P05 < q.P50 && q.P50 < q.P95 && q.P05 < r.PeakC && r.PeakC < q.P95) {
			t.Errorf("%g kg: percentiles %+v, central %g", kg, q, r.PeakC)
		}
		if len(k.Limits) != len(r.Limits) || len(k.Descents) != len(a.Descents) {
			t.Fatalf("%d of %d limits, %d of %d descents", len(k.Limits), len(r.Limits), len(k.Descents), len(a.Descents))
		}
		for i, d := range k.Descents {
			if d.Chance.P > k.Chance.P || d.TrackC.P95 > k.TrackC.P95 || d.Index != i {
				t.Errorf("%g kg: descent %+v is worse than the ride", kg, d)
			}
			if c := max(r.Descents[i].FrontPeakC, r.Descents[i].RearPeakC); c < d.TrackC.P05 || c > d.TrackC.P95 {
				t.Errorf("%g kg: descent %d: central %g, draws %+v", kg, i, c, d.TrackC)
			}
		}
		var first float64
		for _, d := range k.Drivers {
			first += d.First
			if (d.ID == "limit" || d.ID == "tyre-limit") && d.Total > 0.005 {
				t.Errorf("%g kg: a maker's limit makes %g of the variance", kg, d.Total)
			}
		}
		if k.Explained < 0.9 || first < 0.85 || first > 1.01 {
			t.Errorf("%g kg: %g explained, %g by single inputs", kg, k.Explained, first)
		}
		for _, u := range a.Sampling.Inputs {
			if u.ID == "limit" {
				t.Errorf("%g kg: the limit is said to be drawn", kg)
			}
		}
	}
	if !seen[Within] || !seen[Marginal] || !seen[Over] {
		t.Errorf("verdicts seen: %v", seen)
	}
}

// An assumed limit is drawn and makes part of what is not known.
func TestAssumedLimitIsDrawn(t *testing.T) {
	p := demoRoad(t, "drag_hill.gpx")
	s := drawing(t, 300, "carbon-deep")
	known := s
	known.Wheels = append([]Wheel{}, s.Wheels...)
	known.Wheels[0].Rim.MakerLimitK = 273.15 + 120
	a, b := assessed(t, p, s).Rims[0].Risk, assessed(t, p, known).Rims[0].Risk
	if wa, wb := a.Limits[0].MarginK.P95-a.Limits[0].MarginK.P05, b.Limits[0].MarginK.P95-b.Limits[0].MarginK.P05; wa < 1.1*wb {
		t.Errorf("an assumed limit leaves margins over %.0f K, a known one over %.0f K", wa, wb)
	}
	if a.TrackC != b.TrackC {
		t.Errorf("the limit changed the temperatures: %+v, %+v", a.TrackC, b.TrackC)
	}
	for _, d := range a.Drivers {
		if d.ID == "limit" && d.Total < 0.1 {
			t.Errorf("an assumed limit makes %g of the variance", d.Total)
		}
	}
}

// The full solver for every draw gives what the reduced model gives.
func TestFullDraws(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	p := demoRoad(t, "drag_hill.gpx")
	s := drawing(t, 100, "carbon-mid", "alu-deep")
	reduced := assessed(t, p, s)
	s.Sampling.Full = true
	full := assessed(t, p, s)
	for i, r := range reduced.Rims {
		a, b := r.Risk.TrackC, full.Rims[i].Risk.TrackC
		for _, d := range []float64{a.P05 - b.P05, a.P50 - b.P50, a.P95 - b.P95} {
			if math.Abs(d) > 1.5 {
				t.Errorf("%s: reduced %+v, full %+v", r.ID, a, b)
			}
		}
	}
}

// Draws work where a ride has an hour, is a replay, brakes by turns or mostly
// behind, on a flat road, and for a rim with a fairing.
func TestDrawsOfOtherRides(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	hill, flat := demoRoad(t, "drag_hill.gpx"), demoRoad(t, "flat_loop.gpx")
	replay, err := route.Load("../testdata/recorded_hill.gpx", nil, route.Options{Replay: true})
	if err != nil {
		t.Fatal(err)
	}
	for name, c := range map[string]struct {
		p      *route.Profile
		change func(*Setup)
	}{
		"by the hour": {hill, func(s *Setup) { s.Weather.Daily = ride.Daily{On: true, StartS: 36000, MinK: 290, MaxK: 312} }},
		"replay":      {replay, func(*Setup) {}},
		"by turns":    {hill, func(s *Setup) { s.Style.Habit = ride.Alternate }},
		"behind":      {hill, func(s *Setup) { s.Style.FrontShare = 0.3 }},
		"flat":        {flat, func(*Setup) {}},
	} {
		s := drawing(t, 200, "carbon-basalt", "alu-classic")
		c.change(&s)
		for _, r := range assessed(t, c.p, s).Rims {
			k := r.Risk
			if !(k.TrackC.P05-1 <= r.PeakC && r.PeakC <= k.TrackC.P95+1) {
				t.Errorf("%s: central %g °C, draws %+v", name, r.PeakC, k.TrackC)
			}
			if name == "flat" && (k.Chance.P > 0 || r.Verdict != Within) {
				t.Errorf("flat: %s, chance %+v", r.Verdict, k.Chance)
			}
		}
	}
}

// The words say how sure the answer is, and call an assumed limit assumed.
func TestWordsOfRisk(t *testing.T) {
	a := assessed(t, demoRoad(t, "two_passes_hot.gpx"), drawing(t, 200, "carbon-deep", "alu-classic"))
	for _, want := range []string{"assumed limit", "% of the draws"} {
		if !strings.Contains(a.Advice, want) {
			t.Errorf("advice %q lacks %q", a.Advice, want)
		}
	}
	all := strings.Join(a.Cautions, " ")
	if !strings.Contains(all, "which nobody has measured on a bicycle") || strings.Contains(all, "central estimates") {
		t.Errorf("cautions %q", all)
	}
	for p, want := range map[float64]string{0: "under 1 %", 0.0049: "under 1 %", 0.006: "1 %", 0.048: "just under 5 %", 0.05: "5 %", 0.497: "just under 50 %", 0.5: "50 %", 0.994: "99 %", 0.996: "over 99 %", 1: "over 99 %"} {
		if got := ChanceWords(p); got != want {
			t.Errorf("a chance of %g is %q, want %q", p, got, want)
		}
	}
}
