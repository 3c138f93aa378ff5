package plots

import (
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"rimheat/thermal"
)

// inventedMap is a made-up map whose margin falls by perK and perKg about the
// planned ride, where it is nowK.
func inventedMap(nowK, perK, perKg float64) *thermal.Margins {
	g := &thermal.MarginMap{PlannedAirC: 35, PlannedKg: 84}
	for j := range 6 {
		g.TotalKg = append(g.TotalKg, 54+15*float64(j))
	}
	for i := range 7 {
		air := 11 + 6*float64(i)
		g.AirC = append(g.AirC, air)
		var row []float64
		for _, kg := range g.TotalKg {
			row = append(row, nowK-perK*(air-35)-perKg*(kg-84))
		}
		g.MarginK = append(g.MarginK, row)
	}
	return &thermal.Margins{
		Limits: []thermal.HeldLimit{{On: thermal.OnTrack, LimitC: 150}, {On: thermal.OnTyreSide, LimitC: 130, Assumed: true, LowC: 110, HighC: 150}},
		RimID:  "carbon-deep", Name: "50 mm deep carbon clincher", Route: "Two hot passes (invented)", Draws: 200, Seed: 1, Map: g,
		Now: thermal.Reply{MarginK: thermal.Percentiles{P05: nowK, P50: nowK + 25, P95: nowK + 50}, Chance: thermal.Chance{P: 0.07}},
	}
}

// mapCases are maps that try the layout.
func mapCases() map[string]*thermal.Margins {
	all := map[string]*thermal.Margins{
		"steep":                 inventedMap(-3, 1.1, 1.4),
		"level":                 inventedMap(2, 3, 0.02),
		"upright":               inventedMap(2, 0, 1.4),
		"corner":                inventedMap(-75, 1, 2),
		"all over":              inventedMap(-90, 0.5, 0.5),
		"all within":            inventedMap(90, 0.5, 0.5),
		"flat":                  inventedMap(7, 0, 0),
		"at it":                 inventedMap(0, 0, 0),
		"the other":             inventedMap(5, -1, -1),
		"huge":                  inventedMap(5, 400, 500),
		"hill":                  inventedMap(0, 0, 0),
		"saddle":                inventedMap(0, 0, 0),
		"planned at the corner": inventedMap(5, 1, 1),
		"planned off the map":   inventedMap(5, 1, 1),
	}
	for i, row := range all["hill"].Map.MarginK {
		for j := range row {
			row[j] = 45 - 9*math.Hypot(float64(i)-3, float64(j)-2.5)*2
			all["saddle"].Map.MarginK[i][j] = 8 * (float64(i) - 3) * (float64(j) - 2.5)
		}
	}
	all["planned at the corner"].Map.PlannedAirC, all["planned at the corner"].Map.PlannedKg = 47, 129
	all["planned off the map"].Map.PlannedAirC = 60
	return all
}

func mapScene(t *testing.T, m *thermal.Margins, imperial, viewerFonts bool) *scene {
	t.Helper()
	tf, err := newTypeface(viewerFonts)
	if err != nil {
		t.Fatal(err)
	}
	sc, err := composeMap(m, units{imperial: imperial}, tf)
	if err != nil {
		t.Fatal(err)
	}
	return sc
}

func TestMarginMapGoldenOutlines(t *testing.T) {
	holdGolden(t, "steep", "margin_map", outline(mapScene(t, mapCases()["steep"], false, false)))
	holdGolden(t, "corner", "margin_map_imperial", outline(mapScene(t, mapCases()["corner"], true, false)))
}

// checkNarrow holds a sheet to what a telephone's screen asks, and its shapes to the
// sheet.
func checkNarrow(t *testing.T, sc *scene, lines ...role) {
	t.Helper()
	const phonePx, leastPx = 390.0, 6.8
	checkLabelsApart(t, sc)
	checkNoLineThroughLabels(t, sc)
	for _, l := range sc.labels {
		if px := l.size * phonePx / sc.w; px < leastPx {
			t.Errorf("%q has %.1f pixels on a telephone", l.text, px)
		}
	}
	for _, s := range sc.shapes {
		for i, p := range s.pts {
			if !finite(p.x) || !finite(p.y) || p.x < -1e-9 || p.y < -1e-9 || p.x > sc.w+1e-9 || p.y > sc.h+1e-9 {
				t.Fatalf("%s: a point at %v", s.role, p)
			}
			if i == 0 || !slices.Contains(lines, s.role) {
				continue
			}
			for _, l := range sc.labels {
				if l.box.cutBy(s.pts[i-1], p) {
					t.Fatalf("a %s line runs through %q", s.role, l.text)
				}
			}
		}
	}
}

// Labels lie apart and on the sheet and no line runs through one, whatever the map.
func TestMarginMapLayout(t *testing.T) {
	t.Parallel()
	for name, m := range mapCases() {
		for k := range 4 {
			t.Run(fmt.Sprintf("%s, %d", name, k), func(t *testing.T) {
				checkNarrow(t, mapScene(t, m, k&1 > 0, k&2 > 0), roleContour, roleHatch, roleLimit, rolePlanned, roleAsked)
			})
		}
	}
	const seed, maps = 3, 120
	for k := range maps {
		rng := rand.New(rand.NewPCG(seed, uint64(k)))
		m := inventedMap(80*rng.Float64()-40, 3*rng.Float64()-1, 3*rng.Float64()-1)
		m.Map.PlannedAirC, m.Map.PlannedKg = 11+36*rng.Float64(), 54+75*rng.Float64()
		rough := 40 * rng.Float64() * rng.Float64()
		for _, row := range m.Map.MarginK {
			for j := range row {
				row[j] += rough * rng.NormFloat64()
			}
		}
		checkNarrow(t, mapScene(t, m, k&1 > 0, k&2 > 0), roleContour, roleHatch, roleLimit, rolePlanned, roleAsked)
		if t.Failed() {
			t.Fatalf("map %d: %v", k, m.Map)
		}
	}
}

func TestMarginMapHostileNames(t *testing.T) {
	for _, name := range []string{strings.Repeat("W", 10000), strings.Repeat("élégant ", 90), "\x1b[31m\u202ered\x00", "הדרך אל ההר", "山の道", "", "<b>&\xff"} {
		m := mapCases()["steep"]
		m.Route, m.Name, m.RimID = name, name, name
		for _, viewers := range []bool{false, true} {
			sc := mapScene(t, m, false, viewers)
			checkNarrow(t, sc, roleContour, roleHatch)
			for _, l := range sc.labels {
				if strings.ContainsAny(l.text, "\x1b\x00\u202e\xff") {
					t.Errorf("%q", l.text)
				}
			}
		}
		for _, format := range Formats() {
			var b bytes.Buffer
			if err := SaveMarginMap(&b, format, m, Options{}); err != nil {
				t.Fatal(err)
			}
			if format == "svg" {
				checkSVG(t, name, b.Bytes())
			}
		}
	}
}

// contains tells whether a place lies inside a closed run of points.
func contains(pts []xy, p xy) bool {
	in := false
	for i, a := range pts {
		b := pts[(i+1)%len(pts)]
		if (a.y > p.y) != (b.y > p.y) && p.x < a.x+(b.x-a.x)*(p.y-a.y)/(b.y-a.y) {
			in = !in
		}
	}
	return in
}

// What is painted at a place is the shade of the margin there, hatching lies where
// the rim is over and nowhere else, and the lines of a level follow it.
func TestMarginMapPaintsItsMargins(t *testing.T) {
	const seed, maps, places = 5, 40, 60
	tf, err := newTypeface(false)
	if err != nil {
		t.Fatal(err)
	}
	for k := range maps {
		rng := rand.New(rand.NewPCG(seed, uint64(k)))
		m := inventedMap(60*rng.Float64()-30, 2*rng.Float64()-1, 2*rng.Float64()-1)
		for _, row := range m.Map.MarginK {
			for j := range row {
				row[j] += 12 * rng.NormFloat64()
			}
		}
		sc, err := composeMap(m, units{}, tf)
		if err != nil {
			t.Fatal(err)
		}
		panel := sc.boxes(roleBand)[0]
		g := m.Map
		levels := mapLevels(units{})
		at := func(p xy) float64 { // bilinear
			u := (p.x - panel.x0) / (panel.x1 - panel.x0) * float64(len(g.TotalKg)-1)
			v := (p.y - panel.y0) / (panel.y1 - panel.y0) * float64(len(g.AirC)-1)
			j, i := min(int(u), len(g.TotalKg)-2), min(int(v), len(g.AirC)-2)
			u, v = u-float64(j), v-float64(i)
			return (g.MarginK[i][j]*(1-u)+g.MarginK[i][j+1]*u)*(1-v) + (g.MarginK[i+1][j]*(1-u)+g.MarginK[i+1][j+1]*u)*v
		}
		// Straight lines within a fine mesh miss the bilinear surface by no more.
		const tol = 0.4
		for range places {
			p := xy{panel.x0 + rng.Float64()*(panel.x1-panel.x0), panel.y0 + rng.Float64()*(panel.y1-panel.y0)}
			v := at(p)
			band := 0
			for _, l := range levels {
				if v > l {
					band++
				}
				if math.Abs(v-l) < tol {
					band = -100
				}
			}
			if band < 0 {
				continue
			}
			var got shape
			for _, s := range sc.shapes {
				if s.role == roleBand && contains(s.pts, p) {
					got = s
				}
			}
			if got.fill != shade(levels, band) {
				t.Fatalf("map %d: %.2f K is painted %v, want %v", k, v, got.fill, shade(levels, band))
			}
		}
		for _, s := range sc.shapes {
			switch s.role {
			case roleHatch:
				for f := 0.0; f <= 1; f += 0.1 {
					p := xy{s.pts[0].x + f*(s.pts[1].x-s.pts[0].x), s.pts[0].y + f*(s.pts[1].y-s.pts[0].y)}
					if v := at(p); v > tol {
						t.Fatalf("map %d: hatched where %.2f K are to spare", k, v)
					}
				}
			case roleLimit:
				for _, p := range s.pts {
					if v := at(p); p.y <= panel.y1 && math.Abs(v) > tol {
						t.Fatalf("map %d: the line of the limit runs where the margin is %.2f K", k, v)
					}
				}
			}
		}
		checkHatched(t, sc, panel, at, tol)
	}
}

// checkHatched looks for places that are over and far from any hatching, label or dot.
func checkHatched(t *testing.T, sc *scene, panel rect, at func(xy) float64, tol float64) {
	t.Helper()
	near := func(p xy) bool {
		b := rect{p.x - hatchApart, p.y - hatchApart, p.x + hatchApart, p.y + hatchApart}
		for _, s := range sc.shapes {
			if (s.role == roleHatch || s.role == rolePlanned) && slices.ContainsFunc(s.pts[1:], func(q xy) bool { return b.cutBy(s.pts[0], q) }) {
				return true
			}
		}
		return slices.ContainsFunc(sc.labels, func(l label) bool { return l.box.meets(b) })
	}
	for x := panel.x0 + 20; x < panel.x1-20; x += 11 {
		for y := panel.y0 + 20; y < panel.y1-20; y += 11 {
			over := true
			for _, d := range []xy{{0, 0}, {-14, 0}, {14, 0}, {0, 14}, {0, -14}, {10, 10}, {-10, -10}, {10, -10}, {-10, 10}} {
				over = over && at(xy{x + d.x, y + d.y}) < -tol
			}
			if over && !near(xy{x, y}) {
				t.Fatalf("over at %.0f, %.0f, and no hatching there", x, y)
			}
		}
	}
}

func said(sc *scene, text string) int {
	n := 0
	for _, l := range sc.labels {
		if strings.Contains(l.text, text) {
			n++
		}
	}
	return n
}

func TestMarginMapWords(t *testing.T) {
	all := mapCases()
	for _, c := range []struct {
		name     string
		imperial bool
		want     string
		times    int
	}{
		{"steep", false, "on this map: 79 K over to 65 K to spare", 1},
		{"steep", false, "planned, 84 kg and 35 °C: 3 K over; a limit is reached in 7 % of the draws", 1},
		{"steep", false, "limit reached in 1 draw of 20", 2},
		{"steep", false, "20 K to spare", 1},
		{"steep", false, "10 K over", 1},
		{"steep", false, "assumed", 1},
		{"steep", false, "200 draws, seed 1", 1},
		{"steep", true, "planned, 185 lb and 95 °F: 5 °F over;", 1},
		{"steep", true, "40 °F over", 1},
		{"steep", true, "total mass: rider, bicycle and luggage, lb", 1},
		{"all over", false, "over all over the map: 119 K to 63 K over", 1},
		{"all within", false, "within all over the map: 62 K to 117 K to spare", 1},
		{"at it", false, "over all over the map: less than 1 K over", 1},
		{"flat", false, "within all over the map: 7 K to spare", 1},
		{"at it", false, "the limit's own is not on this map", 1},
		{"all within", false, "limit reached in 1 draw of 20", 0},
		{"planned off the map", false, "; off this map", 1},
		{"planned off the map", false, "planned", 1},
		{"planned at the corner", false, "planned", 2},
	} {
		if n := said(mapScene(t, all[c.name], c.imperial, false), c.want); n != c.times {
			t.Errorf("%s: %q stands there %d times, want %d", c.name, c.want, n, c.times)
		}
	}
	for name, lines := range map[string]bool{"all over": false, "all within": false, "steep": true, "corner": true} {
		sc := mapScene(t, all[name], false, false)
		if got := len(sc.boxes(roleLimit)) > 0; got != lines {
			t.Errorf("%s: a line of the limit is drawn: %t", name, got)
		}
	}
	if n := len(mapScene(t, all["all within"], false, false).boxes(roleHatch)); n > 0 {
		t.Errorf("within all over the map, %d lines of hatching", n)
	}
}

// In grey the shades lighten from far over to far within.
func TestMarginMapShadesInGrey(t *testing.T) {
	levels := mapLevels(units{})
	last := -1.0
	for i := range len(levels) + 1 {
		c := shade(levels, i)
		grey := 0.299*float64(c.R) + 0.587*float64(c.G) + 0.114*float64(c.B)
		if grey < last {
			t.Errorf("band %d is darker than the one before: %.0f, %.0f", i, grey, last)
		}
		last = grey
	}
	over, spare := shade(levels, len(levels)/2), shade(levels, len(levels)/2+1)
	if d := int(spare.G) - int(over.G); d < 20 {
		t.Errorf("both sides of the limit are as light: %v, %v", over, spare)
	}
}

func TestSaveMarginMap(t *testing.T) {
	m := mapCases()["steep"]
	for format, begin := range map[string]string{"png": "\x89PNG", "svg": "<?xml", "pdf": "%PDF"} {
		var a, b bytes.Buffer
		if err := SaveMarginMap(&a, format, m, Options{}); err != nil {
			t.Fatal(err)
		}
		if err := SaveMarginMap(&b, format, m, Options{}); err != nil {
			t.Fatal(err)
		}
		if !strings.HasPrefix(a.String(), begin) || !bytes.Equal(a.Bytes(), b.Bytes()) {
			t.Errorf("%s: begins with %q, or two figures differ", format, a.String()[:8])
		}
	}
	spoilt := func(spoil func(m *thermal.Margins)) *thermal.Margins {
		m := mapCases()["steep"]
		spoil(m)
		return m
	}
	none := "the map of margins holds a number that is none"
	for _, c := range []struct {
		format string
		m      *thermal.Margins
		want   string
	}{
		{"gif", m, `figure format "gif" is none of png, svg, pdf`},
		{"png", nil, "no map of margins to draw"},
		{"png", &thermal.Margins{}, "no map of margins to draw"},
		{"svg", spoilt(func(m *thermal.Margins) { m.Map.MarginK[2][3] = math.NaN() }), none},
		{"svg", spoilt(func(m *thermal.Margins) { m.Map.MarginK[6][5] = math.Inf(-1) }), none},
		{"svg", spoilt(func(m *thermal.Margins) { m.Map.AirC[0] = math.Inf(-1) }), none},
		{"svg", spoilt(func(m *thermal.Margins) { m.Map.PlannedKg = math.NaN() }), none},
		{"svg", spoilt(func(m *thermal.Margins) { m.Now.MarginK.P05 = math.NaN() }), none},
		{"pdf", spoilt(func(m *thermal.Margins) { m.Map.MarginK[2] = nil }), "the map of margins has places without a margin"},
		{"pdf", spoilt(func(m *thermal.Margins) { m.Map.MarginK = nil }), "the map of margins has places without a margin"},
		{"pdf", spoilt(func(m *thermal.Margins) { m.Map.TotalKg = m.Map.TotalKg[:1] }), "the map of margins has fewer than two temperatures or masses"},
		{"pdf", spoilt(func(m *thermal.Margins) { m.Map.AirC[1] = m.Map.AirC[0] }), "the temperatures or masses of the map of margins do not rise"},
	} {
		w := &shut{}
		if err := SaveMarginMap(w, c.format, c.m, Options{}); err == nil || err.Error() != c.want || w.calls > 0 {
			t.Errorf("%s: %v, want %s", c.format, err, c.want)
		}
	}
}
