package main

import (
	"strings"
	"testing"

	"github.com/spf13/pflag"
)

func TestHelp(t *testing.T) {
	for name, args := range map[string][]string{
		"help":            {"--help"},
		"help_assess":     {"assess", "--help"},
		"help_parts":      {"parts", "--help"},
		"help_rig":        {"rig", "--help"},
		"help_rider":      {"rider", "--help"},
		"help_completion": {"completion", "--help"},
	} {
		got := runWith("", args...)
		if got.code != exitDone || got.errOut != "" {
			t.Errorf("%q: code %d, stderr %q", args, got.code, got.errOut)
		}
		golden(t, name, []byte(got.out))
		verb := append([]string{"help"}, args[:len(args)-1]...)
		if long := runWith("", verb...); long != got {
			t.Errorf("%q and %q differ", verb, args)
		}
	}
}

func TestParts(t *testing.T) {
	for name, args := range map[string][]string{
		"parts":           {"parts"},
		"parts_json":      {"parts", "--json"},
		"parts_rim":       {"parts", "--rim", "carbon-deep"},
		"parts_rim_metal": {"parts", "--rim", "alu-classic"},
		"parts_rim_toml":  {"parts", "--rim", "carbon-deep", "--toml"},
		"parts_rim_json":  {"parts", "--rim", "alu-classic", "--json"},
	} {
		got := runWith("", args...)
		if got.code != exitDone || got.errOut != "" {
			t.Errorf("%q: code %d, stderr %q", args, got.code, got.errOut)
		}
		if strings.Contains(got.out, "null") {
			t.Errorf("%q: a list is null", args)
		}
		golden(t, name, []byte(got.out))
	}
}

// Lines of help and parts fit a narrow screen.
func TestHelpStaysInsideTheLine(t *testing.T) {
	const most = 100
	for _, args := range []string{"--help", "assess --help", "parts --help", "rig --help", "rider --help", "completion --help", "parts", "parts --rim carbon-deep"} {
		for _, line := range strings.Split(runWith("", strings.Fields(args)...).out, "\n") {
			if runes(line) > most {
				t.Errorf("rimheat %s: %d runes: %s", args, runes(line), line)
			}
		}
	}
}

func TestVersion(t *testing.T) {
	got := runWith("", "--version")
	if got.code != exitDone || !strings.HasPrefix(got.out, "rimheat ") || strings.Count(got.out, "\n") != 1 {
		t.Errorf("got %+v", got)
	}
}

func TestCompletion(t *testing.T) {
	for _, shell := range []string{"bash", "zsh", "fish", "powershell"} {
		if got := runWith("", "completion", shell); got.code != exitDone || !strings.Contains(got.out, "rimheat") {
			t.Errorf("%s: code %d, %d bytes, stderr %q", shell, got.code, len(got.out), got.errOut)
		}
	}
	for flag, want := range map[string][]string{
		"rim": rimIDs(), "pads": padIDs(), "tyre-side": tyreSideIDs(), "style": styleIDs(), "brake-habit": habits(),
	} {
		got := runWith("", "__complete", "assess", "x.gpx", "--"+flag, "")
		if !strings.HasPrefix(got.out, strings.Join(want, "\n")+"\n") {
			t.Errorf("--%s: completes to %q", flag, got.out)
		}
	}
	// A time of day is no file.
	if got := runWith("", "__complete", "assess", "x.gpx", "--start", ""); !strings.HasPrefix(got.out, ":4\n") {
		t.Errorf("--start: completes to %q", got.out)
	}
}

// Every input is a flag, and every flag stands in the help once.
func TestEveryInputIsAFlag(t *testing.T) {
	c := newAssess(streams{})
	for _, name := range append(inputNames(), startName, "track", "setup", "rim-limit") {
		if c.Flags().Lookup(name) == nil {
			t.Errorf("no flag --%s", name)
		}
	}
	out := runWith("", "assess", "--help").out
	c.Flags().VisitAll(func(f *pflag.Flag) {
		if n := strings.Count(out, "\n  --"+f.Name+" "); n != 1 {
			t.Errorf("--%s stands in the help %d times", f.Name, n)
		}
	})
}
