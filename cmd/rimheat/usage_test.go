package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// Every mistake on the command line has its exit code and its words, and
// nothing goes to stdout.
func TestUsageErrors(t *testing.T) {
	for _, c := range []struct{ args, want string }{
		{"", "no verb given\n  to assess a route: rimheat assess ROUTE.gpx\n  for everything else: rimheat --help"},
		{"asess x", `unknown verb "asess"` + "\n  did you mean assess?"},
		{"route.gpx", `unknown verb "route.gpx"` + "\n  to assess a route: rimheat assess route.gpx"},
		{"xyz", `unknown verb "xyz"` + "\n  the verbs are assess, completion, help, learn, margins, parts, plan, rider and rig"},
		{"help parst", `unknown verb "parst"` + "\n  did you mean parts?"},
		{"--rider-kg 7", "unknown flag --rider-kg\n  it goes after the verb: rimheat assess --rider-kg"},
		{"assess", "no route given\n  rimheat assess ROUTE.gpx, or - to read standard input"},
		{"assess ~", "the name of the route is empty\n  rimheat assess ROUTE.gpx, or - to read standard input"},
		{"assess x y", `one route at a time, but there is also "y"` + "\n  put a name with blanks in quotes, and repeat the flag for a second rim"},
		{"assess no-such-file.gpx", "no-such-file.gpx: no such file\n  check the name"},
		{"assess x --ridr-kg 3", "unknown flag --ridr-kg\n  did you mean --rider-kg?"},
		{"assess x --xyzxyz", "unknown flag --xyzxyz\n  rimheat assess --help lists the flags"},
		{"assess x -q", "unknown flag -q\n  flags are written with two dashes: rimheat assess --help lists them"},
		{"assess x --json=maybe", `--json "maybe": it is either given or not, it takes no such value`},

		{"assess x --replay --cap-kmh 40", "--cap-kmh has no place in a replay, whose speeds are the recorded ones\n  leave --cap-kmh or --replay out"},
		{"assess x --smooth-m 5", "--smooth-m 5: outside 20 to 5000 m"},
		{"assess x --smooth-m 100 --raw-heights", "--smooth-m and --raw-heights do not go together\n  leave one of them out"},
		{"assess x --heights no-such-folder", "--heights no-such-folder: no such file or folder\n  check the name"},
		{"rider", "no recorded ride given\n  rimheat rider RIDE.gpx"},
		{"rider no-such-file.gpx", "no-such-file.gpx: no such file\n  check the name"},
		{"rider x --air-temp 60", "--air-temp 60: outside -30 to 55 °C"},

		{"assess x --rider-kg", "--rider-kg: the value is missing"},
		{"assess x --rider-kg ~", "--rider-kg: the value is empty"},
		{"assess x --rider-kg heavy", `--rider-kg "heavy": not a number`},
		{"assess x --rider-kg 8,5", `--rider-kg "8,5": not a number` + "\n  write the decimals with a point: 8.5"},
		{"assess x --rider-kg 900", "--rider-kg 900: outside 25 to 250 kg"},
		{"assess x --rider-kg NaN", "--rider-kg NaN: outside 25 to 250 kg"},
		{"assess x --rider-kg Inf", "--rider-kg +Inf: outside 25 to 250 kg"},
		{"assess x --rider-kg 1e999", `--rider-kg "1e999": not a number`},
		{"assess x --bike-kg 3", "--bike-kg 3: outside 4 to 60 kg"},
		{"assess x --luggage-kg -1", "--luggage-kg -1: outside 0 to 150 kg"},
		{"assess x --air-temp 60", "--air-temp 60: outside -30 to 55 °C"},
		{"assess x --air-temp-at 9500", "--air-temp-at 9500: outside -500 to 9000 m"},
		{"assess x --lapse 65", "--lapse 65: outside -10 to 15 K/km"},
		{"assess x --wind -1", "--wind -1: outside 0 to 30 m/s"},
		{"assess x --wind-from 400", "--wind-from 400: outside -360 to 360 degrees"},
		{"assess x --humidity 101", "--humidity 101: outside 1 to 100 percent"},
		{"assess x --humidity 0.4", "--humidity 0.4: outside 1 to 100 percent"},
		{"assess x --cap-kmh 5", "--cap-kmh 5: outside 8 to 130 km/h"},
		{"assess x --corner-g 2", "--corner-g 2: outside 0.05 to 1 g"},
		{"assess x --brake-g 0.7", "--brake-g 0.7: outside 0.05 to 0.6 g"},
		{"assess x --front-share 65", "--front-share 65: outside 0 to 1"},
		{"assess x --pedal-w 0", "--pedal-w 0: outside 20 to 600 W"},
		{"assess x --cda 3", "--cda 3: outside 0.1 to 1.5 m2"},
		{"assess x --crr 0.5", "--crr 0.5: outside 0.001 to 0.05"},

		{"assess x --imperial --rider-kg 900", "--rider-kg 900: outside 55.2 to 551.1 lb"},
		{"assess x --imperial --air-temp 132", "--air-temp 132: outside -22 to 131 °F"},
		{"assess x --imperial --wind 70", "--wind 70: outside 0 to 67.1 mph"},
		{"assess x --imperial --cap-kmh 90", "--cap-kmh 90: outside 5 to 80.7 mph"},
		{"assess x --imperial --air-temp-at 30000", "--air-temp-at 30000: outside -1640.4 to 29527.5 ft"},
		{"assess x --imperial --rim-limit carbon-deep=1000", "--rim-limit carbon-deep 1000: outside 104 to 752 °F"},

		{"assess x --rim carbn-deep", `--rim: no rim is called "carbn-deep"` + "\n  did you mean carbon-deep?\n  a rim of your own is a file whose name ends in .toml"},
		{"assess x --rim zzz", `--rim: no rim is called "zzz"` + "\n  rimheat parts lists all 15\n  a rim of your own is a file whose name ends in .toml"},
		{"assess x --rim alu-deep --rim alu-deep", "--rim: alu-deep is named twice"},
		{"assess x --rim ~", "--rim: the value is empty"},
		{"assess x --rim-limit carbon-deep", `--rim-limit "carbon-deep": not of the form ID=VALUE` + "\n  for example --rim-limit carbon-deep=160"},
		{"assess x --rim-limit =160", `--rim-limit "=160": not of the form ID=VALUE` + "\n  for example --rim-limit carbon-deep=160"},
		{"assess x --rim-limit carbon-deep=hot", `--rim-limit carbon-deep "hot": not a number`},
		{"assess x --rim-limit carbon-deep=900", "--rim-limit carbon-deep 900: outside 40 to 400 °C"},
		{"assess x --rim-limit carbon-deep=NaN", "--rim-limit carbon-deep NaN: outside 40 to 400 °C"},
		{"assess x --rim-limit alu-deep=120", "--rim-limit alu-deep: this rim is not a candidate\n  add it with --rim alu-deep"},
		{"assess x --rim-limit carbon-dep=120", `--rim-limit carbon-dep: no rim is called "carbon-dep"` + "\n  did you mean carbon-deep?"},
		{"assess x --rim-limit carbon-deep=120 --rim-limit carbon-deep=130", "--rim-limit carbon-deep: given twice"},
		{"assess x --pads corc", `--pads: no pad is called "corc"` + "\n  did you mean cork?"},
		{"assess x --pads rubber-alu --rim carbon-deep", "--pads rubber-alu: these are rubber for aluminium tracks and fit no candidate rim"},
		{"assess x --tyre-side latx", `--tyre-side: no tyre side is called "latx"` + "\n  did you mean latex?"},
		{"assess x --style stedy", `--style: no style is called "stedy"` + "\n  did you mean steady?"},
		{"assess x --style ~", "--style: the value is empty"},
		{"assess x --brake-habit dragg", `--brake-habit: no brake habit is called "dragg"` + "\n  did you mean drag?"},

		{"assess x --plot a.gif", `--plot "a.gif": the ending names no format` + "\n  it must be .png, .svg, .pdf"},
		{"assess x --plot png", `--plot "png": the ending names no format` + "\n  it must be .png, .svg, .pdf"},
		{"assess x --plot no-such-folder/a.png", "--plot no-such-folder/a.png: no such file or folder"},
		{"assess x --setup no-such-file.toml", "--setup no-such-file.toml: no such file or folder"},

		{"assess x --samples 50", "--samples 50: wants tens, 100 to 5000, or 0"},
		{"assess x --samples 100.5", "--samples 100.5: wants tens, 100 to 5000, or 0"},
		{"assess x --seed -1", "--seed -1: wants a whole number, 0 or more"},
		{"assess x --samples 0 --full", "--full: nothing is drawn with --samples 0"},
		{"assess x --samples 0 --reasons a.png", "--reasons: nothing is drawn with --samples 0"},
		{"assess x --plot a.png --reasons a.png", "--plot and --reasons name the same file\n  give each its own"},
		{"assess x --reasons a.gif", `--reasons "a.gif": the ending names no format` + "\n  it must be .png, .svg, .pdf"},
		{"assess x --report r.txt", `--report "r.txt": the ending names no format` + "\n  it must be .html, .pdf"},
		{"assess x --gpx-out -", "--gpx-out -: it is written to a file, not to standard output\n  name a file; --json goes to standard output"},
		{"assess x --title A", "--title: it belongs to a report\n  add --report FILE.html"},
		{"assess x --shop-note A", "--shop-note: it belongs to a report\n  add --report FILE.html"},
		{"assess x --csv a.csv --gpx-out ./a.gpx --map a.csv", `--map "a.csv": the ending names no format` + "\n  it must be .png, .svg, .pdf"},
		{"assess x --stop 5", `--stop "5": not of the form KM=MINUTES` + "\n  for example 63.5=10"},
		{"assess x --stop a=5", `--stop a=5 "a": not a number`},
		{"assess x --stop -1=5", "--stop -1=5: the place is outside 0 to 2000 km"},
		{"assess x --stop 5=0.2", "--stop 5=0.2: the rest is outside 0.5 to 180 minutes"},
		{"assess x --imperial --stop 1300=5", "--stop 1300=5: the place is outside 0 to 1243 mi"},
		{"assess ../../testdata/drag_hill.gpx --samples 0 --stop 50=5", "--stop: km 50.0 lies beyond the end of the route, 13.2 km"},
		{"assess ../../testdata/recorded_hill.gpx --replay --stop 1=5", "--stop: a recorded ride has rests of its own\n  leave it out, or plan the ride without --replay"},
		{"plan ../../testdata/drag_hill.gpx --rim alu-deep --stop 1=5", "--stop has no place in a plan, which looks for stops itself\n  leave it out here, and give the plan's stops to rimheat assess"},
		{"margins x", "no rim named\n  add --rim ID: rimheat parts lists them"},
		{"margins x --rim alu-deep --rim alu-classic", "one rim at a time, not 2\n  name one with --rim"},
		{"plan x --rim alu-deep --samples 0", "--samples 0: these answers come from draws\n  leave --samples out"},
		{"plan x --rim alu-deep --replay", "--replay has no place in a plan, which changes how the road is ridden\n  rimheat margins takes replays"},
		{"plan x --rim alu-deep --ease-kmh 200", "--ease-kmh 200: outside 8 to 130 km/h"},
		{"learn x --rim alu-deep", "no reading given\n  for example --reading \"km=41.2,rim=front,C=83,sd=4\""},

		{"completion", "no shell named\n  choose from bash, zsh, fish and powershell"},
		{"completion bsh", `completion: no shell is called "bsh"` + "\n  did you mean bash or zsh?"},
		{"completion bash zsh", `one shell at a time, but there is also "zsh"`},
		{"parts x", `parts takes flags only, not "x"` + "\n  one rim in full: rimheat parts --rim ID"},
		{"parts --rim alu-dep", `--rim: no rim is called "alu-dep"` + "\n  did you mean alu-deep?"},
		{"parts --rom x", "unknown flag --rom\n  did you mean --rim?"},
	} {
		args := strings.Fields(c.args)
		for i := range args {
			if args[i] == "~" {
				args[i] = ""
			}
		}
		got := runWith("", args...)
		if want := (result{exitInput, "", "rimheat: " + c.want + "\n"}); got != want {
			t.Errorf("rimheat %s\n got %d, stdout %q, stderr:\n%s\nwant:\n%s", c.args, got.code, got.out, got.errOut, want.errOut)
		}
	}
}

// An argument cannot steer the terminal through an error message.
func TestErrorsAreCleaned(t *testing.T) {
	const bad = "x\x1b[2J\x07\u202e\n"
	for _, args := range [][]string{
		{"assess", bad}, {bad}, {"assess", "x", "--rim", bad}, {"assess", "x", "--" + bad}, {"assess", "x", "--setup", bad},
		{"assess", "x", "--plot", bad + "/a.png"}, {"assess", "x", "--rim-limit", bad + "=100"}, {"assess", "x", bad},
	} {
		got := runWith("", args...)
		if got.code != exitInput {
			t.Errorf("%q: exit code %d", args, got.code)
		}
		for _, r := range got.errOut {
			if r != '\n' && clean(string(r)) == "" {
				t.Errorf("%q: %q got through", args, r)
			}
		}
	}
}

// A figure that cannot be written is refused before the route is even looked
// for, and no file is left.
func TestFigureIsCheckedFirst(t *testing.T) {
	dir := t.TempDir()
	folder := filepath.Join(dir, "folder.png")
	if err := os.Mkdir(folder, 0o777); err != nil {
		t.Fatal(err)
	}
	got := runWith("", "assess", "no-such-file.gpx", "--plot", folder)
	if want := "rimheat: --plot " + folder + ": is a folder\n"; got.code != exitInput || got.errOut != want {
		t.Errorf("got %d %q, want %q", got.code, got.errOut, want)
	}
	// A good figure, a bad route: the old figure stays.
	old := filepath.Join(dir, "old.svg")
	if err := os.WriteFile(old, []byte("old"), 0o666); err != nil {
		t.Fatal(err)
	}
	if got := runWith("", "assess", "no-such-file.gpx", "--plot", old); got.code != exitInput || !strings.Contains(got.errOut, "no-such-file.gpx") {
		t.Errorf("got %d %q", got.code, got.errOut)
	}
	if text, err := os.ReadFile(old); err != nil || string(text) != "old" {
		t.Errorf("the old figure holds %q, %v", text, err)
	}
	if files := filesIn(t, dir); len(files) != 2 {
		t.Errorf("left behind: %q", files)
	}
}

func filesIn(t *testing.T, dir string) []string {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, e := range entries {
		names = append(names, e.Name())
	}
	return names
}

// A rim file is a candidate like any other: it is judged, limited by its name,
// and refused with its line.
func TestAssessWithRimFile(t *testing.T) {
	route, own := filepath.Join("..", "..", "testdata", "drag_hill.gpx"), filepath.Join("..", "..", "testdata", "rims", "own-laminate.toml")
	var out, errs bytes.Buffer
	if code := run(t.Context(), []string{"assess", route, "--rim", own, "--rim", "alu-classic", "--rim-limit", "own-laminate=150"}, strings.NewReader(""), &out, &errs); code != 0 {
		t.Fatalf("exit %d: %s", code, errs.String())
	}
	for _, want := range []string{"own-laminate", "150 °C", "rim maker's figure"} {
		if !strings.Contains(out.String(), want) {
			t.Errorf("the screen lacks %q", want)
		}
	}
	out.Reset()
	if code := run(t.Context(), []string{"assess", route, "--rim", own, "--rim", "./" + own}, strings.NewReader(""), &out, &errs); code != 2 || !strings.Contains(errs.String(), "a second rim is called own-laminate") {
		t.Errorf("the same file twice: exit %d, %s", code, errs.String())
	}
}
