package thermal

import (
	"math"
	"slices"
	"strings"
	"testing"

	"rimheat/thermal/rim"
)

// The table is whole: every number of a draw has its input and every input its
// numbers, a kind, a source and figures within its bounds.
func TestUncertainInputs(t *testing.T) {
	ids := drawInputs()
	seen := map[string]bool{}
	for _, u := range UncertainInputs() {
		if seen[u.ID] {
			t.Errorf("%s stands twice", u.ID)
		}
		seen[u.ID] = true
		if !slices.Contains(ids[:], u.ID) {
			t.Errorf("%s is never drawn", u.ID)
		}
		if u.Name == "" || u.Source == "" || (u.Kind == ByOffset) != (u.Unit != "") {
			t.Errorf("%+v is not whole", u)
		}
		if !slices.Contains([]string{string(rim.Published), string(rim.FromMemory), string(rim.Derived), string(rim.CommonPractice)}, u.Known) {
			t.Errorf("%s: known %q", u.ID, u.Known)
		}
		if u.Kind != ByFactor && u.Kind != ByOffset && u.Kind != ByRange {
			t.Errorf("%s: kind %q", u.ID, u.Kind)
		}
		if err := u.check(u.Given); err != nil {
			t.Error(err)
		}
		if err := u.check(u.Assumed); err != nil {
			t.Error(err)
		}
		if u.Given > u.Assumed {
			t.Errorf("%s is less sure when given than when assumed", u.ID)
		}
	}
	for _, id := range ids {
		if !seen[id] {
			t.Errorf("%s is drawn and not in the table", id)
		}
	}
}

// drawnValues draws many worlds of a setup and gives what f takes from each.
func drawnValues(t *testing.T, s *Setup, f func(truth) float64) []float64 {
	t.Helper()
	d, err := design(Sampling{Samples: 4000, Seed: 3})
	if err != nil {
		t.Fatal(err)
	}
	doubts := newDoubts(s, false)
	var out []float64
	for i := range d.Len() {
		out = append(out, f(doubts.truth(d.Point(i))))
	}
	slices.Sort(out)
	return out
}

// Nineteen in twenty draws lie within the figure of the table, as many on each
// side, and the middle one is the setup's own value.
func TestDrawsAreAsStated(t *testing.T) {
	s := DefaultSetup()
	figure := func(id string) float64 {
		i := slices.IndexFunc(UncertainInputs(), func(u Uncertain) bool { return u.ID == id })
		return UncertainInputs()[i].Given // nothing is called assumed here
	}
	c := s.Wheels[0].Rim.Material.ConductivityThrough
	for _, k := range []struct {
		name         string
		lo, mid, hi  float64
		of           func(truth) float64
		edges, atMid float64 // tolerance in parts of the half width
	}{
		{"film", 1 / figure("film"), 1, figure("film"), func(t truth) float64 { return t.heat[0].film }, 0.06, 0.02},
		{"cda", 0.36 / figure("cda"), 0.36, 0.36 * figure("cda"), func(t truth) float64 { return t.resistance.CdAM2 }, 0.06, 0.02},
		{"crr", 0.005 / figure("crr"), 0.005, 0.005 * figure("crr"), func(t truth) float64 { return t.resistance.Crr }, 0.06, 0.02},
		{"share", 0.65 - figure("front-share"), 0.65, 0.65 + figure("front-share"), func(t truth) float64 { return t.style.FrontShare }, 0.06, 0.02},
		{"air", s.Weather.AirTempK - figure("air-temp"), s.Weather.AirTempK, s.Weather.AirTempK + figure("air-temp"), func(t truth) float64 { return t.weather.AirTempK }, 0.06, 0.02},
		{"mass", 84 - figure("mass"), 84, 84 + figure("mass"), func(t truth) float64 { return t.load.TotalKg() }, 0.06, 0.02},
		// Triangular: 2.5 % lie beyond 1 - sqrt(0.05) of the way to an end.
		{"place", -(1 - math.Sqrt(0.05)), 0, 1 - math.Sqrt(0.05), func(t truth) float64 { return t.heat[0].through }, 0.06, 0.02},
		{"conductivity", c.At(-(1 - math.Sqrt(0.05))), c.Value, c.At(1 - math.Sqrt(0.05)), func(t truth) float64 { return c.At(t.heat[0].through) }, 0.06, 0.02},
	} {
		v := drawnValues(t, &s, k.of)
		at := func(p float64) float64 { return v[int(p*float64(len(v)-1)+0.5)] }
		half := (k.hi - k.lo) / 2
		if d := math.Abs(at(0.025) - k.lo); d > k.edges*half {
			t.Errorf("%s: 2.5 %% lie below %g, wanted %g", k.name, at(0.025), k.lo)
		}
		if d := math.Abs(at(0.975) - k.hi); d > k.edges*half {
			t.Errorf("%s: 2.5 %% lie above %g, wanted %g", k.name, at(0.975), k.hi)
		}
		if d := math.Abs(at(0.5) - k.mid); d > k.atMid*half {
			t.Errorf("%s: half lie below %g, wanted %g", k.name, at(0.5), k.mid)
		}
	}
}

// What is assumed is drawn more widely, what the user states as stated, and what a
// recording holds not at all.
func TestSpreads(t *testing.T) {
	given, assumed, stated := DefaultSetup(), DefaultSetup(), DefaultSetup()
	assumed.Assumed = []string{"rider-kg", "cda"}
	stated.Sampling.Spread = map[string]float64{"mass": 1, "cda": 1}
	width := func(s *Setup, f func(truth) float64) float64 {
		v := drawnValues(t, s, f)
		return v[len(v)-1] - v[0]
	}
	mass := func(t truth) float64 { return t.load.TotalKg() }
	cda := func(t truth) float64 { return t.resistance.CdAM2 }
	if a, g := width(&assumed, mass), width(&given, mass); a < 5*g {
		t.Errorf("assumed mass spreads over %g kg, given over %g kg", a, g)
	}
	if a, g := width(&assumed, cda), width(&given, cda); a < 1.2*g {
		t.Errorf("assumed CdA spreads over %g m2, given over %g m2", a, g)
	}
	if w := width(&stated, cda); w != 0 {
		t.Errorf("a CdA stated as certain spreads over %g m2", w)
	}
	if w := width(&stated, mass); w > 4 {
		t.Errorf("a mass stated within 1 kg spreads over %g kg", w)
	}
	d, replay := newDoubts(&given, false), newDoubts(&given, true)
	if d.figure[drawCap] == 1 || replay.figure[drawCap] != 1 || replay.figure[drawBends] != 1 {
		t.Errorf("the technique of a replay is drawn")
	}
	for id, v := range map[string]float64{"film": 0.5, "mass": -1, "pads": 2, "nobody": 1} {
		s := DefaultSetup()
		s.Sampling.Spread = map[string]float64{id: v}
		if err := s.Validate(); err == nil || !strings.Contains(err.Error(), id) {
			t.Errorf("a spread of %g for %s: %v", v, id, err)
		}
	}
}

// A drawn wind is as likely from any side, and adds to the one that is given.
func TestDrawnWind(t *testing.T) {
	s := DefaultSetup()
	east := drawnValues(t, &s, func(t truth) float64 { return t.weather.WindMps * math.Sin(t.weather.WindFromRad) })
	north := drawnValues(t, &s, func(t truth) float64 { return t.weather.WindMps * math.Cos(t.weather.WindFromRad) })
	for name, v := range map[string][]float64{"east": east, "north": north} {
		if m := v[len(v)/2]; math.Abs(m) > 0.03 {
			t.Errorf("half of the winds from the %s are below %g m/s", name, m)
		}
		if p := v[len(v)*39/40]; math.Abs(p-2) > 0.1 {
			t.Errorf("one in forty from the %s is above %g m/s, wanted 2", name, p)
		}
	}
	s.Weather.WindMps, s.Weather.WindFromRad = 5, math.Pi/2
	east = drawnValues(t, &s, func(t truth) float64 { return t.weather.WindMps * math.Sin(t.weather.WindFromRad) })
	if m := east[len(east)/2]; math.Abs(m-5) > 0.03 {
		t.Errorf("with 5 m/s from the east half are below %g m/s from there", m)
	}
}
