package thermal

import (
	"fmt"
	"math"

	"rimheat/thermal/air"
	"rimheat/thermal/rim"
)

const (
	// benchResolution refines the mesh: one wheel for minutes can afford
	// what a whole ride cannot.
	benchResolution = 2.0
	// Steps of a bench run are at most the part benchPart of the time since the
	// power last jumped, and benchFirstS times a power of 2 up to benchMostS,
	// seconds: when the step changes the matrix is factorised, which costs as
	// much as three steps. A jump is more than benchSurgeW.
	// Mesh and steps are chosen so that halving either moves no peak of rim or
	// pad by 0.5 K in the runs of TestBenchIsFineEnough, drawn with up to
	// 1,500 W (derived). Not every run: of 27 more on carbon, most with 1,500 W
	// all the time, halving the cells moved four by more, the worst, 344 °C hot,
	// by 0.7 K.
	benchPart, benchFirstS, benchMostS = 0.05, 0.25, 2.0
	benchSurgeW                        = 100.0
	// benchLongestS bounds a run, s: a day; benchMostSamples what is told of
	// it, so that it fits into memory and a table.
	benchLongestS    = 86400.0
	benchMostSamples = 100000
	// benchApartS is the least time from the last sample but one to the end, s.
	benchApartS = 1e-3

	// No rim has a mass outside these, kg; common practice, no source.
	lightestRimKg, heaviestRimKg = 0.2, 0.9

	// DefaultTyreGaugePa is the tyre's pressure above the air's at the start,
	// Pa; common practice, no source.
	DefaultTyreGaugePa = 600e3
)

// A Bound is what one number of a bench may be, both ends included.
type Bound struct {
	Unit   string
	Lo, Hi float64
}

// BenchBounds are the bounds of all that is given to a bench, in the units
// that people give it in.
type BenchBounds struct {
	AirC, FilmWPerM2K, Emissivity, TyreKPa, EveryS, DurationS Bound
	PowerW, FluxWPerM2, RollKmH, AirflowKmH, SunWPerM2        Bound
	FilmFactor                                                Bound
}

// BoundsOfBench gives the bounds of a bench.
func BoundsOfBench() BenchBounds {
	return BenchBounds{
		AirC: Bound{"°C", -30, 55}, FilmWPerM2K: Bound{"W/(m2 K)", 0.1, 5000}, Emissivity: Bound{"", 0, 1},
		TyreKPa: Bound{"kPa", leastTyreKPa, mostTyreKPa}, EveryS: Bound{"s", 0.1, benchLongestS}, DurationS: Bound{"s", 1e-3, benchLongestS},
		PowerW: Bound{"W", 0, 10e3}, FluxWPerM2: Bound{"W/m2", 0, 500e3}, RollKmH: Bound{"km/h", 0, 130}, AirflowKmH: Bound{"km/h", 0, 150}, SunWPerM2: Bound{"W/m2", 0, 1400}, FilmFactor: Bound{"", 0.2, 5},
	}
}

// SlowestBrakedKmH is the speed below which pads cannot brake a wheel: the
// heat is then no longer spread round the turn, as the model takes it.
const SlowestBrakedKmH = 1.0

// A BenchSpan is a stretch of a bench run in which nobody turns a knob.
type BenchSpan struct {
	Seconds float64
	// PowerW is the braking power at the wheel.
	PowerW float64
	// FluxWPerM2 goes straight into the swept bands. It stands instead of
	// PowerW and wants NoPads.
	FluxWPerM2 float64
	// RollMps is the speed of the tyre on its drum, AirMps that of the air
	// along the bench; 0 is a bench without a fan.
	RollMps, AirMps float64
}

// A BenchSpec is one wheel on a bench: everything that Bench needs to know.
type BenchSpec struct {
	Rim rim.Section
	Pad rim.Pad
	// NoPads leaves all heat to the rim; Pad is then ignored.
	NoPads bool
	// AirK is the air's temperature, kelvin, and that of the wheel at the
	// start.
	AirK  float64
	Spans []BenchSpan
	// FilmWPerM2K, if not 0, is the film coefficient of all outer faces
	// instead of the model of moving air, W/(m2 K).
	FilmWPerM2K float64
	// FilmFactor multiplies the film coefficient of moving air, 1 being the
	// central line; air.FilmSpread either way is how uncertain that is.
	FilmFactor float64
	// Emissivity, if not NaN, is that of all outer faces instead of the
	// rim's own.
	Emissivity float64
	// TyreSide is what tyre, tape and tube bear.
	TyreSide rim.TyreSide
	// TyreGaugePa is the pressure in the tyre above the air's at the start, Pa.
	TyreGaugePa float64
	// TyreMaxGaugePa is the highest that the tyre's maker allows, Pa; NaN if
	// not given.
	TyreMaxGaugePa float64
	// SunWPerM2 is sunshine on a face turned to the sun, one side of the
	// wheel, W/m2.
	SunWPerM2 float64
	// EveryS is the time between samples, s.
	EveryS float64
	// Preset is the programme that the spans come from, if any.
	Preset BenchPreset
	// Assumed names the inputs that nobody gave, in the words of the flags.
	Assumed []string
}

// NewBench is a wheel with the pads that the trade would fit, in air of 20 °C,
// read once a minute, with nothing to do yet.
func NewBench(sec rim.Section) BenchSpec {
	return BenchSpec{
		Rim: sec, Pad: NewWheel(sec).Pad, TyreSide: NewWheel(sec).TyreSide, AirK: air.ZeroCelsiusK + 20,
		FilmFactor: 1, Emissivity: math.NaN(), TyreGaugePa: DefaultTyreGaugePa, TyreMaxGaugePa: math.NaN(), EveryS: 60,
	}
}

// DurationS is the length of the run, seconds.
func (s BenchSpec) DurationS() float64 {
	var t float64
	for _, b := range s.Spans {
		t += b.Seconds
	}
	return t
}

// Validate reports the first input that no bench has.
func (s BenchSpec) Validate() error {
	if err := s.Rim.Validate(); err != nil {
		return err
	}
	if !s.NoPads {
		if err := s.Pad.Validate(); err != nil {
			return err
		}
	}
	if err := s.TyreSide.Validate(); err != nil {
		return err
	}
	if err := (Wheel{Rim: s.Rim, TyreSide: s.TyreSide}).belongs(); err != nil {
		return err
	}
	type value struct {
		what string
		v    float64
		Bound
	}
	check := func(of string, vs ...value) error {
		for _, x := range vs {
			unit := x.Unit
			if unit != "" {
				unit = " " + unit
			}
			if !(x.v >= x.Lo-1e-9 && x.v <= x.Hi+1e-9) {
				return fmt.Errorf("%s%s is %.4g%s, outside %g to %g%s", of, x.what, x.v, unit, x.Lo, x.Hi, unit)
			}
		}
		return nil
	}
	may := BoundsOfBench()
	film, shine, most := s.FilmWPerM2K, s.Emissivity, s.TyreMaxGaugePa
	if math.IsNaN(most) {
		most = s.TyreGaugePa
	}
	if film == 0 {
		film = 1
	}
	if math.IsNaN(shine) {
		shine = 0
	}
	if err := check("", value{"air", s.AirK - air.ZeroCelsiusK, may.AirC}, value{"film coefficient", film, may.FilmWPerM2K},
		value{"emissivity", shine, may.Emissivity}, value{"tyre pressure", s.TyreGaugePa / 1e3, may.TyreKPa},
		value{"highest tyre pressure", most / 1e3, may.TyreKPa}, value{"sunshine", s.SunWPerM2, may.SunWPerM2}, value{"film factor", s.FilmFactor, may.FilmFactor},
		value{"time between samples", s.EveryS, may.EveryS}, value{"length of the bench run", s.DurationS(), may.DurationS}); err != nil {
		return err
	}
	if n := s.DurationS() / s.EveryS; n > benchMostSamples {
		return fmt.Errorf("%.0f samples are more than %d: take a longer time between samples", n, benchMostSamples)
	}
	for i, b := range s.Spans {
		of := fmt.Sprintf("stretch %d of the bench run: ", i+1)
		if err := check(of, value{"length", b.Seconds, may.DurationS}, value{"power", b.PowerW, may.PowerW}, value{"flux", b.FluxWPerM2, may.FluxWPerM2},
			value{"speed", b.RollMps * 3.6, may.RollKmH}, value{"speed of the air", b.AirMps * 3.6, may.AirflowKmH}); err != nil {
			return err
		}
		switch {
		case b.FluxWPerM2 > 0 && !s.NoPads:
			return fmt.Errorf("%sa flux goes straight into the rim and wants no pads", of)
		case b.FluxWPerM2 > 0 && b.PowerW > 0:
			return fmt.Errorf("%sboth a flux and a power", of)
		case b.PowerW > 0 && b.RollMps*3.6 < SlowestBrakedKmH-1e-9 && !s.NoPads:
			return fmt.Errorf("%spads cannot brake a wheel that turns slower than %g km/h", of, SlowestBrakedKmH)
		}
	}
	return nil
}

// Bench runs one wheel on a bench. The mistakes of the spec come back as
// errors.
func Bench(spec BenchSpec) (*BenchResult, error) { return bench(spec, benchGrain{1, 1}) }

// filmSurfaceK is the rim's surface in a film curve, 100 °C: a rim well warmed
// by braking; in air of 20 °C its film has 60 °C, at which handbooks give
// their examples.
const filmSurfaceK = air.ZeroCelsiusK + 100

// FilmCurve is the film coefficient of the rim against speed, in air of airK
// kelvin at sea level.
func FilmCurve(sec rim.Section, airK float64) (air.FilmCurve, error) {
	if err := sec.Validate(); err != nil {
		return air.FilmCurve{}, err
	}
	return air.NewFilmCurve(air.FilmSetting{
		TrackRadiusM: sec.Geometry.TrackRadiusM(), SpinPart: sec.Geometry.SpinPart(), SurfaceK: filmSurfaceK, AirK: airK, PressurePa: air.StandardPressurePa,
	}), nil
}
