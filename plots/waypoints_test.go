package plots

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"rimheat/route"
	"rimheat/testdata/roads"
	"rimheat/thermal"
	"rimheat/thermal/ride"
)

// inventedRests advises stops for the first rim, for the last one if there are several,
// and for one that is not there.
func inventedRests(a *thermal.Assessment) *thermal.Outlook {
	end := a.Trace.DistM[len(a.Trace.DistM)-1]
	stop := func(part, grade, s, roll float64) thermal.CoolStop {
		return thermal.CoolStop{AtM: part * end, Grade: grade, S: s, RollMps: roll}
	}
	o := &thermal.Outlook{Rests: []thermal.RestAdvice{
		{RimID: a.Rims[0].ID, Stops: []thermal.CoolStop{stop(0.4, -0.03, 300, 0), stop(0.9, -0.1, 480, 0)}, Chance: thermal.Chance{P: 0.03}, Draws: 200, Serves: true},
		{RimID: "no such rim", Stops: []thermal.CoolStop{stop(0.5, 0, 120, 0)}},
	}}
	if n := len(a.Rims); n > 1 {
		o.Rests = append(o.Rests, thermal.RestAdvice{RimID: a.Rims[n-1].ID, Stops: []thermal.CoolStop{stop(0.41, -0.01, 720, 3.3)}, Chance: thermal.Chance{P: 0.22}, Draws: 200})
	}
	return o
}

// withStops is a whole assessment with rests planned or recorded, and advised ones.
func withStops(name string, recorded bool) *thermal.Assessment {
	a := roadOf(name)
	end := a.Trace.DistM[len(a.Trace.DistM)-1]
	a.Outlook = inventedRests(a)
	a.Trace.Stands = []thermal.Stand{{AtM: 0.2 * end, S: 59, Recorded: recorded}, {AtM: 0.3 * end, S: 300, Recorded: recorded}, {AtM: 0.8 * end, S: 90, RollMps: 3.3, Recorded: recorded}}
	a.Setup = thermal.SetupSummary{TotalKg: 84, AirTempC: 35, AtHeightM: 240, Assumed: []string{"rider-kg"}}
	a.Sampling = &thermal.SamplingSummary{Samples: 500, Seed: 1}
	for i := range a.Rims {
		r := &a.Rims[i]
		for k := range r.Descents {
			r.Descents[k].TyreSidePeakC = 0.9 * r.PeakC
		}
		for k := range r.Limits {
			l := &r.Limits[k]
			l.PeakAtM = r.PeakAtM + 200*float64(k)
			if l.On != r.LimitOn && l.PeakC >= l.LimitC {
				l.Over = []thermal.OverSpan{{StartM: 0.7 * end, EndM: 0.72 * end, StartS: 4000, DurationS: 61}}
			}
			r.Risk.Limits = append(r.Risk.Limits, thermal.LimitRisk{On: l.On, Chance: thermal.Chance{P: 0.3 + 0.1*float64(k)}})
		}
	}
	return a
}

func mustMark(t *testing.T, a *thermal.Assessment, u units) []waypoint {
	t.Helper()
	list, err := waypointsOf(a, u)
	if err != nil {
		t.Fatal(err)
	}
	return list
}

func TestGoldenWaypoints(t *testing.T) {
	for _, name := range []string{"five rims", "two in imperial", "two limits", "ends in a stop", "one rim"} {
		u := units{imperial: strings.Contains(name, "imperial")}
		a := withStops(name, name == "two limits")
		a.Rims[0].PeakInDoubt = name == "ends in a stop"
		var b strings.Builder
		b.WriteString(gpxAbout(a, u) + "\n")
		for _, m := range mustMark(t, a, u) {
			fmt.Fprintf(&b, "\n%.0f m, %s: %s\n%s\n", m.atM, m.kind, m.name, m.desc)
		}
		holdGolden(t, name, "waypoints_"+strings.ReplaceAll(name, " ", "_"), b.String())
	}
}

// Names must be told apart where a device cuts them, be short, and show on any.
func TestWaypointNames(t *testing.T) {
	for name, in := range cases() {
		if len(in.rims) == 0 {
			continue
		}
		for _, u := range []units{{}, {imperial: true}} {
			list := mustMark(t, withStops(name, false), u)
			seen := map[string]string{}
			for i, m := range list {
				if i > 0 && m.atM < list[i-1].atM {
					t.Errorf("%s: %s comes before it is reached", name, m.name)
				}
				if len(m.name) > 15 || strings.ContainsFunc(m.name, func(r rune) bool { return r < ' ' || r > '~' }) {
					t.Errorf("%s: the name %q", name, m.name)
				}
				short := m.name[:min(10, len(m.name))]
				if other, twice := seen[short]; twice {
					t.Errorf("%s: %q and %q look the same on a small display", name, m.name, other)
				}
				seen[short] = m.name
				if len([]rune(m.desc)) > 2000 || strings.Contains(m.desc, "NaN") || !strings.HasSuffix(m.desc, ".") {
					t.Errorf("%s: %s says %q", name, m.name, m.desc)
				}
			}
		}
	}
}

// An assumed limit is called so, wherever it is told of, and a known one never.
func TestWaypointsCallAssumedLimitsAssumed(t *testing.T) {
	for _, assumed := range []bool{true, false} {
		a := withStops("five rims", false)
		for i := range a.Rims {
			a.Rims[i].LimitAssumed = assumed
			for k := range a.Rims[i].Limits {
				a.Rims[i].Limits[k].Assumed = assumed
			}
		}
		texts := []string{gpxAbout(a, units{})}
		for _, m := range mustMark(t, a, units{}) {
			texts = append(texts, m.desc)
			if m.kind == "limit" && !strings.Contains(m.desc, "Central estimate") {
				t.Errorf("%s says %q", m.name, m.desc)
			}
		}
		for _, s := range texts {
			all := strings.Count(s, "limit of")
			if called := strings.Count(s, "assumed limit of"); assumed && called != all || !assumed && called > 0 {
				t.Errorf("assumed %v: %q", assumed, s)
			}
		}
	}
}

// What the draws and the assessment do not hold is not told.
func TestWaypointsWithoutDraws(t *testing.T) {
	a := cases()["two descents"].whole()
	for i := range a.Rims {
		a.Rims[i].Risk = nil
	}
	a.Rims[1].PeakAtM, a.Trace.HeightM = math.NaN(), nil
	for _, m := range mustMark(t, a, units{}) {
		if strings.Contains(m.desc, "draws") || m.name == "Hot B" || finite(m.heightM) {
			t.Errorf("%+v", m)
		}
	}
	a.Rims[0].Risk = &thermal.Risk{Chance: thermal.Chance{P: math.NaN()}, Limits: []thermal.LimitRisk{{Chance: thermal.Chance{P: math.NaN()}}}}
	a.Trace.Stands = []thermal.Stand{{AtM: 100, S: math.NaN()}, {AtM: math.Inf(1), S: 60}}
	for _, m := range mustMark(t, a, units{}) {
		if strings.Contains(m.desc, "NaN") || m.kind == "stop" {
			t.Errorf("%+v", m)
		}
	}
}

// Waypoints lie on the road, between its places too, and over the antimeridian by the
// shorter way.
func TestWaypointsLieOnTheRoad(t *testing.T) {
	tr := &thermal.Trace{DistM: []float64{0, 10, 20, 30}, HeightM: []float64{100, 110, 90, 90}, LatDeg: []float64{10, 10.2, 10.2, 10.3}, LonDeg: []float64{179.8, 179.9, -179.9, -179.7}}
	for _, c := range []struct{ atM, lat, lon, height float64 }{
		{0, 10, 179.8, 100}, {-5, 10, 179.8, 100}, {5, 10.1, 179.85, 105}, {10, 10.2, 179.9, 110},
		{14, 10.2, 179.98, 102}, {15, 10.2, -180, 100}, {16, 10.2, -179.98, 98}, {25, 10.25, -179.8, 90}, {30, 10.3, -179.7, 90}, {99, 10.3, -179.7, 90},
	} {
		for _, back := range []bool{false, true} {
			road, m := *tr, c.atM
			if back {
				// The same road ridden the other way.
				road = thermal.Trace{DistM: tr.DistM}
				for i := range tr.DistM {
					k := len(tr.DistM) - 1 - i
					road.HeightM, road.LatDeg, road.LonDeg = append(road.HeightM, tr.HeightM[k]), append(road.LatDeg, tr.LatDeg[k]), append(road.LonDeg, tr.LonDeg[k])
				}
				m = 30 - m
			}
			w := waypoint{atM: m}
			if !w.place(&road) || math.Abs(w.latDeg-c.lat) > 1e-9 || math.Abs(math.Mod(w.lonDeg-c.lon+540, 360)-180) > 1e-9 || math.Abs(w.heightM-c.height) > 1e-9 {
				t.Errorf("%g m, back %v: %+v, want %+v", c.atM, back, w, c)
			}
			if p := w.point(); p.Lon == "180.0000000" || !(w.lonDeg >= -180 && w.lonDeg < 180) {
				t.Errorf("%g m: longitude %g, %s", c.atM, w.lonDeg, p.Lon)
			}
		}
	}
	nearly := waypoint{lonDeg: 179.99999999, latDeg: -0.00000001, heightM: -0.04}
	if p := nearly.point(); p.Lon != "-180.0000000" || p.Lat != "0.0000000" || p.Ele != "0.0" {
		t.Errorf("%+v", p)
	}
	if w := (waypoint{atM: math.NaN()}); w.place(tr) {
		t.Error("a place that is no number is on the road")
	}
}

// demoRide assesses an invented road without draws: down, along, and down to its end,
// eastwards over the antimeridian, with a rest on the way.
func demoRide(t testing.TB, rims ...string) (*thermal.Assessment, *route.Profile) {
	t.Helper()
	b := roads.NewBuilder(45, 179.95, 1200, []roads.Slope{{LengthM: 600}, {LengthM: 4000, Grade: -0.1}, {LengthM: 1500, Grade: 0.01}, {LengthM: 3000, Grade: -0.12}})
	b.Arc(60, math.Pi/2)
	pts := b.Road().Sample(10, 10, rand.New(rand.NewPCG(1, 1)))
	tr := &route.Track{Name: "demo"}
	for _, p := range pts {
		tr.Points = append(tr.Points, route.Point{LatDeg: p.LatDeg, LonDeg: math.Mod(p.LonDeg+540, 360) - 180, HeightM: p.HeightM, HasHeight: true})
	}
	p, err := route.NewProfile(tr, route.Options{})
	if err != nil {
		t.Fatal(err)
	}
	s := thermal.DefaultSetup()
	s.Wheels = nil
	for _, id := range rims {
		sec, ok := thermal.RimByID(id)
		if !ok {
			t.Fatalf("no rim %s", id)
		}
		s.Wheels = append(s.Wheels, thermal.NewWheel(sec))
	}
	s.Style.Pauses = []ride.Pause{{AtM: 3000, S: 240}}
	a, err := thermal.Assess(p, s)
	if err != nil {
		t.Fatal(err)
	}
	return a, p
}

// TestWaypointsOfARide: every waypoint of a real assessment stands where the assessment
// says, and all that must be marked is.
func TestWaypointsOfARide(t *testing.T) {
	a, p := demoRide(t, "carbon-deep", "alu-classic")
	want := map[string]float64{"Stop 1, 4min": a.Trace.Stands[0].AtM}
	for i, d := range a.Descents {
		want[fmt.Sprintf("Down %d, %.0fm", i+1, d.DropM)] = d.StartM
	}
	crossings := 0
	for i, r := range a.Rims {
		tag := string(rune('A' + i))
		want[fmt.Sprintf("Hot %s %.0fC", tag, r.PeakC)] = r.PeakAtM
		for _, l := range r.Limits {
			if len(l.Over) > 0 {
				want["Limit "+tag+" "+strings.TrimSuffix(l.On, " side")] = l.Over[0].StartM
				crossings++
			}
		}
	}
	if crossings < 2 || len(a.Descents) != 2 {
		t.Fatalf("%d crossings, %d descents: no ride to test with", crossings, len(a.Descents))
	}
	list := mustMark(t, a, units{})
	if len(list) != len(want) {
		t.Errorf("%d waypoints, want %d", len(list), len(want))
	}
	for _, m := range list {
		at, ok := want[m.name]
		if !ok {
			t.Errorf("nobody asked for %q", m.name)
		}
		k := int(at / p.SpacingM)
		if north := (m.latDeg - p.LatDeg[k]) * 111_200; m.atM != at || math.Abs(north) > p.SpacingM+1 {
			t.Errorf("%s: at %.1f m, %.1f m north of the road's place, want %.1f m", m.name, m.atM, north, at)
		}
	}
	data := saveGPX(t, a, p.Track, Options{})
	west, east := 0, 0
	for _, lon := range numbersIn(t, data, ` lon="`, `"`) {
		if lon < -179 {
			west++
		} else if lon > 179 {
			east++
		} else {
			t.Errorf("longitude %g", lon)
		}
	}
	if west == 0 || east == 0 {
		t.Error("the road does not cross the antimeridian")
	}
}
