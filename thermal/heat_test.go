package thermal_test

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"rimheat/route"
	"rimheat/testdata/roads"
	"rimheat/thermal"
	"rimheat/thermal/rim"
)

func oneRimSetup(t *testing.T, ids ...string) thermal.Setup {
	t.Helper()
	s := thermal.DefaultSetup()
	s.Wheels = nil
	for _, id := range ids {
		sec, ok := thermal.RimByID(id)
		if !ok {
			t.Fatalf("no rim %s", id)
		}
		s.Wheels = append(s.Wheels, thermal.NewWheel(sec))
	}
	return s
}

func cautionsSay(a *thermal.Assessment, part string) bool {
	for _, c := range a.Cautions {
		if strings.Contains(c, part) {
			return true
		}
	}
	return false
}

// A resin with known transitions has two bands, and every rim of it is told in
// which it comes. Wet 170 less 28 is 142 °C, dry 205 less 15 is 190 °C.
func TestResinBands(t *testing.T) {
	p := steepHill(t)
	for _, c := range []struct {
		riderKg float64
		band    thermal.Band
		caution string
	}{{45, thermal.BelowCaution, ""}, {90, thermal.Caution, "caution band"}, {170, thermal.Alarm, "alarm band"}} {
		s := oneRimSetup(t, "carbon-hot-resin")
		s.Load.RiderKg = c.riderKg
		a, err := thermal.Assess(p, s)
		if err != nil {
			t.Fatal(err)
		}
		l := a.Rims[0].Limits[0]
		if l.LimitC != 142 || l.AlarmC == nil || *l.AlarmC != 190 || !l.Assumed {
			t.Fatalf("limit %+v", l)
		}
		if l.Band != c.band {
			t.Errorf("%g kg: peak %.0f °C is %q, want %q", c.riderKg, l.PeakC, l.Band, c.band)
		}
		if c.caution != "" && !cautionsSay(a, c.caution) || c.caution == "" && cautionsSay(a, " band of its resin") {
			t.Errorf("%g kg: cautions %q", c.riderKg, a.Cautions)
		}
	}
}

// A metal track with a carbon fairing has no resin limit on the track but one
// on the fairing, which stays cooler than the track.
func TestFairingIsJudged(t *testing.T) {
	a, err := thermal.Assess(steepHill(t), oneRimSetup(t, "alu-track"))
	if err != nil {
		t.Fatal(err)
	}
	r := a.Rims[0]
	if len(r.Limits) != 2 || r.Limits[0].On != thermal.OnFairing || r.Limits[1].On != thermal.OnTyreSide {
		t.Fatalf("limits %+v", r.Limits)
	}
	if f := r.Limits[0]; !(f.PeakC > 50 && f.PeakC < r.PeakC) {
		t.Errorf("fairing %.1f °C, track %.1f °C", f.PeakC, r.PeakC)
	}
	if !cautionsSay(a, "assumed, not known") {
		t.Error("the fairing's assumed limit is not called assumed")
	}
}

// The tyre's absolute pressure goes with its absolute temperature, and a
// maximum that the hot pressure passes is said, whoever states it.
func TestHotPressure(t *testing.T) {
	p := steepHill(t)
	s := oneRimSetup(t, "alu-classic")
	a, err := thermal.Assess(p, s)
	if err != nil {
		t.Fatal(err)
	}
	h := a.Rims[0].Tyre
	// 600 kPa + 1 bar or somewhat less at the top, warmed from the air up there.
	if !(h.HotKPa > h.ColdKPa*(1+(h.AirPeakC-40)/400) && h.HotKPa < 600*1.25) {
		t.Errorf("tyre %+v", h)
	}
	if h.MaxOf != "rim" || *h.MaxKPa != 1000 || cautionsSay(a, "when hot") {
		t.Errorf("tyre %+v, cautions %q", h, a.Cautions)
	}
	s.Tyres.MaxGaugePa = h.HotKPa*1e3 - 500
	if a, err = thermal.Assess(p, s); err != nil {
		t.Fatal(err)
	}
	if a.Rims[0].Tyre.MaxOf != "tyre" || !cautionsSay(a, "maker of the tyre allows: pump it less") {
		t.Errorf("cautions %q", a.Cautions)
	}
	s.Tyres = thermal.Tyres{GaugePa: 1100e3, MaxGaugePa: math.NaN()}
	if a, err = thermal.Assess(p, s); err != nil {
		t.Fatal(err)
	}
	if !cautionsSay(a, "maker of the rim allows: it is pumped too hard cold") {
		t.Errorf("cautions %q", a.Cautions)
	}
}

// Latex, plastic tape and cement are warned of however cool the road is.
func TestTyreSidesAreWarnedOf(t *testing.T) {
	p := steepHill(t)
	for id, part := range map[string]string{"latex": "Latex tubes", "tpu": "TPU tubes", "butyl-plastic": "plastic rim tape"} {
		s := oneRimSetup(t, "alu-classic")
		s.Wheels[0].TyreSide, _ = thermal.TyreSideByID(id)
		a, err := thermal.Assess(p, s)
		if err != nil {
			t.Fatal(err)
		}
		if !cautionsSay(a, part) {
			t.Errorf("%s: cautions %q", id, a.Cautions)
		}
	}
	a, err := thermal.Assess(p, oneRimSetup(t, "carbon-tubular"))
	if err != nil {
		t.Fatal(err)
	}
	if !cautionsSay(a, "Tubular cement softens") {
		t.Errorf("tubular: cautions %q", a.Cautions)
	}
}

// A hill that ends in a stop leaves the track hot: while the bicycle stands the
// track cools, but the bed of a carbon rim and what lies on it goes on warming.
func TestHeatSoaksInWhileStanding(t *testing.T) {
	a, err := thermal.Assess(steepHill(t), oneRimSetup(t, "carbon-deep", "alu-classic"))
	if err != nil {
		t.Fatal(err)
	}
	rise := func(r thermal.RimResult, place string) float64 {
		for _, p := range r.Soak {
			if p.Place == place {
				if p.PeakC > p.ThenC && !(p.AfterS > 0 && p.AfterS <= thermal.StandS) {
					t.Errorf("%s: %+v", r.ID, p)
				}
				return p.PeakC - p.ThenC
			}
		}
		t.Fatalf("%s: no %s in %+v", r.ID, place, r.Soak)
		return 0
	}
	carbon := a.Rims[0]
	if got := rise(carbon, "rim bed"); got < 2 {
		t.Errorf("the bed of carbon rises by %.1f K", got)
	}
	if rise(carbon, "tyre air") <= 0 || rise(a.Rims[1], "tyre air") <= 0 {
		t.Error("the tyre's air does not go on warming")
	}
}

// Sunshine and hot air over the road make rims hotter, by about what they
// bring: air 5 K warmer at the wheel moves the peak by nearly 5 K, and the
// brakes' energy not at all.
func TestSunAndRoadAir(t *testing.T) {
	p := steepHill(t)
	peak := func(sun, road float64) (float64, thermal.Energy) {
		s := oneRimSetup(t, "carbon-deep")
		s.Weather.SunWPerM2, s.Weather.RoadAirK = sun, road
		a, err := thermal.Assess(p, s)
		if err != nil {
			t.Fatal(err)
		}
		return a.Rims[0].PeakC, a.Energy
	}
	plain, before := peak(0, 0)
	sunny, e1 := peak(800, 0)
	warm, e2 := peak(0, 5)
	if e1 != before || e2 != before {
		t.Error("sun or road air changes the brakes' energy")
	}
	if d := warm - plain; d < 4 || d > 5.2 {
		t.Errorf("5 K of road air move the peak by %.2f K", d)
	}
	// 800 W/m2, 0.9 absorbed: 720 W/m2 against some 60-70 W/(m2 K).
	if d := sunny - plain; d < 5 || d > 12 {
		t.Errorf("800 W/m2 of sun move the peak by %.2f K", d)
	}
}

// Pads that fade are told of; wear goes with the energy of the wheel that
// brakes more.
func TestPadsFadeAndWear(t *testing.T) {
	s := oneRimSetup(t, "alu-classic")
	s.Load.RiderKg = 170
	a, err := thermal.Assess(steepHill(t), s)
	if err != nil {
		t.Fatal(err)
	}
	p := a.Rims[0].Pads
	if !(p.PeakC > 135 && p.FrictionHot < p.FrictionCold) || !cautionsSay(a, "grip less well than cold") {
		t.Errorf("pads %+v, cautions %q", p, a.Cautions)
	}
	if want := s.Wheels[0].Pad.WearM(a.Energy.BrakeFrontJ); math.Abs(p.WearM-want) > 1e-6*want {
		t.Errorf("wear %g m, the front brake's energy gives %g", p.WearM, want)
	}
	if padsFor := thermal.NewWheel(mustRim(t, "alu-track")).Pad; padsFor.ForComposite {
		t.Error("an aluminium track gets pads for carbon")
	}
}

func mustRim(t *testing.T, id string) rim.Section {
	t.Helper()
	sec, ok := thermal.RimByID(id)
	if !ok {
		t.Fatal(id)
	}
	return sec
}

// steepHill is a straight invented road: flat, 5 km down at 11 %, and its end at
// the foot.
func steepHill(t *testing.T) *route.Profile {
	t.Helper()
	b := roads.NewBuilder(45, 7, 1200, []roads.Slope{{LengthM: 600}, {LengthM: 5000, Grade: -0.11}})

	return profile(t, b.Road().Sample(10, 10, rand.New(rand.NewPCG(1, 1))))
}

// A hot tyre over its maximum is said in the advice, not only among the
// cautions, and an assumed pressure is called assumed.
func TestPressureIsInTheAdvice(t *testing.T) {
	s := oneRimSetup(t, "alu-classic")
	s.Tyres.MaxGaugePa = 580e3
	s.Assumed = []string{"tyre-kpa"}
	a, err := thermal.Assess(steepHill(t), s)
	if err != nil {
		t.Fatal(err)
	}
	if !a.Rims[0].Tyre.Over || !strings.Contains(a.Advice, "passes the pressure that is allowed") {
		t.Errorf("advice %q, tyre %+v", a.Advice, a.Rims[0].Tyre)
	}
	if !cautionsSay(a, "600 kPa cold are assumed, so give yours with --tyre-kpa") {
		t.Errorf("cautions %q", a.Cautions)
	}
}

// What holds for several rims is said once, with all their names.
func TestCautionsAreGrouped(t *testing.T) {
	s := oneRimSetup(t, "carbon-deep", "carbon-mid", "carbon-shallow")
	s.Load.RiderKg = 120
	a, err := thermal.Assess(steepHill(t), s)
	if err != nil {
		t.Fatal(err)
	}
	n := 0
	for _, c := range a.Cautions {
		if strings.Contains(c, "would pass its limit") {
			n++
			if !strings.Contains(c, "the 50 mm deep carbon clincher, the 35 mm carbon clincher and the 25 mm carbon clincher") {
				t.Error(c)
			}
		}
	}
	if n != 1 {
		t.Errorf("said %d times", n)
	}
	if !strings.Contains(a.Advice, "Nearest to fitting is the ") {
		t.Errorf("advice %q", a.Advice)
	}
}

// A composite skin on a metal wall has the limit of its resin on the track.
func TestCompositeSkinHasATrackLimit(t *testing.T) {
	w := thermal.NewWheel(mustRim(t, "alu-classic"))
	w.Rim.Surface = rim.Layer{Material: mustRim(t, "carbon-basalt").Surface.Material, ThicknessM: 0.5e-3}
	w.Rim.ResinClass = "epoxy-130"
	s := thermal.DefaultSetup()
	s.Wheels = []thermal.Wheel{w}
	a, err := thermal.Assess(steepHill(t), s)
	if err != nil {
		t.Fatal(err)
	}
	l := a.Rims[0].Limits[0]
	if l.On != thermal.OnTrack || l.LimitC != 72 || l.Band == "" || a.Rims[0].Verdict != thermal.Over {
		t.Errorf("%+v", l)
	}
}

// 700 is what the trade calls a wheel whose bead seat is 622 mm.
func TestUncommonBeadSeatIsSaid(t *testing.T) {
	s := oneRimSetup(t, "alu-classic")
	s.Wheels[0].Rim.Geometry.BeadSeatDiameterM = 0.700
	a, err := thermal.Assess(steepHill(t), s)
	if err != nil {
		t.Fatal(err)
	}
	if !cautionsSay(a, "No common tyre sits on the 22 mm aluminium clincher") {
		t.Errorf("cautions %q", a.Cautions)
	}
}

// A doubtful stretch where a rim is first over its limit is named, though the
// rim gets hottest far from it.
func TestDoubtWhereFirstOver(t *testing.T) {
	p := steepHill(t)
	s := oneRimSetup(t, "carbon-deep")
	a, err := thermal.Assess(p, s)
	if err != nil {
		t.Fatal(err)
	}
	r := a.Rims[0]
	if r.PeakInDoubt || len(r.Over) == 0 || r.PeakAtM-r.Over[0].StartM < 1500 {
		t.Fatalf("in doubt %v, first over at %v, peak at %.0f m", r.PeakInDoubt, r.Over, r.PeakAtM)
	}
	at := r.Over[0].StartM
	p.Doubtful = []route.Span{{StartM: at - 50, EndM: at + 1, Why: "bridged"}}
	if a, err = thermal.Assess(p, s); err != nil {
		t.Fatal(err)
	}
	if !a.Rims[0].PeakInDoubt || !cautionsSay(a, "in doubt (bridged") || !strings.Contains(a.Advice, "first passes its limit") {
		t.Errorf("in doubt %v, advice %q, cautions %q", a.Rims[0].PeakInDoubt, a.Advice, a.Cautions)
	}
}
