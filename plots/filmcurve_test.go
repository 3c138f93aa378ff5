package plots

import (
	"bytes"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"rimheat/thermal/air"
)

func filmFigure(name string, airC float64) FilmFigure {
	return FilmFigure{RimName: name, RimAssumed: true, AirAssumed: true, Curve: air.NewFilmCurve(air.FilmSetting{
		TrackRadiusM: 0.306, SpinPart: 0.306 / 0.336, SurfaceK: air.ZeroCelsiusK + 100, AirK: air.ZeroCelsiusK + airC, PressurePa: air.StandardPressurePa,
	})}
}

func filmScene(t *testing.T, f FilmFigure, viewerFonts bool) *scene {
	t.Helper()
	tf, err := newTypeface(viewerFonts)
	if err != nil {
		t.Fatal(err)
	}
	sc, err := composeFilm(f, tf)
	if err != nil {
		t.Fatal(err)
	}
	return sc
}

func TestFilmCurveGoldenOutline(t *testing.T) {
	holdGolden(t, "film curve", "film_curve", outline(filmScene(t, filmFigure("50 mm deep carbon clincher", 20), false)))
}

// Labels lie apart and on the sheet, no line is drawn through one, letters are
// large enough to be read when the sheet is as narrow as a telephone's screen,
// and each line has one name and, but for its like, a look of its own.
func TestFilmCurveLayout(t *testing.T) {
	const phonePx, leastPx = 390.0, 6.8
	for _, name := range []string{"50 mm deep carbon clincher", strings.Repeat("élégant ", 60), "\x1b\u202e", ""} {
		for _, airC := range []float64{-30, 20, 55} {
			for _, viewers := range []bool{false, true} {
				f := filmFigure(name, airC)
				sc := filmScene(t, f, viewers)
				checkLabelsApart(t, sc)
				checkNoLineThroughLabels(t, sc)
				names := map[string]int{}
				for _, l := range sc.labels {
					if px := l.size * phonePx / sc.w; px < leastPx {
						t.Errorf("%q has %.1f pixels on a telephone", l.text, px)
					}
					names[l.text]++
				}
				for _, want := range []string{"rim on the road", "bench, no fan", "turbulent, 0.02 m", "turbulent, 0.05 m", "turbulent, 0.1 m", "turbulent, 0.3 m",
					"laminar, 0.02 m", "laminar, 0.05 m", "laminar, 0.1 m", "laminar, 0.3 m", "disc, laminar", "disc, turbulent", "free, at rest", "57 (v/30 km/h)^0.8"} {
					if names[want] != 1 {
						t.Errorf("%q stands there %d times", want, names[want])
					}
				}
				lines := 0
				for _, s := range sc.shapes {
					if s.role == roleTrack {
						lines++
					}
					for _, p := range s.pts {
						if math.IsNaN(p.x) || p.x < 0 || p.y < 0 || p.x > sc.w || p.y > sc.h || math.IsNaN(p.y) {
							t.Fatalf("%s: a point at %v", s.role, p)
						}
					}
				}
				if lines != len(f.Curve.Lines)-2 {
					t.Errorf("%d lines of %d", lines, len(f.Curve.Lines)-2)
				}
			}
		}
	}
	s := filmSheet{pal: colours()}
	looks := map[string]air.FilmFamily{}
	for _, f := range []air.FilmFamily{air.FilmRoad, air.FilmBench, air.FilmPlateTurbulent, air.FilmPlateLaminar, air.FilmDisc, air.FilmFree, air.FilmCentral} {
		st := s.style(f)
		look := fmt.Sprint(st.width, st.dash)
		if other, taken := looks[look]; taken {
			t.Errorf("without colour, %s looks like %s", f, other)
		}
		looks[look] = f
	}
}

// Every line runs through its own values: read back from the sheet they are
// those of the curve.
func TestFilmCurveDrawsItsValues(t *testing.T) {
	f := filmFigure("rim", 20)
	sc := filmScene(t, f, false)
	var runs [][]xy
	for _, s := range sc.shapes {
		if s.role == roleTrack {
			runs = append(runs, s.pts)
		}
	}
	road := f.Curve.Line("road").H
	// The scale follows from two values of the thick line, which comes first.
	scale := (runs[0][80].y - runs[0][0].y) / (road[80] - road[0])
	for _, l := range f.Curve.Lines {
		if l.Family == air.FilmBand {
			continue
		}
		if !slices.ContainsFunc(runs, func(pts []xy) bool {
			for i, h := range l.H {
				if math.Abs((pts[i].y-runs[0][0].y)/scale-(h-road[0])) > 1e-9*(1+h) {
					return false
				}
			}
			return true
		}) {
			t.Errorf("%s: no line runs through its values", l.ID)
		}
	}
}

func TestSaveFilmCurve(t *testing.T) {
	f := filmFigure("50 mm deep carbon clincher", 35)
	for format, begin := range map[string]string{"png": "\x89PNG", "svg": "<?xml", "pdf": "%PDF"} {
		var a, b bytes.Buffer
		if err := SaveFilmCurve(&a, format, f); err != nil {
			t.Fatal(err)
		}
		if err := SaveFilmCurve(&b, format, f); err != nil {
			t.Fatal(err)
		}
		if !strings.HasPrefix(a.String(), begin) || !bytes.Equal(a.Bytes(), b.Bytes()) {
			t.Errorf("%s: begins with %q, or two figures differ", format, a.String()[:8])
		}
		if format == "svg" {
			checkSVG(t, format, a.Bytes())
			for _, want := range []string{"air 35 °C assumed, film 68 °C, 1,013 hPa", "×/÷ 1.5", "Churchill &amp; Chu 1975", "rim on the road"} {
				if !strings.Contains(a.String(), want) {
					t.Errorf("the SVG does not say %q", want)
				}
			}
		}
	}
	broken := filmFigure("rim", 20)
	broken.Curve.Lines[0].H[3] = math.NaN()
	nameless := filmFigure("rim", 20)
	nameless.Curve.Lines = nameless.Curve.Lines[1:]
	for _, c := range []struct {
		format string
		f      FilmFigure
		want   string
	}{
		{"gif", f, `figure format "gif" is none of png, svg, pdf`},
		{"png", FilmFigure{}, "the film curve has no speeds to draw along"},
		{"png", broken, "line road of the film curve has no value at some speed"},
		{"png", nameless, "the film curve lacks the rim's own line or its band"},
	} {
		var b bytes.Buffer
		if err := SaveFilmCurve(&b, c.format, c.f); err == nil || err.Error() != c.want || b.Len() > 0 {
			t.Errorf("%s: %v, %d bytes", c.format, err, b.Len())
		}
	}
}
