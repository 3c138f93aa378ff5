package thermal

import (
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"rimheat/route"
	"rimheat/testdata/roads"
	"rimheat/thermal/air"
	"rimheat/thermal/rim"
)

// BenchmarkAssess shows that the cost grows linearly with the route's length.
func BenchmarkAssess(b *testing.B) {
	for _, km := range []float64{37.5, 75, 150} {
		b.Run(fmt.Sprintf("%gkm", km), func(b *testing.B) {
			p := mountain(b, km*1000)
			s := DefaultSetup()
			b.ReportAllocs()
			for b.Loop() {
				if _, err := Assess(p, s); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// BenchmarkBenchDuty shows the cost of a duty whose power jumps every second, ten
// minutes of it.
func BenchmarkBenchDuty(b *testing.B) {
	for _, id := range []string{"carbon-deep", "alu-classic"} {
		for _, speeds := range []bool{false, true} {
			b.Run(fmt.Sprintf("%s, speeds too %t", id, speeds), func(b *testing.B) {
				sec, _ := RimByID(id)
				s := NewBench(sec)
				rng := rand.New(rand.NewPCG(1, 2))
				for range 600 {
					now := at30(1, 800*rng.Float64())
					if speeds {
						now.RollMps = 3 + 12*rng.Float64()
						now.AirMps = now.RollMps
					}
					s.Spans = append(s.Spans, now)
				}
				b.ReportAllocs()
				for b.Loop() {
					if _, err := Bench(s); err != nil {
						b.Fatal(err)
					}
				}
			})
		}
	}
}

func mountain(tb testing.TB, lengthM float64) *route.Profile {
	tb.Helper()
	gpx := roads.Mountain(lengthM, 5, 1).GPX()
	t, err := route.Read(bytes.NewReader(gpx), "mountain", route.Options{})
	if err != nil {
		tb.Fatal(err)
	}
	p, err := route.NewProfile(t, route.Options{})
	if err != nil {
		tb.Fatal(err)
	}
	return p
}

// run runs a bench that must work.
func run(t *testing.T, s BenchSpec) *BenchResult {
	t.Helper()
	r, err := Bench(s)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// onBench is a built-in rim with something to do.
func onBench(t *testing.T, id string, spans ...BenchSpan) BenchSpec {
	t.Helper()
	sec, ok := RimByID(id)
	if !ok {
		t.Fatalf("no rim %s", id)
	}
	s := NewBench(sec)
	s.Spans = spans
	return s
}

// at30 brakes with w watts at 30 km/h for so many seconds.
func at30(seconds, w float64) BenchSpan {
	return BenchSpan{Seconds: seconds, PowerW: w, RollMps: 30 / 3.6, AirMps: 30 / 3.6}
}

// hardPulses are brakings of 2.4 kW and one of 4.6 kW, with pauses.
func hardPulses() []BenchSpan {
	var out []BenchSpan
	for range 4 {
		out = append(out, at30(7, 2400), at30(7, 0))
	}
	return append(out, at30(4, 4600), at30(20, 0))
}

// What is braked goes into pads and rim, what goes into the rim is stored or
// lost; braked is power times time.
func TestBenchEnergyCloses(t *testing.T) {
	for _, id := range []string{"carbon-deep", "alu-classic"} {
		for name, s := range map[string]BenchSpec{
			"steady": onBench(t, id, at30(900, 300)),
			"pulses": onBench(t, id, hardPulses()...),
			"no fan": onBench(t, id, BenchSpan{Seconds: 300, PowerW: 500, RollMps: 5}),
		} {
			for _, noPads := range []bool{false, true} {
				s.NoPads = noPads
				var want float64
				for _, b := range s.Spans {
					want += b.PowerW * b.Seconds
				}
				r := run(t, s)
				e := r.Energy
				for what, d := range map[string]float64{
					"braked": e.BrakedJ - want, "pads and rim": e.BrakedJ - e.PadsJ - e.InJ, "stored and lost": e.InJ - e.StoredJ - e.LostJ,
				} {
					if math.Abs(d) > 1e-9*want {
						t.Errorf("%s, %s, no pads %v: %s is out by %g J of %g", id, name, noPads, what, d, want)
					}
				}
				if (e.PadsJ != 0) == noPads || (r.Peaks.PadC == nil) != noPads {
					t.Errorf("%s, %s, no pads %v: pads took %g J", id, name, noPads, e.PadsJ)
				}
			}
		}
	}
}

// A thin rim of good metal under a fixed film is a lump: its rise is
// P/(hA) (1 - exp(-hA t/C)). The track lies above, the spoke bed below, since
// heat must flow along; the tyre, of some 2 % of the loss, pulls both down.
func TestBenchFixedFilmIsTheLump(t *testing.T) {
	const (
		film, watts = 60.0, 100.0
		tyre        = 0.02
	)
	s := onBench(t, "alu-classic", at30(600, watts))
	s.NoPads, s.Emissivity, s.FilmWPerM2K, s.EveryS = true, 0, film, 30
	s.Rim.Geometry.Shape = rim.Box // whose outer faces are two rings and a hoop
	g := s.Rim.Geometry
	outer, inner := g.EdgeRadiusM(), g.EdgeRadiusM()-g.DepthM
	area := 2*math.Pi*(outer*outer-inner*inner) + 2*math.Pi*inner*g.OuterWidthM
	spread := math.NaN()
	for _, k := range []float64{s.Rim.Material.ConductivityAlong.Value, 450} {
		s.Rim.Material.ConductivityAlong.Value, s.Rim.Material.ConductivityThrough.Value = k, k
		r := run(t, s)
		heat := r.Rim.MassKg * s.Rim.Material.SpecificHeat.Value
		worst := 0.0
		for _, x := range r.Samples[1:] {
			lump := watts / (film * area) * (1 - math.Exp(-film*area/heat*x.TimeS))
			track, bed := x.SweptMeanC-20, x.SpokeBedC-20
			if !(track > lump*(1-tyre) && bed < lump) {
				t.Errorf("k %g, %g s: track +%.3f K, lump +%.3f K, spoke bed +%.3f K", k, x.TimeS, track, lump, bed)
			}
			worst = math.Max(worst, math.Abs(track/lump-1))
		}
		t.Logf("k %g W/(m K): track within %.1f %% of the lump", k, 100*worst)
		last := r.Samples[len(r.Samples)-1]
		lump := watts / (film * area)
		if d := last.SweptMeanC - 20 - lump; math.Abs(d) > 0.025*lump {
			t.Errorf("k %g: steady rise of the track is %+.2f K off the lump's %.2f K", k, d, lump)
		}
		now := last.SweptMeanC - last.SpokeBedC
		if now > spread*0.5 {
			t.Errorf("nearly three times the conductivity leaves %.2f K of %.2f K between track and spoke bed", now, spread)
		}
		spread = now
	}
}

// A drum without a fan cools two to four times less than the same speed on
// the road (see air.RimFilm): film is loss over rise, here in near steady
// state without radiation.
func TestBenchFanAgainstNoFan(t *testing.T) {
	for _, id := range []string{"alu-classic", "alu-deep"} {
		for _, kmh := range []float64{20, 32, 50} {
			var conductance [2]float64
			for i, flow := range []float64{kmh, 0} {
				s := onBench(t, id, BenchSpan{Seconds: 7200, PowerW: 100, RollMps: kmh / 3.6, AirMps: flow / 3.6})
				s.NoPads, s.Emissivity, s.EveryS = true, 0, 3600
				conductance[i] = 100 / (run(t, s).Peaks.SweptMeanC - 20)
			}
			if ratio := conductance[0] / conductance[1]; ratio < 2 || ratio > 4 {
				t.Errorf("%s at %g km/h: fan cools %.2f times better, want 2 to 4", id, kmh, ratio)
			}
		}
	}
}

// Half the step moves no peak by half a kelvin, not even in brakings of 2.4 and
// 4.6 kW, in which the pad's face gets 300 K hot.
func TestBenchStepsAreShortEnough(t *testing.T) {
	for _, id := range []string{"carbon-deep", "alu-classic"} {
		for name, spans := range map[string][]BenchSpan{"steady": {at30(300, 400)}, "pulses": hardPulses()} {
			s := onBench(t, id, spans...)
			whole, half := grained(t, s, benchGrain{1, 1}), grained(t, s, benchGrain{1, 0.5})
			for i, what := range peakNames() {
				d := peaksOf(whole)[i] - peaksOf(half)[i]
				t.Logf("%s, %s, %s: %+.3f K", id, name, what, d)
				if math.Abs(d) > 0.5 {
					t.Errorf("%s, %s: half the step moves %s by %.2f K", id, name, what, d)
				}
			}
		}
	}
}

func grained(t *testing.T, s BenchSpec, g benchGrain) *BenchResult {
	t.Helper()
	r, err := bench(s, g)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// peakNames and peaksOf are all peaks that a bench reports, °C and, for the
// tyre, kPa; then what is held against the first limit, and the tyre side.
func peakNames() []string {
	return []string{"swept", "hottest", "mid wall", "inner wall", "bed centre", "spoke bed", "tyre air", "tyre kPa", "pad", "judged", "tyre side"}
}

func peaksOf(r *BenchResult) []float64 {
	p := r.Peaks
	return []float64{p.SweptMeanC, p.HottestC, p.MidWallC, p.InnerWallC, p.BedCentreC, p.SpokeBedC, p.TyreAirC, p.TyreKPa, *p.PadC, r.Limits[0].PeakC, r.Limits[len(r.Limits)-1].PeakC}
}

// drawnBench is a run with a section, a material and a braking drawn at random:
// box sections in the bounds of the finite element cases, and tapered ones; one
// in four is metal. Brakings are steady, in pulses of 5 s every 15 s, or jump
// every second, some with 1,500 W, some without a fan.
func drawnBench(t *testing.T, k int) (string, BenchSpec) {
	t.Helper()
	rng := rand.New(rand.NewPCG(2027, uint64(k)))
	in := func(lo, hi float64) float64 { return lo + (hi-lo)*rng.Float64() }
	const mm = 1e-3
	metal := k%4 == 3
	id, wall := "carbon-deep", in(2.2*mm, 4.2*mm)
	if metal {
		id, wall = "alu-classic", in(1.6*mm, 2.4*mm)
	}
	s := onBench(t, id)
	g := &s.Rim.Geometry
	*g = rim.Geometry{
		Shape: rim.Box, BeadSeatDiameterM: g.BeadSeatDiameterM,
		OuterWidthM: in(20*mm, 30*mm), DepthM: in(20*mm, 60*mm), TrackHeightM: in(7.5*mm, 11*mm), TrackBelowEdgeM: in(0.5*mm, 2*mm),
		BedBelowEdgeM: in(5.5*mm, 7*mm), BedM: in(0.9*mm, 1.6*mm), FlankM: in(0.8*mm, min(1.6*mm, wall-0.4*mm)), SpokeBedM: in(1.5*mm, 4.5*mm),
	}
	g.InnerWidthM = g.OuterWidthM - 2*wall
	// The bed lies above the lower border of the track, as in rims.
	g.BedBelowEdgeM = min(g.BedBelowEdgeM, g.TrackHeightM+g.TrackBelowEdgeM-g.BedM-0.4*mm)
	// One in seven has a skin, one metal in two a fairing.
	parts := rim.Materials()
	byID := func(id string) rim.Material {
		return parts[slices.IndexFunc(parts, func(m rim.Material) bool { return m.ID == id })]
	}
	if k%7 == 2 {
		s.Rim.Surface = rim.Layer{Material: byID("basalt-epoxy"), ThicknessM: in(0.2*mm, g.FlankM-0.3*mm)}
		s.Rim.ResinClass = "unknown"
	}
	if k%8 == 3 {
		s.Rim.Fairing = rim.Fairing{Material: byID("carbon-epoxy"), BelowEdgeM: in(13*mm, g.DepthM-s.Rim.Geometry.SpokeBedM-2*mm), BondM2KPerW: 1e-3}
		s.Rim.ResinClass = "unknown"
	}
	m := &s.Rim.Material
	if metal {
		both := in(120, 200)
		m.ConductivityAlong.Value, m.ConductivityThrough.Value, m.Density.Value = both, both, in(2600, 2800)
	} else {
		m.ConductivityAlong.Value, m.ConductivityThrough.Value, m.Density.Value = in(2.5, 6), in(0.5, 0.9), in(1450, 1650)
		if k%2 == 1 {
			g.Shape = rim.Taper
		}
	}
	b := BenchSpan{Seconds: 120, RollMps: in(15, 60) / 3.6, PowerW: in(300, 1500)}
	if k%5 != 4 {
		b.AirMps = b.RollMps
	}
	if k%6 < 2 || k%6 == 5 {
		b.PowerW = 1500
	}
	kind := "steady"
	switch k % 3 {
	case 0:
		s.Spans = []BenchSpan{b}
	case 1:
		kind = "pulses"
		on, off := b, b
		on.Seconds, off.Seconds, off.PowerW = 5, 10, 0
		for range 8 {
			s.Spans = append(s.Spans, on, off)
		}
	case 2:
		kind = "jumps"
		for range 120 {
			now := b
			now.Seconds, now.PowerW = 1, b.PowerW*rng.Float64()
			s.Spans = append(s.Spans, now)
		}
	}
	return fmt.Sprintf("%d, %s, %s, %.0f W at %.0f km/h, air of %.0f km/h, walls of %.1f mm", k, id, kind, b.PowerW, b.RollMps*3.6, b.AirMps*3.6, wall/mm), s
}

// Halving cells or time steps moves no reported peak by half a kelvin.
func TestBenchIsFineEnough(t *testing.T) {
	if testing.Short() {
		t.Skip("takes some seconds")
	}
	const most = 0.5
	for _, half := range []struct {
		what  string
		grain benchGrain
	}{{"the cells", benchGrain{2, 1}}, {"the steps", benchGrain{1, 0.5}}} {
		worst := make([]float64, len(peakNames()))
		for k := range 20 {
			name, s := drawnBench(t, k)
			a, b := peaksOf(grained(t, s, benchGrain{1, 1})), peaksOf(grained(t, s, half.grain))
			for i, what := range peakNames() {
				d := a[i] - b[i]
				worst[i] = math.Max(worst[i], math.Abs(d))
				if !(math.Abs(d) < most) {
					t.Errorf("%s: halving %s moves %s by %+.2f from %.1f", name, half.what, what, d, a[i])
				}
			}
		}
		for i, what := range peakNames() {
			t.Logf("halving %s moves %s by up to %.2f", half.what, what, worst[i])
		}
	}
}

// A wheel that is over a limit before it is braked has reached it at 0 s, and
// in air below freezing no peak is warmer than the wheel ever was.
func TestBenchStart(t *testing.T) {
	s := onBench(t, "carbon-deep", at30(60, 0))
	s.Rim.MakerLimitK = air.ZeroCelsiusK + 45
	s.AirK = air.ZeroCelsiusK + 50
	hot := run(t, s)
	if at := hot.Limits[0].ReachedS; at == nil || *at != 0 || hot.Limits[0].Verdict != Over || hot.Peaks.SweptMeanAtS != 0 {
		t.Errorf("%+v, highest after %g s", hot.Limits[0], hot.Peaks.SweptMeanAtS)
	}
	s.AirK = air.ZeroCelsiusK - 20
	cold := run(t, s)
	if p := cold.Limits[0].PeakC; math.Abs(p+20) > 1e-6 || cold.Limits[0].ReachedS != nil {
		t.Errorf("a wheel at -20 °C that nobody brakes peaks at %g °C", p)
	}
	for i, x := range cold.Samples {
		if x.RimShare != nil {
			t.Errorf("sample %d: a share of no braking", i)
		}
	}
}

func TestLegible(t *testing.T) {
	for _, c := range []struct {
		names []string
		want  string
	}{
		{[]string{"a"}, "a"}, {[]string{"", "b"}, "b"}, {[]string{" \u3164\u115f", "\u2800\u00a0", "c"}, "c"}, {[]string{"\u202e\ufe0f\u0301"}, "a rim without a name"},
		{nil, "a rim without a name"}, {[]string{"輪"}, "輪"}, {[]string{"\u200b7"}, "\u200b7"}, {[]string{"\U000E0041\x1b\ufffd"}, "a rim without a name"},
	} {
		if got := Legible(c.names...); got != c.want {
			t.Errorf("%q: got %q", c.names, got)
		}
	}
}

// The film curve holds for the rim as it turns in the heat model.
func TestFilmCurveOfARim(t *testing.T) {
	sec, _ := RimByID("carbon-deep")
	c, err := FilmCurve(sec, air.ZeroCelsiusK+20)
	if err != nil {
		t.Fatal(err)
	}
	if c.FilmK() != air.ZeroCelsiusK+60 || c.TrackRadiusM != sec.Geometry.TrackRadiusM() || c.SpinPart < 0.9 || c.SpinPart > 0.95 {
		t.Errorf("%+v", c.FilmSetting)
	}
	sec.Geometry.DepthM = -1
	if _, err := FilmCurve(sec, 300); err == nil {
		t.Error("a rim that cannot be has a film curve")
	}
}

// Pressure follows the gas law: absolute pressure by absolute temperature.
func TestBenchTyrePressure(t *testing.T) {
	s := onBench(t, "alu-classic", at30(1200, 800))
	s.AirK, s.TyreGaugePa = air.ZeroCelsiusK+35, 700e3
	r := run(t, s)
	if r.Samples[0].TyreKPa != 700 || r.Samples[0].TyreAirC != s.AirK-air.ZeroCelsiusK {
		t.Errorf("at the start %v kPa, %v °C", r.Samples[0].TyreKPa, r.Samples[0].TyreAirC)
	}
	last := r.Samples[len(r.Samples)-1]
	if last.TyreAirC < 40 {
		t.Fatalf("the tyre hardly warmed: %.1f °C", last.TyreAirC)
	}
	want := (700+101.325)*(last.TyreAirC+273.15)/(35+273.15) - 101.325
	if math.Abs(last.TyreKPa-want) > 1e-6 {
		t.Errorf("%v kPa at %v °C, want %v", last.TyreKPa, last.TyreAirC, want)
	}
}

// A flux is that power over both swept bands, and nothing of it is lost to
// pads. Neither sampling nor how a run is cut into stretches matters.
func TestBenchSameRunSaidOtherwise(t *testing.T) {
	power := onBench(t, "carbon-mid", at30(120, 0))
	power.NoPads = true
	area := run(t, power).Rim.SweptAreaM2
	flux := power
	flux.Spans = []BenchSpan{{Seconds: 120, FluxWPerM2: 9000, RollMps: 30 / 3.6, AirMps: 30 / 3.6}}
	power.Spans = []BenchSpan{at30(120, 9000*area)}
	a, b := run(t, power), run(t, flux)
	if a.Peaks != b.Peaks || *b.Inputs.Flux != 9000 || a.Inputs.Flux != nil {
		t.Errorf("power %+v, flux %+v", a.Peaks, b.Peaks)
	}
	cut := power
	cut.EveryS = 7
	cut.Spans = []BenchSpan{at30(31.5, 9000*area), at30(88.5, 9000*area)}
	c := run(t, cut)
	if d := c.Peaks.SweptMeanC - a.Peaks.SweptMeanC; math.Abs(d) > 0.05 {
		t.Errorf("cut and sampled otherwise the peak moves by %.3f K", d)
	}
	if n := len(c.Samples); n != 19 || c.Samples[1].TimeS != 7 || c.Samples[n-1].TimeS != 120 {
		t.Errorf("%d samples, the last at %v s", n, c.Samples[n-1].TimeS)
	}
}

// Limits say when they are reached, cautions follow.
func TestBenchLimitsAndCautions(t *testing.T) {
	cool := run(t, onBench(t, "carbon-deep", at30(60, 100)))
	hot := onBench(t, "carbon-thin", at30(600, 900))
	hot.Pad, _ = PadByID("rubber-alu")
	hot.Rim.Geometry.SpokeBedM, hot.Rim.Geometry.FlankM = 12e-3, 6e-3 // which no rim has
	r := run(t, hot)
	for _, l := range cool.Limits {
		if l.ReachedS != nil || l.PeakC >= l.LimitC {
			t.Errorf("cool: %+v", l)
		}
	}
	track := r.Limits[0]
	if track.On != OnTrack || track.ReachedS == nil || *track.ReachedS <= 0 || *track.ReachedS > 120 || track.PeakC < track.LimitC {
		t.Errorf("hot: %+v", track)
	}
	all := strings.Join(r.Cautions, "\n")
	for _, want := range []string{"no rim lies outside 200 to 900 g", "would pass the limit", "walls of the 50 mm carbon clincher with thin walls are 2.0 mm", "are not meant for the track", "pads glaze"} {
		if !strings.Contains(all, want) {
			t.Errorf("no caution with %q in\n%s", want, all)
		}
	}
	if n := len(cool.Cautions); n != 2 {
		t.Errorf("cool: %q", cool.Cautions)
	}
}

func TestBenchRefuses(t *testing.T) {
	good := onBench(t, "carbon-deep", at30(60, 100))
	if err := good.Validate(); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		spoil func(*BenchSpec)
		want  string
	}{
		{func(s *BenchSpec) { s.Spans = nil }, "length of the bench run is 0 s, outside 0.001 to 86400 s"},
		{func(s *BenchSpec) { s.AirK = 400 }, "air is 126.9 °C, outside -30 to 55 °C"},
		{func(s *BenchSpec) { s.AirK = math.NaN() }, "air is NaN °C, outside -30 to 55 °C"},
		{func(s *BenchSpec) { s.FilmWPerM2K = -1 }, "film coefficient is -1 W/(m2 K), outside 0.1 to 5000 W/(m2 K)"},
		{func(s *BenchSpec) { s.Emissivity = 2 }, "emissivity is 2, outside 0 to 1"},
		{func(s *BenchSpec) { s.TyreGaugePa = 0 }, "tyre pressure is 0 kPa, outside 50 to 1500 kPa"},
		{func(s *BenchSpec) { s.EveryS = 0 }, "time between samples is 0 s, outside 0.1 to 86400 s"},
		{func(s *BenchSpec) { s.Spans[0].Seconds = -1 }, "length of the bench run is -1 s, outside 0.001 to 86400 s"},
		{func(s *BenchSpec) { s.Spans[0].PowerW = -1 }, "stretch 1 of the bench run: power is -1 W, outside 0 to 10000 W"},
		{func(s *BenchSpec) { s.Spans[0].RollMps = 100 }, "stretch 1 of the bench run: speed is 360 km/h, outside 0 to 130 km/h"},
		{func(s *BenchSpec) { s.Spans[0].AirMps = -1 }, "stretch 1 of the bench run: speed of the air is -3.6 km/h, outside 0 to 150 km/h"},
		{func(s *BenchSpec) { s.Spans[0].FluxWPerM2 = 1 }, "stretch 1 of the bench run: a flux goes straight into the rim and wants no pads"},
		{func(s *BenchSpec) { s.NoPads, s.Spans[0].FluxWPerM2 = true, 1 }, "stretch 1 of the bench run: both a flux and a power"},
		{func(s *BenchSpec) { s.Spans[0].RollMps = 0 }, "stretch 1 of the bench run: pads cannot brake a wheel that turns slower than 1 km/h"},
		{func(s *BenchSpec) { s.Rim.ResinClass = "glue" }, `rim carbon-deep: no resin class "glue"`},
	} {
		s := good
		s.Spans = append([]BenchSpan{}, good.Spans...)
		c.spoil(&s)
		if _, err := Bench(s); err == nil || err.Error() != c.want {
			t.Errorf("got %v\nwant %s", err, c.want)
		}
	}
}
