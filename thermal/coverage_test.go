package thermal

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"rimheat/route"
	"rimheat/thermal/ride"
)

// The band from 5 to 95 % holds what the full solver gives for riders drawn from the
// stated distributions in 85 to 95 of 100 cases: 200 riders, carbon and aluminium,
// track and tyre side. It would not if the draws were made too narrow or too wide,
// or if the reduced model or its steps were off by much.
func TestBandCoversFullSolver(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	p := demoRoad(t, "drag_hill.gpx")
	for _, id := range []string{"carbon-deep", "alu-classic"} {
		s := drawing(t, 1000, id)
		s.Assumed = []string{"rider-kg", "cda", "crr", "wind"}
		a, err := Assess(p, s)
		if err != nil {
			t.Fatal(err)
		}
		riders, err := design(Sampling{Samples: 200, Seed: 77})
		if err != nil {
			t.Fatal(err)
		}
		d := newDoubts(&s, false)
		band, tyre := a.Rims[0].Risk.TrackC, Percentiles{}
		for _, l := range a.Rims[0].Risk.Limits {
			if l.On == OnTyreSide {
				tyre = l.PeakC
			}
		}
		inTrack, inTyre := 0, 0
		for i := range riders.Len() {
			trackC, tyreC := fullPeaks(t, p, s, d.truth(riders.Point(i)))
			if trackC >= band.P05 && trackC <= band.P95 {
				inTrack++
			}
			if tyreC >= tyre.P05 && tyreC <= tyre.P95 {
				inTyre++
			}
		}
		t.Logf("%s: track %.0f to %.0f °C holds %d of 200 riders, tyre side %.0f to %.0f °C holds %d", id, band.P05, band.P95, inTrack, tyre.P05, tyre.P95, inTyre)
		for what, n := range map[string]int{"track": inTrack, "tyre side": inTyre} {
			if n < 170 || n > 190 {
				t.Errorf("%s: the band of the %s holds %d of 200 riders", id, what, n)
			}
		}
	}
}

// After one simulated reading the band is narrower, and it still holds the truth
// of a rider who stays the same on another day: what lasts is the rider's and the
// wheel's; air, wind, technique and load are drawn anew.
func TestBandCoversAfterReading(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	p := demoRoad(t, "drag_hill.gpx")
	s := drawing(t, 300, "carbon-deep")
	s.Assumed = []string{"cda", "crr", "wind"}
	before, err := Assess(p, s)
	if err != nil {
		t.Fatal(err)
	}
	band := before.Rims[0].Risk.TrackC
	const n = 40
	riders, err := design(Sampling{Samples: 100, Seed: 9})
	if err != nil {
		t.Fatal(err)
	}
	rng := rand.New(rand.NewPCG(8, 9))
	d := newDoubts(&s, false)
	end := p.DistM[len(p.DistM)-1]
	held, refused := 0, 0
	var widths []float64
	for i := range n {
		u := slices.Clone(riders.Point(i))
		r := Reading{AtM: 0.7 * end, AfterS: 30, On: OnTrack, SdC: 4, C: math.NaN(), OverC: math.NaN(), UnderC: math.NaN()}
		r.C = fullReading(t, s, p, d.truth(u), r) + r.SdC*rng.NormFloat64()
		l, err := Learn(context.Background(), p, s, r)
		var no *Contradiction
		if errors.As(err, &no) {
			refused++ // a rare rider, or a rare slip of the thermometer
			continue
		}
		if err != nil {
			t.Fatal(err)
		}
		after := s
		after.Readings = l.Taught
		a, err := Assess(p, after)
		if err != nil {
			t.Fatal(err)
		}
		b := a.Rims[0].Risk.TrackC
		widths = append(widths, (b.P95-b.P05)/(band.P95-band.P05))
		// Another day.
		for _, k := range []int{drawAir, drawWindEast, drawWindNorth, drawMass, drawCap, drawBends} {
			u[k] = rng.Float64()
		}
		if trackC, _ := fullPeaks(t, p, s, d.truth(u)); trackC >= b.P05 && trackC <= b.P95 {
			held++
		}
	}
	slices.Sort(widths)
	t.Logf("%d riders, %d readings refused: the band is %.2f times as wide (%.2f to %.2f) and holds %d", n, refused, widths[len(widths)/2], widths[0], widths[len(widths)-1], held)
	if m := widths[len(widths)-1]; m > 0.95 {
		t.Errorf("after a reading a band is %.2f times as wide as before", m)
	}
	if refused > 2 {
		t.Errorf("%d of %d honest readings were refused", refused, n)
	}
	// 90 % of 40 is 36; 31 or fewer has a chance of 1 %.
	if held < 32 {
		t.Errorf("the bands hold %d of %d riders", held, n-refused)
	}
}

// fullReading is what a thermometer without error reads in one world, by the full
// solver.
func fullReading(tb testing.TB, s Setup, p *route.Profile, w truth, r Reading) float64 {
	tb.Helper()
	s.Sampling.Full = true
	s.Style.Pauses = []ride.Pause{{AtM: r.AtM, S: r.AfterS + 60}}
	w.style.Pauses = s.Style.Pauses
	m, err := newSampler(p, s, nil, nil)
	if err != nil {
		tb.Fatal(err)
	}
	c, err := m.newRider().read(w, r)
	if err != nil {
		tb.Fatal(err)
	}
	return c
}
