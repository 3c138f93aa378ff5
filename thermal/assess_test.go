package thermal_test

import (
	"bytes"
	"encoding/json"
	"math"
	"math/rand/v2"
	"path/filepath"
	"runtime"
	"testing"

	"rimheat/route"
	"rimheat/testdata/roads"
	"rimheat/thermal"
	"rimheat/thermal/ride"
)

func demo(t testing.TB, name string) *route.Profile {
	t.Helper()
	p, err := route.Load(filepath.Join("..", "testdata", name), nil, route.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func profile(t testing.TB, pts []roads.Point) *route.Profile {
	t.Helper()
	return profileWith(t, pts, route.Options{})
}

func profileWith(t testing.TB, pts []roads.Point, opt route.Options) *route.Profile {
	t.Helper()
	tr, err := route.Read(bytes.NewReader(roads.GPX("test", "test", pts)), "test", route.Options{})
	if err != nil {
		t.Fatal(err)
	}
	p, err := route.NewProfile(tr, opt)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// setup is the default rider with the given total mass, air and style.
func setup(t testing.TB, totalKg, airC float64, style string) thermal.Setup {
	t.Helper()
	s := thermal.DefaultSetup()
	s.Load = ride.Load{RiderKg: totalKg - 9, BikeKg: 9}
	s.Weather.AirTempK = airC + 273.15
	st, ok := thermal.StyleByID(style)
	if !ok {
		t.Fatalf("no style %s", style)
	}
	s.Style = st
	return s
}

func assess(t testing.TB, p *route.Profile, s thermal.Setup) *thermal.Assessment {
	t.Helper()
	a, err := thermal.Assess(p, s)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// The facts of the trade (common practice, no source): a ride of 90 km with
// 2,000 m of climbing, taken briskly by an 85 kg system in 20 °C air, leaves a
// deep carbon rim within its limit.
func TestLongMildRideIsWithin(t *testing.T) {
	a := assess(t, demo(t, "long_ride_mild.gpx"), setup(t, 85, 20, "brisk"))
	if d, c := a.Route.DistanceM, a.Route.ClimbM; math.Abs(d-90e3) > 2e3 || math.Abs(c-2000) > 60 {
		t.Fatalf("the ride is %.1f km with %.0f m of climbing", d/1e3, c)
	}
	for _, r := range a.Rims {
		if r.Verdict != thermal.Within {
			t.Errorf("%s is %s with %.0f K of margin", r.ID, r.Verdict, r.MarginK)
		}
	}
}

// The facts of the trade (common practice, no source): the same rider dragging
// the brakes down 12 km at 11-12 % in 38 °C air passes the limit on carbon and
// not on aluminium; slower dragging is worse than a brisk pace with hard short
// braking; at the same braking the carbon track runs far hotter than
// aluminium, while its spoke bed stays near the air.
func TestDraggingDownASteepHill(t *testing.T) {
	p := demo(t, "drag_hill.gpx")
	peaks := map[string]float64{}
	for _, style := range []string{"cautious", "steady", "brisk"} {
		a := assess(t, p, setup(t, 85, 38, style))
		if len(a.Descents) != 1 {
			t.Fatalf("%d descents", len(a.Descents))
		}
		d := a.Descents[0]
		if l := d.EndM - d.StartM; math.Abs(l-12e3) > 500 || d.MeanGrade > -0.11 || d.MeanGrade < -0.12 {
			t.Fatalf("the hill is %.1f km at %.1f %%", l/1e3, 100*d.MeanGrade)
		}
		carbon, alu := a.Rims[0], a.Rims[1]
		peaks[style] = carbon.PeakC
		t.Logf("%s: carbon %.1f °C, aluminium %.1f °C", style, carbon.PeakC, alu.PeakC)
		if style != "brisk" {
			if carbon.Verdict != thermal.Over || carbon.LimitOn != thermal.OnTrack || !carbon.LimitAssumed || carbon.LimitC != 120 {
				t.Errorf("%s: carbon is %s against %.0f °C on the %s", style, carbon.Verdict, carbon.LimitC, carbon.LimitOn)
			}
			if alu.Verdict == thermal.Over {
				t.Errorf("%s: aluminium is over", style)
			}
		}
		rd := carbon.Descents[0]
		if carbon.PeakC-alu.PeakC < 20 {
			t.Errorf("%s: carbon only %.0f K hotter than aluminium", style, carbon.PeakC-alu.PeakC)
		}
		if rise := rd.SpokeBedPeakC - rd.AirC; rise > 15 {
			t.Errorf("%s: carbon's spoke bed is %.0f K over the air of its hottest moment", style, rise)
		}
		if alu.Descents[0].SpokeBedPeakC < alu.PeakC-12 {
			t.Errorf("%s: aluminium keeps its heat in the track", style)
		}
	}
	if peaks["cautious"] <= peaks["brisk"] || peaks["steady"] <= peaks["brisk"] {
		t.Errorf("dragging is not worse than braking hard and short: %v", peaks)
	}
}

// A flat road leaves the rim at the temperature of the air until the stop at
// its end.
func TestFlatRoadLeavesTheRimCold(t *testing.T) {
	a := assess(t, demo(t, "flat_loop.gpx"), setup(t, 85, 30, "steady"))
	if len(a.Descents) != 0 {
		t.Fatalf("%d descents on the flat", len(a.Descents))
	}
	for _, r := range a.Rims {
		h := r.Front
		for i, c := range h.TrackC {
			if h.DistM[i] < a.Route.DistanceM-300 && c > 30+6 {
				t.Fatalf("%s: %.1f °C at km %.2f", r.ID, c, h.DistM[i]/1e3)
			}
		}
		if r.Verdict != thermal.Within {
			t.Errorf("%s is %s", r.ID, r.Verdict)
		}
	}
}

// The ledger closes to 0.1 % on the whole route and on every descent, and the
// rims' balance to 1e-9.
func TestBooksClose(t *testing.T) {
	for _, f := range []string{"two_passes_hot.gpx", "long_ride_mild.gpx", "drag_hill.gpx", "flat_loop.gpx"} {
		p := demo(t, f)
		for _, style := range []string{"cautious", "steady", "brisk"} {
			a := assess(t, p, setup(t, 85, 35, style))
			rows := []thermal.Energy{a.Energy}
			for _, d := range a.Descents {
				rows = append(rows, d.Energy)
			}
			for i, e := range rows {
				if in := math.Abs(e.PotentialJ) + e.PedalJ; math.Abs(e.ResidualJ()) > 1e-3*in {
					t.Errorf("%s %s row %d: %.0f J of %.0f J missing", f, style, i, e.ResidualJ(), in)
				}
			}
			// Potential energy from the profile's own ends.
			z := p.HeightM
			if want := 85 * 9.80665 * (z[0] - z[len(z)-1]); math.Abs(a.Energy.PotentialJ-want) > 1 {
				t.Errorf("%s: potential %.1f J, ends of the road %.1f J", f, a.Energy.PotentialJ, want)
			}
			for _, r := range a.Rims {
				h := r.Heat
				if math.Abs(h.InJ-h.StoredJ-h.LostJ) > 1e-9*h.InJ {
					t.Errorf("%s %s %s: heat in %.3f, stored %.3f, lost %.3f J", f, style, r.ID, h.InJ, h.StoredJ, h.LostJ)
				}
				if want := a.Energy.BrakesJ() * r.RimShare; math.Abs(h.InJ-want) > 1e-9*want {
					t.Errorf("%s %s %s: %.3f J into the rims, %.3f J of the brakes' share", f, style, r.ID, h.InJ, want)
				}
			}
		}
	}
}

// Planned descents of 6-8 % end with 20-85 % of their potential energy in the
// brakes, as recorded ones do (six long descents ridden at 29-43 km/h in the mean), where the
// road has bends and the cap lies below the coasting speed.
func TestBrakeShareOfPotential(t *testing.T) {
	for _, style := range []string{"cautious", "steady", "brisk"} {
		a := assess(t, demo(t, "two_passes_hot.gpx"), setup(t, 85, 35, style))
		e := a.Descents[0].Energy
		if part := e.BrakesJ() / e.PotentialJ; part < 0.20 || part > 0.85 {
			t.Errorf("%s: %.0f %% of the potential energy", style, 100*part)
		}
	}
}

// Peaks rise with mass, air temperature, front share and a tail wind, and fall
// with a head wind and an early start's cool air.
func TestPeaksMoveTheRightWay(t *testing.T) {
	p := demo(t, "drag_hill.gpx")
	peak := func(change func(*thermal.Setup)) float64 {
		s := setup(t, 85, 30, "steady")
		change(&s)
		return assess(t, p, s).Rims[0].PeakC
	}
	base := peak(func(*thermal.Setup) {})
	// Where the wind must come from to blow along most of the road.
	var east, north float64
	for _, h := range p.HeadingRad {
		east, north = east+math.Sin(h), north+math.Cos(h)
	}
	tail := math.Atan2(east, north) + math.Pi
	for name, c := range map[string]struct {
		up     bool
		change func(*thermal.Setup)
	}{
		"mass":          {true, func(s *thermal.Setup) { s.Load.LuggageKg = 10 }},
		"air":           {true, func(s *thermal.Setup) { s.Weather.AirTempK += 5 }},
		"cool air":      {false, func(s *thermal.Setup) { s.Weather.AirTempK -= 10 }},
		"front share":   {true, func(s *thermal.Setup) { s.Style.FrontShare = 0.75 }},
		"tail wind":     {true, func(s *thermal.Setup) { s.Weather.WindMps, s.Weather.WindFromRad = 4, tail }},
		"head wind":     {false, func(s *thermal.Setup) { s.Weather.WindMps, s.Weather.WindFromRad = 4, tail+math.Pi }},
		"bigger rider":  {false, func(s *thermal.Setup) { s.Resistance.CdAM2 = 0.45 }},
		"easier tyres":  {true, func(s *thermal.Setup) { s.Resistance.Crr = 0.003 }},
		"held higher":   {true, func(s *thermal.Setup) { s.Weather.AtHeightM = 1500 }},
		"by turns":      {true, func(s *thermal.Setup) { s.Style.Habit = ride.Alternate }},
		"shared evenly": {false, func(s *thermal.Setup) { s.Style.FrontShare = 0.5 }},
	} {
		got := peak(c.change)
		if (got > base) != c.up || math.Abs(got-base) < 0.3 {
			t.Errorf("%s: %.1f °C after %.1f °C", name, got, base)
		}
	}
	// Five degrees of air are about five degrees of track.
	warm := peak(func(s *thermal.Setup) { s.Weather.AirTempK += 5 })
	if d := warm - base; d < 4 || d > 7 {
		t.Errorf("5 K of air move the peak by %.1f K", d)
	}
}

// The maker's figure always wins, and moves nothing but the verdict.
func TestMakersLimit(t *testing.T) {
	p := demo(t, "drag_hill.gpx")
	s := setup(t, 85, 38, "cautious")
	before := assess(t, p, s).Rims[0]
	s.Wheels[0].Rim.MakerLimitK = 273.15 + 180
	s.Wheels[0].TyreSide.LimitC = 200
	r := assess(t, p, s).Rims[0]
	if r.Limits[0].LimitC != 180 || r.Limits[0].Assumed || r.Verdict != thermal.Within {
		t.Errorf("with a maker's limit of 180 °C: %+v", r.Limits[0])
	}
	if r.PeakC != before.PeakC || len(r.Over) != 0 {
		t.Errorf("peak %.3f was %.3f °C, %d stretches over", r.PeakC, before.PeakC, len(r.Over))
	}
	if math.Abs(r.MarginK-(180-r.PeakC)) > 1e-9 {
		t.Errorf("margin %.2f K of peak %.2f °C", r.MarginK, r.PeakC)
	}
}

// The stretches over the limit are those of the history, and their total time
// is that of the steps above it.
func TestOverSpansMatchHistory(t *testing.T) {
	a := assess(t, demo(t, "two_passes_hot.gpx"), setup(t, 88.5, 38, "steady"))
	r := a.Rims[0]
	if r.Verdict != thermal.Over || len(r.Over) == 0 {
		t.Fatalf("carbon is %s with %d stretches", r.Verdict, len(r.Over))
	}
	var spans, steps float64
	end := -1.0
	for _, o := range r.Over {
		if o.StartM < end || o.EndM < o.StartM || o.DurationS <= 0 {
			t.Errorf("stretch %+v after %.0f m", o, end)
		}
		end = o.EndM
		spans += o.DurationS
	}
	h := r.Front
	for i := range h.TrackC {
		if math.Max(h.TrackC[i], r.Rear.TrackC[i]) >= r.LimitC {
			steps += h.TimeS[i] - h.TimeS[i-1]
		}
	}
	if math.Abs(spans-steps) > 0.03*steps+2*float64(len(r.Over)) {
		t.Errorf("stretches last %.1f s, steps %.1f s", spans, steps)
	}
	if r.Over[0].StartM > r.PeakAtM || r.Over[0].StartM < a.Descents[1].StartM {
		t.Errorf("first crossing at %.0f m, peak at %.0f m", r.Over[0].StartM, r.PeakAtM)
	}
}

// The second descent starts with what the first left: without the first, the
// aluminium rim gets less hot when the pause is short.
func TestHeatIsCarriedOver(t *testing.T) {
	b := roads.NewBuilder(0, 0, 1500, []roads.Slope{{LengthM: 200, Grade: 0}, {LengthM: 4000, Grade: -0.11}, {LengthM: 250, Grade: 0.02}, {LengthM: 1500, Grade: -0.11}, {LengthM: 100, Grade: 0}})
	b.Straight(6050)
	road := b.Road()
	pts := road.Sample(10, 10, rand.New(rand.NewPCG(1, 1)))
	s := setup(t, 85, 30, "cautious")
	both := assess(t, profile(t, pts), s)
	var second []roads.Point
	for i, p := range pts {
		if float64(i)*10 >= 4200 {
			second = append(second, p)
		}
	}
	alone := assess(t, profile(t, second), s)
	at := func(a *thermal.Assessment, fromEnd float64) float64 {
		h := a.Rims[1].Front
		for i, d := range h.DistM {
			if d > a.Route.DistanceM-fromEnd {
				return h.TrackC[i]
			}
		}
		return math.NaN()
	}
	if hot, cold := at(both, 1300), at(alone, 1300); !(hot > cold+5) {
		t.Errorf("300 m into the second descent: %.1f °C after the first, %.1f °C without", hot, cold)
	}
}

// Same input, same bytes, on one core or many.
func TestSameBytesOnAnyCores(t *testing.T) {
	p := demo(t, "two_passes_hot.gpx")
	s := setup(t, 85, 38, "brisk")
	render := func(cores int) []byte {
		defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(cores))
		b, err := json.Marshal(assess(t, p, s))
		if err != nil {
			t.Fatal(err)
		}
		return b
	}
	if one, many := render(1), render(16); !bytes.Equal(one, many) {
		t.Error("1 and 16 cores give different answers")
	}
}

func TestImpossibleSetups(t *testing.T) {
	p := demo(t, "flat_loop.gpx")
	for name, change := range map[string]func(*thermal.Setup){
		"rider":                func(s *thermal.Setup) { s.Load.RiderKg = 900 },
		"no rider":             func(s *thermal.Setup) { s.Load.RiderKg = math.NaN() },
		"air":                  func(s *thermal.Setup) { s.Weather.AirTempK = 273.15 + 80 },
		"share":                func(s *thermal.Setup) { s.Style.FrontShare = 1.2 },
		"no rim":               func(s *thermal.Setup) { s.Wheels = nil },
		"rim twice":            func(s *thermal.Setup) { s.Wheels[1] = s.Wheels[0] },
		"limit":                func(s *thermal.Setup) { s.Wheels[0].Rim.MakerLimitK = 300 },
		"cement on a clincher": func(s *thermal.Setup) { s.Wheels[0].TyreSide, _ = thermal.TyreSideByID("tubular-cement") },
		"no hub": func(s *thermal.Setup) {
			s.Wheels[0].Rim.Geometry.BeadSeatDiameterM, s.Wheels[0].Rim.Geometry.DepthM = 0.2, 0.107
		},
		"thin walls": func(s *thermal.Setup) { s.Wheels[0].Rim.Geometry.InnerWidthM = 0.03 },
	} {
		s := setup(t, 85, 30, "steady")
		s.Wheels = append([]thermal.Wheel{}, s.Wheels...)
		change(&s)
		if a, err := thermal.Assess(p, s); err == nil {
			t.Errorf("%s: accepted (%s)", name, a.Advice)
		}
	}
}

// A carbon clincher whose walls are under 3 mm gets a caution; sound walls and
// aluminium do not (common practice, no source).
func TestThinWallCaution(t *testing.T) {
	p := demo(t, "flat_loop.gpx")
	for id, want := range map[string]bool{"carbon-thin": true, "carbon-deep": false, "alu-classic": false} {
		sec, ok := thermal.RimByID(id)
		if !ok {
			t.Fatalf("no rim %s", id)
		}
		s := setup(t, 85, 30, "steady")
		s.Wheels = []thermal.Wheel{thermal.NewWheel(sec)}
		got := false
		for _, c := range assess(t, p, s).Cautions {
			got = got || bytes.Contains([]byte(c), []byte("walls of"))
		}
		if got != want {
			t.Errorf("%s: caution about its walls %v", id, got)
		}
	}
}

// With poorer cooling every rim gets hotter, whichever wheel is the hotter one
// (braking by turns with even shares heats the rear), and the margin told is
// that of the tightest limit.
func TestPoorCoolingIsABound(t *testing.T) {
	p := demo(t, "two_passes_hot.gpx")
	for _, share := range []float64{0.48, 0.52, 0.65} {
		s := setup(t, 88, 38, "cautious")
		s.Style.Habit, s.Style.FrontShare = ride.Alternate, share
		for _, r := range assess(t, p, s).Rims {
			c := r.PoorCooling
			var same, least float64 = math.NaN(), math.Inf(1)
			for _, l := range r.Limits {
				if l.On == c.On {
					same = l.PeakC
				}
				least = min(least, l.MarginK)
			}
			if !(c.PeakC > same+5) || c.MarginK >= least || math.Abs(c.LimitC-c.PeakC-c.MarginK) > 1e-9 {
				t.Errorf("share %.2f, %s: %+v beside a peak of %.1f °C and a margin of %.1f K", share, r.ID, c, same, least)
			}
		}
	}
}

func TestGap(t *testing.T) {
	for _, c := range []struct {
		k        float64
		imperial bool
		want     string
	}{
		{26.9, false, "27 K"}, {-26.9, false, "27 K"}, {26.4, false, "26 K"}, {14.99, false, "14 K"}, {14.4, false, "14 K"}, {14.9, true, "26 °F"}, {15, false, "15 K"},
		{0.4, false, "less than 1 K"}, {math.Copysign(0, -1), false, "less than 1 K"}, {10, true, "18 °F"}, {0.5, true, "less than 1 °F"},
	} {
		if got := thermal.Gap(c.k, c.imperial); got != c.want {
			t.Errorf("Gap(%g) = %s, want %s", c.k, got, c.want)
		}
	}
}
