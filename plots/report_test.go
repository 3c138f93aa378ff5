package plots

import (
	"bytes"
	"errors"
	"io"
	"maps"
	"math"
	"slices"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"rimheat/thermal"
)

func TestGoldenReports(t *testing.T) {
	for _, c := range []struct {
		name, file string
		a          *thermal.Assessment
		opt        ReportOptions
	}{
		{"two descents", "report_two", cases()["two descents"].reported(), ReportOptions{ShopNote: shopNote}},
		{"imperial", "report_imperial", cases()["two descents"].reported(), ReportOptions{Options: Options{Imperial: true}, Title: "A day in the hills"}},
		{"five rims", "report_five", cases()["five rims"].reported(), ReportOptions{}},
		{"no draws", "report_no_draws", cases()["one rim"].assessment(), ReportOptions{}},
	} {
		doc, _ := page(t, c.a, c.opt)
		holdGolden(t, c.name, c.file, content(doc))
	}
}

// reports are the assessments that every handout must stand: with and without draws,
// positions and what would change them.
func reports() map[string]*thermal.Assessment {
	out := map[string]*thermal.Assessment{}
	for name, in := range cases() {
		out[name], out[name+", whole"], out[name+", reported"] = in.assessment(), in.whole(), in.reported()
	}
	return out
}

func TestEveryReportIsSound(t *testing.T) {
	t.Parallel()
	all := reports()
	for _, name := range slices.Sorted(maps.Keys(all)) {
		for _, imperial := range []bool{false, true} {
			opt := ReportOptions{Options: Options{Imperial: imperial}, ShopNote: shopNote}
			doc, text := page(t, all[name], opt)
			checkPage(t, name, doc, text)
			if n := len(find(doc, "article")); n != len(all[name].Rims) {
				t.Errorf("%s: %d cards for %d rims", name, n, len(all[name].Rims))
			}
		}
	}
}

func TestVerdictsAreTheAssessments(t *testing.T) {
	t.Parallel()
	for name, a := range reports() {
		doc, _ := page(t, a, ReportOptions{})
		var marks []string
		for i, card := range find(doc, "article") {
			r := a.Rims[i]
			says := ""
			for _, p := range find(card, "p") {
				if attr(p, "class") == "verdict" {
					says = words(p)
					var mark bytes.Buffer
					if err := html.Render(&mark, find(p, "svg")[0]); err != nil {
						t.Fatal(err)
					}
					marks = append(marks, string(r.Verdict)+"\x00"+mark.String())
				}
			}
			if want := capital(string(r.Verdict)) + ": "; !strings.HasPrefix(says, want) {
				t.Errorf("%s: rim %d is said to be %q, want %q", name, i, says, want)
			}
			if r.Risk != nil && !strings.Contains(says, outOf100(r.Risk.Chance.P)+" draws") {
				t.Errorf("%s: rim %d does not say its chance: %q", name, i, says)
			}
			if r.Risk == nil && !strings.Contains(says, "not computed") {
				t.Errorf("%s: rim %d is told as if it were sure: %q", name, i, says)
			}
		}
		// A verdict is told by its shape as well: same verdicts same marks, others others.
		for i := range marks {
			for k := range i {
				vi, mi, _ := strings.Cut(marks[i], "\x00")
				vk, mk, _ := strings.Cut(marks[k], "\x00")
				if (vi == vk) != (mi == mk) {
					t.Errorf("%s: rims %d and %d, %s and %s, have marks that are the same: %t", name, k, i, vk, vi, mi == mk)
				}
			}
		}
	}
}

func TestOutOf100(t *testing.T) {
	for _, c := range []struct {
		p    float64
		want string
	}{
		{0, "fewer than 1 of 100"}, {0.004, "fewer than 1 of 100"}, {0.24, "24 of 100"}, {0.0499, "just under 5 of 100"}, {0.05, "5 of 100"},
		{0.4999, "just under 50 of 100"}, {0.5, "50 of 100"}, {0.999, "more than 99 of 100"}, {1, "more than 99 of 100"}, {math.NaN(), "an unknown part"},
	} {
		if got := outOf100(c.p); got != c.want {
			t.Errorf("%v is %q, want %q", c.p, got, c.want)
		}
	}
}

// TestAssumedLimitsAreCalledSo takes every sentence of the page that gives a limit.
func TestAssumedLimitsAreCalledSo(t *testing.T) {
	for _, name := range []string{"two descents", "two limits", "five rims", "never reached"} {
		for _, assumed := range []bool{true, false} {
			a := cases()[name].reported()
			a.Cautions, a.Advice = nil, ""
			for i := range a.Rims {
				a.Rims[i].LimitAssumed = assumed
				for k := range a.Rims[i].Limits {
					a.Rims[i].Limits[k].Assumed = assumed
				}
			}
			doc, _ := page(t, a, ReportOptions{})
			found := 0
			var see func(says string)
			see = func(says string) {
				for i := range a.Rims {
					for _, l := range a.Rims[i].Limits {
						limit := units{}.tempText(l.LimitC)
						if !strings.Contains(says, limit) || !strings.Contains(says, "limit") && !strings.Contains(says, l.On+", "+limit) && !strings.Contains(says, "brake track, "+limit) {
							continue
						}
						found++
						if strings.Contains(says, "assumed") != assumed {
							t.Errorf("%s: assumed is %t in %q", name, assumed, says)
						}
					}
				}
			}
			for _, n := range find(doc, "dd", "p", "td", "li") {
				see(words(n))
			}
			for _, n := range find(doc, "desc") {
				for s := range strings.SplitSeq(words(n), ". ") {
					see(s)
				}
			}
			if found < 3*len(a.Rims) {
				t.Errorf("%s: only %d places give a limit", name, found)
			}
		}
	}
}

func TestCautionsStandWhole(t *testing.T) {
	a := cases()["two descents"].reported()
	a.Cautions = append(a.Cautions, "On the road: a second caution that begins so.", strings.Repeat("A long caution (with a bracket that is never closed ", 40))
	doc, _ := page(t, a, ReportOptions{})
	text := words(doc)
	for _, c := range append(slices.Clone(a.Cautions), a.Advice) {
		want := strings.Join(strings.Fields(c), " ")
		if !strings.Contains(text, want) && !strings.Contains(text, capital(strings.TrimPrefix(want, roadCaution))) {
			t.Errorf("the page lacks %.60q", want)
		}
	}
}

func TestShopNoteKeepsItsLines(t *testing.T) {
	doc, text := page(t, cases()["one rim"].reported(), ReportOptions{ShopNote: " one\r\n two \x00\r\rthree\n\n\n\nfour"})
	var got []string
	for _, s := range find(doc, "section") {
		if strings.HasPrefix(attr(s, "class"), "note") {
			for _, p := range find(s, "p") {
				got = append(got, words(p))
			}
		}
	}
	if want := []string{"one / two", "three", "four"}; !slices.Equal(got, want) {
		t.Errorf("the note reads %q, want %q", got, want)
	}
	if !strings.Contains(text, "In the shop’s own words") {
		t.Error("the note is not called the shop's")
	}
	if _, text = page(t, cases()["one rim"].reported(), ReportOptions{ShopNote: "\n \x00\n"}); strings.Contains(text, "own words") {
		t.Error("an empty note gets a box")
	}
	long := noteLines(strings.Repeat("x", 2*noteLetters), &typeface{viewerFonts: true})
	if n := len(long); n != 2 || len([]rune(long[0][0])) > noteLetters+1 || !strings.Contains(long[1][0], "cut") {
		t.Errorf("a note that is too long comes out as %d paragraphs", n)
	}
}

func TestFiguresThatCannotBeDrawn(t *testing.T) {
	a := cases()["two descents"].assessment()
	doc, _ := page(t, a, ReportOptions{})
	text := words(doc)
	for _, want := range []string{"The route from above: left out, as the route has no positions", "The rims cut through: left out, as the assessment holds no section"} {
		if !strings.Contains(text, want) {
			t.Errorf("the page does not say %q", want)
		}
	}
	if n := len(find(doc, "figure")); n != 1 {
		t.Errorf("%d figures, want 1", n)
	}
}

func TestKeyDescents(t *testing.T) {
	a := cases()["sixty descents"].reported()
	for i := range a.Rims {
		for k := range a.Rims[i].Descents {
			a.Rims[i].Descents[k].FrontPeakC, a.Rims[i].Descents[k].RearPeakC = 60, 50
			a.Rims[i].Risk.Descents[k].Chance.P = 0
		}
	}
	a.Rims[1].Risk.Descents[50].Chance.P = 0.1
	a.Rims[0].Descents[3].FrontPeakC, a.Rims[0].Descents[41].FrontPeakC = 90, 100
	a.Descents[7].DropM, a.Descents[9].DropM, a.Descents[2].DropM = 5000, 4000, 3000
	tf, err := newTypeface(true)
	if err != nil {
		t.Fatal(err)
	}
	r := newReporter(a, ReportOptions{}, tf)
	if got, want := r.keyDescents(), []int{3, 7, 9, 41, 50}; !slices.Equal(got, want) {
		t.Errorf("descents %v, want %v", got, want)
	}
	tables := r.descentTables()
	if !strings.Contains(tables[0].Caption, "55 more are not listed") || len(tables[0].Rows) != mostDescents {
		t.Errorf("%d rows under %q", len(tables[0].Rows), tables[0].Caption)
	}
}

func TestReportTwice(t *testing.T) {
	for _, format := range ReportFormats() {
		var first []byte
		for range 3 {
			var b bytes.Buffer
			if err := SaveReport(&b, format, cases()["five rims"].reported(), ReportOptions{ShopNote: shopNote}); err != nil {
				t.Fatal(err)
			}
			if first == nil {
				first = b.Bytes()
			}
			if !bytes.Equal(first, b.Bytes()) {
				t.Fatalf("%s: two reports of the same assessment differ", format)
			}
		}
		if bytes.Contains(first, []byte("Date")) {
			t.Errorf("%s: the report carries a date", format)
		}
	}
}

func TestSaveReportRefuses(t *testing.T) {
	good := cases()["one rim"].reported()
	none := *good
	none.Rims = nil
	for _, c := range []struct {
		a            *thermal.Assessment
		format, want string
	}{
		{good, "docx", `report format "docx" is none of html, pdf`},
		{nil, "html", "no assessment to write a report of"},
		{&none, "pdf", "the assessment has no rim to report on"},
	} {
		w := &shut{}
		if err := SaveReport(w, c.format, c.a, ReportOptions{}); err == nil || err.Error() != c.want || w.calls > 0 {
			t.Errorf("error %v and %d writes, want %q", err, w.calls, c.want)
		}
	}
	for _, format := range ReportFormats() {
		if err := SaveReport(&shut{}, format, good, ReportOptions{}); !errors.Is(err, errShut) {
			t.Errorf("%s: error %v of a shut writer", format, err)
		}
	}
}

func BenchmarkReport(b *testing.B) {
	a := cases()["five rims"].reported()
	for _, format := range ReportFormats() {
		b.Run(format, func(b *testing.B) {
			for b.Loop() {
				if err := SaveReport(io.Discard, format, a, ReportOptions{}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func TestFactsSayWhatIsAssumed(t *testing.T) {
	for input, want := range map[string]string{"air-temp": "air 34 °C at 240 m (assumed)", "rider-kg": "luggage (assumed)", "bike-kg": "luggage (assumed)", "tyre-kpa": "6 bar cold (assumed)"} {
		for _, given := range []bool{true, false} {
			a := cases()["two descents"].reported()
			a.Setup.Assumed = nil
			if !given {
				a.Setup.Assumed = []string{input}
			}
			doc, _ := page(t, a, ReportOptions{})
			if strings.Contains(words(doc), want) == given {
				t.Errorf("%s given is %t, %q stands there otherwise", input, given, want)
			}
		}
	}
}

// TestMarksDifferInOutline holds that verdicts are told apart by more than colour.
func TestMarksDifferInOutline(t *testing.T) {
	corners := map[int]thermal.Verdict{}
	for _, v := range []thermal.Verdict{thermal.Within, thermal.Marginal, thermal.Over} {
		n := len(markOf(v)[0].pts)
		if other, taken := corners[n]; taken {
			t.Errorf("%s and %s have outlines of %d points", v, other, n)
		}
		corners[n] = v
	}
	if markOf("") != nil {
		t.Error("no verdict has a mark")
	}
}

func TestGivenTitleHeadsAll(t *testing.T) {
	a := cases()["two descents"].reported()
	doc, _ := page(t, a, ReportOptions{Title: "A day in the hills"})
	if got := words(find(doc, "h1")[0]); got != "A day in the hills" || a.Route.Name == got {
		t.Errorf("the page is headed %q, the route %q", got, a.Route.Name)
	}
	p := onPaper(t, a, ReportOptions{Title: "A day in the hills"})
	for _, g := range p.pages {
		for _, f := range g.figures {
			for _, l := range f.sc.labels {
				if l.text == a.Route.Name {
					t.Errorf("a figure is headed %q", l.text)
				}
			}
		}
	}
}
