package plots

import (
	"math"
	"slices"
	"testing"

	"rimheat/thermal"
)

func TestSectionWords(t *testing.T) {
	rim := func(track, spoke, air float64) thermal.RimResult {
		return thermal.RimResult{Field: &thermal.Field{TrackC: track, SpokeBedC: spoke, AirC: air, DepthM: 0.05, TrackFromM: 0.001, TrackToM: 0.009}}
	}
	carbon, alu, faired := rim(158.3, 33.9, 31), rim(106.2, 99.4, 31), rim(120, 35, 31)
	carbon.Field.BedC, alu.Field.BedC, faired.Field.BedC = 109, 106, 118.6
	for _, c := range []struct {
		rims     []thermal.RimResult
		imperial bool
		want     string
	}{
		{[]thermal.RimResult{carbon, alu}, false, "From brake track to spoke bed the temperature falls by 124 K over 45 mm in A and 7 K over 45 mm in B. A keeps its heat at the track; B spreads it through the whole section."},
		{[]thermal.RimResult{carbon, alu}, true, "From brake track to spoke bed the temperature falls by 224 °F over 45 mm in A and 12 °F over 45 mm in B. A keeps its heat at the track; B spreads it through the whole section."},
		{[]thermal.RimResult{carbon}, false, "From brake track to spoke bed the temperature falls by 124 K over 45 mm. The rim keeps its heat at the track."},
		{[]thermal.RimResult{alu}, false, "From brake track to spoke bed the temperature falls by 7 K over 45 mm. The rim spreads its heat through the whole section."},
		{[]thermal.RimResult{alu, alu, carbon, carbon}, false, "From brake track to spoke bed the temperature falls by 7 K over 45 mm in A, 7 K over 45 mm in B, 124 K over 45 mm in C and 124 K over 45 mm in D. C and D keep their heat at the track; A and B spread it through the whole section."},
		// An aluminium track on a carbon fairing: the bed is as hot as the track.
		{[]thermal.RimResult{faired, carbon}, false, "From brake track to spoke bed the temperature falls by 85 K over 45 mm in A and 124 K over 45 mm in B. B keeps its heat at the track; A keeps it in track and rim bed."},
		// A third of the way is neither, and so is a spoke bed hotter than the track.
		{[]thermal.RimResult{rim(100, 65, 30), rim(80, 90, 30)}, false, "From brake track to spoke bed the temperature falls by 35 K over 45 mm in A and rises by 10 K over 45 mm in B."},
		{[]thermal.RimResult{rim(44, 35, 35), rim(36, 36.2, 35)}, false, "From brake track to spoke bed the temperature falls by 9 K over 45 mm in A and less than 1 K over 45 mm in B. No track is more than 9 K warmer than the air."},
		{[]thermal.RimResult{rim(35.3, 35, 35)}, false, "From brake track to spoke bed the temperature falls by less than 1 K over 45 mm. No track is more than 1 K warmer than the air."},
		// Colder than the air at the moment: nothing is said of heat.
		{[]thermal.RimResult{rim(20, 18, 35)}, false, "From brake track to spoke bed the temperature falls by 2 K over 45 mm. No track is warmer than the air."},
	} {
		var shown []int
		for i := range c.rims {
			shown = append(shown, i)
		}
		if got := sectionWords(c.rims, shown, units{imperial: c.imperial}); got != c.want {
			t.Errorf("got  %s\nwant %s", got, c.want)
		}
	}
}

// Half a page shows the rim that stands worst and the best of the other kind.
func TestTellingRims(t *testing.T) {
	rim := func(composite bool, chance, marginK float64) thermal.RimResult {
		r := thermal.RimResult{Composite: composite, MarginK: marginK, Field: &thermal.Field{}}
		if chance >= 0 {
			r.Risk = &thermal.Risk{Chance: thermal.Chance{P: chance}}
		}
		return r
	}
	bare := rim(false, 0.99, -50)
	bare.Field = nil
	for name, c := range map[string]struct {
		rims []thermal.RimResult
		want []int
	}{
		"one":                         {[]thermal.RimResult{rim(true, 0.5, 1)}, []int{0}},
		"metal and composite":         {[]thermal.RimResult{rim(false, 0.1, 30), rim(true, 0.9, -10)}, []int{0, 1}},
		"by chance, not margin":       {[]thermal.RimResult{rim(true, 0.2, -30), rim(true, 0.9, 10), rim(false, 0.1, 5)}, []int{1, 2}},
		"one chance: by margin":       {[]thermal.RimResult{rim(true, 1, -3), rim(true, 1, -30), rim(false, 1, -20), rim(false, 1, -10)}, []int{1, 3}},
		"best of the other kind":      {[]thermal.RimResult{rim(false, 0.4, 1), rim(true, 0.9, -9), rim(false, 0.05, 40), rim(false, 0.2, 9)}, []int{1, 2}},
		"all of one kind":             {[]thermal.RimResult{rim(true, 0.4, 1), rim(true, 0.9, -9)}, []int{1}},
		"nothing drawn":               {[]thermal.RimResult{rim(true, -1, 12), rim(true, -1, -9), rim(false, -1, 3)}, []int{1, 2}},
		"no margin stands last":       {[]thermal.RimResult{rim(true, -1, math.NaN()), rim(true, -1, 9)}, []int{1}},
		"the worst without a section": {[]thermal.RimResult{bare, rim(true, 0.3, 5), rim(false, 0.1, 25)}, []int{1, 2}},
	} {
		if got := tellingRims(c.rims); !slices.Equal(got, c.want) {
			t.Errorf("%s: rims %v, want %v", name, got, c.want)
		}
	}
}
