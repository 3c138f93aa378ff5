package plots

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"image/color"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"
)

func TestHundredths(t *testing.T) {
	for _, c := range []struct {
		v    float64
		want string
	}{
		{0, "0"}, {12, "12"}, {1.5, "1.5"}, {0.25, ".25"}, {-0.25, "-.25"}, {-3.1, "-3.1"}, {0.05, ".05"}, {7.004, "7"},
		{99.995, "100"}, {-0.004, "0"}, {math.NaN(), "0"}, {math.Inf(1), "1000000"}, {math.Inf(-1), "-1000000"},
	} {
		if got := hundredths(c.v).text(); got != c.want {
			t.Errorf("%v is written %q, want %q", c.v, got, c.want)
		}
	}
}

func TestPathOf(t *testing.T) {
	nan := math.NaN()
	for _, c := range []struct {
		pts  []xy
		want string
	}{
		{[]xy{{1, 99}, {4, 97}}, "M1 1l3 2"},
		{[]xy{{1, 99}, {4, 99}, {4, 90}, {1, 90}}, "M1 1h3v9h-3"},
		{[]xy{{1, 99}, {4, 99}, {4, 90}, {1, 99}}, "M1 1h3v9z"},
		{[]xy{{1, 99}, {2, 98.5}, {3, 99.5}, {2.5, 99.75}}, "M1 1l1 .5 1-1-.5-.25"},
		{[]xy{{0, 100}, {1, 100}, {3, 100}, {2, 100}}, "M0 0h1 2-1"},
		{[]xy{{0, 100}, {nan, 3}, {1, 100}}, "M0 0h1"},
		{[]xy{{0, 100}, {0, 100}}, "M0 0h0"},
		{[]xy{{0, 100}}, ""},
		{[]xy{{nan, nan}, {0, 1}}, ""},
		{nil, ""},
	} {
		if got := pathOf(c.pts, 100); got != c.want {
			t.Errorf("%v gives %q, want %q", c.pts, got, c.want)
		}
	}
}

// readPath takes path data apart again.
func readPath(t *testing.T, d string, h float64) []xy {
	t.Helper()
	var pts []xy
	var at, first xy
	command := byte(0)
	nums := func(s string) []float64 {
		var out []float64
		for _, n := range regexp.MustCompile(`-?\d*\.?\d+`).FindAllString(s, -1) {
			v, err := strconv.ParseFloat(n, 64)
			if err != nil {
				t.Fatal(err)
			}
			out = append(out, v)
		}
		return out
	}
	for _, part := range regexp.MustCompile(`[MlhvzZ][^MlhvzZ]*`).FindAllString(d, -1) {
		command = part[0]
		v := nums(part[1:])
		for len(v) > 0 || command == 'z' {
			switch command {
			case 'M':
				at = xy{v[0], h - v[1]}
				first, v = at, v[2:]
			case 'l':
				at, v = xy{at.x + v[0], at.y - v[1]}, v[2:]
			case 'h':
				at, v = xy{at.x + v[0], at.y}, v[1:]
			case 'v':
				at, v = xy{at.x, at.y - v[0]}, v[1:]
			case 'z':
				at = first
			}
			pts = append(pts, at)
			if command == 'z' {
				break
			}
		}
	}
	return pts
}

// TestPathsKeepTheirPlace holds that rounding steps does not add up along a curve.
func TestPathsKeepTheirPlace(t *testing.T) {
	sc := mustCompose(t, cases()["five rims pulsing"].assessment(), Options{}, true)
	for _, s := range sc.shapes {
		got := readPath(t, pathOf(s.pts, sc.h), sc.h)
		k := 0
		for _, p := range s.pts {
			for k < len(got)-1 && math.Hypot(got[k].x-p.x, got[k].y-p.y) > 0.02 {
				k++
			}
			if math.Hypot(got[k].x-p.x, got[k].y-p.y) > 0.02 {
				t.Fatalf("a %s of %d points lacks %v", s.role, len(s.pts), p)
			}
		}
	}
}

// svgElements reads a picture: its elements in order with their attributes and text.
func svgElements(t *testing.T, svg []byte) []svgElement {
	t.Helper()
	var out []svgElement
	open := false
	for d := xml.NewDecoder(bytes.NewReader(svg)); ; {
		tok, err := d.Token()
		if err != nil {
			if err.Error() != "EOF" {
				t.Fatalf("no XML: %v", err)
			}
			return out
		}
		switch v := tok.(type) {
		case xml.StartElement:
			e := svgElement{name: v.Name.Local, attr: map[string]string{}}
			for _, a := range v.Attr {
				e.attr[a.Name.Local] = a.Value
			}
			out, open = append(out, e), true
		case xml.EndElement:
			open = false
		case xml.CharData:
			if open {
				out[len(out)-1].text += string(v)
			}
		}
	}
}

type svgElement struct {
	name string
	attr map[string]string
	text string
}

func TestSVGHoldsTheScene(t *testing.T) {
	for _, name := range []string{"two descents", "hostile names", "right to left", "five rims"} {
		sc := mustCompose(t, cases()[name].assessment(), Options{}, true)
		svg := svgPicture{sc: sc, title: "T", about: "A", prefix: "p"}.bytes()
		var texts []svgElement
		paths := 0
		for _, e := range svgElements(t, svg) {
			switch e.name {
			case "text":
				texts = append(texts, e)
			case "path":
				paths++
			case "svg", "g", "title", "desc":
			default:
				t.Errorf("%s: an element <%s>", name, e.name)
			}
			for a := range e.attr {
				if a == "style" || a == "href" || strings.HasPrefix(a, "on") {
					t.Errorf("%s: <%s> has the attribute %s", name, e.name, a)
				}
			}
		}
		want := 0
		for _, s := range sc.shapes {
			if inkOf(s) != "" && len(s.pts) > 1 {
				want++
			}
		}
		if paths != want {
			t.Errorf("%s: %d paths for %d shapes", name, paths, want)
		}
		if len(texts) != len(sc.labels) {
			t.Fatalf("%s: %d texts for %d labels", name, len(texts), len(sc.labels))
		}
		for k, l := range sc.labels {
			checkSVGLabel(t, texts[k], l)
		}
	}
}

// checkSVGLabel holds a text to the place, the words and the width it was laid out
// with.
func checkSVGLabel(t *testing.T, e svgElement, l label) {
	t.Helper()
	if e.text != l.text {
		t.Errorf("label %q is written %q", l.text, e.text)
	}
	if _, turned := e.attr["transform"]; turned != l.upright {
		t.Errorf("label %q: upright %t, turned %t", l.text, l.upright, turned)
	}
	long := l.box.x1 - l.box.x0
	if l.upright {
		long = l.box.y1 - l.box.y0
	}
	got, has := e.attr["textLength"]
	if has != (utf8.RuneCountInString(l.text) > 1) {
		t.Errorf("label %q: textLength %q", l.text, got)
	}
	if v, _ := strconv.ParseFloat(got, 64); has && (math.Abs(v-long) > 0.005+1e-9 || e.attr["lengthAdjust"] != "spacingAndGlyphs") {
		t.Errorf("label %q is %s long, laid out as %.3f", l.text, got, long)
	}
}

func TestSVGIsDescribed(t *testing.T) {
	a := cases()["two descents"].assessment()
	var file bytes.Buffer
	if err := Save(&file, "svg", a, Options{}); err != nil {
		t.Fatal(err)
	}
	sc := mustCompose(t, a, Options{}, true)
	for name, svg := range map[string][]byte{
		"file":   file.Bytes(),
		"inline": svgPicture{sc: sc, title: "Heat <&>", about: "It's \"hot\"", prefix: "x", inline: true}.bytes(),
		"bare":   svgPicture{sc: sc, title: "Heat", prefix: "x", inline: true}.bytes(),
	} {
		els := svgElements(t, svg)
		root, ids := els[0], map[string]string{}
		for _, e := range els {
			if id := e.attr["id"]; id != "" {
				if ids[id] != "" {
					t.Errorf("%s: id %s twice", name, id)
				}
				ids[id] = e.text
			}
		}
		if root.attr["role"] != "img" || root.attr["viewBox"] != fmt.Sprintf("0 0 %g %g", sc.w, sc.h) {
			t.Errorf("%s: root %v", name, root.attr)
		}
		refs := strings.Fields(root.attr["aria-labelledby"])
		for _, r := range refs {
			if ids[r] == "" {
				t.Errorf("%s: nothing is called %s", name, r)
			}
		}
		if want := map[string]int{"file": 2, "inline": 2, "bare": 1}[name]; len(refs) != want {
			t.Errorf("%s: labelled by %v", name, refs)
		}
		switch name {
		case "file":
			if root.attr["width"] != "540pt" || !strings.Contains(ids["figure-about"], "assumed limit of 120 °C") || ids["figure-title"] != a.Route.Name {
				t.Errorf("file: width %s, described as %q", root.attr["width"], ids)
			}
		case "inline":
			if root.attr["width"] != "100%" || root.attr["height"] != "" || ids["x-title"] != "Heat <&>" || ids["x-about"] != "It's \"hot\"" {
				t.Errorf("inline: %v, %q", root.attr, ids)
			}
		}
	}
}

func TestSVGHostileText(t *testing.T) {
	for name, s := range hostileNames() {
		sc := &scene{w: 100, h: 100, labels: []label{{text: s, size: 9, ink: rgb(0), box: rect{1, 1, 9, 9}}}}
		svg := svgPicture{sc: sc, title: s, about: s, prefix: "p", inline: true}.bytes()
		n := 0
		for _, e := range svgElements(t, svg) {
			n++
			if e.name != "svg" && e.name != "title" && e.name != "desc" && e.name != "g" && e.name != "text" {
				t.Errorf("%s: an element <%s>", name, e.name)
			}
		}
		if n != 5 {
			t.Errorf("%s: %d elements, want 5", name, n)
		}
		if bytes.ContainsAny(svg, "\x00\x1b\r") || bytes.ContainsAny(svg, "\u202e\u2066\u2068\ufffd") {
			t.Errorf("%s: characters that cannot be seen are left", name)
		}
	}
}

func TestLooks(t *testing.T) {
	grey := color.NRGBA{0x11, 0x22, 0x33, 0xff}
	veil := color.NRGBA{0x12, 0x34, 0x56, 44}
	for _, c := range []struct {
		s    shape
		want string
	}{
		{shape{fill: grey}, ` fill="#123"`},
		{shape{fill: veil}, ` fill="#123456" fill-opacity=".17"`},
		{shape{stroke: grey, width: 0.75, dash: []float64{7, 2.5}}, ` fill="none" stroke="#123" stroke-width=".75" stroke-dasharray="7 2.5"`},
		{shape{fill: grey, stroke: veil, width: 1}, ` fill="#123" stroke="#123456" stroke-opacity=".17" stroke-width="1"`},
		{shape{stroke: grey}, ""},
		{shape{}, ""},
	} {
		if got := inkOf(c.s); got != c.want {
			t.Errorf("look %q, want %q", got, c.want)
		}
	}
}

func TestSVGGroupsLooks(t *testing.T) {
	a := cases()["two descents"].assessment()
	svg := string(svgPicture{sc: mustCompose(t, a, Options{}, true), title: "T", prefix: "p"}.bytes())
	groups := strings.Split(svg, "<g")
	for k := 2; k < len(groups); k++ {
		before, _, _ := strings.Cut(groups[k-1], ">")
		now, _, _ := strings.Cut(groups[k], ">")
		if before == now {
			t.Errorf("two groups of one look follow each other: %s", now)
		}
	}
	if n := len(svg); n > 80_000 {
		t.Errorf("the picture has %d bytes", n)
	}
}
