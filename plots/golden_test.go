package plots

import (
	"flag"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "rewrite the golden files")

// outline writes what a figure shows, without its pixels: each label with
// the place of its baseline to the point, and how many shapes of each role
// there are.
func outline(sc *scene) string {
	var b strings.Builder
	fmt.Fprintf(&b, "sheet %.0f by %.0f points\n\n", sc.w, sc.h)
	for _, l := range sc.labels {
		fmt.Fprintf(&b, "%-10s %4.0f %4.0f  %s\n", l.role, l.at.x, l.at.y, l.text)
	}
	count := map[string]int{}
	for _, s := range sc.shapes {
		count[string(s.role)]++
	}
	b.WriteString("\n")
	for _, r := range slices.Sorted(maps.Keys(count)) {
		fmt.Fprintf(&b, "%3d %s\n", count[r], r)
	}
	return b.String()
}

// holdGolden compares an outline with the kept one in testdata.
func holdGolden(t *testing.T, name, file, got string) {
	t.Helper()
	file = filepath.Join("testdata", file+".golden")
	if *update {
		if err := os.MkdirAll("testdata", 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		t.Errorf("%s: the figure's outline differs from %s:\n%s", name, file, firstDifference(string(want), got))
	}
}

func TestGoldenOutlines(t *testing.T) {
	for _, name := range []string{"five rims", "two in imperial", "one tyre side", "never reached"} {
		got := outline(mustCompose(t, cases()[name].assessment(), Options{Imperial: strings.Contains(name, "imperial")}, false))
		holdGolden(t, name, strings.ReplaceAll(name, " ", "_"), got)
	}
	drawn := judged(cases()["two descents"].whole())
	holdGolden(t, "with draws", "two_drawn", outline(mustCompose(t, drawn, Options{}, false)))
	holdGolden(t, "part of a page", "two_drawn_bare", outline(mustCompose(t, drawn, Options{bare: true}, false)))
}

// firstDifference shows the first line that two texts do not share.
func firstDifference(want, got string) string {
	w, g := strings.Split(want, "\n"), strings.Split(got, "\n")
	for i := range max(len(w), len(g)) {
		a, b := "(end)", "(end)"
		if i < len(w) {
			a = w[i]
		}
		if i < len(g) {
			b = g[i]
		}
		if a != b {
			return fmt.Sprintf("line %d\nwant %s\ngot  %s", i+1, a, b)
		}
	}
	return "none"
}
