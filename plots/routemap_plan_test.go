package plots

import (
	"math"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/tidwall/geodesic"
)

// A square is a square, also far north and over the 180th meridian.
func TestMapIsTrueToShape(t *testing.T) {
	for _, at := range [][2]float64{{60, 7}, {0, 0}, {-45, 179.995}, {78, 15}, {89.999, -120}, {-89.99, 0}} {
		p := planRide{lengthM: 4000, stepM: 10, at: squareRoad(1000), lat: at[0], lon: at[1], tempC: warm(4000, 90), limitC: 120}
		m := layMap(t, p.assessment(), Options{}, false)
		var side []float64
		corner := func(i int) xy { return m.main.road.place(1000 * float64(i)) }
		for i := range 4 {
			a, b := corner(i), corner(i+1)
			side = append(side, math.Hypot(b.x-a.x, b.y-a.y))
		}
		diagonal := math.Hypot(corner(2).x-corner(0).x, corner(2).y-corner(0).y)
		side = append(side, diagonal/math.Sqrt2)
		if lo, hi := slices.Min(side), slices.Max(side); hi > 1.01*lo || lo < 100 {
			t.Errorf("%v: sides of a square are %.2f points", at, side)
		}
		// North is up, east is right, but at the poles, where every way is south.
		if a, b := corner(0), corner(1); math.Abs(at[0]) < 80 && (b.x <= a.x || math.Abs(b.y-a.y) > 0.02*(b.x-a.x) || corner(2).y <= corner(1).y) {
			t.Errorf("%v: a road to the east goes from %v to %v", at, a, b)
		}
	}
}

// The same road drawn over the 180th meridian looks as it does elsewhere.
func TestMapOverTheAntimeridian(t *testing.T) {
	draw := func(lon float64) []xy {
		a := cases()["two descents"].whole()
		for i := range a.Trace.LonDeg {
			a.Trace.LonDeg[i] = math.Mod(a.Trace.LonDeg[i]+lon+540, 360) - 180
		}
		return layMap(t, a, Options{}, false).main.road.at
	}
	here, there := draw(0), draw(180-7.31)
	if len(here) != len(there) {
		t.Fatalf("%d corners here, %d there", len(here), len(there))
	}
	for i := range here {
		if math.Hypot(here[i].x-there[i].x, here[i].y-there[i].y) > 0.01 {
			t.Fatalf("corner %d lies at %v here, at %v there", i, here[i], there[i])
		}
	}
}

// What the scale bar calls so long is so long on the ground: by the geodesic between the
// ends of a road.
func TestScaleBarAgainstGeodesic(t *testing.T) {
	unit := map[string]float64{"m": 1, "km": 1000, "mi": 1609.344, "ft": 0.3048}
	for _, lengthM := range []float64{150, 2000, 60000, 400000} {
		for _, way := range []xy{{1, 0}, {0, 1}, {0.6, -0.8}} {
			for k := range 4 {
				opt := Options{Imperial: k&1 > 0, bare: k&2 > 0}
				p := planRide{
					lengthM: lengthM, stepM: lengthM / 500, lat: 52, lon: -3, tempC: warm(lengthM, 90), limitC: 120,
					at: func(m float64) xy { return xy{way.x * m, way.y * m} },
				}
				a := p.assessment()
				m := layMap(t, a, opt, false)
				n := len(a.Trace.LatDeg) - 1
				var trueM float64
				geodesic.WGS84.Inverse(a.Trace.LatDeg[0], a.Trace.LonDeg[0], a.Trace.LatDeg[n], a.Trace.LonDeg[n], &trueM, nil, nil)
				p0, p1 := m.main.road.place(0), m.main.road.place(lengthM)
				perM := math.Hypot(p1.x-p0.x, p1.y-p0.y) / trueM
				k := slices.IndexFunc(m.sc.labels, func(l label) bool { return l.role == roleScale && l.text != "enlarged" })
				digits, name, _ := strings.Cut(m.sc.labels[k].text, " ")
				says, err := strconv.ParseFloat(strings.ReplaceAll(digits, ",", ""), 64)
				if err != nil || unit[name] == 0 {
					t.Fatalf("scale bar %q", m.sc.labels[k].text)
				}
				b := m.sc.boxes(roleScale)[0]
				if got := (b.x1 - b.x0) / (says * unit[name] * perM); math.Abs(got-1) > 0.003 {
					t.Errorf("%.0f m, %v, %+v: the bar of %q is %.4f times as long as it says", lengthM, way, opt, m.sc.labels[k].text, got)
				}
				if w := b.x1 - b.x0; w < 20 || w > 110 {
					t.Errorf("a scale bar of %.0f points", w)
				}
			}
		}
	}
}

// Leaving corners away moves no place by more than was allowed, and a road that turns
// back on itself keeps its turns.
func TestThinnedRoadStaysInPlace(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 3))
	for k := range 40 {
		at := wandering(rng, 5000, 10)
		if k%4 == 0 {
			at = func(m float64) xy { return xy{100 * math.Sin(m/200), 0} }
		}
		l := roadLine{ptPerM: 1}
		for m := 0.0; m < 5000; m += 10 {
			p := at(m)
			l.distM, l.at = append(l.distM, m), append(l.at, xy{p.x / 10, p.y / 10})
		}
		thin := l.within(mapError)
		for i, p := range l.at {
			q := thin.place(l.distM[i])
			if math.Abs(p.x-q.x) > mapError+1e-9 || math.Abs(p.y-q.y) > mapError+1e-9 {
				t.Fatalf("road %d: a place at %v is drawn at %v", k, p, q)
			}
		}
		if len(thin.at) > len(l.at)/2 {
			t.Errorf("road %d: %d of %d corners are kept", k, len(thin.at), len(l.at))
		}
	}
}

func TestStretches(t *testing.T) {
	s := series{distM: []float64{0, 10, 20, 20, 30, 40, 50}, v: []float64{0, 10, 0, 8, 8, 0, 6}}
	if got, want := s.atLeast(5), []stretch{{5, 15}, {20, 33.75}, {40 + 50.0/6, 50}}; !slices.EqualFunc(got, want, func(a, b stretch) bool {
		return math.Abs(a.fromM-b.fromM) < 1e-9 && math.Abs(a.toM-b.toM) < 1e-9
	}) {
		t.Errorf("at least 5: %v, want %v", got, want)
	}
	if got := s.atLeast(10); len(got) != 1 || got[0] != (stretch{10, 10}) {
		t.Errorf("a single place at the level: %v", got)
	}
	if got := s.atLeast(11); got != nil {
		t.Errorf("over all: %v", got)
	}
	if got, want := seen([]stretch{{10, 10}, {13, 30}, {40, 41}}, 4, 2), []stretch{{8, 30}, {38.5, 42.5}}; !slices.Equal(got, want) {
		t.Errorf("seen: %v, want %v", got, want)
	}
	if got, want := outside([]stretch{{0, 10}, {20, 30}, {40, 50}}, []stretch{{-5, 2}, {4, 6}, {8, 22}, {39, 60}}, 0.5), []stretch{{1.5, 4.5}, {5.5, 8.5}, {21.5, 30}}; !slices.Equal(got, want) {
		t.Errorf("outside: %v, want %v", got, want)
	}
}
