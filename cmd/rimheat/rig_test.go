package main

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"rimheat/thermal"
	"rimheat/thermal/rim"
)

// rimFile gives the path of an invented rim.
func rimFile(name string) string { return filepath.Join("..", "..", "testdata", "rims", name) }

func TestRigText(t *testing.T) {
	for name, args := range map[string][]string{
		"rig_steady":   {"--rim=carbon-deep", "--watts=300", "--kmh=30", "--air-temp=20", "--minutes=15"},
		"rig_pulses":   {"--rim=alu-classic", "--watts=1500", "--minutes=2", "--pulse=5,10", "--every=2.5", "--airflow-kmh=0"},
		"rig_hill":     {"--rim=carbon-thin", "--preset=magazine-hill", "--pads=rubber-carbon"},
		"rig_flux":     {"--rim=" + rimFile("carbon-box.toml"), "--flux=8000", "--film=50", "--emissivity=0", "--minutes=5"},
		"rig_duty":     {"--rim=" + rimFile("own-laminate.toml"), "--duty=" + filepath.Join("testdata", "rig_duty.csv"), "--airflow-kmh=20"},
		"rig_no_brake": {"--rim=alu-deep", "--watts=0", "--minutes=1", "--tyre-kpa=700", "--pads=none"},
	} {
		got := runWith("", append([]string{"rig"}, args...)...)
		if got.code != exitDone || got.errOut != "" {
			t.Errorf("%s: code %d, stderr %q", name, got.code, got.errOut)
		}
		golden(t, name, []byte(got.out))
		for _, line := range strings.Split(got.out, "\n") {
			if runes(line) > lineWidth {
				t.Errorf("%s: %d runes: %s", name, runes(line), line)
			}
		}
	}
}

// The JSON is held to four digits, as that of assess.
func TestRigJSON(t *testing.T) {
	for name, args := range map[string][]string{
		"rig_steady_json": {"--rim=carbon-deep", "--watts=300", "--every=300"},
		"rig_flux_json":   {"--rim=" + rimFile("alu-box.toml"), "--flux=8000", "--film=50", "--emissivity=0.2", "--minutes=5", "--every=100"},
		"rig_hill_json":   {"--rim=carbon-deep", "--preset=magazine-hill", "--every=60"},
	} {
		got := runWith("", append([]string{"rig", "--json"}, args...)...)
		if got.code != exitDone || got.errOut != "" {
			t.Fatalf("%s: code %d, stderr %q", name, got.code, got.errOut)
		}
		if n := strings.Count(got.out, "null"); n != 1 || !strings.Contains(got.out, `"rim_share": null`) {
			t.Errorf("%s: %d values are null, want only the rim's share before any braking", name, n)
		}
		var v any
		if err := json.Unmarshal([]byte(got.out), &v); err != nil {
			t.Fatal(err)
		}
		rounded, err := json.MarshalIndent(fourDigits(v), "", "  ")
		if err != nil {
			t.Fatal(err)
		}
		golden(t, name, append(rounded, '\n'))
	}
}

// The programmes have the powers that are published: 700 W and 1,500 W for
// both wheels with 80 % in front, 75 Wh, and 1,200 W for 20 minutes.
func TestPresetsAreThePublishedOnes(t *testing.T) {
	by := map[string][]thermal.BenchSpan{}
	for _, p := range thermal.BenchProgrammes() {
		by[p.Name] = p.Spans
		if p.Text == "" || p.Source == "" {
			t.Errorf("%s does not say what it is or where it comes from", p.Name)
		}
	}
	mean := func(spans []thermal.BenchSpan) (watts, seconds float64) {
		var j float64
		for _, b := range spans {
			j, seconds = j+b.PowerW*b.Seconds, seconds+b.Seconds
		}
		return j / seconds, seconds
	}
	hill := by["magazine-hill"]
	if len(hill) != 5*2+6*2+1 {
		t.Fatalf("magazine-hill has %d stretches", len(hill))
	}
	for _, c := range []struct {
		what           string
		spans          []thermal.BenchSpan
		share          float64
		watts, seconds float64
	}{
		{"hill, first part", hill[:10], 0.8, 700, 75},
		{"hill, second part", hill[10:22], 0.8, 1500, 84},
		{"hill, last", hill[22:], 1, 400 * 41 / 3.6, 4},
		{"heat", by["standard-heat"], 1, 75 * 3600 / 900.0, 900},
		{"drum", by["drum-no-fan"], 1, 1200, 1200},
	} {
		w, s := mean(c.spans)
		if w /= c.share; math.Abs(w/c.watts-1) > 0.02 || math.Abs(s-c.seconds) > 1e-9 {
			t.Errorf("%s: %.0f W for %g s, want %.0f W for %g s", c.what, w, s, c.watts, c.seconds)
		}
	}
	for name, kmh := range map[string][2]float64{"magazine-hill": {41, 41}, "standard-heat": {12.5, 12.5}, "drum-no-fan": {32, 0}} {
		for _, b := range by[name] {
			if math.Abs(b.RollMps*3.6-kmh[0]) > 1e-9 || math.Abs(b.AirMps*3.6-kmh[1]) > 1e-9 {
				t.Errorf("%s: wheel %g km/h, air %g km/h", name, b.RollMps*3.6, b.AirMps*3.6)
			}
		}
	}
}

// Pulses fill the whole time, whatever is left at its end.
func TestPulses(t *testing.T) {
	for _, c := range []struct {
		on, off, length float64
		want            []float64
	}{
		{5, 10, 30, []float64{5, 10, 5, 10}}, {5, 10, 17, []float64{5, 10, 2}}, {5, 10, 22, []float64{5, 10, 5, 2}},
		{5, 10, 3, []float64{3}}, {0.1, 0.2, 0.6, []float64{0.1, 0.2, 0.1, 0.2}},
	} {
		var got []float64
		for i, b := range thermal.Pulses(thermal.BenchSpan{PowerW: 9, RollMps: 3, AirMps: 2}, c.on, c.off, c.length) {
			got = append(got, math.Round(b.Seconds*1e6)/1e6)
			if (b.PowerW == 9) != (i%2 == 0) || b.RollMps != 3 || b.AirMps != 2 {
				t.Errorf("%+v: stretch %d is %+v", c, i, b)
			}
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%+v: got %v", c, got)
		}
	}
}

// The table holds what the JSON holds, and is left beside the result.
func TestRigCSV(t *testing.T) {
	path := filepath.Join(t.TempDir(), "rig.csv")
	args := []string{"rig", "--rim=carbon-mid", "--watts=400", "--minutes=2", "--json"}
	plain := runWith("", args...)
	if got := runWith("", append(args, "--csv", path)...); got != plain || got.code != exitDone {
		t.Fatalf("code %d, stderr %q, or another output", got.code, got.errOut)
	}
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(bytes.NewReader(text)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var doc struct{ Samples []map[string]*float64 }
	if err := json.Unmarshal([]byte(plain.out), &doc); err != nil {
		t.Fatal(err)
	}
	if len(rows) != len(doc.Samples)+1 || len(doc.Samples) < 10 {
		t.Fatalf("%d rows, %d samples", len(rows), len(doc.Samples))
	}
	for i, s := range doc.Samples {
		if len(s) != len(rows[0]) {
			t.Errorf("sample %d has %d values, the table %d columns", i, len(s), len(rows[0]))
		}
		for k, name := range rows[0] {
			want, ok := s[name]
			if want == nil {
				if !ok || rows[i+1][k] != "" || name != "rim_share" || i > 0 {
					t.Errorf("sample %d, %s: %q stands for nothing", i, name, rows[i+1][k])
				}
				continue
			}
			if v, err := parseNumber(name, rows[i+1][k]); err != nil || math.Abs(v-*want) > 0.005 {
				t.Errorf("sample %d, %s: %v, want %v", i, name, v, *want)
			}
		}
	}
	if doc.Samples[0]["rim_share"] != nil || doc.Samples[1]["rim_share"] == nil {
		t.Error("the rim's share is told before any braking, or not after it")
	}
}

// A rim file made from a built-in rim gives the same temperatures.
func TestRigTakesWhatPartsPrints(t *testing.T) {
	for _, id := range rimIDs() {
		path := filepath.Join(t.TempDir(), id+".toml")
		text := runWith("", "parts", "--rim", id, "--toml")
		if text.code != exitDone {
			t.Fatalf("%s: %s", id, text.errOut)
		}
		if err := os.WriteFile(path, []byte(text.out), 0o666); err != nil {
			t.Fatal(err)
		}
		built, own := runWith("", "rig", "--rim", id, "--watts=500", "--minutes=1"), runWith("", "rig", "--rim", path, "--watts=500", "--minutes=1")
		if built != own || built.code != exitDone {
			t.Errorf("%s: the file's rim is another: %s", id, own.errOut)
		}
	}
}

// A figure comes beside the result and leaves it as it is.
func TestRigPlot(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "rig.svg")
	args := []string{"rig", "--rim=carbon-mid", "--watts=400", "--minutes=1"}
	plain := runWith("", args...)
	if got := runWith("", append(args, "--plot", path)...); got != plain || got.code != exitDone {
		t.Fatalf("code %d, stderr %q, or another output", got.code, got.errOut)
	}
	if text := mustRead(t, path); !bytes.Contains(text, []byte("swept band, mean")) {
		t.Error("the figure does not name its curves")
	}
	for _, c := range []struct{ plot, csv, want string }{
		{"x.gif", "", "--plot \"x.gif\": the ending names no format\n  it must be .png, .svg, .pdf"},
		{path, path, "--csv and --plot name the same file\n  give each its own"},
	} {
		more := append(slices.Clone(args), "--plot", c.plot)
		if c.csv != "" {
			more = append(more, "--csv", c.csv)
		}
		if got := runWith("", more...); got.code != exitInput || got.errOut != "rimheat: "+c.want+"\n" {
			t.Errorf("%q: got %d %s", c.plot, got.code, got.errOut)
		}
	}
	if files := filesIn(t, dir); len(files) != 1 {
		t.Errorf("left behind: %q", files)
	}
}

func TestRigUsageErrors(t *testing.T) {
	for _, c := range []struct{ args, want string }{
		{"rig x", `rig takes flags only, not "x"` + "\n  the rim goes after --rim: rimheat rig --rim ID --watts 300"},
		{"rig --rim carbon-deep", "no braking given\n  for example --watts 300, or a programme: --preset magazine-hill, standard-heat or drum-no-fan"},
		{"rig --watts 3", "no rim given\n  for example --rim carbon-deep, or a rim file of your own; rimheat parts lists the rims"},
		{"rig --rim carbon-dep --watts 3", `--rim: no rim is called "carbon-dep"` + "\n  did you mean carbon-deep or carbon-mid?\n  a rim of your own is a file whose name ends in .toml"},
		{"rig --rim a --rim b --watts 3", `--rim: one rim at a time, but there is also "b"`},
		{"rig --rim none.toml --watts 3", "--rim none.toml: no such file or folder"},
		{"rig --rim alu-deep --watts 3 --pads corc", `--pads: no pad is called "corc"` + "\n  did you mean cork?"},
		{"rig --rim alu-deep --watts -3", "--watts -3: outside 0 to 10000 W"},
		{"rig --rim alu-deep --watts nan", "--watts NaN: outside 0 to 10000 W"},
		{"rig --rim alu-deep --watts 3 --kmh 0", "--kmh 0: pads cannot brake a wheel that turns slower than 1 km/h\n  with --pads none the heat goes straight into the rim, at any speed"},
		{"rig --rim alu-deep --watts 3 --film 0", "--film 0: outside 0.1 to 5000 W/(m2 K)"},
		{"rig --rim alu-deep --watts 3 --emissivity 1.1", "--emissivity 1.1: outside 0 to 1"},
		{"rig --rim alu-deep --watts 3 --film 9 --airflow-kmh 3", "--film and --airflow-kmh contradict each other\n  leave out one of the two"},
		{"rig --rim alu-deep --watts 3 --flux 3", "--flux and --watts contradict each other\n  leave out one of the two"},
		{"rig --rim alu-deep --preset standard-heat --minutes 3", "--preset and --minutes contradict each other\n  leave out one of the two"},
		{"rig --rim alu-deep --duty x.csv --pulse 3,3", "--duty and --pulse contradict each other\n  leave out one of the two"},
		{"rig --rim alu-deep --flux 3 --pads cork", "--flux and --pads cork contradict each other\n  a flux goes straight into the rim: leave out --pads"},
		{"rig --rim alu-deep --preset standard-heet", `--preset: no programme is called "standard-heet"` + "\n  did you mean standard-heat?"},
		{"rig --rim alu-deep --watts 3 --pulse 5", `--pulse "5": not of the form ON,OFF` + "\n  for example --pulse 5,10"},
		{"rig --rim alu-deep --watts 3 --pulse 5,x", `--pulse "x": not a number`},
		{"rig --rim alu-deep --watts 3 --pulse 0,5", "--pulse 0: outside 0.1 to 3600 s"},
		{"rig --rim alu-deep --duty none.csv", "--duty none.csv: no such file or folder"},
		{"rig --rim alu-deep --watts 3 --csv none/x.csv", "--csv none/x.csv: no such file or folder"},
		{"rig --rim alu-deep --watts 3 --evry 3", "unknown flag --evry\n  did you mean --every?"},
		{"parts --toml", "--toml: no rim given\n  for example rimheat parts --rim carbon-deep --toml"},
		{"parts --toml --json --rim alu-deep", "--toml and --json contradict each other\n  leave out one of the two"},
	} {
		got := runWith("", strings.Fields(c.args)...)
		if want := "rimheat: " + c.want + "\n"; got.code != exitInput || got.out != "" || got.errOut != want {
			t.Errorf("%s: got %d\n%swant\n%s", c.args, got.code, got.errOut, want)
		}
	}
}

// Errors in a duty file name file and line.
func TestDutyFileErrors(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"", "FILE: empty\n  its first line is seconds,watts,kmh"},
		{"seconds,watts\n1,2\n", "FILE:1: the header is \"seconds,watts\"\n  it must be seconds,watts,kmh"},
		{"seconds,watts,kmh\n", "FILE: no row after the header"},
		{"seconds,watts,kmh\n1,2,30\n\n1,2\n", "FILE:4: wants 3 values, has 2\n  seconds, watts and km/h, separated by commas"},
		{"seconds,watts,kmh\n1,2,30\n1,fast,30\n", `FILE:3: watts "fast": not a number`},
		{"seconds,watts,kmh\n1,,30\n", "FILE:2: watts: the value is empty"},
		{"seconds,watts,kmh\n0,2,30\n", "FILE:2: seconds 0: outside 0.001 to 86400 s"},
		{"seconds,watts,kmh\n1,-2,30\n", "FILE:2: watts -2: outside 0 to 10000 W"},
		{"seconds,watts,kmh\n1,2,nan\n", "FILE:2: kmh NaN: outside 0 to 130 km/h"},
		{"seconds,watts,kmh\n1,2,0\n", "FILE:2: kmh 0: pads cannot brake a wheel that turns slower than 1 km/h\n  with --pads none the heat goes straight into the rim, at any speed"},
		{"seconds,watts,kmh\n80000,2,30\n80000,2,30\n", "FILE:3: with this row the duty is longer than a day"},
		{"seconds,watts,kmh\n1,\"2,30\n", "FILE:2: extraneous or missing \" in quoted-field"},
	} {
		path := filepath.Join(t.TempDir(), "duty.csv")
		if err := os.WriteFile(path, []byte(c.text), 0o666); err != nil {
			t.Fatal(err)
		}
		got := runWith("", "rig", "--rim=alu-deep", "--duty", path)
		if want := "rimheat: " + strings.ReplaceAll(c.want, "FILE", path) + "\n"; got.code != exitInput || got.out != "" || got.errOut != want {
			t.Errorf("%q: got %d\n%swant\n%s", c.text, got.code, got.errOut, want)
		}
	}
}

// A rim file's mistake comes with its line and what to do.
func TestRigRimFileError(t *testing.T) {
	path := filepath.Join(t.TempDir(), "mine.toml")
	if err := os.WriteFile(path, bytes.Replace(mustRead(t, rimFile("alu-box.toml")), []byte("\"clincher\""), []byte("\"b\""), 1), 0o666); err != nil {
		t.Fatal(err)
	}
	got := runWith("", "rig", "--rim", path, "--watts=300")
	want := "rimheat: " + path + ":3: kind: \"b\" is none of these\n  write kind = \"clincher\" or \"tubular\"\n"
	if got.code != exitInput || got.errOut != want {
		t.Errorf("got %d %s", got.code, got.errOut)
	}
	for what, args := range map[string][]string{
		"the rim file":  {"--rim", rimFile("alu-box.toml"), "--watts=300", "--csv", rimFile("alu-box.toml")},
		"the duty file": {"--rim=alu-deep", "--duty", filepath.Join("testdata", "rig_duty.csv"), "--csv", filepath.Join("testdata", "rig_duty.csv")},
	} {
		if got := runWith("", append([]string{"rig"}, args...)...); got.code != exitInput || !strings.HasSuffix(got.errOut, ": this is "+what+"\n") {
			t.Errorf("%s: got %d %s", what, got.code, got.errOut)
		}
	}
}

// Nothing in a rim file may steer the terminal, and colour is only paint.
func TestRigViewIsClean(t *testing.T) {
	text, err := os.ReadFile(rimFile("carbon-box.toml"))
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "a\x1b[2Jb.toml")
	text = bytes.Replace(text, []byte("invented 40 mm"), []byte(`a\u001B[2Jb\u0007\u009b31m\u202e`), 1)
	if err := os.WriteFile(path, text, 0o666); err != nil {
		t.Fatal(err)
	}
	got := runWith("", "rig", "--rim", path, "--watts=900", "--minutes=5")
	if got.code != exitDone {
		t.Fatalf("code %d: %s", got.code, got.errOut)
	}
	for _, c := range got.out {
		if c != '\n' && clean(string(c)) == "" {
			t.Fatalf("%q got through", c)
		}
	}
	sec, err := rim.ParseFile(rimFile("carbon-box.toml"), mustRead(t, rimFile("carbon-box.toml")))
	if err != nil {
		t.Fatal(err)
	}
	spec := thermal.NewBench(sec)
	spec.Spans = []thermal.BenchSpan{{Seconds: 300, PowerW: 900, RollMps: 8, AirMps: 8}}
	r, err := thermal.Bench(spec)
	if err != nil {
		t.Fatal(err)
	}
	var bare, painted bytes.Buffer
	rigView{}.print(&bare, r)
	rigView{palette{on: true}}.print(&painted, r)
	if !strings.Contains(painted.String(), "\x1b["+sgrBad+"mreached\x1b[0m") {
		t.Error("a limit that is reached is not coloured")
	}
	unpainted := painted.String()
	for _, sgr := range []string{sgrGood, sgrBad, "0"} {
		unpainted = strings.ReplaceAll(unpainted, "\x1b["+sgr+"m", "")
	}
	if unpainted != bare.String() {
		t.Error("without its colour the text differs from the plain one")
	}
}

func mustRead(t *testing.T, path string) []byte {
	t.Helper()
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return text
}
