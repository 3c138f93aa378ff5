package plots

import (
	"math"
	"slices"
	"strings"
	"testing"

	"rimheat/thermal"
)

func TestGradePieces(t *testing.T) {
	nan := math.NaN()
	for _, c := range []struct {
		name         string
		distM, grade []float64
		n            int
		want         []gradePiece
	}{
		{"up and level", []float64{0, 500, 1000}, []float64{0.1, 0.1, 0}, 4, nil},
		{"all classes", []float64{0, 199, 200, 399, 400, 599, 600, 799, 800, 1000}, []float64{-0.01, -0.01, -0.04, -0.04, -0.07, -0.07, -0.1, -0.1, -0.2, -0.2}, 5,
			[]gradePiece{{200, 400, 0}, {400, 600, 1}, {600, 800, 2}, {800, 1000, 3}}},
		{"alike parts are joined", []float64{0, 1000}, []float64{-0.08, -0.08}, 10, []gradePiece{{0, 1000, 1}}},
		{"a part is told by its mean", []float64{0, 499, 500, 1000}, []float64{-0.14, -0.14, 0.06, 0.06}, 1, []gradePiece{{0, 1000, 0}}},
		{"parts shorter than the road's steps", []float64{0, 500, 1000}, []float64{-0.05, -0.05, -0.05}, 7, []gradePiece{{0, 1000, 0}}},
		{"entries that are none", []float64{0, nan, 500, 1000}, []float64{-0.05, -0.9, nan, -0.05}, 2, []gradePiece{{0, 1000, 0}}},
		{"none", nil, nil, 5, nil},
	} {
		if got := gradePieces(clampSeries(c.distM, c.grade), 1000, c.n); !slices.Equal(got, c.want) {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}

// The strip lies where the descents are, is grey, and darkens with the grade; its key
// stands there if it does.
func TestGradeStrip(t *testing.T) {
	a := cases()["two descents"].whole()
	sc := mustCompose(t, a, Options{}, false)
	panel := panelOf(sc)
	strips := 0
	for _, s := range sc.shapes {
		if s.role != roleGrade {
			continue
		}
		strips++
		if c := s.fill; max(c.R, c.G, c.B)-min(c.R, c.G, c.B) > 14 {
			t.Errorf("a piece is coloured %v", c)
		}
		m := (s.box().x0 + s.box().x1) / 2
		if !slices.ContainsFunc(a.Descents, func(d thermal.Descent) bool {
			x := func(m float64) float64 { return panel.x0 + (panel.x1-panel.x0)*m/a.Route.DistanceM }
			return m > x(d.StartM)-gradeLeast && m < x(d.EndM)+gradeLeast
		}) {
			t.Errorf("a piece about x %.0f lies on no descent", m)
		}
	}
	if strips == 0 || said(sc, "% downhill") != 1 {
		t.Errorf("%d pieces, %d keys", strips, said(sc, "% downhill"))
	}
	for k := 1; k < len(gradeClasses); k++ {
		if int(gradeInk(k-1).R)-int(gradeInk(k).R) < 25 {
			t.Errorf("classes %d and %d are alike in grey", k-1, k)
		}
	}
	sc = mustCompose(t, cases()["no descents"].whole(), Options{}, false)
	if len(sc.boxes(roleGrade)) > 0 || said(sc, "grade") > 0 || said(sc, "downhill") > 0 {
		t.Error("a flat road has a strip of grades")
	}
}

// A rest's sign stands where the rider rests, with its minutes, and one sign stands for
// rests that lie together.
func TestRests(t *testing.T) {
	a := cases()["two descents"].whole()
	a.Trace.Stands = []thermal.Stand{
		{AtM: 10000, S: 600}, {AtM: 30000, S: 45}, {AtM: 30100, S: 105}, {AtM: 30200, S: 30},
		{AtM: -5, S: 60}, {AtM: math.NaN(), S: 60}, {AtM: 20000, S: math.Inf(1)}, {AtM: 20000}, {AtM: 99000, S: 60},
	}
	sc := mustCompose(t, a, Options{}, false)
	panel := panelOf(sc)
	bars := sc.boxes(roleRest)
	if len(bars) != 4 {
		t.Fatalf("%d bars, want two for each of two signs", len(bars))
	}
	for k, m := range []float64{10000, 30000} {
		x := (bars[2*k].x0 + bars[2*k+1].x1) / 2
		if want := panel.x0 + (panel.x1-panel.x0)*m/a.Route.DistanceM; math.Abs(x-want) > 0.01 {
			t.Errorf("sign %d stands at x %.2f, want %.2f", k, x, want)
		}
	}
	var texts []string
	for _, l := range labelsOf(sc, roleRest) {
		texts = append(texts, l.text)
	}
	if want := []string{"10 min", "3 min"}; !slices.Equal(texts, want) {
		t.Errorf("rests of %q, want %q", texts, want)
	}
	if said(sc, "rests, neighbours as one") != 1 {
		t.Error("the key does not say that a sign may stand for several rests")
	}
	a.Trace.Stands = nil
	without := mustCompose(t, a, Options{}, false)
	if said(without, "rest") > 0 || sc.h-without.h < restH {
		t.Errorf("without rests: %d words of them, the sheet is %g points lower", said(without, "rest"), sc.h-without.h)
	}
	for _, c := range []struct {
		s    float64
		want string
	}{{45, "45 s"}, {59.6, "1 min"}, {600, "10 min"}, {3569, "59 min"}, {5400, "1 h 30 min"}} {
		if got := restText(c.s); got != c.want {
			t.Errorf("%g s: %q, want %q", c.s, got, c.want)
		}
	}
}

// Words of crossings stand beside upright leaders where there is any room for that.
func TestCalloutsStandUpright(t *testing.T) {
	for name, in := range cases() {
		sc := mustCompose(t, in.assessment(), Options{}, false)
		for _, s := range sc.shapes {
			if s.role == roleLeader && s.pts[0].x != s.pts[len(s.pts)-1].x {
				t.Errorf("%s: rim %d's leader leans", name, s.rim)
			}
		}
		for _, l := range labelsOf(sc, roleCrossing) {
			if strings.Contains(l.text, "…") {
				t.Errorf("%s: %q is cut", name, l.text)
			}
		}
	}
}
