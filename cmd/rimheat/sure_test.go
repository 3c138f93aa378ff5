package main

import (
	"bytes"
	"context"
	"encoding/json"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"rimheat/thermal"
)

// ran gives what a verb printed, which must have gone well and, but for JSON, keep
// to the width.
func ran(t *testing.T, args ...string) string {
	t.Helper()
	got := runWith("", args...)
	if got.code != exitDone || got.errOut != "" {
		t.Fatalf("%s: code %d, stderr %q", strings.Join(args, " "), got.code, got.errOut)
	}
	for _, line := range strings.Split(got.out, "\n") {
		if runes(line) > lineWidth && !strings.HasPrefix(got.out, "{") && !strings.HasPrefix(got.out, "[") {
			t.Errorf("%d runes: %s", runes(line), line)
		}
	}
	return got.out
}

// Whole outputs of the verbs that ask the draws.
func TestSureVerbs(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	hill := road("drag_hill.gpx")
	for name, args := range map[string][]string{
		"margins":          {"margins", hill, "--rim", "alu-classic", "--rider-kg", "80", "--air-temp", "34", "--samples", "100"},
		"margins_imperial": {"margins", hill, "--rim", "carbon-deep", "--imperial", "--air-temp", "93", "--samples", "100"},
		"plan":             {"plan", hill, "--rim", "alu-classic", "--rider-kg", "90", "--air-temp", "34", "--samples", "100"},
		"plan_none":        {"plan", hill, "--rim", "carbon-deep", "--rider-kg", "210", "--samples", "100", "--imperial"},
		"plan_at_ease":     {"plan", hill, "--rim", "alu-classic", "--rider-kg", "80", "--air-temp", "34", "--samples", "100", "--ease-kmh", "60"},
		"learn":            {"learn", hill, "--rim", "carbon-deep", "--rider-kg", "80", "--air-temp", "30", "--reading", "km=6,rim=front,C=118,sd=4", "--reading", "km=12,rim=rear,on=tyre-side,over=60,under=77"},
	} {
		golden(t, name, []byte(ran(t, args...)))
	}
	for _, verb := range [][]string{
		{"margins", hill, "--rim", "alu-classic", "--samples", "100", "--json"},
		{"plan", hill, "--rim", "alu-classic", "--samples", "100", "--json"},
		{"learn", hill, "--rim", "carbon-deep", "--reading", "km=6,rim=front,C=118", "--json"},
	} {
		if out := ran(t, verb...); !json.Valid([]byte(out)) || strings.Contains(out, "null") {
			t.Errorf("%s: no JSON, or nulls in it", verb[0])
		}
	}
}

// What is learned is written as a setup file that an assessment takes: the same
// draws then spread less, and a file that exists stays.
func TestLearnWritesASetupFile(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	dir := t.TempDir()
	path := filepath.Join(dir, "mine.toml")
	hill := road("drag_hill.gpx")
	if err := os.WriteFile(filepath.Join(dir, "base.toml"), []byte("rider-kg = 80\nstyle = \"steady\"\nspread.film = 1.4\n"), 0o666); err != nil {
		t.Fatal(err)
	}
	ran(t, "learn", hill, "--setup", filepath.Join(dir, "base.toml"), "--rim", "carbon-deep", "--air-temp", "30", "--reading", "km=6,rim=front,C=118", "--write", path)
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	golden(t, "learn_toml", text)
	of := func(more ...string) thermal.RimResult {
		var a thermal.Assessment
		out := ran(t, append([]string{"assess", hill, "--rim", "carbon-deep", "--json"}, more...)...)
		if err := json.Unmarshal([]byte(out), &a); err != nil {
			t.Fatal(err)
		}
		return a.Rims[0]
	}
	before, after := of("--rider-kg", "80", "--style", "steady", "--air-temp", "30"), of("--setup", path)
	if b, a := before.Risk.TrackC, after.Risk.TrackC; a.P95-a.P05 > 0.85*(b.P95-b.P05) {
		t.Errorf("before the reading %.0f to %.0f °C, after it %.0f to %.0f °C", b.P05, b.P95, a.P05, a.P95)
	}
	if again := of("--setup", path, "--seed", "2"); math.Abs(again.PeakC-after.PeakC) > 1e-9 || math.Abs(after.PeakC-before.PeakC) < 0.5 {
		t.Errorf("the central estimate went from %.1f to %.1f °C, with another seed %.1f °C", before.PeakC, after.PeakC, again.PeakC)
	}
	if got := runWith("", "learn", hill, "--rim", "carbon-deep", "--reading", "km=6,rim=front,C=118", "--write", path); got.code != exitInput || !strings.Contains(got.errOut, "the file exists") {
		t.Errorf("code %d, stderr %q", got.code, got.errOut)
	}
	// What was stated when it was learned holds.
	for _, more := range [][]string{{"--cda", "0.3"}, {"--front-share", "0.5"}, {"--style", "brisk"}} {
		if got := runWith("", append([]string{"assess", hill, "--setup", path}, more...)...); got.code != exitInput || !strings.Contains(got.errOut, "learned with") {
			t.Errorf("%s: code %d, stderr %q", more, got.code, got.errOut)
		}
	}
}

// Bad readings are refused with what is wrong and what to do.
func TestBadReadings(t *testing.T) {
	hill := road("drag_hill.gpx")
	for reading, want := range map[string]string{
		"":                           "not of the form KEY=VALUE",
		"km=6":                       "rim=front or rim=rear is missing",
		"km=6,rim=left,C=80":         "rim is front or rear",
		"rim=front,C=80":             "km is missing",
		"km=6,rim=front":             "what was read is missing",
		"km=6,km=7,rim=front,C=80":   "km is given twice",
		"km=6,rim=front,C=80,F=176":  "C or F, not both",
		"km=6,rim=front,C=eighty":    "wants a number",
		"km=6,rim=front,K=353":       "unknown key",
		"km=6,rim=front,C=80,over=7": "not both",
		"km=6,rim=front,over=88,under=82,on=tyre-side": "did not stay below",
		"km=600,rim=front,C=80":                        "is not on the road",
		"km=6,rim=front,C=80,sd=0":                     "standard deviation",
		"km=6,rim=front,C=20":                          "lies below all that the draws explain",
		"km=6,rim=front,C=480":                         "lies above all that the draws explain",
		"km=6,rim=front,on=hub,C=80":                   "on is track, tyre-side or spoke-bed",
		"km=NaN,rim=front,C=80":                        "is not on the road",
	} {
		got := runWith("", "learn", hill, "--rim", "carbon-deep", "--reading", reading)
		if got.code != exitInput || got.out != "" || !strings.Contains(got.errOut, want) {
			t.Errorf("%q: code %d, stderr %q, want %q", reading, got.code, got.errOut, want)
		}
	}
	f, err := parseReading("mi=1,rim=rear,F=212,sd=9", false)
	if err != nil || math.Abs(f.C-100) > 1e-9 || math.Abs(f.SdC-5) > 1e-9 || f.AtM != 1609.344 || !f.Rear {
		t.Errorf("%+v, %v", f, err)
	}
	l, err := parseReading("km=1,rim=rear,over=180,under=192", true)
	if err != nil || math.Abs(l.OverC-82.2222) > 1e-3 || math.Abs(l.UnderC-88.8889) > 1e-3 {
		t.Errorf("%+v, %v", l, err)
	}
}

// A work that is interrupted ends soon, with nothing printed and no file left.
func TestInterrupted(t *testing.T) {
	if testing.Short() {
		t.Skip("runs the program")
	}
	dir := t.TempDir()
	program := filepath.Join(dir, "rimheat")
	if out, err := exec.Command("go", "build", "-o", program, ".").CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	hill, err := filepath.Abs(road("two_passes_hot.gpx"))
	if err != nil {
		t.Fatal(err)
	}
	out := filepath.Join(dir, "out")
	if err := os.Mkdir(out, 0o777); err != nil {
		t.Fatal(err)
	}
	for _, args := range [][]string{
		{"assess", hill, "--samples", "5000", "--plot", filepath.Join(out, "a.png")},
		{"margins", hill, "--rim", "carbon-deep", "--samples", "2000", "--plot", filepath.Join(out, "a.svg")},
		{"plan", hill, "--rim", "carbon-deep", "--samples", "2000"},
		{"learn", hill, "--rim", "carbon-deep", "--samples", "5000", "--reading", "km=66,rim=front,C=120", "--write", filepath.Join(out, "a.toml")},
		{"assess", hill, "--samples", "5000", "--full"},
	} {
		c := exec.Command(program, args...)
		var stdout, stderr bytes.Buffer
		c.Stdout, c.Stderr = &stdout, &stderr
		if err := c.Start(); err != nil {
			t.Fatal(err)
		}
		time.Sleep(600 * time.Millisecond)
		began := time.Now()
		if err := c.Process.Signal(syscall.SIGINT); err != nil {
			t.Fatal(err)
		}
		err := c.Wait()
		if took := time.Since(began); took > time.Second {
			t.Errorf("%s took %v to end", args[0], took)
		}
		if c.ProcessState.ExitCode() != exitInterrupted || stdout.Len() > 0 || !strings.Contains(stderr.String(), "interrupted") {
			t.Errorf("%s: %v, stdout %q, stderr %q", args[0], err, stdout.String(), stderr.String())
		}
		if left := filesIn(t, out); len(left) > 0 {
			t.Errorf("%s left %q", args[0], left)
		}
	}
	ctx, stop := context.WithCancel(context.Background())
	stop()
	var o, e bytes.Buffer
	if code := run(ctx, []string{"assess", hill}, nil, &o, &e); code != exitInterrupted || o.Len() > 0 {
		t.Errorf("code %d, %d bytes printed", code, o.Len())
	}
}
