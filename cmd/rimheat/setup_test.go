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
	// Nor is a day: the air has no hours.
	want := slices.DeleteFunc(inputNames(), func(n string) bool { return slices.Contains([]string{"tyre-max-kpa", "air-min", "air-max"}, n) })
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

// A start and the day's two temperatures give the air its hours, from either
// layer and in the units of each; the one temperature is not assumed then.
func TestDay(t *testing.T) {
	for _, c := range []struct{ file, flags string }{
		{"", "--start 23:45 --air-min 20 --air-max 35"},
		{"", "--imperial --start 23:45 --air-min 68 --air-max 95"},
		{"air-min = 20\nair-max = 35", "--start 23:45"},
		{"start = \"23:45\"\nair-min = 20\nair-max = 35", ""},
		{"start = \"11:00\"\nair-min = 20", "--start 23:45 --air-max 35"},
		{"air-min = 20\nair-max = 30", "--imperial --start 23:45 --air-max 95"},
		{"imperial = true\nair-min = 68\nair-max = 95", "--start 23:45"},
	} {
		s, err := setupOf(t, c.file, strings.Fields(c.flags)...)
		if err != nil {
			t.Fatal(err)
		}
		d := s.Weather.Daily
		if !d.On || d.StartS != 23.75*3600 || math.Abs(d.MinK-293.15) > 1e-9 || math.Abs(d.MaxK-308.15) > 1e-9 {
			t.Errorf("%q with %s: %+v", c.file, c.flags, d)
		}
		for _, name := range []string{"air-temp", "air-min", "air-max", "start"} {
			if slices.Contains(s.Assumed, name) {
				t.Errorf("%q with %s: %s is assumed", c.file, c.flags, name)
			}
		}
	}
	if s, err := setupOf(t, "", "--air-temp=30"); err != nil || s.Weather.Daily != (ride.Daily{}) {
		t.Errorf("without a start: %+v, %v", s.Weather.Daily, err)
	}
}

// Every mistake about the day says where it stands and what to write.
func TestDayErrors(t *testing.T) {
	const (
		all     = "--start 09:30 --air-min N --air-max N"
		noClock = "not a time of day\n  write hours and minutes as HH:MM, 00:00 to 23:59, for example 09:30"
		oneOnly = "leave out air-temp, and the air goes with the hour; or leave out start, air-min and air-max"
	)
	for _, c := range []struct{ file, flags, want string }{
		{"", "--start 09:30", "--start: the hour changes nothing without the day's coolest and hottest air\n  give both: " + all},
		{"", "--air-min 20", "--air-min: the day's hottest air is missing\n  give --air-max too: " + all},
		{"", "--air-min 20 --start 09:30", "--air-min: the day's hottest air is missing\n  give --air-max too: " + all},
		{"", "--air-max 20 --start 09:30", "--air-max: the day's coolest air is missing\n  give --air-min too: " + all},
		{"", "--air-min 20 --air-max 30", "--air-min: the time at which the ride starts is missing\n  give --start too: " + all},
		{"", "--air-min 20 --air-max 30 --start 09:30 --air-temp 25", "--air-temp: not together with --air-max\n  " + oneOnly},
		{"wind = 1\nair-temp = 25", "--air-min 20 --air-max 30 --start 09:30", "FILE:2: air-temp: not together with --air-max\n  " + oneOnly},
		{"air-min = 20\n\nair-max = 25", "--air-temp 20 --start 09:30", "--air-temp: not together with FILE:3: air-max\n  " + oneOnly},
		{"air-max = 25", "", "FILE:1: air-max: the day's coolest air is missing\n  give --air-min too: " + all},
		{"", "--air-min 31 --air-max 30 --start 09:30", "--air-max: cooler than --air-min, the day's coolest air\n  give the cooler one as air-min, the hotter one as air-max"},
		{"", "--air-min 20 --air-max 60 --start 09:30", "--air-max 60: outside -30 to 55 °C"},
		{"", "--imperial --air-min -23 --air-max 60 --start 09:30", "--air-min -23: outside -22 to 131 °F"},
	} {
		args := append([]string{"assess", "no-such-file.gpx"}, strings.Fields(c.flags)...)
		want := c.want
		if c.file != "" {
			path := fileWith(t, c.file)
			args = append(args, "--setup", path)
			want = strings.ReplaceAll(want, "FILE", path)
		}
		if got := runWith("", args...); got != (result{exitInput, "", "rimheat: " + want + "\n"}) {
			t.Errorf("%q with %s: got %d\n%swant\n%s", c.file, c.flags, got.code, got.errOut, want)
		}
	}
	for _, clock := range []string{"9:30", "0930", "24:00", "09:60", "-1:30", "09:30:00", "09.30", "9h30", "+9:30", "09:3x", ":", "09:", "noon", "٠٩:٣٠"} {
		got := runWith("", "assess", "no-such-file.gpx", "--air-min=20", "--air-max=30", "--start="+clock)
		if want := "rimheat: --start " + quoted(clock) + ": " + noClock + "\n"; got.code != exitInput || got.errOut != want {
			t.Errorf("--start %s: got %d\n%swant\n%s", clock, got.code, got.errOut, want)
		}
	}
	for clock, want := range map[string]float64{"00:00": 0, "09:05": 32700, "23:59": 86340} {
		if got, err := parseClock("--start", clock); err != nil || got != want {
			t.Errorf("%s is %v s, %v", clock, got, err)
		}
	}
}
