package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"rimheat/thermal"
)

// Two outputs must not be one file, however its name is spelt and whether it
// is there already or not; nor must an output be an input.
func TestRigOutputsAreApart(t *testing.T) {
	dir := t.TempDir()
	for _, link := range []struct{ to, at string }{{dir, "folder"}, {"real.svg", "link.svg"}, {"nowhere.svg", "loose.svg"}} {
		if err := os.Symlink(link.to, filepath.Join(dir, link.at)); err != nil {
			t.Skip(err)
		}
	}
	if err := os.WriteFile(filepath.Join(dir, "real.svg"), nil, 0o666); err != nil {
		t.Fatal(err)
	}
	in := func(name string) string { return dir + string(filepath.Separator) + filepath.FromSlash(name) }
	for _, c := range []struct {
		a, b string
		same bool
	}{
		{"new.svg", "./new.svg", true}, {"new.svg", "folder/new.svg", true},
		{"real.svg", "link.svg", true}, {"folder/real.svg", "./link.svg", true},
		{"new.svg", "other.svg", false}, {"real.svg", "new.svg", false}, {"loose.svg", "nowhere.svg", false},
	} {
		for _, flags := range [][2]string{{"--csv", "--plot"}, {"--plot", "--film-curve"}, {"--csv", "--film-curve"}} {
			got := runWith("", "rig", "--rim=alu-deep", "--watts=100", "--minutes=0.1", flags[0], in(c.a), flags[1], in(c.b))
			want := "rimheat: " + flags[0] + " and " + flags[1] + " name the same file\n  give each its own\n"
			if c.same && (got.code != exitInput || got.errOut != want || got.out != "") {
				t.Errorf("%s %s %s %s: got %d %s", flags[0], c.a, flags[1], c.b, got.code, got.errOut)
			}
			if !c.same && got.code != exitDone {
				t.Errorf("%s %s %s %s: got %d %s", flags[0], c.a, flags[1], c.b, got.code, got.errOut)
			}
			for _, name := range []string{"new.svg", "other.svg", "nowhere.svg"} {
				os.Remove(in(name))
			}
			os.Remove(in("loose.svg")) // may have become a file
			if err := os.Symlink("nowhere.svg", in("loose.svg")); err != nil {
				t.Fatal(err)
			}
		}
	}
	toml, svg := in("mine.toml"), in("mine.svg")
	if err := os.WriteFile(toml, mustRead(t, rimFile("alu-box.toml")), 0o666); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink("mine.toml", svg); err != nil {
		t.Fatal(err)
	}
	for _, flag := range []string{"--csv", "--plot", "--film-curve"} {
		got := runWith("", "rig", "--rim", toml, "--watts=100", flag, svg)
		if want := "rimheat: " + flag + " " + svg + ": this is the rim file\n"; got.code != exitInput || got.errOut != want {
			t.Errorf("%s: got %d %s", flag, got.code, got.errOut)
		}
	}
}

// No two rows of the table have the same time, wherever the run ends between
// two samples.
func TestRigTimesAreApart(t *testing.T) {
	for _, c := range []struct {
		minutes, every, last string
		rows                 int
	}{
		{"0.50666667", "2", "0:30.4", 17}, {"0.5", "2", "0:30", 16}, {"0.50005", "2", "0:30.003", 17}, {"0.50001", "2", "0:30.001", 16}, {"0.500001", "2", "0:30.000", 16},
		{"0.05", "0.25", "3.00", 13}, {"0.0525", "0.25", "3.15", 14}, {"0.02", "0.1", "1.2", 13},
	} {
		got := runWith("", "rig", "--rim=alu-deep", "--watts=100", "--minutes", c.minutes, "--every", c.every)
		if got.code != exitDone {
			t.Fatalf("%+v: %s", c, got.errOut)
		}
		seen, last, rows := map[string]bool{}, "", 0
		for _, m := range regexp.MustCompile(`(?m)^ +([0-9:.]+)  +100  `).FindAllStringSubmatch(got.out, -1) {
			if seen[m[1]] {
				t.Errorf("%+v: %s stands there twice", c, m[1])
			}
			seen[m[1]], last = true, m[1]
			rows++
		}
		if last != c.last || rows != c.rows {
			t.Errorf("%+v: %d rows, the last at %s\n%s", c, rows, last, got.out)
		}
	}
}

// A rim that is over its limit before it is braked is said to be.
func TestRigStartsTooHot(t *testing.T) {
	path := filepath.Join(t.TempDir(), "soft.toml")
	text := regexp.MustCompile(`(?m)^limit_C = .*$`).ReplaceAll(mustRead(t, rimFile("carbon-box.toml")), []byte("limit_C = 45"))
	if err := os.WriteFile(path, text, 0o666); err != nil {
		t.Fatal(err)
	}
	got := runWith("", "rig", "--rim", path, "--watts=0", "--minutes=1", "--air-temp=50")
	if got.code != exitDone || !strings.Contains(got.out, "limit      45 °C on the track: reached before any braking; it gets to 50 °C\n") {
		t.Errorf("code %d %s\n%s", got.code, got.errOut, got.out)
	}
	var doc thermal.BenchResult
	got = runWith("", "rig", "--rim", path, "--watts=0", "--minutes=1", "--air-temp=50", "--json")
	if err := json.Unmarshal([]byte(got.out), &doc); err != nil {
		t.Fatal(err)
	}
	if at := doc.Limits[0].ReachedS; at == nil || *at != 0 {
		t.Errorf("reached at %v", at)
	}
}

// A rim whose name or file shows nothing is called so.
func TestRigOfAnInvisibleRim(t *testing.T) {
	dir := t.TempDir()
	text := regexp.MustCompile(`(?m)^name = .*$`).ReplaceAll(mustRead(t, rimFile("carbon-box.toml")), []byte(`name = "\u3164 \u2800\u200b\u00ad\ufe0f"`))
	for file, want := range map[string]string{
		".toml": "a rim without a name, on a bench\n", "\u2800\u3164.toml": "a rim without a name, on a bench\n", "mine.toml": "mine, on a bench\n",
	} {
		path := filepath.Join(dir, file)
		if err := os.WriteFile(path, text, 0o666); err != nil {
			t.Fatal(err)
		}
		got := runWith("", "rig", "--rim", path, "--watts=200", "--minutes=1")
		if got.code != exitDone || !strings.HasPrefix(got.out, want) {
			t.Errorf("%q: code %d %s\n%.80s", file, got.code, got.errOut, got.out)
		}
		var doc thermal.BenchResult
		got = runWith("", "rig", "--rim", path, "--watts=200", "--minutes=1", "--json")
		if err := json.Unmarshal([]byte(got.out), &doc); err != nil {
			t.Fatal(err)
		}
		if doc.Rim.ID == "" || doc.Rim.Name == "" || doc.Rim.Name != strings.TrimSuffix(want, ", on a bench\n") {
			t.Errorf("%q: %+v", file, doc.Rim)
		}
	}
}
