package main

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/spf13/cobra"

	"rimheat/thermal"
	"rimheat/thermal/ride"
)

// setupOf gives the setup that the flags (and a setup file's text) make.
func setupOf(t *testing.T, file string, flags ...string) (thermal.Setup, error) {
	t.Helper()
	a := answers{flags: newFlagLayer(), file: newFlagLayer()}
	c := &cobra.Command{Use: "assess"}
	assessFlags(c, a.flags, &order{})
	if err := c.ParseFlags(flags); err != nil {
		return thermal.Setup{}, flagFailure(c, err)
	}
	if file != "" {
		var err error
		if a.file, err = readSetupFile(fileWith(t, file)); err != nil {
			return thermal.Setup{}, err
		}
	}
	return a.setup()
}

// The bounds of the flags are those of the packages that take the values: the
// bound itself passes, the next number does not.
func TestBoundsAreThoseOfTheComputation(t *testing.T) {
	for _, n := range numbers() {
		for _, c := range []struct{ bound, beyond float64 }{
			{n.lo, n.lo - 1e-6*math.Max(1, math.Abs(n.lo))},
			{n.hi, n.hi + 1e-6*math.Max(1, math.Abs(n.hi))},
		} {
			s := thermal.DefaultSetup()
			n.set(&s, c.bound)
			if err := s.Validate(); err != nil {
				t.Errorf("--%s %v: %v", n.name, c.bound, err)
			}
			n.set(&s, c.beyond)
			if err := s.Validate(); err == nil {
				t.Errorf("--%s %v passes, but the flag would refuse it", n.name, c.beyond)
			}
		}
	}
}

// Bounds survive the way there and back in imperial units.
func TestImperialBounds(t *testing.T) {
	for _, n := range numbers() {
		if n.dim == plain {
			continue
		}
		l := newFlagLayer()
		l.imperial = true
		for _, bound := range []float64{n.lo, n.hi} {
			l.numbers[n.name] = imperialUnit(n.dim).imperial(bound)
			if v, _, err := l.number(n); err != nil || v != bound {
				t.Errorf("--%s %v: got %v, %v", n.name, bound, v, err)
			}
		}
	}
}

func TestNothingGivenIsAllAssumed(t *testing.T) {
	s, err := setupOf(t, "")
	if err != nil {
		t.Fatal(err)
	}
	// A maximum that nobody states is not assumed either: its check is left out.
	want := slices.DeleteFunc(inputNames(), func(n string) bool { return n == "tyre-max-kpa" })
	if !slices.Equal(s.Assumed, want) {
		t.Errorf("assumed %q", s.Assumed)
	}
	if !math.IsNaN(s.Weather.AtHeightM) {
		t.Errorf("air temperature holds at %v, want the lowest point (NaN)", s.Weather.AtHeightM)
	}
	if len(s.Wheels) != 2 {
		t.Errorf("%d candidates", len(s.Wheels))
	}
}

// What a named style sets is given by the style.
func TestAssumed(t *testing.T) {
	s, err := setupOf(t, "luggage-kg = 3\nstyle = \"brisk\"", "--rider-kg=70", "--cda=0.4", "--rim=alu-deep")
	if err != nil {
		t.Fatal(err)
	}
	want := []string{"bike-kg", "air-temp", "air-temp-at", "lapse", "wind", "wind-from", "humidity", "sun", "road-air", "pads", "tyre-side", "tyre-kpa", "crr"}
	if !slices.Equal(s.Assumed, want) {
		t.Errorf("assumed %q, want %q", s.Assumed, want)
	}
	s, err = setupOf(t, "", "--brake-habit=pulse", "--cap-kmh=30")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"brake-habit", "cap-kmh"} {
		if slices.Contains(s.Assumed, name) {
			t.Errorf("%s was given, yet it is assumed", name)
		}
	}
	for _, name := range []string{"style", "corner-g", "pedal-w"} {
		if !slices.Contains(s.Assumed, name) {
			t.Errorf("%s was not given, yet it is not assumed", name)
		}
	}
}

// Every flag ends up in its field, in SI.
func TestFlagsReachTheSetup(t *testing.T) {
	s, err := setupOf(t, "", strings.Fields(`--rider-kg 78 --bike-kg 8.5 --luggage-kg 2 --air-temp 38 --air-temp-at 900 --lapse 8
		--wind 3 --wind-from 90 --humidity 55 --cap-kmh 36 --corner-g 0.25 --brake-g 0.3 --front-share 0.7 --pedal-w 200
		--cda 0.4 --crr 0.006 --brake-habit alternate --style brisk --pads rubber-carbon --tyre-side latex
		--rim carbon-mid --rim alu-deep --rim-limit carbon-mid=160`)...)
	if err != nil {
		t.Fatal(err)
	}
	if s.Load != (ride.Load{RiderKg: 78, BikeKg: 8.5, LuggageKg: 2}) {
		t.Errorf("load %+v", s.Load)
	}
	for _, c := range []struct {
		what      string
		got, want float64
	}{
		{"air temperature", s.Weather.AirTempK, 311.15}, {"height", s.Weather.AtHeightM, 900}, {"lapse", s.Weather.LapseKPerM, 0.008},
		{"wind", s.Weather.WindMps, 3}, {"wind direction", s.Weather.WindFromRad, math.Pi / 2}, {"humidity", s.Weather.Humidity, 0.55},
		{"cap", s.Style.CapMps, 10}, {"corner", s.Style.CornerG, 0.25}, {"brake", s.Style.BrakeG, 0.3}, {"front share", s.Style.FrontShare, 0.7},
		{"pedalling", s.Style.PedalW, 200}, {"CdA", s.Resistance.CdAM2, 0.4}, {"Crr", s.Resistance.Crr, 0.006},
		{"limit", s.Wheels[0].Rim.MakerLimitK, 433.15}, {"no limit", s.Wheels[1].Rim.MakerLimitK, 0},
	} {
		if math.Abs(c.got-c.want) > 1e-12*math.Max(1, math.Abs(c.want)) {
			t.Errorf("%s is %v, want %v", c.what, c.got, c.want)
		}
	}
	if s.Style.Habit != ride.Alternate || s.Style.ID != "brisk" {
		t.Errorf("style %s, habit %s", s.Style.ID, s.Style.Habit)
	}
	// The pad goes to the rim of its material, the other keeps its own.
	if s.Wheels[0].Pad.ID != "rubber-carbon" || s.Wheels[1].Pad.ID != "rubber-alu" {
		t.Errorf("pads %s and %s", s.Wheels[0].Pad.ID, s.Wheels[1].Pad.ID)
	}
	for _, w := range s.Wheels {
		if w.TyreSide.ID != "latex" {
			t.Errorf("tyre side of %s is %s", w.Rim.ID, w.TyreSide.ID)
		}
	}
}

// The same ride in both systems of units.
func TestImperialFlags(t *testing.T) {
	m, err := setupOf(t, "", strings.Fields("--rider-kg 78 --bike-kg 9 --luggage-kg 1 --air-temp 35 --air-temp-at 304.8 --wind 4.4704 --cap-kmh 40 --lapse 7 --rim-limit carbon-deep=150")...)
	if err != nil {
		t.Fatal(err)
	}
	i, err := setupOf(t, "", strings.Fields("--imperial --rider-kg 171.96056453950 --bike-kg 19.84160360071 --luggage-kg 2.20462262185 --air-temp 95 --air-temp-at 1000 --wind 10 --cap-kmh 24.85484768949 --lapse 7 --rim-limit carbon-deep=302")...)
	if err != nil {
		t.Fatal(err)
	}
	for _, n := range numbers() {
		if a, b := *n.at(&m), *n.at(&i); math.Abs(a-b) > 1e-9*math.Max(1, math.Abs(a)) {
			t.Errorf("%s: metric %v, imperial %v", n.name, a, b)
		}
	}
	if a, b := m.Wheels[0].Rim.MakerLimitK, i.Wheels[0].Rim.MakerLimitK; math.Abs(a-b) > 1e-9 {
		t.Errorf("limit: metric %v, imperial %v", a, b)
	}
}
