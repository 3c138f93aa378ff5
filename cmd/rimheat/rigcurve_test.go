package main

import (
	"bytes"
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func TestFilmCurveText(t *testing.T) {
	dir := t.TempDir()
	for name, args := range map[string][]string{
		"rig_film_assumed": {},
		"rig_film_hot":     {"--rim=" + rimFile("alu-box.toml"), "--air-temp=35"},
	} {
		got := runWith("", append([]string{"rig", "--film-curve", filepath.Join(dir, "f.svg")}, args...)...)
		if got.code != exitDone || got.errOut != "" {
			t.Errorf("%s: code %d, stderr %q", name, got.code, got.errOut)
		}
		golden(t, name, []byte(got.out))
	}
	if text := mustRead(t, filepath.Join(dir, "f.svg")); !bytes.Contains(text, []byte("rim on the road")) {
		t.Error("the figure does not name its lines")
	}
	if files := filesIn(t, dir); len(files) != 1 {
		t.Errorf("left behind: %q", files)
	}
}

// The table holds every line at every km/h, and what it all holds for.
func TestFilmCurveCSV(t *testing.T) {
	path := filepath.Join(t.TempDir(), "film.csv")
	if got := runWith("", "rig", "--rim=carbon-deep", "--air-temp=20", "--film-curve", path); got.code != exitDone {
		t.Fatalf("code %d, stderr %q", got.code, got.errOut)
	}
	rows, err := csv.NewReader(bytes.NewReader(mustRead(t, path))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if len(rows) != 1+81 {
		t.Fatalf("%d rows", len(rows))
	}
	at := func(row int, column string) float64 {
		t.Helper()
		for i, name := range rows[0] {
			if name == column {
				v, err := parseNumber(column, rows[row][i])
				if err != nil {
					t.Fatal(err)
				}
				return v
			}
		}
		t.Fatalf("no column %s in %q", column, rows[0])
		return 0
	}
	for _, c := range []struct {
		row            int
		column         string
		want, absolute float64
	}{
		{1, "kmh", 0, 0}, {81, "kmh", 80, 0}, {31, "air_C", 20, 0}, {31, "film_C", 60, 0}, {31, "pressure_Pa", 101325, 0},
		{31, "central_W_per_m2_K", 57, 1e-3}, {31, "road_W_per_m2_K", 57, 0.04 * 57},
		// Plates worked by hand at a film of 60 °C: 56.6 and 38.7 (derived).
		{31, "plate_turbulent_100mm_W_per_m2_K", 56.6, 0.02 * 56.6}, {31, "plate_laminar_100mm_W_per_m2_K", 38.7, 0.02 * 38.7},
	} {
		if got := at(c.row, c.column); math.Abs(got-c.want) > c.absolute {
			t.Errorf("row %d, %s: %v, want %v", c.row, c.column, got, c.want)
		}
	}
	for row := 1; row < len(rows); row++ {
		h := at(row, "road_W_per_m2_K")
		if lo, hi := at(row, "road_low_W_per_m2_K"), at(row, "road_high_W_per_m2_K"); math.Abs(lo*1.5-h) > 0.002 || math.Abs(h*1.5-hi) > 0.002 {
			t.Errorf("row %d: %v in %v to %v", row, h, lo, hi)
		}
	}
}

// A curve beside a run leaves the run as it is; flags that would do nothing to
// a curve alone are refused.
func TestFilmCurveBesideARun(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "f.png")
	args := []string{"rig", "--rim=carbon-mid", "--watts=400", "--minutes=1", "--json"}
	plain := runWith("", args...)
	if got := runWith("", append(args, "--film-curve", path)...); got != plain || got.code != exitDone {
		t.Fatalf("code %d, stderr %q, or another output", got.code, got.errOut)
	}
	if !bytes.HasPrefix(mustRead(t, path), []byte("\x89PNG")) {
		t.Error("no PNG")
	}
	for _, c := range []struct{ args, want string }{
		{"--film-curve x.gif", "--film-curve \"x.gif\": the ending names no format\n  it must be .png, .svg, .pdf, .csv"},
		{"--film-curve none/x.svg", "--film-curve none/x.svg: no such file or folder"},
		{"--film-curve x.svg --minutes 3", "--minutes does nothing to a film curve\n  leave it out, or add some braking: --watts 300"},
		{"--film-curve x.svg --csv y.csv", "--csv does nothing to a film curve\n  leave it out, or add some braking: --watts 300"},
		{"--film-curve x.svg --json", "--json does nothing to a film curve\n  for a table of it: --film-curve FILE.csv"},
		{"--film-curve x.svg --air-temp 99", "--air-temp 99: outside -30 to 55 °C"},
		{"--film-curve x.svg --rim nil", "--rim: no rim is called \"nil\"\n  a rim of your own is a file whose name ends in .toml"},
		{"--film-curve x.svg --rim a --rim b", "--rim: one rim at a time, but there is also \"b\""},
	} {
		got := runWith("", append([]string{"rig"}, strings.Fields(c.args)...)...)
		if got.code != exitInput || got.out != "" || !strings.HasPrefix(got.errOut, "rimheat: "+strings.SplitN(c.want, "\n", 2)[0]) || !strings.HasSuffix(got.errOut, c.want[strings.LastIndex(c.want, "\n")+1:]+"\n") {
			t.Errorf("%s: got %d %s", c.args, got.code, got.errOut)
		}
		if _, err := os.Stat("x.svg"); err == nil {
			t.Fatalf("%s left a file", c.args)
		}
	}
}
