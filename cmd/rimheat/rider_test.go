package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"rimheat/thermal"
)

func TestReplayText(t *testing.T) {
	got := runWith("", "assess", road("recorded_hill.gpx"), "--replay", "--rider-kg=72")
	if got.code != exitDone || got.errOut != "" {
		t.Fatalf("code %d, stderr %q", got.code, got.errOut)
	}
	golden(t, "assess_replay", []byte(got.out))
}

func TestRiderText(t *testing.T) {
	for name, more := range map[string][]string{"rider": nil, "rider_imperial": {"--imperial"}} {
		got := runWith("", append([]string{"rider", road("recorded_hill.gpx"), road("recorded_hill.gpx")}, more...)...)
		if got.code != exitDone || got.errOut != "" {
			t.Fatalf("code %d, stderr %q", got.code, got.errOut)
		}
		for _, line := range strings.Split(got.out, "\n") {
			if runes(line) > lineWidth {
				t.Errorf("%d runes: %s", runes(line), line)
			}
		}
		golden(t, name, []byte(got.out))
	}
}

// A written style is a setup file that an assessment takes, with the learned
// values in it; an existing file stays.
func TestRiderWritesASetupFile(t *testing.T) {
	path := filepath.Join(t.TempDir(), "me.toml")
	got := runWith("", "rider", road("recorded_hill.gpx"), "--json", "--write", path)
	if got.code != exitDone || got.errOut != "" {
		t.Fatalf("code %d, stderr %q", got.code, got.errOut)
	}
	var l thermal.StyleLearned
	if err := json.Unmarshal([]byte(got.out), &l); err != nil {
		t.Fatal(err)
	}
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	golden(t, "rider_toml", text)
	planned := runWith("", "assess", road("drag_hill.gpx"), "--setup", path, "--json")
	var a thermal.Assessment
	if err := json.Unmarshal([]byte(planned.out), &a); err != nil || planned.code != exitDone {
		t.Fatalf("code %d, stderr %q, %v", planned.code, planned.errOut, err)
	}
	s := a.Setup
	for _, v := range []struct {
		what      string
		got, want float64
		tol       float64
	}{{"cap", s.CapMps, l.CapMps, 0.02}, {"in bends", s.CornerG, l.CornerUsedG, 0.006}, {"pedals", s.PedalW, l.PedalW, 0.6}} {
		if v.got-v.want > v.tol || v.want-v.got > v.tol {
			t.Errorf("%s: %v in the assessment, %v learned", v.what, v.got, v.want)
		}
	}
	if s.Habit != l.Habit {
		t.Errorf("habit %q, learned %q", s.Habit, l.Habit)
	}
	again := runWith("", "rider", road("recorded_hill.gpx"), "--write", path)
	if after, _ := os.ReadFile(path); again.code != exitInput || !strings.Contains(again.errOut, "the file exists") || string(after) != string(text) {
		t.Errorf("code %d, stderr %q", again.code, again.errOut)
	}
}

// A plan is no ride to learn from or to replay.
func TestNoRideToReplay(t *testing.T) {
	for _, args := range [][]string{{"assess", road("drag_hill.gpx"), "--replay"}, {"rider", road("drag_hill.gpx")}} {
		got := runWith("", args...)
		if got.code != exitInput || got.out != "" || !strings.Contains(got.errOut, "no point has a time") {
			t.Errorf("%q: code %d, stderr %q", args, got.code, got.errOut)
		}
	}
}
