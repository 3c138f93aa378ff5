package main

import (
	"bytes"
	"compress/gzip"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/spf13/cobra"
)

// road gives the path of a demonstration route.
func road(name string) string { return filepath.Join("..", "..", "testdata", name) }

// hotDay is the assessment that the golden outputs hold.
func hotDay(more ...string) []string {
	return append([]string{"assess", road("two_passes_hot.gpx"),
		"--rider-kg=78", "--bike-kg=8.5", "--luggage-kg=2", "--air-temp=38", "--style=steady"}, more...)
}

func TestAssessText(t *testing.T) {
	got := runWith("", hotDay()...)
	if got.code != exitDone || got.errOut != "" {
		t.Fatalf("code %d, stderr %q", got.code, got.errOut)
	}
	golden(t, "assess_two_passes_hot", []byte(got.out))
}

// The JSON is held to four digits, and what is nought but for rounding to
// nought: the last bits depend on how the processor multiplies and adds.
func TestAssessJSON(t *testing.T) {
	got := runWith("", hotDay("--json")...)
	if got.code != exitDone || got.errOut != "" {
		t.Fatalf("code %d, stderr %q", got.code, got.errOut)
	}
	var v any
	if err := json.Unmarshal([]byte(got.out), &v); err != nil {
		t.Fatal(err)
	}
	rounded, err := json.MarshalIndent(fourDigits(v), "", "  ")
	if err != nil {
		t.Fatal(err)
	}
	golden(t, "assess_two_passes_hot_json", append(rounded, '\n'))
}

// fourDigits rounds every number of a JSON value. The smallest that means
// anything is a rolling resistance of some 1e-3.
func fourDigits(v any) any {
	switch v := v.(type) {
	case float64:
		if math.Abs(v) < 1e-6 {
			return 0.0
		}
		r, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 4, 64), 64)
		if err != nil {
			return v
		}
		return r
	case []any:
		for i := range v {
			v[i] = fourDigits(v[i])
		}
	case map[string]any:
		for k := range v {
			v[k] = fourDigits(v[k])
		}
	}
	return v
}

// The same route as a file, compressed, and on standard input gives the same
// result.
func TestAssessReadsFileGzipAndStdin(t *testing.T) {
	text, err := os.ReadFile(road("drag_hill.gpx"))
	if err != nil {
		t.Fatal(err)
	}
	var zipped bytes.Buffer
	z := gzip.NewWriter(&zipped)
	if _, err := z.Write(text); err != nil {
		t.Fatal(err)
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	packed := filepath.Join(t.TempDir(), "drag_hill.gpx.gz")
	if err := os.WriteFile(packed, zipped.Bytes(), 0o666); err != nil {
		t.Fatal(err)
	}
	want := runWith("", "assess", road("drag_hill.gpx"))
	if want.code != exitDone || want.out == "" {
		t.Fatalf("code %d, stderr %q", want.code, want.errOut)
	}
	for name, got := range map[string]result{
		"gzip":       runWith("", "assess", packed),
		"stdin":      runWith(string(text), "assess", "-"),
		"gzip stdin": runWith(zipped.String(), "assess", "-"),
	} {
		if got != want {
			t.Errorf("%s: code %d, stderr %q, or another output", name, got.code, got.errOut)
		}
	}
}

// --strict changes the exit code and nothing else.
func TestStrict(t *testing.T) {
	hill := []string{"assess", road("drag_hill.gpx"), "--rim=carbon-deep", "--rim-limit=carbon-deep=45"}
	loose, strict := runWith("", hill...), runWith("", append(hill, "--strict")...)
	if loose.code != exitDone || strict.code != exitOver {
		t.Errorf("codes %d and %d", loose.code, strict.code)
	}
	if loose.out != strict.out || strict.out == "" || strict.errOut != "" {
		t.Errorf("the output differs, or there is a message: %q", strict.errOut)
	}
	if got := runWith("", "assess", road("flat_loop.gpx"), "--strict"); got.code != exitDone {
		t.Errorf("a flat road: code %d, %s", got.code, got.errOut)
	}
}

// A figure comes beside the result and leaves it as it is.
func TestPlot(t *testing.T) {
	dir := t.TempDir()
	figure := filepath.Join(dir, "hill.svg")
	if err := os.WriteFile(figure, []byte("old"), 0o666); err != nil {
		t.Fatal(err)
	}
	plain := runWith("", "assess", road("drag_hill.gpx"))
	got := runWith("", "assess", road("drag_hill.gpx"), "--plot", figure)
	if got != plain {
		t.Errorf("code %d, stderr %q, or another output", got.code, got.errOut)
	}
	text, err := os.ReadFile(figure)
	if err != nil || !bytes.Contains(text, []byte("<svg")) {
		t.Errorf("the figure is no SVG: %v", err)
	}
	if files := filesIn(t, dir); len(files) != 1 {
		t.Errorf("left behind: %q", files)
	}
}

// The examples of the help run as they stand, given files of those names.
func TestExamplesRun(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	gpx, err := os.ReadFile(road("drag_hill.gpx"))
	if err != nil {
		t.Fatal(err)
	}
	ride, err := os.ReadFile(road("recorded_hill.gpx"))
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	for name, text := range map[string]string{
		"ROUTE.gpx": string(gpx), "RIDE.gpx": string(ride), "MONDAY.gpx": string(ride), "SUNDAY.gpx": string(ride),
		"SETUP.toml": "rim = [\"carbon-deep\", \"alu-deep\"]\nrim-limit.carbon-deep = 160\n",
	} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	t.Chdir(dir)
	root := newRoot(streams{})
	for _, c := range append([]*cobra.Command{root}, root.Commands()...) {
		for _, line := range strings.Split(c.Example, "\n") {
			if line == "" {
				continue
			}
			command, stdin, _ := strings.Cut(strings.TrimSpace(line), " <")
			if stdin != "" {
				stdin = string(gpx)
			}
			words := strings.Fields(strings.ReplaceAll(command, `"`, ""))
			if words[0] != "rimheat" {
				t.Errorf("%s: does not start with the program's name", line)
				continue
			}
			got := runWith(stdin, words[1:]...)
			if got.code != exitDone && !(got.code == exitOver && strings.Contains(command, "--strict")) {
				t.Errorf("%s: code %d\n%s", command, got.code, got.errOut)
			}
		}
	}
}
