package plots

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
	"testing"

	"rimheat/thermal"
)

// onPaper lays the handout's pages out.
func onPaper(t *testing.T, a *thermal.Assessment, opt ReportOptions) *paper {
	t.Helper()
	tf, err := newTypeface(false)
	if err != nil {
		t.Fatal(err)
	}
	return newReporter(a, opt, tf).paper()
}

// checkPaper holds pages to a fair layout: no text on text or on a figure, nothing
// beyond the page, no letters under 9 points.
func checkPaper(t *testing.T, name string, a *thermal.Assessment, opt ReportOptions) {
	t.Helper()
	p := onPaper(t, a, opt)
	for i, g := range p.pages {
		checkLabelsApart(t, g.text)
		var boxes []rect
		for _, f := range g.figures {
			b := rect{f.left, g.text.h - f.top - f.sc.h, f.left + f.sc.w, g.text.h - f.top}
			if b.x0 < pageMargin-0.01 || b.x1 > p.w-pageMargin+0.01 || b.y0 < pageMargin-0.01 || b.y1 > g.text.h-pageMargin+0.01 {
				t.Errorf("%s: a figure on page %d lies at %v", name, i+1, b)
			}
			for _, o := range boxes {
				if b.meets(o) {
					t.Errorf("%s: two figures on page %d lie on each other", name, i+1)
				}
			}
			boxes = append(boxes, b)
			for _, l := range g.text.labels {
				if b.meets(l.box) {
					t.Errorf("%s: a figure on page %d lies on %q", name, i+1, l.text)
				}
			}
			for _, l := range f.sc.labels {
				if l.size < pageSmall-0.5 {
					t.Errorf("%s: %q is set in %g points", name, l.text, l.size)
				}
			}
		}
		for _, l := range g.text.labels {
			if strings.ContainsAny(l.text, isolate+endIsolate+tie) || strings.Contains(l.text, "NaN") || strings.Contains(l.text, "Inf") {
				t.Errorf("%s: page %d says %q", name, i+1, l.text)
			}
		}
	}
}

// paperWords is all text of the pages' own, run together.
func paperWords(p *paper) string {
	var out []string
	for _, g := range p.pages {
		for _, l := range g.text.labels {
			if l.role != roleFooter {
				out = append(out, l.text)
			}
		}
	}
	return strings.Join(out, " ")
}

func TestEveryReportOnPaper(t *testing.T) {
	t.Parallel()
	all := cases()
	for _, name := range sorted() {
		for k, a := range []*thermal.Assessment{all[name].assessment(), all[name].whole(), all[name].reported()} {
			checkPaper(t, name, a, ReportOptions{Options: Options{Imperial: k == 2}, ShopNote: shopNote})
		}
	}
}

func TestPaperSaysAll(t *testing.T) {
	a := cases()["five rims"].reported()
	a.Cautions = append(a.Cautions, strings.Repeat("A long caution (with a bracket that is never closed ", 60))
	p := onPaper(t, a, ReportOptions{ShopNote: shopNote})
	text := paperWords(p)
	for _, c := range append(slices.Clone(a.Cautions), a.Advice, question, "Open from 9 to 6.") {
		want := strings.Join(strings.Fields(c), " ")
		if !strings.Contains(text, want) && !strings.Contains(text, capital(strings.TrimPrefix(want, roadCaution))) {
			t.Errorf("the pages lack %.60q", want)
		}
	}
	for i := range a.Rims {
		r := a.Rims[i]
		for _, want := range []string{r.Name, capital(string(r.Verdict)) + ": a limit is reached in " + outOf100(r.Risk.Chance.P) + " draws.", units{}.tempText(r.LimitC)} {
			if !strings.Contains(text, want) {
				t.Errorf("rim %d: the pages lack %q", i, want)
			}
		}
	}
	figures := 0
	for i, g := range p.pages {
		if want := fmt.Sprintf("page %d of %d", i+1, len(p.pages)); !slices.ContainsFunc(g.text.labels, func(l label) bool { return l.text == want }) {
			t.Errorf("no %q", want)
		}
		figures += len(g.figures)
	}
	if figures < 5 {
		t.Errorf("%d figures", figures)
	}
}

func TestPaperWithoutDraws(t *testing.T) {
	p := onPaper(t, cases()["two descents"].assessment(), ReportOptions{})
	text := paperWords(p)
	for _, want := range []string{"The route from above: left out", "What the answer hangs on: left out", "How sure that is was not computed"} {
		if !strings.Contains(text, want) {
			t.Errorf("the pages do not say %q", want)
		}
	}
}

func TestLettersOfPaper(t *testing.T) {
	for imperial, want := range map[bool][2]float64{false: {595.28, 841.89}, true: {612, 792}} {
		p := onPaper(t, cases()["two descents"].reported(), ReportOptions{Options: Options{Imperial: imperial}})
		if p.w != want[0] || p.h != want[1] {
			t.Errorf("imperial %t: %g by %g points", imperial, p.w, p.h)
		}
	}
	var b bytes.Buffer
	if err := SaveReport(&b, "pdf", cases()["two descents"].reported(), ReportOptions{}); err != nil {
		t.Fatal(err)
	}
	if !bytes.HasPrefix(b.Bytes(), []byte("%PDF-")) || !bytes.HasSuffix(bytes.TrimSpace(b.Bytes()), []byte("%%EOF")) || !bytes.Contains(b.Bytes(), []byte("/Lang (en)")) {
		t.Error("not a whole PDF with its language")
	}
}

// TestCut holds that a figure higher than a page is divided between its parts and
// loses none.
func TestCut(t *testing.T) {
	tf, err := newTypeface(false)
	if err != nil {
		t.Fatal(err)
	}
	sc, err := composeReasons(cases()["twelve rims"].reported(), units{}, tf)
	if err != nil {
		t.Fatal(err)
	}
	const most = 788.0
	labels, shapes := len(sc.labels), 0
	for _, s := range sc.shapes {
		if s.role != rolePaper {
			shapes++
		}
	}
	for sc.h > most {
		upper, lower, ok := sc.cut(most)
		if !ok {
			t.Fatalf("no place to cut a sheet of %.0f points", sc.h)
		}
		if upper.h > most || upper.h+lower.h != sc.h {
			t.Fatalf("%.0f is cut into %.0f and %.0f", sc.h, upper.h, lower.h)
		}
		for _, part := range []*scene{upper, lower} {
			for _, s := range part.shapes {
				for _, q := range s.pts {
					if q.y < 0 || q.y > part.h {
						t.Fatalf("a %s is cut through", s.role)
					}
				}
			}
			for _, l := range part.labels {
				if l.box.y0 < 0 || l.box.y1 > part.h {
					t.Fatalf("%q is cut through", l.text)
				}
			}
		}
		// A rim's heading stays with its bars: its name is not the last of a part.
		lowest := slices.MinFunc(upper.labels, func(a, b label) int { return int(a.at.y - b.at.y) })
		if lowest.role != roleVerdict || !strings.Contains(lowest.text, "variance") {
			t.Errorf("a part ends with %q", lowest.text)
		}
		labels, shapes = labels-len(upper.labels), shapes-len(upper.shapes)
		sc = lower
	}
	for _, s := range sc.shapes {
		if s.role != rolePaper {
			shapes--
		}
	}
	if labels != len(sc.labels) || shapes != 0 {
		t.Errorf("%d labels and %d shapes are lost", labels-len(sc.labels), shapes)
	}
	solid := &scene{w: 540, h: 2000}
	solid.area(roleGrid, noRim, rect{0, 0, 540, 2000}, rgb(0))
	if _, _, ok := solid.cut(most); ok {
		t.Error("a sheet without a blank is cut")
	}
}

func TestLinesLoseNothing(t *testing.T) {
	tf, err := newTypeface(false)
	if err != nil {
		t.Fatal(err)
	}
	st := textStyle{size: 9}
	for _, s := range []string{"", "one", "at 120 °C and km 3.2 of the road (a bracket that is not closed", strings.Repeat("W", 500), "a " + strings.Repeat("W", 300) + " b"} {
		for _, first := range []float64{0, 50, 99} {
			lines := tf.linesAfter(s, st, 100, first)
			for i, l := range lines {
				room := 100.0
				if i == 0 {
					room -= first
				}
				if tf.width(l, st) > room && len([]rune(l)) > 1 {
					t.Errorf("%q is wider than %g", l, room)
				}
			}
			got := strings.ReplaceAll(strings.Join(lines, ""), " ", "")
			if want := strings.ReplaceAll(s, " ", ""); got != want {
				t.Errorf("%.20q came out as %.20q", want, got)
			}
		}
	}
	for _, l := range tf.lines("the rim gets to 120 °C at km 3.2", st, 60) {
		if strings.HasSuffix(l, "120") || strings.HasSuffix(l, "km") {
			t.Errorf("a line ends with %q", l)
		}
	}
}
