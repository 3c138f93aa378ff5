package plots

import (
	"bytes"
	"errors"
	"fmt"
	"maps"
	"math"
	"math/rand/v2"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"rimheat/route"
	"rimheat/thermal"
)

func TestRouteMapGoldenOutlines(t *testing.T) {
	holdGolden(t, "two descents", "route_map", outline(layMap(t, cases()["two descents"].whole(), Options{}, false).sc))
	holdGolden(t, "five rims", "route_map_imperial", outline(layMap(t, cases()["five rims pulsing"].whole(), Options{Imperial: true}, false).sc))
	holdGolden(t, "five rims", "route_map_bare", outline(layMap(t, cases()["five rims"].whole(), Options{bare: true}, false).sc))
}

// Whatever the road, words lie apart, on the sheet and off the road, and what a rider
// looks for is there.
func TestRouteMapLayout(t *testing.T) {
	t.Parallel()
	all := mapRides()
	for _, name := range slices.Sorted(maps.Keys(all)) {
		for k := range 8 {
			opt, viewers := Options{Imperial: k&1 > 0, bare: k&4 > 0}, k&2 > 0
			t.Run(fmt.Sprintf("%s, %+v, viewer's fonts %t", name, opt, viewers), func(t *testing.T) {
				checkRouteMap(t, layMap(t, all[name], opt, viewers))
			})
		}
	}
}

func checkRouteMap(t *testing.T, m *routeMap) {
	t.Helper()
	sc := m.sc
	checkLabelsApart(t, sc)
	checkNoLineThroughLabels(t, sc)
	w, low, high := 540.0, 380.0, 660.0
	if m.look.bare {
		w, low, high = 264, 264, 264
	}
	if sc.w != w || sc.h < low || sc.h > high {
		t.Errorf("the sheet is %.0f by %.0f points", sc.w, sc.h)
	}
	for _, s := range sc.shapes {
		for i, p := range s.pts {
			if !finite(p.x) || !finite(p.y) || p.x < -1e-9 || p.y < -1e-9 || p.x > sc.w+1e-9 || p.y > sc.h+1e-9 {
				t.Fatalf("%s: a point at %v", s.role, p)
			}
			grown := 0.0
			switch s.role {
			case roleRoad:
				grown = m.look.casing / 2
			case roleHairpin, roleDirection, roleFrame, roleHottest, roleStart, roleEnd, roleRest, roleNorth, roleScale:
			default:
				continue
			}
			for _, l := range sc.labels {
				if i > 0 && l.box.grown(grown).cutBy(s.pts[i-1], p) {
					t.Fatalf("a %s runs through %q", s.role, l.text)
				}
			}
		}
	}
	words := strings.Builder{}
	for _, l := range sc.labels {
		words.WriteString(l.text + "\n")
	}
	want := []string{"N", "start", "end", "brake track, hotter wheel", m.u.tempText(m.r.PeakC)}
	if len(m.r.Over) > 0 {
		want = append(want, "first over", map[bool]string{true: "over its assumed ", false: "over its "}[m.r.LimitAssumed]+limitOf(m.r.LimitOn))
	}
	if tag := tagOf(m.rim, len(m.a.Rims)); tag != "" {
		want = append(want, tag)
	}
	if c, assumed, found := m.trackLimit(); found && assumed {
		want = append(want, "limit "+m.u.tempText(c)+", assumed")
	}
	for _, w := range want {
		if !strings.Contains(words.String(), w) {
			t.Errorf("%q stands nowhere", w)
		}
	}
	if len(m.instead) > 0 {
		t.Errorf("%q has no room at its place", m.instead[0].text)
	}
	count := map[role]int{}
	for _, s := range sc.shapes {
		count[s.role]++
	}
	for r, least := range map[role]int{roleHottest: 1, roleStart: 1, roleEnd: 1, roleScale: 1, roleNorth: 2, roleHeat: 4} {
		if count[r] < least {
			t.Errorf("%d shapes of %s, want %d at least", count[r], r, least)
		}
	}
	if over := len(m.r.Over) > 0; over != (count[roleCrossing] > 0) || !over && count[roleOverRoad] > 0 {
		t.Errorf("over its limit: %t, but %d crossings and %d stretches are marked", over, count[roleCrossing], count[roleOverRoad])
	}
	if long := length(m.main.road.at) > 60; long && len(m.r.Over) > 0 && count[roleOverRoad] == 0 {
		t.Error("a stretch over the limit is seen by its colour alone")
	}
}

func TestRouteMapOfRandomRides(t *testing.T) {
	t.Parallel()
	const seed, rides = 9, 60
	for k := range rides {
		rng := rand.New(rand.NewPCG(seed, uint64(k)))
		lengthM := 300 * math.Exp(7*rng.Float64())
		p := planRide{
			lengthM: lengthM, stepM: max(5, lengthM/8000), lat: 160*rng.Float64() - 80, lon: 360*rng.Float64() - 180,
			tempC: warm(lengthM*(0.05+rng.Float64()), 60+150*rng.Float64()), limitC: 80 + 100*rng.Float64(),
		}
		p.at = wandering(rng, lengthM, p.stepM)
		a := p.assessment()
		for range rng.IntN(30) {
			at := lengthM * rng.Float64()
			a.Descents = append(a.Descents, thermal.Descent{StartM: at, EndM: at + 0.1*lengthM, DropM: 500 * rng.Float64()})
			a.Trace.HairpinM = append(a.Trace.HairpinM, at)
		}
		for range rng.IntN(8) {
			a.Trace.Stands = append(a.Trace.Stands, thermal.Stand{AtM: lengthM * rng.Float64(), S: 900 * rng.Float64(), Recorded: rng.IntN(2) == 0})
		}
		for _, bare := range []bool{false, true} {
			checkRouteMap(t, layMap(t, a, Options{Imperial: rng.IntN(2) == 0, bare: bare}, false))
		}
		if t.Failed() {
			t.Fatalf("ride %d, bare or not: %.0f m", k, lengthM)
		}
	}
}

func TestRouteMapHostileNames(t *testing.T) {
	for _, name := range []string{"hostile names", "long word", "right to left", "only missing", "no name", "long name"} {
		a := cases()[name].whole()
		a.Rims[0].Name = a.Route.Name
		for _, bare := range []bool{false, true} {
			for _, viewers := range []bool{false, true} {
				m := layMap(t, a, Options{bare: bare}, viewers)
				checkRouteMap(t, m)
				for _, l := range m.sc.labels {
					if strings.ContainsAny(l.text, "\x1b\x00\u202e\xff") {
						t.Errorf("%q", l.text)
					}
				}
			}
		}
		for _, format := range Formats() {
			var b bytes.Buffer
			if err := SaveRouteMap(&b, format, a, Options{}); err != nil {
				t.Fatal(err)
			}
			if format == "svg" {
				checkSVG(t, name, b.Bytes())
			}
		}
	}
}

func TestSaveRouteMap(t *testing.T) {
	good := cases()["five rims"].whole()
	for format, begin := range map[string]string{"png": "\x89PNG", "svg": "<?xml", "pdf": "%PDF"} {
		var a, b bytes.Buffer
		for _, w := range []*bytes.Buffer{&a, &b} {
			if err := SaveRouteMap(w, format, good, Options{}); err != nil {
				t.Fatal(err)
			}
		}
		if !strings.HasPrefix(a.String(), begin) || !bytes.Equal(a.Bytes(), b.Bytes()) {
			t.Errorf("%s: begins with %q, or two figures differ", format, a.String()[:8])
		}
	}
	spoilt := func(spoil func(a *thermal.Assessment)) *thermal.Assessment {
		a := cases()["two descents"].whole()
		spoil(a)
		return a
	}
	few := "the assessment has positions of fewer than two places: no map can be drawn"
	checkRefusals(t, SaveRouteMap, []refusal{
		{"gif", good, `figure format "gif" is none of png, svg, pdf`},
		{"png", nil, "no assessment to draw a figure of"},
		{"png", &thermal.Assessment{}, "the assessment has no rim to draw"},
		{"svg", cases()["two descents"].assessment(), "the route has no positions to draw a map of"},
		{"svg", spoilt(func(a *thermal.Assessment) { a.Trace.LonDeg = a.Trace.LonDeg[:40] }), "the assessment has 4201 distances along the route, but 4201 latitudes and 40 longitudes: no map can be drawn"},
		{"svg", spoilt(func(a *thermal.Assessment) {
			tr := &a.Trace
			tr.DistM, tr.LatDeg, tr.LonDeg = tr.DistM[:1], tr.LatDeg[:1], tr.LonDeg[:1]
		}), few},
		{"svg", spoilt(func(a *thermal.Assessment) {
			for i := range a.Trace.LatDeg {
				a.Trace.LatDeg[i] = math.NaN()
			}
		}), few},
		{"svg", spoilt(func(a *thermal.Assessment) { a.Rims[0].Front, a.Rims[0].Rear = thermal.History{}, thermal.History{} }), "rim 1, which is worst placed, has no temperatures along the route to draw"},
	})
	if err := SaveRouteMap(&shut{}, "svg", good, Options{}); !errors.Is(err, errShut) {
		t.Errorf("error %v of a shut writer", err)
	}
}

// Numbers that are none stay out of the picture.
func TestRouteMapSpoiltNumbers(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	a := cases()["two descents"].whole()
	a.Trace.LatDeg[7], a.Trace.LonDeg[900], a.Trace.DistM[30], a.Trace.LatDeg[2000] = nan, inf, nan, 91
	a.Trace.HairpinM[0] = nan
	a.Trace.Stands = append(a.Trace.Stands, thermal.Stand{AtM: nan, S: 60}, thermal.Stand{AtM: 4000, S: inf}, thermal.Stand{AtM: 5000, S: -3})
	a.Descents = append(a.Descents, thermal.Descent{StartM: nan, EndM: inf})
	r := &a.Rims[0]
	r.Front.TrackC[5], r.Rear.TrackC[5], r.Front.DistM[11] = nan, inf, nan
	r.Over = append(r.Over, thermal.OverSpan{StartM: nan, EndM: inf})
	r.Limits = append(r.Limits, thermal.LimitResult{On: thermal.OnTyreSide, LimitC: inf})
	checkRouteMap(t, layMap(t, a, Options{}, false))
	r.LimitC, r.Limits = nan, nil
	checkRouteMap(t, layMap(t, a, Options{}, false))
}

func TestRouteMapIsBounded(t *testing.T) {
	long := cases()["five rims pulsing"]
	long.lengthM, long.descents = 400000, 30
	hot := planRide{lengthM: 400000, stepM: 10, lat: 46, lon: 7, limitC: 120}
	rng := rand.New(rand.NewPCG(1, 1))
	hot.at = wandering(rng, hot.lengthM, hot.stepM)
	hot.tempC = func(m float64) float64 { return 60 + 80*math.Abs(math.Sin(m/90)) }
	laps := hot
	laps.at = func(m float64) xy { return xy{300 * math.Cos(m/300), 200 * math.Sin(m/300)} }
	for name, a := range map[string]*thermal.Assessment{"pulsing": long.whole(), "wandering": hot.assessment(), "laps": laps.assessment()} {
		var b bytes.Buffer
		if err := SaveRouteMap(&b, "svg", a, Options{}); err != nil {
			t.Fatal(err)
		}
		if b.Len() > 1_000_000 {
			t.Errorf("%s: SVG has %d bytes", name, b.Len())
		}
	}
}

// The demonstration routes as the model assesses them, ragged curves and smooth ones.
func TestRouteMapOfAssessedRides(t *testing.T) {
	files, err := filepath.Glob("../testdata/*.gpx")
	if err != nil || len(files) == 0 {
		t.Fatalf("no demonstration routes: %v", err)
	}
	for _, file := range files {
		p, err := route.Load(file, nil, route.Options{})
		if err != nil {
			t.Fatal(err)
		}
		for _, id := range []string{"cautious", "brisk"} {
			s := thermal.DefaultSetup()
			s.Style, _ = thermal.StyleByID(id)
			a, err := thermal.Assess(p, s)
			if err != nil {
				t.Fatal(err)
			}
			for _, bare := range []bool{false, true} {
				checkRouteMap(t, layMap(t, a, Options{bare: bare}, false))
			}
			if t.Failed() {
				t.Fatalf("%s, %s", file, id)
			}
		}
	}
}
