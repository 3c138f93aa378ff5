package plots

import (
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"rimheat/route"
	"rimheat/thermal"
)

func sectionScene(t *testing.T, a *thermal.Assessment, opt Options, viewerFonts bool) *scene {
	t.Helper()
	tf, err := newTypeface(viewerFonts)
	if err != nil {
		t.Fatal(err)
	}
	sc, err := composeSections(a, opt, tf)
	if err != nil {
		t.Fatal(err)
	}
	return sc
}

// sectionLines are the roles of lines that run through no label.
var sectionLines = []role{roleLeader, roleLimit, roleSection, roleIsotherm, roleNear, roleScale, roleTick}

func checkSection(t *testing.T, sc *scene, bare bool) {
	t.Helper()
	checkNarrow(t, sc, sectionLines...)
	if w := map[bool]float64{false: 540, true: 264}[bare]; sc.w != w {
		t.Errorf("the sheet is %g points wide, want %g", sc.w, w)
	}
	for _, l := range sc.labels {
		if strings.ContainsAny(l.text, "\x1b\x00\u202e\xff") || strings.Contains(l.text, "NaN") || strings.Contains(l.text, "Inf") {
			t.Errorf("label %q", l.text)
		}
	}
	checkLeadersApart(t, sc)
}

// checkLeadersApart holds that no two lines of one rim cross, so that each number can be
// followed to its place.
func checkLeadersApart(t *testing.T, sc *scene) {
	t.Helper()
	var lines []shape
	for _, s := range sc.shapes {
		if s.role == roleLeader {
			lines = append(lines, s)
		}
	}
	for i, a := range lines {
		for _, b := range lines[:i] {
			if a.rim == b.rim && cross(a.pts[0], a.pts[1], b.pts[0], b.pts[1]) {
				t.Errorf("lines of rim %d cross: %v, %v", a.rim, a.pts, b.pts)
			}
		}
	}
}

func TestSectionLayout(t *testing.T) {
	t.Parallel()
	all := cases()
	for _, name := range sorted() {
		a := all[name].whole()
		for k := range 8 {
			opt := Options{Imperial: k&1 > 0, bare: k&4 > 0}
			t.Run(fmt.Sprintf("%s, %+v, viewer's fonts %t", name, opt, k&2 > 0), func(t *testing.T) {
				sc := sectionScene(t, a, opt, k&2 > 0)
				checkSection(t, sc, opt.bare)
				if opt.bare && len(a.Rims) < 3 && sc.h > 325 {
					t.Errorf("half a page's picture is %g points high", sc.h)
				}
				for _, l := range sc.labels {
					if !strings.Contains(name, "long") && name != "hostile names" && name != "missing glyphs" && name != "five rims pulsing" && strings.Contains(l.text, "…") {
						t.Errorf("%q is cut", l.text)
					}
				}
			})
		}
	}
}

// gridded is half a box section of the given wall on a plain grid, neighbours sharing
// corners, with a temperature of place (m from the plane of the wheel, m below the edge).
func gridded(halfM, depthM, wallM float64, at func(x, y float64) float64) *thermal.Field {
	f := &thermal.Field{
		Wheel: "front", HalfWidthM: halfM, DepthM: depthM, AtM: 4200, TimeS: 660, TrackFromM: 0.05 * depthM, TrackToM: 0.4 * depthM,
		BedFromM: 0.25 * depthM, BedToM: 0.3 * depthM, AirC: 31,
	}
	floor := depthM - wallM
	xs := []float64{0, halfM / 3, (halfM - wallM) * 0.8, halfM - wallM, halfM - 0.7*wallM, halfM - 0.4*wallM, halfM}
	ys := []float64{0, f.TrackFromM, 0.15 * depthM, f.BedFromM, f.BedToM, f.TrackToM, 0.55 * depthM, 0.7 * depthM, floor, depthM}
	slices.Sort(ys)
	for j := range ys[1:] {
		for i := range xs[1:] {
			x, y := (xs[i]+xs[i+1])/2, (ys[j]+ys[j+1])/2
			if x > halfM-wallM || y > f.BedFromM && y < f.BedToM || y > floor {
				f.Cells = append(f.Cells, thermal.FieldCell{X: [4]float64{xs[i+1], xs[i], xs[i], xs[i+1]}, Y: [4]float64{ys[j], ys[j], ys[j+1], ys[j+1]}, C: at(x, y)})
			}
		}
	}
	f.TrackC, f.SurfaceC = at(halfM-wallM/2, (f.TrackFromM+f.TrackToM)/2), at(halfM, (f.TrackFromM+f.TrackToM)/2)
	f.BedC, f.SpokeBedC, f.TyreSideC = at(0, (f.BedFromM+f.BedToM)/2), at(0, depthM-wallM/2), at(halfM-wallM, f.TrackFromM)
	return f
}

// Rims of any size beside each other, any number of them, stay apart.
func TestSectionLayoutOfRandomRims(t *testing.T) {
	t.Parallel()
	const seed, rides = 11, 150
	in := cases()["one descent"].whole()
	for k := range rides {
		rng := rand.New(rand.NewPCG(seed, uint64(k)))
		a := *in
		a.Rims = nil
		n := 1 + rng.IntN(7)
		for i := range n {
			r := thermal.RimResult{Name: "Invented rim, 30 mm", Composite: rng.IntN(2) == 0, LimitOn: thermal.OnTrack, LimitC: 60 + 150*rng.Float64(), LimitAssumed: true, PeakInDoubt: rng.IntN(6) == 0, PeakInStop: rng.IntN(6) == 0}
			if rng.IntN(2) == 0 {
				r.LimitOn = thermal.OnTyreSide
			}
			half := 0.005 + 0.025*rng.Float64()
			rise, reach := 200*rng.Float64(), 0.002+0.1*rng.Float64()*rng.Float64()
			r.Field = gridded(half, 0.012+0.108*rng.Float64()*rng.Float64(), half*(0.05+0.3*rng.Float64()), func(x, y float64) float64 {
				return 31 + rise*math.Exp(-math.Hypot(half-x, max(0, y-0.01))/reach)
			})
			r.MarginK = r.LimitC - r.Field.TrackC
			if n > 2 && i == 1 && rng.IntN(3) == 0 {
				r.Field = nil
			}
			a.Rims = append(a.Rims, r)
		}
		for _, bare := range []bool{false, true} {
			checkSection(t, sectionScene(t, &a, Options{Imperial: k&1 > 0, bare: bare}, k&2 > 0), bare)
		}
		if t.Failed() {
			t.Fatalf("ride %d", k)
		}
	}
}

func TestSectionGoldenOutlines(t *testing.T) {
	holdGolden(t, "two descents", "section", outline(sectionScene(t, assessedRide(t, "two_passes_hot.gpx", "carbon-deep", "alu-classic"), Options{}, false)))
	holdGolden(t, "four rims", "section_imperial", outline(sectionScene(t, assessedRide(t, "drag_hill.gpx", "alu-box", "carbon-deep", "alu-track", "carbon-thin"), Options{Imperial: true}, false)))
	holdGolden(t, "bare", "section_bare", outline(sectionScene(t, assessedRide(t, "two_passes_hot.gpx", "carbon-deep", "alu-classic"), Options{bare: true}, false)))
}

// assessedRide is a demonstration ride as the model assesses it, without draws.
func assessedRide(t testing.TB, file string, rims ...string) *thermal.Assessment {
	t.Helper()
	p, err := route.Load("../testdata/"+file, nil, route.Options{})
	if err != nil {
		t.Fatal(err)
	}
	s := thermal.DefaultSetup()
	s.Sampling.Samples = 0
	s.Wheels = nil
	for _, id := range rims {
		sec, ok := thermal.RimByID(id)
		if !ok {
			t.Fatalf("no rim %s", id)
		}
		s.Wheels = append(s.Wheels, thermal.NewWheel(sec))
	}
	a, err := thermal.Assess(p, s)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// Rims that hardly warm up look cool: nothing in them is darker than the pale end of the
// scale, whatever they differ by among themselves.
func TestCoolSectionsLookCool(t *testing.T) {
	for name, rise := range map[string]float64{"as warm as the air": 0, "two degrees": 2, "ten degrees": 10} {
		a := cases()["two descents"].whole()
		for i := range a.Rims {
			a.Rims[i].LimitC, a.Rims[i].Limits[0].LimitC = 130, 130
			a.Rims[i].Field = gridded(0.012, 0.04, 0.003, func(x, y float64) float64 { return 31 + rise*math.Exp(-y/0.01) })
		}
		sc := sectionScene(t, a, Options{}, false)
		drawn := 0
		for _, s := range sc.shapes {
			if s.role != roleField {
				continue
			}
			drawn++
			if l := luma(s); l < 170 {
				t.Errorf("%s: a colour of lightness %.0f of 255", name, l)
			}
		}
		if drawn == 0 {
			t.Errorf("%s: nothing drawn", name)
		}
		says := textOf(sc, roleVerdict)
		if strings.Contains(says, "keep") || strings.Contains(says, "spread") || !strings.Contains(says, "No track is ") {
			t.Errorf("%s: %s", name, says)
		}
	}
}

// textOf joins all labels of a role.
func textOf(sc *scene, r role) string {
	var out []string
	for _, l := range sc.labels {
		if l.role == r {
			out = append(out, l.text)
		}
	}
	return strings.Join(out, " ")
}

// Air and limits stand on the bar where their temperatures do, and an assumed limit is
// called assumed.
func TestSectionKeyMarks(t *testing.T) {
	a := assessedRide(t, "two_passes_hot.gpx", "carbon-deep", "alu-classic")
	a.Rims[0].LimitC, a.Rims[0].LimitAssumed = 240, false
	a.Rims[0].Limits[0].LimitC, a.Rims[0].Limits[0].Assumed = 240, false
	for _, opt := range []Options{{}, {Imperial: true}, {bare: true}} {
		sc := sectionScene(t, a, opt, false)
		u := units{imperial: opt.Imperial}
		// Two ticks give the bar's scale.
		var ticks []label
		for _, l := range sc.labels {
			if l.role == roleTick && !strings.HasPrefix(l.text, "°") {
				ticks = append(ticks, l)
			}
		}
		value := func(l label) (v float64) { fmt.Sscan(strings.ReplaceAll(l.text, ",", ""), &v); return v }
		middle := func(l label) float64 { return (l.box.x0 + l.box.x1) / 2 }
		p, q := ticks[0], ticks[len(ticks)-1]
		x := func(c float64) float64 {
			return middle(p) + (u.temp(c)-value(p))/(value(q)-value(p))*(middle(q)-middle(p))
		}
		for _, want := range []float64{a.Rims[0].Field.AirC, 240, 130} {
			if !slices.ContainsFunc(sc.shapes, func(s shape) bool { return s.role == roleLimit && math.Abs(s.pts[0].x-x(want)) < 0.2 }) {
				t.Errorf("%+v: %g °C is not marked at %.1f", opt, want, x(want))
			}
		}
		words := textOf(sc, roleKey)
		for _, want := range []string{"limit of A: " + u.tempText(240), "tyre-side limit of B: " + u.tempText(130) + ", assumed", "air there: " + u.tempText(a.Rims[0].Field.AirC)} {
			if !strings.Contains(words, want) {
				t.Errorf("%+v: %q lacks %q", opt, words, want)
			}
		}
		if strings.Contains(words, u.tempText(240)+", assumed") {
			t.Errorf("%+v: a maker's figure is called assumed", opt)
		}
	}
}

// A rim without a section is left away and said to be.
func TestSectionsThatAreMissing(t *testing.T) {
	a := cases()["five rims"].whole()
	a.Rims[1].Field, a.Rims[3].Field = nil, nil
	sc := sectionScene(t, a, Options{}, false)
	for i := range a.Rims {
		if drawn := len(sc.curve(roleField, i)) > 0; drawn != (i != 1 && i != 3) {
			t.Errorf("rim %d is drawn: %t", i, drawn)
		}
	}
	if got := textOf(sc, roleFooter); !strings.Contains(got, "Without a section in this assessment: B and D.") {
		t.Errorf("foot: %s", got)
	}
	if strings.Contains(textOf(sc, roleKey), "of B") {
		t.Error("the key names a rim that is not drawn")
	}
}

func TestSaveSections(t *testing.T) {
	t.Parallel()
	good := assessedRide(t, "two_passes_hot.gpx", "carbon-deep", "alu-classic")
	for _, opt := range []Options{{}, {bare: true}} {
		for _, format := range Formats() {
			var a, b bytes.Buffer
			if err := SaveSections(&a, format, good, opt); err != nil {
				t.Fatal(err)
			}
			if err := SaveSections(&b, format, good, opt); err != nil {
				t.Fatal(err)
			}
			if a.Len() == 0 || !bytes.Equal(a.Bytes(), b.Bytes()) {
				t.Errorf("%s: nothing, or two figures differ", format)
			}
			if format == "svg" {
				if checkSVG(t, "sections", a.Bytes()); a.Len() > 150_000 {
					t.Errorf("SVG of two sections has %d bytes, over 150 kB", a.Len())
				}
			}
		}
	}
	for _, name := range []string{"hostile names", "long word", "long name", "right to left", "only missing", "no name"} {
		a := cases()[name].whole()
		a.Rims[0].Field.Wheel = a.Route.Name
		for _, format := range Formats() {
			var b bytes.Buffer
			if err := SaveSections(&b, format, a, Options{}); err != nil {
				t.Fatal(err)
			}
			if format == "svg" {
				checkSVG(t, name, b.Bytes())
			}
		}
		for _, viewers := range []bool{false, true} {
			checkSection(t, sectionScene(t, a, Options{}, viewers), false)
		}
	}
	spoilt := func(spoil func(a *thermal.Assessment)) *thermal.Assessment {
		a := cases()["two descents"].whole()
		spoil(a)
		return a
	}
	none := "the section of rim 2 holds a number that is none"
	checkRefusals(t, SaveSections, []refusal{
		{"gif", good, `figure format "gif" is none of png, svg, pdf`},
		{"png", nil, "no assessment to draw a figure of"},
		{"png", &thermal.Assessment{}, "the assessment has no rim to draw"},
		{"png", cases()["one rim"].assessment(), "the assessment holds no section of a rim to draw"},
		{"svg", spoilt(func(a *thermal.Assessment) { a.Rims[1].Field.TrackC = math.NaN() }), none},
		{"svg", spoilt(func(a *thermal.Assessment) { a.Rims[1].Field.Cells[7].C = math.Inf(1) }), none},
		{"svg", spoilt(func(a *thermal.Assessment) { a.Rims[1].Field.Cells[7].X[2] = math.NaN() }), none},
		{"svg", spoilt(func(a *thermal.Assessment) { a.Rims[1].Field.Cells = nil }), "the section of rim 2 has no cells, no width or no depth"},
		{"svg", spoilt(func(a *thermal.Assessment) { a.Rims[1].Field.DepthM = 0 }), "the section of rim 2 has no cells, no width or no depth"},
		{"svg", spoilt(func(a *thermal.Assessment) { a.Rims[1].Field.Cells[7].Y[2] = 3 }), "the section of rim 2 has a cell outside its width and depth"},
	})
}
