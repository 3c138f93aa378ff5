package plots

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"image/png"
	"io"
	"maps"
	"math"
	"slices"
	"strings"
	"testing"

	"rimheat/thermal"
)

// sorted gives the names of the cases in a fixed order.
func sorted() []string { return slices.Sorted(maps.Keys(cases())) }

func mustCompose(t *testing.T, a *thermal.Assessment, opt Options, viewerFonts bool) *scene {
	t.Helper()
	tf, err := newTypeface(viewerFonts)
	if err != nil {
		t.Fatal(err)
	}
	sc, err := compose(a, opt, tf)
	if err != nil {
		t.Fatal(err)
	}
	return sc
}

func TestEveryCaseInEveryFormat(t *testing.T) {
	t.Parallel()
	all := cases()
	for _, name := range sorted() {
		a := all[name].assessment()
		for _, format := range Formats() {
			var buf bytes.Buffer
			if err := Save(&buf, format, a, Options{Imperial: strings.Contains(name, "imperial")}); err != nil {
				t.Fatalf("%s, %s: %v", name, format, err)
			}
			switch format {
			case "png":
				cfg, err := png.DecodeConfig(&buf)
				if err != nil || cfg.Width < 1200 || cfg.Height < 780 {
					t.Errorf("%s: PNG is %d by %d pixels, error %v", name, cfg.Width, cfg.Height, err)
				}
			case "svg":
				if n := buf.Len(); n > 1_500_000 {
					t.Errorf("%s: SVG has %d bytes, over 1.5 MB", name, n)
				}
				checkSVG(t, name, buf.Bytes())
			case "pdf":
				if !bytes.HasPrefix(buf.Bytes(), []byte("%PDF-")) || !bytes.HasSuffix(bytes.TrimSpace(buf.Bytes()), []byte("%%EOF")) {
					t.Errorf("%s: not a whole PDF", name)
				}
				if bytes.Contains(buf.Bytes(), []byte("Date")) {
					t.Errorf("%s: PDF carries a date", name)
				}
			}
		}
	}
}

// checkSVG reads the file as XML and looks for numbers that are none.
func checkSVG(t *testing.T, name string, svg []byte) {
	t.Helper()
	paths := 0
	for d := xml.NewDecoder(bytes.NewReader(svg)); ; {
		tok, err := d.Token()
		if err == io.EOF {
			break
		}
		if err != nil {
			t.Fatalf("%s: SVG is no XML: %v", name, err)
		}
		el, ok := tok.(xml.StartElement)
		if !ok {
			continue
		}
		for _, at := range el.Attr {
			if strings.Contains(at.Value, "NaN") || strings.Contains(at.Value, "Inf") {
				t.Errorf("%s: %s of an SVG <%s> holds %.60q", name, at.Name.Local, el.Name.Local, at.Value)
			}
		}
		if el.Name.Local == "path" {
			paths++
		}
	}
	if paths < 10 {
		t.Errorf("%s: SVG has only %d paths", name, paths)
	}
}

// TestLayout lays out every case with and without draws, as a sheet and as a part of
// a page, in both systems of units and for both ways of setting text.
func TestLayout(t *testing.T) {
	t.Parallel()
	all := cases()
	for _, name := range sorted() {
		for draws, a := range map[bool]*thermal.Assessment{false: all[name].assessment(), true: judged(all[name].whole())} {
			for k := range 8 {
				opt, viewers := Options{Imperial: k&1 > 0, bare: k&4 > 0}, k&2 > 0
				t.Run(fmt.Sprintf("%s, draws %t, imperial %t, viewer's fonts %t, bare %t", name, draws, opt.Imperial, viewers, opt.bare), func(t *testing.T) {
					sc := mustCompose(t, a, opt, viewers)
					checkFigure(t, a, sc)
					checkRimsNamed(t, sc, len(a.Rims), opt.bare)
				})
			}
		}
	}
}

func TestCrossingSitsOnCurveAndLimit(t *testing.T) {
	// One step of the invented rides moves a temperature by under 0.6 K,
	// which is under a point and a half on the sheet.
	const tol = 1.5
	for _, c := range []struct {
		name string
		on   role
	}{{"two descents", roleTrack}, {"one tyre side", roleTyreSide}, {"late crossing", roleTrack}, {"five rims", roleTrack}} {
		a := cases()[c.name].assessment()
		sc := mustCompose(t, a, Options{}, false)
		marked := 0
		for _, s := range sc.shapes {
			if s.role != roleCrossing {
				continue
			}
			marked++
			r := a.Rims[s.rim]
			b := rect{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
			for _, p := range s.pts {
				b = rect{min(b.x0, p.x), min(b.y0, p.y), max(b.x1, p.x), max(b.y1, p.y)}
			}
			x := (b.x0 + b.x1) / 2
			road := sc.curve(roleRoad, noRim)
			wantX := road[0].x + (road[len(road)-1].x-road[0].x)*r.Over[0].StartM/a.Route.DistanceM
			if math.Abs(x-wantX) > 0.01 {
				t.Errorf("%s: rim %d is marked at x %.2f, want %.2f", c.name, s.rim, x, wantX)
			}
			if y := heightAt(sc.curve(c.on, s.rim), x); !(y > b.y0-tol && y < b.y1+tol) {
				t.Errorf("%s: rim %d's curve passes the mark %v at %.2f", c.name, s.rim, b, y)
			}
			onLimit := slices.ContainsFunc(sc.shapes, func(l shape) bool {
				return l.role == roleLimit && l.pts[0].y > b.y0 && l.pts[0].y < b.y1
			})
			if !onLimit {
				t.Errorf("%s: rim %d's mark is on no limit", c.name, s.rim)
			}
		}
		want := 0
		for _, r := range a.Rims {
			if len(r.Over) > 0 {
				want++
			}
		}
		if marked != want || want == 0 {
			t.Errorf("%s: %d crossings marked, want %d and at least one", c.name, marked, want)
		}
	}
}

func TestTyreSideLimitIsNotHeldAgainstTheTrack(t *testing.T) {
	in := cases()["two descents"]
	rim := classicAlu(75)
	rim.limitC = 104 // the track passes this, the tyre side does not
	in.rims = []inventedRim{rim}
	a := in.assessment()
	if a.Rims[0].PeakC < rim.limitC || a.Rims[0].JudgedPeakC > rim.limitC {
		t.Fatalf("the case does not show what it should: track %.1f, tyre side %.1f °C", a.Rims[0].PeakC, a.Rims[0].JudgedPeakC)
	}
	sc := mustCompose(t, a, Options{}, false)
	for _, s := range sc.shapes {
		switch {
		case s.role == roleCrossing || s.role == roleOver || s.role == roleOverRoad:
			t.Errorf("a %s is drawn", s.role)
		case s.role == roleLimit || s.role == roleExcess:
			t.Errorf("a %s is drawn in the panel, where only the track is above it", s.role)
		}
	}
	if len(sc.curve(roleTyreSide, 0)) == 0 {
		t.Error("the tyre side that decides is not drawn")
	}
}

func TestLimitsOfSomeRimsOnly(t *testing.T) {
	all := cases()
	a := all["foreign limits"].assessment()
	sc := mustCompose(t, a, Options{}, false)
	drawn := map[int]float64{}
	for _, s := range sc.shapes {
		if s.role == roleLimit {
			drawn[s.rim] += s.pts[1].x - s.pts[0].x
		}
	}
	road := sc.curve(roleRoad, noRim)
	whole := road[len(road)-1].x - road[0].x
	// The first rim's limit lies above the others' tracks, except the third's,
	// which passes it; the second's lies under the first's track.
	if !(drawn[0] > 0 && drawn[0] < whole/2) || drawn[1] != 0 || drawn[2] != 0 {
		t.Errorf("limits are drawn over %v of %.0f points, want a part for rim 0 only", drawn, whole)
	}
	for _, g := range []struct {
		rim  int
		text string
	}{{0, "130"}, {1, "140"}, {2, "130"}} {
		if !slices.ContainsFunc(sc.labels, func(l label) bool { return l.role == roleGauge && l.rim == g.rim && l.text == g.text }) {
			t.Errorf("the gauge of rim %d does not say its limit %s", g.rim, g.text)
		}
	}
	a = all["two descents"].assessment()
	sc = mustCompose(t, a, Options{}, false)
	if !slices.ContainsFunc(sc.labels, func(l label) bool { return l.role == roleLimit && l.text == "limit of A: 120 °C, assumed" }) {
		t.Error("a limit that only its own rim comes near is not named at its line")
	}
}

func TestStopIsNamedOnlyWhereThePeakLies(t *testing.T) {
	for name, in := range cases() {
		n := 0
		for _, l := range mustCompose(t, in.assessment(), Options{}, false).labels {
			if l.role == roleStop {
				n++
			}
		}
		if want := map[bool]int{true: 1}[in.stop]; n != want {
			t.Errorf("%s: the word stands %d times, want %d", name, n, want)
		}
	}
}

func TestAbove(t *testing.T) {
	line := []xy{{0, 0}, {10, 20}, {20, 0}, {30, 5}, {40, 30}, {50, 30}}
	got := above(line, 10)
	want := [][]xy{
		{{5, 10}, {10, 20}, {15, 10}, {15, 10}, {5, 10}},
		{{32, 10}, {40, 30}, {50, 30}, {50, 10}, {32, 10}},
	}
	if !slices.EqualFunc(got, want, slices.Equal[[]xy]) {
		t.Errorf("got %v, want %v", got, want)
	}
	if got := above(line, 40); len(got) != 0 {
		t.Errorf("above a level over all: %v", got)
	}
}

func TestNumbersThatAreNoneStayOut(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	a := judged(cases()["five rims"].whole())
	a.Trace.Grade[3], a.Trace.Grade[900] = nan, inf
	a.Rims[0].Along.P95C[4], a.Rims[0].Along.DistM[5], a.Rims[1].Along.P05C = inf, nan, nil
	a.Rims[2].Risk.TrackC.P95, a.Rims[2].Risk.Chance.P, a.Rims[3].Risk.Limits[0].PeakC.P05 = nan, nan, -inf
	a.Trace.HeightM[7], a.Trace.DistM[900], a.Trace.HeightM[0] = nan, inf, -inf
	a.Descents[1].EndM = nan
	a.Descents = append(a.Descents, thermal.Descent{StartM: -inf, EndM: inf})
	for i := range a.Rims {
		r := &a.Rims[i]
		r.Front.TrackC[5], r.Rear.TrackC[5], r.Front.TyreSideC[9] = nan, inf, -inf
		r.Front.DistM[11] = nan
	}
	a.Rims[0].LimitC, a.Rims[0].Limits[0].LimitC = nan, inf
	a.Rims[1].MarginK, a.Rims[1].PeakC = nan, nan
	a.Rims[2].Over = append([]thermal.OverSpan{{StartM: nan, EndM: inf, HeightM: nan}}, a.Rims[2].Over...)
	a.Rims[3].Front, a.Rims[3].Rear = thermal.History{}, thermal.History{}
	a.Rims[4].Rear.TrackC = a.Rims[4].Rear.TrackC[:3]
	sc := mustCompose(t, a, Options{}, false)
	for _, s := range sc.shapes {
		for _, p := range s.pts {
			if !finite(p.x) || !finite(p.y) || p.x < 0 || p.x > sc.w || p.y < 0 || p.y > sc.h {
				t.Fatalf("a %s of rim %d goes to %v", s.role, s.rim, p)
			}
		}
	}
	for _, l := range sc.labels {
		if strings.Contains(l.text, "NaN") || strings.Contains(l.text, "Inf") {
			t.Errorf("label %q", l.text)
		}
	}
	for _, format := range Formats() {
		if err := Save(io.Discard, format, a, Options{}); err != nil {
			t.Errorf("%s: %v", format, err)
		}
	}
}

func TestSameBytesTwice(t *testing.T) {
	for _, name := range []string{"five rims", "hostile names"} {
		for _, format := range Formats() {
			var first []byte
			for range 3 {
				var buf bytes.Buffer
				if err := Save(&buf, format, cases()[name].assessment(), Options{}); err != nil {
					t.Fatal(err)
				}
				if first == nil {
					first = buf.Bytes()
				}
				if !bytes.Equal(first, buf.Bytes()) {
					t.Fatalf("%s, %s: two figures of the same assessment differ", name, format)
				}
			}
		}
	}
}

// shut is a writer that counts and refuses.
type shut struct{ calls int }

var errShut = errors.New("shut")

func (s *shut) Write([]byte) (int, error) { s.calls++; return 0, errShut }

func TestSaveRefuses(t *testing.T) {
	good := cases()["one rim"].assessment()
	noRim, noRoad, noLength := *good, *good, *good
	noRim.Rims = nil
	noRoad.Trace = thermal.Trace{}
	noLength.Trace.DistM = make([]float64, len(good.Trace.DistM))
	for _, c := range []struct {
		a            *thermal.Assessment
		format, want string
	}{
		{good, "gif", `figure format "gif" is none of png, svg, pdf`},
		{good, "", `figure format "" is none of png, svg, pdf`},
		{nil, "png", "no assessment to draw a figure of"},
		{&noRim, "png", "the assessment has no rim to draw"},
		{&noRoad, "pdf", "the assessment has no trace of the road to draw"},
		{&noLength, "svg", "the road in the assessment has no length to draw along"},
	} {
		w := &shut{}
		if err := Save(w, c.format, c.a, Options{}); err == nil || err.Error() != c.want {
			t.Errorf("error %v, want %q", err, c.want)
		}
		if w.calls > 0 {
			t.Errorf("%q: something was written", c.want)
		}
	}
	w := &shut{}
	if err := Save(w, "svg", good, Options{}); !errors.Is(err, errShut) {
		t.Errorf("error %v of a shut writer", err)
	}
}

func BenchmarkSave(b *testing.B) {
	a := cases()["five rims pulsing"].assessment()
	for _, format := range Formats() {
		b.Run(format, func(b *testing.B) {
			for b.Loop() {
				if err := Save(io.Discard, format, a, Options{}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
