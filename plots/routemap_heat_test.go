package plots

import (
	"image/color"
	"math"
	"slices"
	"testing"

	"rimheat/thermal"
)

// classOf is the step of the scale that a colour stands for, by its lower bound, °C.
func (m *routeMap) classOf(c color.NRGBA) (loC float64, found bool) {
	for k := range m.steps {
		if lo := m.scale.loC + float64(k)*m.stepK; m.scale.at(lo+m.stepK/2) == c {
			return lo, true
		}
	}
	return 0, false
}

// shownAt is the step of the scale that is seen at a place of the sheet: that of the
// colour painted last there.
func shownAt(m *routeMap, at xy) (loC float64, found bool) {
	for _, s := range slices.Backward(m.sc.shapes) {
		if s.role != roleTrack {
			continue
		}
		for i := 1; i < len(s.pts); i++ {
			if fromLine(at, s.pts[i-1], s.pts[i]) < 0.05 {
				return m.classOf(s.stroke)
			}
		}
	}
	return 0, false
}

// fromLine is how far a place lies from a straight line.
func fromLine(p, a, b xy) float64 {
	dx, dy := b.x-a.x, b.y-a.y
	f := 0.0
	if d := dx*dx + dy*dy; d > 0 {
		f = max(0, min(1, ((p.x-a.x)*dx+(p.y-a.y)*dy)/d))
	}
	return math.Hypot(a.x+f*dx-p.x, a.y+f*dy-p.y)
}

// Nowhere on the map does the road look cooler than it is, whatever runs over it there,
// nor hotter than it is within what can be told apart on paper.
func TestHeatIsNeverHiddenNorInvented(t *testing.T) {
	t.Parallel()
	const near, sample = 3.0, 1.0
	back := planRide{lengthM: 30000, stepM: 10, at: outAndBack(30000), lat: 46, lon: 7, limitC: 120}
	back.tempC = func(m float64) float64 {
		switch {
		case m > 4000 && m < 9000:
			return 150 // hot on the way out, cool on the way back
		case m > 10000 && m < 10300 || m > 10600 && m < 10900:
			return 140 // two patches, nine points of the sheet between them
		case m > 26000 && m < 28000:
			return 110
		}
		return 30
	}
	for name, a := range map[string]*thermal.Assessment{
		"out and back": back.assessment(), "two descents": cases()["two descents"].whole(), "pulsing": cases()["five rims pulsing"].whole(), "sixty": cases()["sixty descents"].whole(),
	} {
		m := layMap(t, a, Options{}, false)
		type place struct {
			at  xy
			hot float64
		}
		var all []place
		step := sample / m.main.road.ptPerM
		for d := 0.0; d <= m.main.road.endM(); d += step {
			_, hot := m.heat.between(max(0, d-step/2), d+step/2).bounds()
			all = append(all, place{m.main.road.place(d), hot})
		}
		for i, p := range all {
			lo, found := shownAt(m, p.at)
			here := m.heat.between(float64(i)*step, float64(i)*step)
			if !found || len(here.v) == 0 {
				t.Fatalf("%s: no colour at %v", name, p.at)
			}
			if lo+m.stepK < here.v[0]-1e-6 {
				t.Fatalf("%s: %.1f °C at km %.2f looks like %.0f to %.0f °C", name, here.v[0], float64(i)*step/1000, lo, lo+m.stepK)
			}
			hottest := math.Inf(-1)
			for _, q := range all {
				if math.Hypot(q.at.x-p.at.x, q.at.y-p.at.y) < near {
					hottest = max(hottest, q.hot)
				}
			}
			if lo > hottest+1e-6 {
				t.Fatalf("%s: km %.2f looks like %.0f °C and more, but nothing near is hotter than %.1f °C", name, float64(i)*step/1000, lo, hottest)
			}
		}
	}
}

// A spike of a few metres on a road of 80 km is seen.
func TestShortPeakIsSeen(t *testing.T) {
	p := planRide{lengthM: 80000, stepM: 5, lat: 46, lon: 7, limitC: 120, at: func(m float64) xy { return xy{m, 0} }}
	p.tempC = func(m float64) float64 {
		if math.Abs(m-41000) < 6 {
			return 157
		}
		return 40
	}
	for _, bare := range []bool{false, true} {
		m := layMap(t, p.assessment(), Options{bare: bare}, false)
		hot, rail := 0.0, 0.0
		for _, s := range m.sc.shapes {
			if lo, _ := m.classOf(s.stroke); s.role == roleTrack && lo <= 157 && lo+m.stepK >= 157 {
				hot = max(hot, length(s.pts))
			}
			if s.role == roleOverRoad {
				rail = max(rail, length(s.pts))
			}
		}
		if hot < 1.5 || rail < 5 {
			t.Errorf("bare %t: the peak has %.2f points of road, its stretch over the limit %.2f", bare, hot, rail)
		}
	}
}

// The limit is marked on the bar at its temperature, and only that of the track.
func TestMapMarksTheTracksLimit(t *testing.T) {
	for name, want := range map[string]float64{"two descents": 120, "two limits": 180, "one tyre side": 0} {
		m := layMap(t, cases()[name].whole(), Options{}, false)
		if c, _, found := m.trackLimit(); found != (want > 0) || found && c != want {
			t.Fatalf("%s: track limit %.0f °C, %t", name, c, found)
		}
		b := m.sc.boxes(roleHeat)[0]
		marks := 0
		for _, s := range m.sc.shapes {
			if s.role != roleHeat || s.stroke != m.pal.limit {
				continue
			}
			marks++
			if x := b.x0 + (want-m.scale.loC)/(m.scale.hiC-m.scale.loC)*(b.x1-b.x0); math.Abs(s.pts[0].x-x) > 0.01 {
				t.Errorf("%s: the limit stands at %.2f, want %.2f", name, s.pts[0].x, x)
			}
		}
		if (marks == 1) != (want > 0) {
			t.Errorf("%s: %d marks of a limit on the bar", name, marks)
		}
	}
}

// A rim that stays cool looks cool: the scale reaches its limit.
func TestMapScaleReachesTheLimit(t *testing.T) {
	p := planRide{lengthM: 9000, stepM: 10, lat: 46, lon: 7, limitC: 130, at: squareRoad(2000), tempC: warm(9000, 55)}
	m := layMap(t, p.assessment(), Options{}, false)
	if m.scale.hiC < 130 || m.scale.loC > 30 {
		t.Errorf("the scale goes from %.0f to %.0f °C", m.scale.loC, m.scale.hiC)
	}
	for _, s := range m.sc.shapes {
		if lo, _ := m.classOf(s.stroke); s.role == roleTrack && lo > 55 {
			t.Errorf("a road of 55 °C at most has the colour of %.0f °C", lo)
		}
	}
	a := p.assessment()
	a.Rims[0].LimitC, a.Rims[0].Limits = math.NaN(), nil
	if m := layMap(t, a, Options{}, false); m.scale.hiC < 100 {
		t.Errorf("without a limit the scale ends at %.0f °C", m.scale.hiC)
	}
}
