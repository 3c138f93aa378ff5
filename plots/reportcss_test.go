package plots

import (
	"fmt"
	"image/color"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// pageColours reads the named colours of the page's style.
func pageColours(t *testing.T) map[string]color.NRGBA {
	t.Helper()
	out := map[string]color.NRGBA{}
	for _, m := range regexp.MustCompile(`--(\w+): #([0-9a-f]{6});`).FindAllStringSubmatch(reportStyle, -1) {
		v, err := strconv.ParseUint(m[2], 16, 32)
		if err != nil {
			t.Fatal(err)
		}
		out[m[1]] = rgb(uint32(v))
	}
	return out
}

func TestPageColours(t *testing.T) {
	if c := contrast(rgb(0), rgb(0xffffff)); math.Abs(c-21) > 1e-9 {
		t.Fatalf("black on white has a contrast of %v", c)
	}
	if c := contrast(rgb(0x777777), rgb(0xffffff)); math.Abs(c-4.48) > 0.005 {
		t.Fatalf("#777 on white has a contrast of %v, 4.48 published", c)
	}
	named := pageColours(t)
	pal := colours()
	for name, want := range map[string]color.NRGBA{"paper": pal.paper, "ink": pal.ink, "soft": pal.soft, "faint": pal.faint, "warm": pal.limit} {
		if named[name] != want {
			t.Errorf("%s is %v on the page, %v in figures", name, named[name], want)
		}
	}
	// The number of a page stands outside of what names reach.
	if n := strings.Count(reportStyle, "#") - strings.Count(reportStyle, "color: #5c646c; }"); n != len(named) {
		t.Errorf("%d colours in the style, %d of them named", n, len(named))
	}
	for _, m := range regexp.MustCompile(`[{; ](color|background): ([^;]+);`).FindAllStringSubmatch(reportStyle, -1) {
		name := strings.TrimSuffix(strings.TrimPrefix(m[2], "var(--"), ")")
		if m[2] == "#5c646c" {
			name = "soft"
		}
		switch {
		case m[1] == "background":
			if name != "paper" {
				t.Errorf("a background of %s", m[2])
			}
		case contrast(named[name], named["paper"]) < 4.5:
			t.Errorf("text in %s has a contrast of %.2f on paper", m[2], contrast(named[name], named["paper"]))
		}
	}
}

// TestPrintedLetters holds every size of type on paper to 9 points.
func TestPrintedLetters(t *testing.T) {
	_, print, found := strings.Cut(reportStyle, "@media print {")
	if !found {
		t.Fatal("no style for paper")
	}
	var sizes []float64
	for _, m := range regexp.MustCompile(`font-size: ([0-9.]+)([a-z%]+)`).FindAllStringSubmatch(print, -1) {
		v, err := strconv.ParseFloat(m[1], 64)
		if err != nil || m[2] != "pt" {
			t.Fatalf("a size of %s%s on paper", m[1], m[2])
		}
		sizes = append(sizes, v)
	}
	if len(sizes) == 0 || slices.Min(sizes) < 9 {
		t.Errorf("sizes on paper are %v points", sizes)
	}
	// What has a size of its own on the screen needs one on paper.
	screen, _, _ := strings.Cut(reportStyle, "@media")
	for _, m := range regexp.MustCompile(`(?m)^([^{}\n]+) \{[^}]*font-size`).FindAllStringSubmatch(screen, -1) {
		for sel := range strings.SplitSeq(m[1], ", ") {
			if !regexp.MustCompile(fmt.Sprintf(`(?m)(^|,) *%s(,| \{)`, regexp.QuoteMeta(sel))).MatchString(print) {
				t.Errorf("%s has no size on paper", sel)
			}
		}
	}
}
