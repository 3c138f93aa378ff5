package thermal

import (
	"fmt"
	"math"
	"reflect"
	"runtime"
	"strings"
	"testing"

	"rimheat/route"
	"rimheat/testdata/roads"
	"rimheat/thermal/ride"
)

// shortPass is a steep road of some kilometres.
func shortPass() []roads.Slope {
	return []roads.Slope{{LengthM: 300}, {LengthM: 3500, Grade: -0.09}, {LengthM: 300}}
}

// What a change is said to do is what two assessments of their own differ by, and the
// peaks and margins said are those of the assessment less that.
func TestOutlookIsTheDifference(t *testing.T) {
	for _, p := range []*route.Profile{slopesOf(t, 1500, shortPass()...), demoRoad(t, "two_passes_hot.gpx")} {
		outlookIsTheDifference(t, p)
	}
}

func outlookIsTheDifference(t *testing.T, p *route.Profile) {
	t.Helper()
	s := drawing(t, 100, "carbon-deep", "alu-classic")
	s.Sampling.Samples, s.Outlook = 0, true
	s.Load.LuggageKg = 12
	s.Weather.Daily = ride.Daily{On: true, StartS: 13 * 3600, MinK: 273.15 + 20, MaxK: 273.15 + 36}
	a := assessed(t, p, s)
	if a.Outlook == nil || len(a.Outlook.Rests) != 0 {
		t.Fatalf("outlook %+v", a.Outlook)
	}
	byHand := map[string]Setup{}
	for _, v := range variants(s, false) {
		byHand[v.words(phrasing{})] = v.setup
	}
	seen := map[string]bool{}
	for _, c := range a.Outlook.Changes {
		seen[c.ID] = true
		changed := byHand[c.Text]
		changed.Outlook = false
		// By turns it is chance which brake works in the hottest bend: the mean of when
		// a turn begins.
		n := 1
		if changed.Style.Habit == ride.Alternate {
			n = turnsTried
		}
		var after []*Assessment
		for k := range n {
			changed.Style.TurnS = ride.TurnOfBrakesS * float64(k) / float64(n)
			after = append(after, assessed(t, p, changed))
		}
		for i, r := range c.Rims {
			was := a.Rims[i]
			if r.RimID != was.ID {
				t.Fatalf("%s: rim %s in place of %s", c.ID, r.RimID, was.ID)
			}
			if !r.Applies {
				if c.ID != "pads" || was.Composite {
					t.Errorf("%s is not tried on %s", c.Text, was.ID)
				}
				continue
			}
			peakC, peaksC := 0.0, make([]float64, len(was.Limits))
			for _, b := range after {
				for k, l := range b.Rims[i].Limits {
					peaksC[k] += l.PeakC / float64(n)
				}
			}
			leftK := math.Inf(1)
			for k, l := range was.Limits {
				leftK = min(leftK, l.LimitC-peaksC[k])
				if l.On == was.LimitOn {
					peakC = peaksC[k]
				}
			}
			if d := was.JudgedPeakC - peakC; !(math.Abs(d-r.CoolerK) < 0.5) {
				t.Errorf("%s on %s: %.1f K cooler, by two assessments %.1f K", c.Text, r.RimID, r.CoolerK, d)
			}
			if math.Abs(was.JudgedPeakC-r.CoolerK-r.PeakC) > 1e-9 {
				t.Errorf("%s on %s: %.2f K cooler than %.2f °C is not %.2f °C", c.Text, r.RimID, r.CoolerK, was.JudgedPeakC, r.PeakC)
			}
			if !(math.Abs(r.MarginK-leftK) < 0.5) {
				t.Errorf("%s on %s: margin %.1f K, by an assessment %.1f K", c.Text, r.RimID, r.MarginK, leftK)
			}
		}
	}
	for _, id := range []string{"lighter", "earlier", "cooler", "habit", "share", "slower", "pads"} {
		if !seen[id] {
			t.Errorf("%s is not tried", id)
		}
	}
}

// Nobody is asked for what they cannot do: not to ride faster, not to set out at
// night, not to weigh less than anybody.
func TestVariants(t *testing.T) {
	s := drawing(t, 100, "alu-classic")
	s.Style.CapMps = 12 / 3.6
	s.Style.FrontShare = 0.52
	s.Weather.Daily = ride.Daily{On: true, StartS: 6 * 3600, MinK: 290, MaxK: 310}
	for _, v := range variants(s, false) {
		if v.setup.Style.CapMps > s.Style.CapMps || v.id == "slower" || v.id == "earlier" || v.id == "share" || v.id == "pads" {
			t.Errorf("asked for: %s", v.words(phrasing{}))
		}
	}
	for _, v := range variants(s, true) {
		if v.id == "habit" {
			t.Errorf("a recording is asked for %s", v.words(phrasing{}))
		}
	}
	s.Load.RiderKg, s.Load.LuggageKg, s.Outlook = 30, 0, true
	s.Sampling.Samples = 0
	a := assessed(t, slopesOf(t, 1500, shortPass()...), s)
	for _, c := range a.Outlook.Changes {
		if c.ID == "lighter" {
			t.Errorf("a rider of 30 kg is asked for %s", c.Text)
		}
	}
}

// Stops that are advised do what is said of them, stand where one can stop, and are
// the same on any number of cores; nobody within is advised to stop.
func TestRestsServeOnAnyCores(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	p := demoRoad(t, "two_passes_hot.gpx")
	s := drawing(t, 200, "alu-classic", "carbon-deep")
	s.Weather.AirTempK, s.Outlook = 273.15+36, true
	s.Assumed = []string{"cda", "crr", "wind"}
	a := assessed(t, p, s)
	if len(a.Outlook.Rests) != 2 || a.Rims[0].Verdict != Marginal || a.Rims[1].Verdict != Over {
		t.Fatalf("%s, %s, rests %+v", a.Rims[0].Verdict, a.Rims[1].Verdict, a.Outlook.Rests)
	}
	alu, carbon := a.Outlook.Rests[0], a.Outlook.Rests[1]
	if len(alu.Stops) == 0 || !alu.Serves || alu.Chance.P > aimedChance || alu.Draws != checkDraws {
		t.Fatalf("advice for the aluminium rim %+v", alu)
	}
	if carbon.Serves {
		t.Errorf("stops serve a rim that is over in %.0f %% of the draws: %+v", 100*a.Rims[1].Risk.Chance.P, carbon)
	}
	with := s
	with.Outlook = false
	places := stopPlaces(p)
	for _, k := range alu.Stops {
		with.Style.Pauses = append(with.Style.Pauses, ride.Pause{AtM: k.AtM, S: k.S})
		ok := false
		for _, m := range places {
			ok = ok || m == k.AtM
		}
		if !ok || k.S < 60 || k.S > 1200 {
			t.Errorf("stop %+v", k)
		}
	}
	// Many draws of another seed: what neither search nor check has seen.
	with.Sampling.Samples, with.Sampling.Seed = 2000, 4711
	b := assessed(t, p, with)
	if got := b.Rims[0].Risk.Chance.P; got >= a.Rims[0].Risk.Chance.P || got > alu.Chance.High || b.Rims[0].Verdict != Within {
		t.Errorf("with the stops a limit is reached in %.1f %% of all draws, without in %.1f %%, said %.1f %% (%.1f to %.1f)", 100*got, 100*a.Rims[0].Risk.Chance.P, 100*alu.Chance.P, 100*alu.Chance.Low, 100*alu.Chance.High)
	}
	if len(b.Setup.Stops) != len(alu.Stops) || len(b.Trace.Stands) != len(alu.Stops) {
		t.Errorf("%d planned stops, %d in the setup, %d on the road", len(alu.Stops), len(b.Setup.Stops), len(b.Trace.Stands))
	}
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	if c := assessed(t, p, s); !reflect.DeepEqual(a.Outlook, c.Outlook) {
		t.Errorf("on one core the outlook differs")
	}
	runtime.GOMAXPROCS(2)

	s.Load.RiderKg = 40
	if o := assessed(t, p, s).Outlook; len(o.Rests) != 1 || o.Rests[0].RimID != "carbon-deep" {
		t.Errorf("a light rider's rests: %+v", o.Rests)
	}
}

// A stop that the road has no place for is refused.
func TestStopsMustFit(t *testing.T) {
	p := slopesOf(t, 1500, shortPass()...)
	s := drawing(t, 100, "alu-classic")
	s.Sampling.Samples = 0
	s.Style.Pauses = []ride.Pause{{AtM: 9000, S: 300}}
	if _, err := Assess(p, s); err == nil {
		t.Error("a stop beyond the end of the route is taken")
	}
	s.Style.Pauses[0].AtM = 2000
	if a := assessed(t, p, s); len(a.Trace.Stands) != 1 || math.Abs(a.Trace.Stands[0].AtM-2000) > p.SpacingM || a.Trace.Stands[0].S != 300 {
		t.Errorf("rests %+v", a.Trace.Stands)
	}
}

// What the draws say along the route is in order, is nowhere hotter than what they
// say of the whole ride, and comes up to it somewhere.
func TestAlong(t *testing.T) {
	p := slopesOf(t, 1500, shortPass()...)
	for _, habit := range []ride.Habit{ride.Drag, ride.Alternate} {
		s := drawing(t, 100, "carbon-deep")
		s.Style.Habit = habit
		a := assessed(t, p, s)
		l, k := a.Rims[0].Along, a.Rims[0].Risk.TrackC
		end := p.DistM[len(p.DistM)-1]
		top := Percentiles{math.Inf(-1), math.Inf(-1), math.Inf(-1)}
		for i := range l.DistM {
			if want := (float64(i) + 0.5) / float64(len(l.DistM)) * end; math.Abs(l.DistM[i]-want) > 1e-6 {
				t.Fatalf("place %d at %g m, want %g m", i, l.DistM[i], want)
			}
			if !(l.P05C[i] <= l.P50C[i] && l.P50C[i] <= l.P95C[i]) {
				t.Fatalf("at %g m: %g, %g, %g °C", l.DistM[i], l.P05C[i], l.P50C[i], l.P95C[i])
			}
			top.P05, top.P50, top.P95 = max(top.P05, l.P05C[i]), max(top.P50, l.P50C[i]), max(top.P95, l.P95C[i])
		}
		const slack = 1e-3 // trails are kept in single precision
		if top.P05 > k.P05+slack || top.P50 > k.P50+slack || top.P95 > k.P95+slack {
			t.Errorf("%s: along the route up to %+v, the whole ride's peaks %+v", habit, top, k)
		}
		if top.P50 < k.P50-6 || top.P95 < k.P95-8 {
			t.Errorf("%s: along the route only up to %+v, the whole ride's peaks %+v", habit, top, k)
		}
		for _, at := range []struct {
			m    float64
			less bool
		}{{150, true}, {3700, false}} {
			i := int(at.m / end * float64(len(l.DistM)))
			if cool := l.P95C[i] < a.Setup.AirTempC+15; cool != at.less {
				t.Errorf("%s: at %g m nineteen of twenty draws stay below %.0f °C", habit, at.m, l.P95C[i])
			}
		}
	}
}

// A trail takes what a step passes over in a straight line, never loses a peak, and
// holds still while the rider stands.
func TestTrail(t *testing.T) {
	for _, c := range []struct {
		steps [][2]float64
		want  []float32
	}{
		{[][2]float64{{100, 60}}, []float32{30, 40, 50, 60}},
		{[][2]float64{{10, 90}, {20, 30}, {100, 30}}, []float32{90, 30, 30, 30}},
		{[][2]float64{{30, 50}, {30, 80}, {30, 20}, {60, 20}, {100, 20}}, []float32{45, 80, 20, 20}},
		{[][2]float64{{100, 40}, {100, 95}}, []float32{25, 30, 35, 95}},
	} {
		w := trail{c: make([]float32, 4), lengthM: 100, beforeC: 20}
		for i := range w.c {
			w.c[i] = float32(math.Inf(-1))
		}
		for _, s := range c.steps {
			w.step(s[0], s[1])
		}
		if fmt.Sprint(w.c) != fmt.Sprint(c.want) {
			t.Errorf("%v gives %v, want %v", c.steps, w.c, c.want)
		}
	}
}

// Where the rider brakes by turns, what is left is told for the mean of when a turn
// begins, as planned and after each change: no luck of one ride is carried into another.
func TestOutlookOfBrakesByTurns(t *testing.T) {
	p := slopesOf(t, 1500, shortPass()...)
	s := drawing(t, 100, "carbon-deep")
	s.Sampling.Samples, s.Outlook = 0, true
	s.Style.Habit = ride.Alternate
	a := assessed(t, p, s)
	meanK := func(s Setup) float64 {
		s.Outlook = false
		sum := 0.0
		for k := range turnsTried {
			s.Style.TurnS = ride.TurnOfBrakesS * float64(k) / turnsTried
			sum += assessed(t, p, s).Rims[0].LimitC - assessed(t, p, s).Rims[0].JudgedPeakC
		}
		return sum / turnsTried
	}
	if got, want := a.Outlook.Planned[0].MarginK, meanK(s); math.Abs(got-want) > 0.5 {
		t.Errorf("as planned %.1f K are left, in the mean of rides %.1f K", got, want)
	}
	for _, v := range variants(s, false) {
		if v.id != "habit" || v.setup.Style.Habit != ride.Drag {
			continue
		}
		for _, c := range a.Outlook.Changes {
			if c.Text == v.words(phrasing{}) {
				if want := meanK(v.setup); math.Abs(c.Rims[0].MarginK-want) > 0.5 {
					t.Errorf("%s: %.1f K are left, by an assessment %.1f K", c.Text, c.Rims[0].MarginK, want)
				}
				return
			}
		}
	}
	t.Error("a steady drag is not tried")
}

// Words follow the chance where the central estimate stays below: nothing is called over
// its limit by so many degrees that is not.
func TestWordsOfOverByDrawsAlone(t *testing.T) {
	r := RimResult{Name: "A", Verdict: Over, MarginK: 2, LimitC: 120, LimitOn: OnTrack, Composite: true, LimitAssumed: true,
		Limits: []LimitResult{{On: OnTrack, LimitC: 120, MarginK: 2, Verdict: Marginal}},
		Risk:   &Risk{Chance: Chance{P: 0.52}, Limits: []LimitRisk{{On: OnTrack, Chance: Chance{P: 0.48}}}},
	}
	b := r
	b.Name, b.Risk = "B", &Risk{Chance: Chance{P: 0.6}, Limits: r.Risk.Limits}
	text := phrasing{}.adviseRims(&Assessment{Rims: []RimResult{r, b}})
	for _, want := range []string{"the B passes a limit in 60 % of the draws, though not in the central estimate", "Nearest to fitting is the A, over a limit in 52 % of the draws"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q does not say %q", text, want)
		}
	}
	var l cautionList
	phrasing{}.rimCautions(&l, r, drawing(t, 100, "carbon-deep").Wheels[0], false)
	if got := strings.Join(l.sentences(), "\n"); !strings.Contains(got, "in 48 % of the draws, though not in the central estimate: a carbon rim that gets too hot may fail later") {
		t.Errorf("cautions of a rim that is over by two limits together: %q", got)
	}
}
