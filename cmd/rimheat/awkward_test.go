package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode"

	"rimheat/testdata/roads"
)

// TestAwkwardFilesEndWell: every awkward file ends with a result and code 0 or
// with a message and code 2, nothing else; neither holds a character that a
// terminal obeys, and a message names the file and what to do.
func TestAwkwardFilesEndWell(t *testing.T) {
	dir := t.TempDir()
	accepted, refused := 0, 0
	for _, f := range roads.AwkwardFiles() {
		path := filepath.Join(dir, "route.gpx")
		if err := os.WriteFile(path, f.Data, 0o666); err != nil {
			t.Fatal(err)
		}
		got := runWith("", "assess", path, "--rim=alu-classic", "--samples=100")
		if i := strings.IndexFunc(got.out+got.errOut, func(r rune) bool { return r != '\n' && unicode.IsControl(r) || unicode.Is(unicode.Cf, r) }); i >= 0 {
			t.Errorf("%s: a control character in the output: %q", f.Name, (got.out + got.errOut)[max(0, i-20):i+20])
		}
		switch got.code {
		case exitDone:
			accepted++
			if !strings.Contains(got.out, "\n  road ") || got.errOut != "" {
				t.Errorf("%s: no result, or a message: %q", f.Name, got.errOut)
			}
		case exitInput:
			refused++
			lines := strings.Split(strings.TrimSuffix(got.errOut, "\n"), "\n")
			if got.out != "" || len(lines) != 2 || !strings.HasPrefix(lines[0], "rimheat: "+path+":") || !strings.HasPrefix(lines[1], "  ") {
				t.Errorf("%s: output %q, message %q", f.Name, got.out, got.errOut)
			}
		default:
			t.Errorf("%s: code %d, %s", f.Name, got.code, got.errOut)
		}
		if f.Road != nil && got.code != exitDone {
			t.Errorf("%s: refused, though it holds a road: %s", f.Name, got.errOut)
		}
	}
	if accepted == 0 || refused == 0 {
		t.Errorf("%d accepted, %d refused", accepted, refused)
	}
}

// TestRepairsOfAwkwardFilesAreShown: what was mended is on the screen.
func TestRepairsOfAwkwardFilesAreShown(t *testing.T) {
	shown := map[string]string{
		"tunnel under a rounded ridge":  "as those of the ground do at a tunnel or bridge",
		"feet, mild, from whole metres": "whole metres turned into feet",
		"feet, mild, high up":           "are the heights in feet?",
		"Latin-1 declared as UTF-8":     "3 bytes that are not UTF-8",
	}
	for _, f := range roads.AwkwardFiles() {
		want, ok := shown[f.Name]
		if !ok {
			continue
		}
		delete(shown, f.Name)
		got := runWith(string(f.Data), "assess", "-", "--rim=alu-classic")
		if text := strings.Join(strings.Fields(got.out), " "); got.code != exitDone || !strings.Contains(text, want) {
			t.Errorf("%s: code %d, %s\n%s, want %q", f.Name, got.code, got.errOut, got.out, want)
		}
	}
	if len(shown) > 0 {
		t.Errorf("not among the files: %v", shown)
	}
}
