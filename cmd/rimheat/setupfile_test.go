package main

import (
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// fileWith gives the path of a new setup file.
func fileWith(t *testing.T, text string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "setup.toml")
	if err := os.WriteFile(path, []byte(text), 0o666); err != nil {
		t.Fatal(err)
	}
	return path
}

// Errors in a setup file name file, line and key.
func TestSetupFileErrors(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"rider-kg = 78\nridr-kg = 3\n", "FILE:2: ridr-kg: unknown key\n  did you mean rider-kg?"},
		{"\n\nxyzxyz = 3\n", "FILE:3: xyzxyz: unknown key\n  the keys are the names of the flags without dashes: rimheat assess --help lists them"},
		{"# a comment\n[rider]\nkg = 3\n", "FILE:2: rider: unknown key\n  did you mean rider-kg?"},
		{"rider-kg = 78\nbike-kg = \"light\"\n", "FILE:2: bike-kg: wants a number"},
		{"rider-kg = true\n", "FILE:1: rider-kg: wants a number"},
		{"rider-kg = 2026-01-01\n", "FILE:1: rider-kg: wants a number"},
		{"air-temp = 35\n\nrider-kg = 900\n", "FILE:3: rider-kg 900: outside 25 to 250 kg"},
		{"rider-kg = nan\n", "FILE:1: rider-kg NaN: outside 25 to 250 kg"},
		{"rider-kg = -inf\n", "FILE:1: rider-kg -Inf: outside 25 to 250 kg"},
		{"imperial = true\nrider-kg = 900\n", "FILE:2: rider-kg 900: outside 55.2 to 551.1 lb"},
		{"imperial = 1\n", "FILE:1: imperial: wants true or false"},
		{"style = 3\n", "FILE:1: style: wants a text in quotes"},
		{"style = \"\"\n", "FILE:1: style: wants a text in quotes"},
		{"style = \"stedy\"\n", "FILE:1: style: no style is called \"stedy\"\n  did you mean steady?"},
		{"rim = \"alu-deep\"\n", "FILE:1: rim: wants a list of texts\n  for example rim = [\"carbon-deep\", \"alu-deep\"]"},
		{"rim = []\n", "FILE:1: rim: wants a list of texts\n  for example rim = [\"carbon-deep\", \"alu-deep\"]"},
		{"\nrim = [\n \"alu-deep\",\n 3]\n", "FILE:2: rim: wants a list of texts\n  for example rim = [\"carbon-deep\", \"alu-deep\"]"},
		{"rim = [\"alu-dep\"]\n", "FILE:1: rim: no rim is called \"alu-dep\"\n  did you mean alu-deep?\n  a rim of your own is a file whose name ends in .toml"},
		{"rim-limit = 3\n", "FILE:1: rim-limit: wants a table of rims\n  for example rim-limit.carbon-deep = 160"},
		{"[rim-limit]\ncarbon-deep = \"hot\"\n", "FILE:2: rim-limit.carbon-deep: wants a number"},
		{"[rim-limit]\ncarbon-deep = 900\n", "FILE:2: rim-limit.carbon-deep 900: outside 40 to 400 °C"},
		{"\nrim-limit = {carbon-deep = 900}\n", "FILE:2: rim-limit.carbon-deep 900: outside 40 to 400 °C"},
		{"rim-limit.alu-deep = 100\n", "FILE:1: rim-limit.alu-deep: this rim is not a candidate\n  add it with --rim alu-deep"},
		{"\nstop = \"5=10\"\n", "FILE:2: stop: wants a list of texts\n  for example stop = [\"63.5=10\"]"},
		{"stop = [5]\n", "FILE:1: stop: wants a list of texts\n  for example stop = [\"63.5=10\"]"},
		{"stop = [\"5=10\", \"7\"]\n", "FILE:1: stop \"7\": not of the form KM=MINUTES\n  for example 63.5=10"},
		{"stop = [\"5=999\"]\n", "FILE:1: stop 5=999: the rest is outside 0.5 to 180 minutes"},
		{"spread = 3\n", "FILE:1: spread: wants a table of uncertain inputs\n  for example spread.air-temp = 2"},
		{"wind = 3\n[spread]\nfilm = \"wide\"\n", "FILE:3: spread.film: wants a number"},
		{"[spread]\nfilm = 0.5\n", "FILE:2: spread.film 0.5: outside 1 to 3\n  nineteen in twenty lie within the value times or divided by it; 1 means certain"},
		{"spread.air-temp = 90\n", "FILE:1: spread.air-temp 90: outside 0 to 20\n  nineteen in twenty lie within the value plus or minus it, in K; 0 means certain"},
		{"spread.flm = 1.2\n", "FILE:1: spread.flm: no uncertain input is called \"flm\"\n  did you mean film?"},
		{"reading = 3\n", "FILE:1: reading: wants tables [[reading]], as rimheat learn writes them"},
		{"wind = 3\n[[reading]]\nrim = \"carbon-deep\"\npads = \"cork\"\nfigures = { film = 1.5 }\nwith = { cda = 0.36 }\nmean = { air = 1 }\n", "FILE:2: reading 1: a reading cannot teach \"air\""},
		{"[[reading]]\nrim = \"carbon-deep\"\npads = \"cork\"\nfigures = { film = 1.5 }\nwith = { cda = 0.36 }\nalong = { film = 0.9, cda = 0.9 }\n", "FILE:1: reading 1: the spread along it would be less than nothing"},
		{"[[reading]]\nmean = { film = 1 }\n", "FILE:1: reading 1: rim is missing\n  readings are written by rimheat learn"},
		{"[[reading]]\nrim = \"carbon-deep\"\nmeen = { film = 1 }\n", "FILE:1: reading 1: unknown key \"meen\"\n  readings are written by rimheat learn"},
		{"cda = 0.3\n[[reading]]\nrim = \"carbon-deep\"\npads = \"cork\"\nfigures = { film = 1.5 }\nwith = { cda = 0.36 }\n", "FILE:2: reading 1: learned with cda 0.36, not 0.3\n  a reading holds for what was stated when it was learned: keep cda = 0.36, or learn again from it"},
		{"pads = \"rubber-carbon\"\n[[reading]]\nrim = \"carbon-deep\"\npads = \"cork\"\nfigures = { film = 1.5 }\nwith = { cda = 0.36 }\n", "FILE:2: reading 1: learned with the pads cork, not rubber-carbon\n  a reading holds for the pads it was learned with: keep them, or learn again from it"},
		{"[[reading]]\nrim = \"carbon-deep\"\npads = \"cork\"\nmean = { film = 1 }\nwith = { cda = 0.36 }\n", "FILE:1: reading 1: figures is missing\n  readings are written by rimheat learn"},
		{"spread.film = 1.2\n[[reading]]\nrim = \"carbon-deep\"\npads = \"cork\"\nfigures = { film = 1.5 }\nwith = { cda = 0.36 }\n", "FILE:2: reading 1: learned with a spread of 1.5 for film, not 1.2\n  learn again from the reading with the spread that holds now"},
		{"wind = 3\njson = true\n", "FILE:2: json: belongs on the command line, as --json"},
		{"wind = 3\nwind = 4\n", "FILE:2: key wind is already defined"},
		{"wind = \n", "FILE:1: "},
		{"wind 3\n", "FILE:1: "},
		{"a = \"\x01\"", "FILE:1: "},
	} {
		path := fileWith(t, c.text)
		got := runWith("", "assess", "no-such-file.gpx", "--setup", path)
		want := "rimheat: " + strings.ReplaceAll(c.want, "FILE", path)
		// The words about TOML itself are the library's; only place and
		// one line are ours.
		theirs := strings.HasSuffix(want, ": ")
		if got.code != exitInput || got.out != "" || theirs && !strings.HasPrefix(got.errOut, want) || !theirs && got.errOut != want+"\n" {
			t.Errorf("%q: got %d\n%swant\n%s", c.text, got.code, got.errOut, want)
		}
		if theirs && strings.Count(got.errOut, "\n") != 1 {
			t.Errorf("%q: not one line:\n%s", c.text, got.errOut)
		}
	}
}

func TestSetupFileTooLarge(t *testing.T) {
	path := fileWith(t, strings.Repeat("#", maxSetupBytes+1))
	if got := runWith("", "assess", "x", "--setup", path); got.code != exitInput || !strings.Contains(got.errOut, "larger than 1 MiB") {
		t.Errorf("got %d %s", got.code, got.errOut)
	}
}

// Flags win over the file, one by one; a list wins as a whole.
func TestFlagsWinOverTheFile(t *testing.T) {
	file := "\ufeff" + `
rider-kg = 90
bike-kg = 10
style = "cautious"
cap-kmh = 25
rim = ["carbon-mid", "carbon-deep"]
[rim-limit]
carbon-mid = 130
carbon-deep = 140
`
	s, err := setupOf(t, file, "--rider-kg=60", "--style=brisk", "--rim-limit=carbon-mid=180")
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		what      string
		got, want float64
	}{
		{"rider, flag over file", s.Load.RiderKg, 60}, {"bicycle, file", s.Load.BikeKg, 10}, {"luggage, default", s.Load.LuggageKg, 0},
		{"cap, file over the style", s.Style.CapMps * 3.6, 25}, {"corner, style of the flag", s.Style.CornerG, 0.45},
		{"limit, flag over file", s.Wheels[0].Rim.MakerLimitK, 180 + kelvinAt0C}, {"limit, file", s.Wheels[1].Rim.MakerLimitK, 140 + kelvinAt0C},
	} {
		if math.Abs(c.got-c.want) > 1e-9 {
			t.Errorf("%s: %v, want %v", c.what, c.got, c.want)
		}
	}
	if s, err = setupOf(t, `rim = ["carbon-mid", "carbon-deep"]`, "--rim=alu-deep"); err != nil {
		t.Fatal(err)
	}
	if len(s.Wheels) != 1 || s.Wheels[0].Rim.ID != "alu-deep" {
		t.Errorf("candidates %+v", s.Wheels)
	}
}

// The units of the file are its own, whatever the flags are in.
func TestUnitsOfTheFileAreItsOwn(t *testing.T) {
	for _, c := range []struct {
		file, flag        string
		riderKg, airTempC float64
	}{
		{"rider-kg = 80", "--air-temp=30", 80, 30},
		{"rider-kg = 80\n", "--imperial --air-temp=86", 80, 30},
		{"imperial = true\nrider-kg = 220.46226218487758", "--air-temp=30", 100, 30},
		{"imperial = true\nrider-kg = 220.46226218487758", "--imperial --air-temp=86", 100, 30},
	} {
		s, err := setupOf(t, c.file, strings.Fields(c.flag)...)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(s.Load.RiderKg-c.riderKg) > 1e-9 || math.Abs(s.Weather.AirTempK-kelvinAt0C-c.airTempC) > 1e-9 {
			t.Errorf("%q with %s: %v kg, %v °C", c.file, c.flag, s.Load.RiderKg, s.Weather.AirTempK-kelvinAt0C)
		}
	}
}

// A file can hold every input under the name of its flag.
func TestSetupFileHoldsEveryInput(t *testing.T) {
	text := ""
	for _, n := range numbers() {
		text += n.name + " = " + exact(n.hi) + "\n"
	}
	text += "track = 2\nstart = \"09:30\"\npads = \"cork\"\ntyre-side = \"tpu\"\nstyle = \"steady\"\nbrake-habit = \"pulse\"\nrim = [\"carbon-deep\"]\nrim-limit.carbon-deep = 150\n"
	l, err := readSetupFile(fileWith(t, text))
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range append(inputNames(), startName, "track") {
		if !l.has(name) {
			t.Errorf("%s is not taken", name)
		}
	}
	if l.texts["track"] != "2" || !slices.Equal(l.limits, []rimLimit{{"carbon-deep", 150, l.where("rim-limit.carbon-deep")}}) {
		t.Errorf("track %q, limits %v", l.texts["track"], l.limits)
	}
}

// Whatever a setup file holds, it is taken or refused with its name.
func FuzzSetupFile(f *testing.F) {
	for _, s := range []string{"", "rider-kg = 78", "[rim-limit]\na = 1", "rim = [\"a\"]", "a.b.c = {d = 1}", "[[x]]\ny = 1", "rim-limit = {\"\" = 1}", "imperial = true\nx = '''\n'''",
		"spread.film = 1.2\nspread.mass = 3", "[[reading]]\ntext = \"a\"\nrim = \"carbon-deep\"\npads = \"cork\"\nmean = { film = 1 }\nalong = { film = 0.5, cda = -0.1 }\nfigures = { film = 1.5 }\nwith = { cda = 0.36 }"} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		l, err := parseSetup("s.toml", text)
		if err == nil {
			_, err = answers{flags: newFlagLayer(), file: l}.setup()
		}
		if err != nil && !strings.HasPrefix(err.Error(), "s.toml:") && !strings.HasPrefix(err.Error(), "limit of rim") {
			t.Errorf("the error does not name the file: %v", err)
		}
	})
}

// A rim file named in a setup file stands beside it, wherever the program is
// called from.
func TestSetupFindsRimsBesideIt(t *testing.T) {
	dir := t.TempDir()
	text := mustRead(t, rimFile("carbon-box.toml"))
	if err := os.WriteFile(filepath.Join(dir, "mine.toml"), text, 0o666); err != nil {
		t.Fatal(err)
	}
	setup := filepath.Join(dir, "setup.toml")
	if err := os.WriteFile(setup, []byte("rim = [\"mine.toml\"]\n"), 0o666); err != nil {
		t.Fatal(err)
	}
	route := filepath.Join("..", "..", "testdata", "drag_hill.gpx")
	if got := runWith("", "assess", route, "--setup", setup); got.code != exitDone || !strings.Contains(got.out, "\n  mine  ") {
		t.Errorf("%d %s%s", got.code, got.out, got.errOut)
	}
	if err := os.WriteFile(setup, []byte("rim = [\"nowhere.toml\"]\n"), 0o666); err != nil {
		t.Fatal(err)
	}
	if got := runWith("", "assess", route, "--setup", setup); got.code != exitInput || !strings.Contains(got.errOut, "setup.toml:1: rim") {
		t.Errorf("%d %s", got.code, got.errOut)
	}
}

// A tyre that passes its maximum when hot is in the headline and fails --strict,
// however cool the rim.
func TestPressureOverItsMaximumIsStrict(t *testing.T) {
	route := filepath.Join("..", "..", "testdata", "flat_loop.gpx")
	got := runWith("", "assess", route, "--rim=alu-classic", "--tyre-kpa=900", "--tyre-max-kpa=800", "--strict")
	if got.code != exitOver || !strings.Contains(got.out, "tyre pressure over the tyre's maximum") {
		t.Errorf("%d %s%s", got.code, got.out, got.errOut)
	}
	if got := runWith("", "assess", route, "--rim=alu-classic", "--tyre-kpa=600", "--tyre-max-kpa=800", "--strict"); got.code != exitDone {
		t.Errorf("%d %s%s", got.code, got.out, got.errOut)
	}
}
