package plots

import (
	"math"
	"slices"
	"testing"

	"rimheat/thermal"
)

// The symbols lie where the assessment says, to what the thinned road allows.
func TestMapMarksItsPlaces(t *testing.T) {
	for name, in := range cases() {
		a := in.whole()
		for _, bare := range []bool{false, true} {
			m := layMap(t, a, Options{bare: bare}, false)
			r := m.r
			at, c := m.hottestPlace()
			if math.Abs(c-r.PeakC) > 1e-9 {
				t.Errorf("%s: the hottest place has %.2f °C, the rim peaks at %.2f °C", name, c, r.PeakC)
			}
			for _, want := range []struct {
				r   role
				atM float64
				is  bool
			}{{roleHottest, at, true}, {roleCrossing, 0, len(r.Over) > 0}} {
				if !want.is {
					continue
				}
				if want.r == roleCrossing {
					want.atM = r.Over[0].StartM
				}
				pane := m.main
				if m.enlarges(want.atM) {
					pane = m.detail
				}
				p := pane.road.place(want.atM)
				boxes := m.sc.boxes(want.r)
				if len(boxes) != 1 {
					t.Fatalf("%s: %d symbols of %s", name, len(boxes), want.r)
				}
				b := boxes[0]
				on := b.grown(0.3).holds(p)
				// Beside its place it has a stem there.
				stem := slices.ContainsFunc(m.sc.shapes, func(s shape) bool {
					return s.role == roleLeader && math.Hypot(s.pts[0].x-p.x, s.pts[0].y-p.y) < 0.01 && b.grown(1).holds(s.pts[len(s.pts)-1])
				})
				if !on && !stem {
					t.Errorf("%s: %s is at %v, its place at %v", name, want.r, b, p)
				}
			}
		}
	}
}

// No rest is lost between the map and its enlarged part.
func TestEveryRestIsMarkedOnce(t *testing.T) {
	a := cases()["five rims pulsing"].whole()
	at, _ := layMap(t, a, Options{}, false).hottestPlace()
	a.Trace.Stands = nil
	const rests = 12
	for k := range rests {
		a.Trace.Stands = append(a.Trace.Stands, thermal.Stand{AtM: at + 300*float64(k), S: 100})
	}
	m := layMap(t, a, Options{}, false)
	if m.detail == nil {
		t.Fatal("the case does not show what it should: no part is enlarged")
	}
	n, labelled := 0, 0
	for _, p := range []*mapPane{m.main, m.detail} {
		here := 0
		for _, k := range p.restMarks() {
			here += k.n
		}
		if here == 0 {
			t.Fatal("the case does not show what it should: all rests are on one pane")
		}
		n += here
	}
	for _, l := range m.sc.labels {
		if l.role == roleRest {
			labelled++
		}
	}
	if n != rests || labelled == 0 {
		t.Errorf("%d of %d rests are marked, %d labelled", n, rests, labelled)
	}
}

// Every stretch over the limit has its lines beside the road.
func TestStretchesOverTheLimitAreFramed(t *testing.T) {
	for name, a := range mapRides() {
		m := layMap(t, a, Options{}, false)
		for _, o := range m.r.Over {
			for _, d := range []float64{o.StartM, (o.StartM + o.EndM) / 2, o.EndM} {
				p, framed := m.main.road.place(d), false
				for _, s := range m.sc.shapes {
					for i := 1; s.role == roleOverRoad && i < len(s.pts); i++ {
						framed = framed || fromLine(p, s.pts[i-1], s.pts[i]) < 0.1
					}
				}
				if !framed && length(m.main.road.at) > 1 {
					t.Fatalf("%s: km %.2f is over the limit and has no line beside it", name, d/1000)
				}
			}
		}
	}
}

// Arrowheads stand beside a road that is ridden the way they point.
func TestArrowsPointTheWay(t *testing.T) {
	for name, a := range mapRides() {
		for _, bare := range []bool{false, true} {
			m := layMap(t, a, Options{bare: bare}, false)
			arrows := 0
			for _, s := range m.sc.shapes {
				if s.role != roleDirection {
					continue
				}
				arrows++
				if s.pts[0].y < m.main.panel.y0 { // the key's
					continue
				}
				tip, tail := s.pts[0], s.pts[2]
				pane := m.main
				if m.detail != nil && m.detailBox.holds(tip) {
					pane = m.detail
				}
				far := pane.look.rail/2 + 9
				found := false
				for d := pane.road.startM(); d <= pane.road.endM() && !found; d += 1 / pane.road.ptPerM {
					p, h := pane.road.place(d), pane.road.heading(d, 10)
					along := (h.x*(tip.x-tail.x) + h.y*(tip.y-tail.y)) / math.Hypot(tip.x-tail.x, tip.y-tail.y)
					found = along > 0.95 && math.Hypot(p.x-tip.x, p.y-tip.y) < far
				}
				if !found {
					t.Errorf("%s: an arrow at %v points where nobody rides", name, tip)
				}
			}
			b := boundsOf(m.main.road.at)
			if across := max(b.x1-b.x0, b.y1-b.y0); arrows < 2 && across > 150 && length(m.main.road.at) < 20*across || arrows == 0 && name == "laps" {
				t.Errorf("%s: the direction of travel cannot be seen", name)
			}
		}
	}
}

// The enlarged part shows the ground that is framed on the map, and only where it helps.
func TestEnlargedPart(t *testing.T) {
	rides := mapRides()
	shown := 0
	for name, a := range rides {
		m := layMap(t, a, Options{}, false)
		if m.detail == nil {
			continue
		}
		shown++
		if k := m.detail.road.ptPerM / m.main.road.ptPerM; k < leastEnlarged {
			t.Errorf("%s: enlarged %.2f times", name, k)
		}
		at, _ := m.hottestPlace()
		if !m.detail.shows(at) || !m.frame.holds(m.main.road.place(at)) {
			t.Errorf("%s: the hottest place is not on the enlarged part, or not in the frame", name)
		}
		if m.detailBox.meets(m.frame) || m.main.busy.onRoad(m.detailBox) {
			t.Errorf("%s: the enlarged part lies on the road", name)
		}
		for d := m.main.road.startM(); d <= m.main.road.endM(); d += 50 {
			if m.detail.panel.holds(m.detail.road.place(d)) && !m.frame.grown(0.5).holds(m.main.road.place(d)) {
				t.Errorf("%s: km %.2f is on the enlarged part, but outside the frame", name, d/1000)
				break
			}
		}
	}
	if shown < 3 {
		t.Errorf("only %d maps have an enlarged part", shown)
	}
	// A straight road needs it only where it is so long that the hottest part is a dot.
	for name, want := range map[string]bool{"due north": false, "due east": false, "long": true} {
		if got := layMap(t, rides[name], Options{}, false).detail != nil; got != want {
			t.Errorf("%s: enlarged %t, want %t", name, got, want)
		}
	}
	cool := planRide{lengthM: 80000, stepM: 20, lat: 46, lon: 7, limitC: 120, at: func(m float64) xy { return xy{m, 0} }, tempC: warm(80000, 60)}
	if layMap(t, cool.assessment(), Options{}, false).detail != nil {
		t.Error("a rim well within its limits has an enlarged part")
	}
}
