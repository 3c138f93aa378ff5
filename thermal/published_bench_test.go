package thermal_test

import (
	"fmt"
	"math"
	"os"
	"strings"
	"testing"

	"rimheat/thermal"
	"rimheat/thermal/air"
)

// onBench runs a known programme with air that cools factor times as well as
// assumed, and gives the peaks by which track and tyre side are judged.
func onBench(t *testing.T, rimID, programme string, factor float64) (r *thermal.BenchResult, track, side float64) {
	t.Helper()
	s := thermal.NewBench(mustRim(t, rimID))
	for _, p := range thermal.BenchProgrammes() {
		if p.Name == programme {
			s.Preset, s.Spans = p.BenchPreset, p.Spans
		}
	}
	s.FilmFactor, s.EveryS = factor, 5
	r, err := thermal.Bench(s)
	if err != nil {
		t.Fatal(err)
	}
	for _, l := range r.Limits {
		if l.On == thermal.OnTyreSide {
			side = l.PeakC
		}
	}
	track = math.Inf(-1)
	for _, l := range r.Limits {
		if l.On == thermal.OnTrack {
			track = l.PeakC
		}
	}
	if math.IsInf(track, -1) {
		track = r.Peaks.SweptMeanC // metal: as hot as its surface
	}
	return r, track, side
}

// reaches is when the swept mean first shows c °C, s; +Inf if never.
func reaches(r *thermal.BenchResult, c float64) float64 {
	for i, s := range r.Trace {
		if s.SweptMeanC < c {
			continue
		}
		if i == 0 {
			return s.TimeS
		}
		b := r.Trace[i-1]
		return b.TimeS + (c-b.SweptMeanC)/(s.SweptMeanC-b.SweptMeanC)*(s.TimeS-b.TimeS)
	}
	return math.Inf(1)
}

// spread is a value with those at the two ends of the film's uncertainty.
func spread(lo, mid, hi float64) string {
	return fmt.Sprintf("%.0f (%.0f-%.0f)", mid, math.Min(lo, hi), math.Max(lo, hi))
}

// inReadme wants a row of the table in README word by word, so that what it
// says is what the model gives.
func inReadme(t *testing.T, row string) {
	t.Helper()
	text, err := os.ReadFile("../README.md")
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(string(text), row) {
		t.Errorf("README's table should say:\n%s", row)
	}
}

// Source: a cycling magazine's brake test programme (2018) and what it found
// (2015-2019, published): of 16 carbon wheelsets many are damaged on steep
// descents; on aluminium rims burst tubes are the frequent result. No
// temperatures were published.
func TestPublishedMagazineHill(t *testing.T) {
	peak := func(id string) (track, side [3]float64) {
		for i, f := range []float64{air.FilmSpread, 1, 1 / air.FilmSpread} {
			_, track[i], side[i] = onBench(t, id, "magazine-hill", f)
		}
		return track, side
	}
	carbon, _ := peak("carbon-deep")
	_, alu := peak("alu-classic")
	// Damage: past the whole range of the unknown resin, and past the alarm of
	// an epoxy cured at 180 °C, with any film that the model thinks possible.
	for _, c := range carbon {
		if c < 180 {
			t.Errorf("carbon's track comes to %.0f °C", c)
		}
	}
	// Burst tubes: butyl bears 130 °C for minutes.
	for _, c := range alu {
		if c < 130 {
			t.Errorf("aluminium's tyre side comes to %.0f °C", c)
		}
	}
	inReadme(t, fmt.Sprintf("| a magazine's bench programme of a steep hill, front wheel (2018) | many of 16 carbon wheelsets damaged; burst tubes on aluminium | carbon track as judged %s °C, aluminium tyre side %s °C |",
		spread(carbon[0], carbon[1], carbon[2]), spread(alu[0], alu[1], alu[2])))
}

// Source: reports of a destructive drum test of nine deep carbon clinchers, one
// at a time, December 2017 (published; made by the maker of one of them): 1,200
// W stated, without cooling air. The weakest failed at about 120 s, another at
// about 300 s, one type outlasted 20 minutes and 20 more at a higher lever load.
func TestPublishedDrumWithoutFan(t *testing.T) {
	var to [2][3]float64
	for i, f := range []float64{air.FilmSpread, 1, 1 / air.FilmSpread} {
		r, _, _ := onBench(t, "carbon-deep", "drum-no-fan", f)
		to[0][i], to[1][i] = reaches(r, 150), reaches(r, 260)
	}
	// The first failure comes after the resin's band has been passed and at
	// about where epoxy blisters: the right order. Failing takes a softened wall
	// and time; the model has no strength.
	for i := range to[0] {
		if !(to[0][i] < 120 && to[1][i] > 60 && to[1][i] < 300) {
			t.Errorf("150 °C after %.0f s, 260 °C after %.0f s", to[0][i], to[1][i])
		}
	}
	r, _, _ := onBench(t, "carbon-deep", "drum-no-fan", 1)
	alu, _, _ := onBench(t, "alu-classic", "drum-no-fan", 1)
	at := func(r *thermal.BenchResult) float64 {
		for _, s := range r.Trace {
			if s.TimeS >= 120-1e-6 {
				return s.SweptMeanC
			}
		}
		return math.NaN()
	}
	if c, a := at(r), at(alu); !(c > 260 && a > 180 && c > a+30) {
		t.Errorf("after 120 s carbon %.0f, aluminium %.0f °C", c, a)
	}
	inReadme(t, fmt.Sprintf("| 1,200 W on a drum without a fan, nine carbon clinchers, one at a time (2017) | weakest fails at about 120 s, another at about 300 s, one outlasts 20 min | 150 °C after %s s, 260 °C after %s s, %.0f °C in the end |",
		spread(to[0][0], to[0][1], to[0][2]), spread(to[1][0], to[1][1], to[1][2]), r.Peaks.SweptMeanC))
}

// Source: heat-resistance test of ISO 4210-4 (from memory): 75 Wh in 15 minutes
// at 12.5 km/h in air of 12.5 km/h. Bicycles pass it, so it should stay far
// below any limit. Aluminium does. Carbon does NOT in the model: it comes to the
// very limit that is assumed for an unknown resin. README says so, and why.
func TestStandardHeatTest(t *testing.T) {
	var alu, carbon [3]float64
	for i, f := range []float64{air.FilmSpread, 1, 1 / air.FilmSpread} {
		_, _, alu[i] = onBench(t, "alu-classic", "standard-heat", f)
		_, carbon[i], _ = onBench(t, "carbon-deep", "standard-heat", f)
	}
	if alu[1] > 130-thermal.MarginalK || alu[2] > 130 {
		t.Errorf("aluminium's tyre side comes to %v °C", alu)
	}
	// Should carbon ever stay well below, the disagreement that README tells of
	// is gone.
	if carbon[1] < 120-thermal.MarginalK {
		t.Errorf("carbon's track comes to %v °C: README must be told", carbon)
	}
	// Resins cured at 180 °C and more stay below their alarm.
	if carbon[1] > 180 {
		t.Errorf("carbon's track comes to %v °C", carbon)
	}
	inReadme(t, fmt.Sprintf("| heat test of the cycle-safety standard, 300 W at 12.5 km/h for 15 min (from memory) | passed by bicycles: far below any limit | aluminium tyre side %s °C, carbon track %s °C |",
		spread(alu[0], alu[1], alu[2]), spread(carbon[0], carbon[1], carbon[2])))
}

// A run that ends in braking has its peaks after its end: limits, tyre and soak
// cover ten minutes of standing.
func TestBenchLooksBeyondItsEnd(t *testing.T) {
	run := func(rest bool) *thermal.BenchResult {
		s := thermal.NewBench(mustRim(t, "carbon-deep"))
		s.Spans = []thermal.BenchSpan{{Seconds: 40, PowerW: 1000, RollMps: 9, AirMps: 9}}
		if rest {
			s.Spans = append(s.Spans, thermal.BenchSpan{Seconds: thermal.StandS})
		}
		r, err := thermal.Bench(s)
		if err != nil {
			t.Fatal(err)
		}
		return r
	}
	alone, rested := run(false), run(true)
	if alone.StandS != thermal.StandS {
		t.Errorf("it stands for %g s", alone.StandS)
	}
	for i, l := range alone.Limits {
		if math.Abs(l.PeakC-rested.Limits[i].PeakC) > 0.3 {
			t.Errorf("%s: %.2f °C, with a rest in the programme %.2f °C", l.On, l.PeakC, rested.Limits[i].PeakC)
		}
	}
	if math.Abs(alone.Tyre.HotKPa-rested.Tyre.HotKPa) > 0.3 || alone.Tyre.HotKPa < alone.Peaks.TyreKPa+1 {
		t.Errorf("tyre %.2f kPa, with a rest in the programme %.2f, in the run alone %.2f", alone.Tyre.HotKPa, rested.Tyre.HotKPa, alone.Peaks.TyreKPa)
	}
	for i, p := range alone.Soak {
		if q := rested.Soak[i]; math.Abs(p.PeakC-q.PeakC) > 0.3 || p.Place != q.Place {
			t.Errorf("%+v, with a rest in the programme %+v", p, q)
		}
	}
	if e := alone.Energy; math.Abs(e.InJ-e.StoredJ-e.LostJ) > 1e-6*e.InJ || e.StoredJ < 0.5*e.InJ {
		t.Errorf("the ledger is not that of the run's end: %+v", e)
	}
}

// A given emissivity is that of every outer face, skin and fairing too: without
// radiation the rim is hotter by more than if its body alone shone less.
func TestEmissivityIsOfAllFaces(t *testing.T) {
	peak := func(id string, emissivity float64, shine bool) float64 {
		s := thermal.NewBench(mustRim(t, id))
		if shine {
			for _, m := range []*float64{&s.Rim.Material.EmissivityBody.Value, &s.Rim.Material.EmissivityTrack.Value,
				&s.Rim.Surface.Material.EmissivityBody.Value, &s.Rim.Surface.Material.EmissivityTrack.Value,
				&s.Rim.Fairing.Material.EmissivityBody.Value, &s.Rim.Fairing.Material.EmissivityTrack.Value} {
				*m = emissivity
			}
		} else {
			s.Emissivity = emissivity
		}
		s.Spans = []thermal.BenchSpan{{Seconds: 600, PowerW: 300, RollMps: 5, AirMps: 5}}
		r, err := thermal.Bench(s)
		if err != nil {
			t.Fatal(err)
		}
		return r.Peaks.SweptMeanC
	}
	for _, id := range []string{"carbon-basalt", "alu-track", "carbon-deep"} {
		if got, want := peak(id, 0, false), peak(id, 0, true); math.Abs(got-want) > 1e-9 {
			t.Errorf("%s: %.3f °C, with all its materials set %.3f °C", id, got, want)
		}
	}
}

// The energies of every sample add up, and those of the last are the run's.
func TestSamplesCarryTheirEnergies(t *testing.T) {
	r, _, _ := onBench(t, "carbon-deep", "magazine-hill", 1)
	for _, s := range r.Samples {
		if math.Abs(s.InJ-s.StoredJ-s.LostJ) > 1e-6*(1+s.InJ) {
			t.Errorf("%g s: in %g, stored %g, lost %g J", s.TimeS, s.InJ, s.StoredJ, s.LostJ)
		}
	}
	if last := r.Samples[len(r.Samples)-1]; last.InJ != r.Energy.InJ || last.LostJ != r.Energy.LostJ || last.InJ < 1e5 {
		t.Errorf("the last sample has in %g J, the run %g J", last.InJ, r.Energy.InJ)
	}
}
