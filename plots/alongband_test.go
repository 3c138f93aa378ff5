package plots

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"rimheat/thermal"
)

// panelOf is the box of the temperature panel.
func panelOf(sc *scene) rect {
	axes := slices.DeleteFunc(sc.boxes(roleAxis), func(b rect) bool { return b.y1 > b.y0 })
	return slices.MaxFunc(axes, func(a, b rect) int { return int(a.y0 - b.y0) })
}

// degreesAt reads the temperature axis as a reader does, off its marks: degrees at a
// height on the sheet.
func degreesAt(t *testing.T, sc *scene) func(y float64) float64 {
	t.Helper()
	panel := panelOf(sc)
	var ys, vs []float64
	for _, s := range sc.shapes {
		if s.role != roleGrid || s.pts[1].x < panel.x1 {
			continue
		}
		y := s.pts[0].y
		for _, l := range labelsOf(sc, roleTick) {
			if l.box.x1 < panel.x0 && l.box.y0 < y && y < l.box.y1 {
				v, err := strconv.ParseFloat(strings.NewReplacer("−", "-", ",", "").Replace(l.text), 64)
				if err != nil {
					t.Fatal(err)
				}
				ys, vs = append(ys, y), append(vs, v)
			}
		}
	}
	n := len(ys)
	if n < 2 {
		t.Fatalf("the axis has %d marks with a number", n)
	}
	return func(y float64) float64 { return vs[0] + (y-ys[0])*(vs[n-1]-vs[0])/(ys[n-1]-ys[0]) }
}

// crossAt gives the heights at which the closed outline of an area passes x.
func crossAt(pts []xy, x float64) []float64 {
	var out []float64
	for i, p := range pts {
		q := pts[(i+1)%len(pts)]
		if (p.x <= x) != (q.x <= x) {
			out = append(out, p.y+(x-p.x)/(q.x-p.x)*(q.y-p.y))
		}
	}
	slices.Sort(out)
	return out
}

// Read off the figure's own axes, the band lies between the 5 and the 95 % that the
// draws say, with their median in it, from end to end of the road.
func TestBandShowsTheDraws(t *testing.T) {
	for _, imperial := range []bool{false, true} {
		a := cases()["two descents"].whole()
		// The band is what reaches highest and lowest.
		for k := range a.Rims[0].Along.DistM {
			a.Rims[0].Along.P95C[k] += 70
			a.Rims[0].Along.P05C[k] -= 40
		}
		sc := mustCompose(t, a, Options{Imperial: imperial}, false)
		degrees, panel := degreesAt(t, sc), panelOf(sc)
		u := units{imperial: imperial}
		for i := range a.Rims {
			pts, along := sc.curve(roleDraws, i), a.Rims[i].Along
			for k, m := range along.DistM {
				at := crossAt(pts, panel.x0+(panel.x1-panel.x0)*m/a.Route.DistanceM)
				if len(at) != 2 {
					t.Fatalf("rim %d's band has %d edges at %.0f m", i, len(at), m)
				}
				lo, hi := degrees(at[0]), degrees(at[1])
				if math.Abs(lo-u.temp(along.P05C[k])) > 0.5 || math.Abs(hi-u.temp(along.P95C[k])) > 0.5 {
					t.Fatalf("rim %d's band is from %.1f to %.1f at %.0f m, want %.1f to %.1f", i, lo, hi, m, u.temp(along.P05C[k]), u.temp(along.P95C[k]))
				}
				if mid := u.temp(along.P50C[k]); lo >= mid || hi <= mid {
					t.Fatalf("rim %d's band from %.1f to %.1f leaves out the median %.1f at %.0f m", i, lo, hi, mid, m)
				}
			}
			box := shape{pts: pts}.box()
			if box.x0 > panel.x0+1 || box.x1 < panel.x1-1 {
				t.Errorf("rim %d's band is from %.0f to %.0f, the road from %.0f to %.0f", i, box.x0, box.x1, panel.x0, panel.x1)
			}
		}
	}
}

// Bands are told apart by the dashes of their edges, and what a part of them is.
func TestBandEdges(t *testing.T) {
	sc := mustCompose(t, cases()["two descents"].whole(), Options{}, false)
	seen := map[int]bool{}
	for _, s := range sc.shapes {
		if s.role == roleDrawsEdge {
			seen[s.rim] = true
			if !slices.Equal(s.dash, styleOfRim(s.rim).track.dash) {
				t.Errorf("rim %d's band has an edge with dashes %v", s.rim, s.dash)
			}
		}
	}
	if !seen[0] || !seen[1] || slices.Equal(styleOfRim(0).track.dash, styleOfRim(1).track.dash) {
		t.Error("bands lack edges, or these are alike")
	}
}

// Nothing is drawn, nothing is said of draws.
func TestWithoutDraws(t *testing.T) {
	for name, in := range cases() {
		for _, bare := range []bool{false, true} {
			sc := mustCompose(t, in.assessment(), Options{bare: bare}, false)
			for _, s := range sc.shapes {
				if s.role == roleDraws || s.role == roleDrawsEdge {
					t.Errorf("%s: there is a %s", name, s.role)
				}
			}
			for _, l := range sc.labels {
				for _, word := range []string{"draw", "nine of ten", "hisker", "Bands", "seed"} {
					if strings.Contains(l.text, word) {
						t.Errorf("%s: %q speaks of draws", name, l.text)
					}
				}
			}
		}
	}
}

// Paint is laid on so that nothing that matters is covered: tints, bands, what is over
// a limit, edges, limits, curves, signs.
func TestOrderOfPaint(t *testing.T) {
	rank := map[role]int{roleOver: 1, roleDraws: 2, roleExcess: 3, roleDrawsEdge: 4, roleLimit: 5, roleTrack: 6, roleTyreSide: 7, roleCrossing: 9}
	for _, name := range []string{"two descents", "five rims", "one tyre side", "five rims pulsing"} {
		last, seen := 0, map[role]bool{}
		for _, s := range mustCompose(t, cases()[name].whole(), Options{}, false).shapes {
			n, ok := rank[s.role]
			if !ok {
				continue
			}
			seen[s.role] = true
			if n < last {
				t.Errorf("%s: a %s is painted over what must be seen on it", name, s.role)
			}
			last = n
		}
		for _, r := range []role{roleOver, roleDraws, roleDrawsEdge, roleTrack} {
			if !seen[r] {
				t.Errorf("%s: no %s", name, r)
			}
		}
	}
}

// Of many rims only the first ones have a band, and the key says which; whiskers show
// the others'.
func TestManyRims(t *testing.T) {
	for _, c := range []struct {
		name  string
		bands []int
		key   string
	}{
		{"one rim", []int{0}, "central estimate, nine of ten draws"}, {"two descents", []int{0, 1}, "central estimate, nine of ten draws"},
		{"foreign limits", []int{0, 1, 2}, "central estimate, nine of ten draws"},
		{"five rims", []int{0, 1}, "central estimate, nine of ten draws (A and B)"}, {"twelve rims", []int{0, 1}, "central estimate, nine of ten draws (A and B)"},
	} {
		a := judged(cases()[c.name].whole())
		sc := mustCompose(t, a, Options{}, false)
		var bands []int
		for _, s := range sc.shapes {
			if s.role == roleDraws {
				bands = append(bands, s.rim)
			}
		}
		if !slices.Equal(bands, c.bands) {
			t.Errorf("%s: bands of %v, want %v", c.name, bands, c.bands)
		}
		if !slices.ContainsFunc(labelsOf(sc, roleKey), func(l label) bool { return l.text == c.key }) {
			t.Errorf("%s: the key does not say %q", c.name, c.key)
		}
		if n := said(sc, "Only A and B have a band"); n != map[bool]int{true: 1}[len(a.Rims) > mostBands] {
			t.Errorf("%s: that some rims have no band is said %d times", c.name, n)
		}
		degrees := degreesAt(t, sc)
		for i, r := range a.Rims {
			want := r.Risk.Limits[0].PeakC
			if !slices.ContainsFunc(sc.shapes, func(s shape) bool {
				return s.role == roleGauge && s.rim == i && len(s.pts) == 2 && s.pts[0].x == s.pts[1].x &&
					math.Abs(degrees(s.pts[0].y)-want.P05) < 0.1 && math.Abs(degrees(s.pts[1].y)-want.P95) < 0.1
			}) {
				t.Errorf("%s: rim %d's gauge has no whisker from %.1f to %.1f", c.name, i, want.P05, want.P95)
			}
		}
	}
}

// A whisker is that of the place which the limit is about. The track's stands in for no
// tyre side.
func TestDrawnPeak(t *testing.T) {
	nine := thermal.Percentiles{P05: 80, P50: 100, P95: 130}
	r := thermal.RimResult{Risk: &thermal.Risk{TrackC: thermal.Percentiles{P05: 90, P95: 150}}}
	if got := drawnPeak(&r, thermal.OnTrack); got != (span{90, 150}) {
		t.Errorf("track: %v", got)
	}
	if got := drawnPeak(&r, thermal.OnTyreSide); got.ok() {
		t.Errorf("tyre side of no draws: %v", got)
	}
	r.Risk.Limits = []thermal.LimitRisk{{On: thermal.OnTrack}, {On: thermal.OnTyreSide, PeakC: nine}}
	if got := drawnPeak(&r, thermal.OnTyreSide); got != (span{80, 130}) {
		t.Errorf("tyre side: %v", got)
	}
	r.Risk = nil
	if got := drawnPeak(&r, thermal.OnTrack); got.ok() {
		t.Errorf("no draws: %v", got)
	}
}

// Entries that make no band are left out, and few of them make none at all.
func TestBandOf(t *testing.T) {
	nan := math.NaN()
	got := bandOf(&thermal.Along{
		DistM: []float64{50, 150, nan, 250, 250, 350, 450, 550}, P05C: []float64{20, 21, 22, 23, 23, nan, 60, 26},
		P50C: make([]float64, 8), P95C: []float64{30, 31, 32, 33, 33, 34, 50, 36},
	})
	want := drawnBand{[]float64{0, 50, 150, 250, 550, 700}, []float64{20, 20, 21, 23, 26, 26}, []float64{30, 30, 31, 33, 36, 36}}
	if !slices.Equal(got.distM, want.distM) || !slices.Equal(got.lo, want.lo) || !slices.Equal(got.hi, want.hi) {
		t.Errorf("got %v, want %v", got, want)
	}
	for _, a := range []thermal.Along{{}, {DistM: []float64{1, 2}, P05C: []float64{nan, 3}, P95C: []float64{4, 5}}, {DistM: []float64{1, 2, 3}, P05C: []float64{1, 2, 3}}} {
		if bandOf(&a).drawn() {
			t.Errorf("%v makes a band", a)
		}
	}
}

// Where the band of another rim rises to a limit and none of its own does, the limit's
// line is cut, or it would read as the other's.
func TestLimitIsClearOfOthersBands(t *testing.T) {
	in := cases()["two descents"]
	in.rims = []inventedRim{{name: "Carbon", riseK: 60, lagM: 900, limitC: 120}, {name: "Aluminium", riseK: 70, lagM: 900, limitC: 200, tyreSide: true}}
	a := in.whole()
	cut := func() (line float64) {
		for _, s := range mustCompose(t, a, Options{}, false).shapes {
			if s.role == roleLimit && s.rim == 0 {
				line += s.pts[1].x - s.pts[0].x
			}
		}
		return line
	}
	whole := cut()
	other := a.Rims[1].Along
	high := 0
	for k := range other.P95C {
		if k > 100 && k < 150 {
			other.P95C[k], high = 140, high+1
		}
	}
	gap := float64(high) / float64(len(other.P95C)) * whole
	if got := whole - cut(); math.Abs(got-gap) > 4 {
		t.Errorf("the line is cut over %.1f points, want %.1f", got, gap)
	}
	own := a.Rims[0].Along
	for k := range own.P95C {
		if k > 90 && k < 160 {
			own.P95C[k] = 125
		}
	}
	if got := cut(); math.Abs(got-whole) > 1e-6 {
		t.Errorf("the line is %.1f long where its own band reaches it, want %.1f", got, whole)
	}
}

func TestSeriesAt(t *testing.T) {
	s := series{distM: []float64{10, 20, 20, 40}, v: []float64{1, 3, 5, 9}}
	for _, c := range [][2]float64{{0, 1}, {10, 1}, {15, 2}, {30, 7}, {40, 9}, {99, 9}} {
		if got := s.at(c[0]); got != c[1] {
			t.Errorf("at %g: %g, want %g", c[0], got, c[1])
		}
	}
	if !math.IsNaN((series{}).at(3)) {
		t.Error("an empty series has a value")
	}
}

// A sheet says where it stands; a part of a page leaves that to the page, but says
// which rims, whose limits and that these are assumed.
func TestWords(t *testing.T) {
	whole, without := cases()["two descents"].whole(), cases()["two descents"].assessment()
	for _, c := range []struct {
		a     *thermal.Assessment
		opt   Options
		want  string
		times int
	}{
		{whole, Options{}, "a limit is reached in 43 % of the draws", 2},
		{whole, Options{}, "Deep carbon clincher, 50 mm: over", 1},
		{whole, Options{}, "Classic aluminium clincher: within", 1},
		{whole, Options{}, "central estimate 138 °C: 18 K over the assumed limit of 120 °C; over for", 1},
		{whole, Options{Imperial: true}, "over the assumed limit of 248 °F", 1},
		{whole, Options{}, "Lines: central estimate. Bands and whiskers: nine of ten of 500 draws (seed 1)", 1},
		{whole, Options{}, "…", 0},
		{whole, Options{}, "All limits are assumed. Where the rim's maker states a limit, the maker's figure holds.", 1},
		{whole, Options{}, "passes its limit at km 32.9, 88 min, 518 m", 1},
		{whole, Options{}, "an assumed limit is believed to lie here", 1},
		{without, Options{}, "Lines: central estimate. How well air cools a rim (the film coefficient) is uncertain.", 1},
		{without, Options{}, "Deep carbon clincher, 50 mm: over", 1},
		{without, Options{}, "an assumed limit is believed to lie here", 0},
		{whole, Options{bare: true}, "Two hot passes", 0},
		{whole, Options{bare: true}, "maker", 0},
		{whole, Options{bare: true}, "of the draws", 0},
		{whole, Options{bare: true}, "passes its limit at km 32.9, 88 min, 518 m", 1},
		{whole, Options{bare: true}, "Deep carbon clincher, 50 mm", 1},
		{whole, Options{bare: true}, "Classic aluminium clincher", 1},
		{whole, Options{bare: true}, "limit of A: 120 °C, assumed", 2}, // at its line and in the key
		{whole, Options{bare: true}, "tyre-side limit of B: 130 °C, assumed", 1},
		{whole, Options{bare: true}, "nine of ten draws", 1},
	} {
		if n := said(mustCompose(t, c.a, c.opt, false), c.want); n != c.times {
			t.Errorf("%+v: %q stands there %d times, want %d", c.opt, c.want, n, c.times)
		}
	}
	sc := mustCompose(t, whole, Options{bare: true}, false)
	if sc.w != filmW || sc.h < 330 || sc.h > 382 {
		t.Errorf("a part of a page is %g by %g points", sc.w, sc.h)
	}
	if n := len(labelsOf(sc, roleTitle)) + len(labelsOf(sc, roleFooter)); n > 0 {
		t.Errorf("a part of a page has %d lines of title and foot", n)
	}
	maker := cases()["one rim"].whole()
	maker.Rims[0].LimitAssumed, maker.Rims[0].Limits[0].Assumed = false, false
	if n := said(mustCompose(t, maker, Options{}, false), "assumed"); n > 0 {
		t.Errorf("a maker's limit is called assumed %d times", n)
	}
}
