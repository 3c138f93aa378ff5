package thermal

import (
	"context"
	"encoding/json"
	"math"
	"path/filepath"
	"runtime"
	"slices"
	"testing"

	"rimheat/route"
	"rimheat/thermal/ride"
	"rimheat/thermal/rim"
)

func demoRoad(tb testing.TB, name string) *route.Profile {
	tb.Helper()
	p, err := route.Load(filepath.Join("..", "testdata", name), nil, route.Options{})
	if err != nil {
		tb.Fatal(err)
	}
	return p
}

// drawing is a setup that draws n truths, with the rims named.
func drawing(tb testing.TB, n int, ids ...string) Setup {
	tb.Helper()
	s := DefaultSetup()
	s.Wheels = nil
	for _, id := range ids {
		sec, ok := RimByID(id)
		if !ok {
			tb.Fatalf("no rim %s", id)
		}
		s.Wheels = append(s.Wheels, NewWheel(sec))
	}
	s.Sampling = Sampling{Samples: n, Seed: 1}
	return s
}

// fullPeaks rides in one world with the section solver, its fine steps and a plan
// of its own, and gives the hottest track and tyre side, °C, of the first
// candidate, either wheel.
func fullPeaks(tb testing.TB, p *route.Profile, s Setup, t truth) (trackC, tyreC float64) {
	tb.Helper()
	in := s.as(t)
	plan, err := ride.NewPlan(p, in.Load, in.Weather, in.Resistance, in.Style)
	if err != nil {
		tb.Fatal(err)
	}
	c := conditions{Duty: plan.Duty(StandS), weather: in.Weather, tyres: in.Tyres, endS: plan.TimeS[len(plan.TimeS)-1]}
	trackC, tyreC = math.Inf(-1), math.Inf(-1)
	for _, front := range []bool{true, false} {
		r := heatWheel(in.Wheels[0], c, front, rim.Options{FilmFactor: t.heat[0].film})
		if r.err != nil {
			tb.Fatal(r.err)
		}
		trackC, tyreC = max(trackC, slices.Max(r.history.TrackC)), max(tyreC, slices.Max(r.history.TyreSideC))
	}
	return trackC, tyreC
}

// A draw with the reduced model, long steps and the planner's shortcuts comes out
// as the full solver with its fine steps: both wheels, three styles, three roads.
// What is left are mostly the steps.
func TestSampleAgainstFull(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	var off []float64
	for _, road := range []string{"two_passes_hot.gpx", "drag_hill.gpx"} {
		p := demoRoad(t, road)
		for i, id := range []string{"carbon-deep", "alu-classic", "carbon-basalt", "carbon-tubular"} {
			for k, style := range []string{"cautious", "steady", "brisk"} {
				s := drawing(t, 100, id)
				s.Style, _ = StyleByID(style)
				s.Assumed = []string{"rider-kg", "cda", "front-share", "wind"}
				if i == 1 {
					s.Style.Habit = ride.Alternate
				}
				families, err := newFamilies(s.Wheels)
				if err != nil {
					t.Fatal(err)
				}
				m, err := newSampler(p, s, families, spansOf(p.Descents))
				if err != nil {
					t.Fatal(err)
				}
				d, err := design(Sampling{Samples: 100, Seed: uint64(10*i + k)})
				if err != nil {
					t.Fatal(err)
				}
				r := m.newRider()
				for n := range 6 {
					w := m.doubts.truth(d.Point(n))
					hot := hottest{peaks: make([]float64, places*(len(m.spans)+1))}
					hot.clear()
					if err := r.ride(w, func(int) hottest { return hot }); err != nil {
						t.Fatal(err)
					}
					whole := len(m.spans)
					trackC, tyreC := fullPeaks(t, p, s, w)
					dTrack, dTyre := hot.at(atTrack)[whole]-trackC, hot.at(atTyreSide)[whole]-tyreC
					off = append(off, dTrack, dTyre)
					if testing.Verbose() && max(math.Abs(dTrack), math.Abs(dTyre)) > 1.5 {
						t.Logf("%s, %s, %s, draw %d: track %.1f %+.1f K, tyre side %.1f %+.1f K", road, id, style, n, trackC, dTrack, tyreC, dTyre)
					}
				}
			}
		}
	}
	abs := make([]float64, len(off))
	for i, x := range off {
		abs[i] = math.Abs(x)
	}
	slices.Sort(abs)
	at := func(p float64) float64 { return abs[int(p*float64(len(abs)-1))] }
	t.Logf("%d peaks of draws: half within %.2f K of the full solver with fine steps, nine in ten %.2f K, all %.2f K", len(abs), at(0.5), at(0.9), at(1))
	if at(0.5) > 0.4 || at(0.9) > 1.5 || at(1) > 4 {
		t.Errorf("draws lie too far from the full solver")
	}
}

// The same seed gives the same bytes on one core and on many, another seed others.
func TestDrawsSameOnAnyCores(t *testing.T) {
	p := demoRoad(t, "drag_hill.gpx")
	s := drawing(t, 100, "carbon-deep", "alu-classic")
	s.Weather.Daily = ride.Daily{On: true, StartS: 8 * 3600, MinK: 283, MaxK: 311}
	run := func(cores int, seed uint64) string {
		defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(cores))
		s.Sampling.Seed = seed
		a, err := Assess(p, s)
		if err != nil {
			t.Fatal(err)
		}
		b, err := json.Marshal(a)
		if err != nil {
			t.Fatal(err)
		}
		return string(b)
	}
	// With an hour the air of a climb hangs on when it is ridden.
	for _, road := range []string{"drag_hill.gpx", "two_passes_hot.gpx"} {
		if testing.Short() && road != "drag_hill.gpx" {
			continue // the race run is for what runs at once
		}
		p = demoRoad(t, road)
		one := run(1, 1)
		for _, cores := range []int{2, 16} {
			if many := run(cores, 1); many != one {
				t.Errorf("%d cores give other bytes than one", cores)
			}
		}
		if other := run(2, 2); other == one {
			t.Errorf("another seed gives the same draws")
		}
	}
}

// What a draw costs beside a whole assessment with the full solver, both on one
// core, and how draws scale with cores.
func BenchmarkDraws(b *testing.B) {
	p := mountain(b, 100_000)
	s := drawing(b, 100, "carbon-deep", "alu-classic")
	for _, cores := range []int{1, 2} {
		b.Run(map[int]string{1: "one core", 2: "two cores"}[cores], func(b *testing.B) {
			defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(cores))
			families, err := newFamilies(s.Wheels)
			if err != nil {
				b.Fatal(err)
			}
			m, err := newSampler(p, s, families, spansOf(p.Descents))
			if err != nil {
				b.Fatal(err)
			}
			d, err := design(s.Sampling)
			if err != nil {
				b.Fatal(err)
			}
			for b.Loop() {
				if _, err := m.run(context.Background(), d, nil); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(b.N)/float64(d.Len()), "us/draw")
		})
	}
	b.Run("full assessment, one core", func(b *testing.B) {
		defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
		for b.Loop() {
			t := newDoubts(&s, false).central()
			plan, err := ride.NewPlan(p, t.load, t.weather, t.resistance, t.style)
			if err != nil {
				b.Fatal(err)
			}
			c := conditions{Duty: plan.Duty(StandS), weather: t.weather, tyres: s.Tyres, endS: plan.TimeS[len(plan.TimeS)-1]}
			for _, w := range s.Wheels {
				for _, front := range []bool{true, false} {
					if r := heatWheel(w, c, front, rim.Options{}); r.err != nil {
						b.Fatal(r.err)
					}
				}
			}
		}
	})
}
