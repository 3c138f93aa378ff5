package air

import (
	"fmt"
	"math"
)

// A FilmSetting is what a film curve holds for: a rim that rolls through
// still air, and its temperatures.
type FilmSetting struct {
	TrackRadiusM float64 `json:"track_radius_m"`
	// SpinPart is the speed of the track about the hub over the road speed.
	SpinPart   float64 `json:"spin_over_road_speed"`
	SurfaceK   float64 `json:"surface_K"`
	AirK       float64 `json:"air_K"`
	PressurePa float64 `json:"pressure_Pa"`
}

// FilmK is the mean of surface and air, at which the laws take their air.
func (s FilmSetting) FilmK() float64 { return (s.SurfaceK + s.AirK) / 2 }

// MeetsPart is the mean over a turn of the speed that an element of the rim
// meets, as a part of the road speed.
func (s FilmSetting) MeetsPart() float64 { return MeanOverTurn(1, s.SpinPart, 0.5) }

// A FilmFamily is a kind of line in a film curve.
type FilmFamily string

const (
	FilmRoad           FilmFamily = "road"            // RimFilm in the stream of the ride
	FilmBand           FilmFamily = "band"            // the same divided and multiplied by FilmSpread
	FilmBench          FilmFamily = "bench"           // RimFilm without a stream
	FilmPlateTurbulent FilmFamily = "turbulent plate" // PlateTurbulent
	FilmPlateLaminar   FilmFamily = "laminar plate"   // PlateLaminar
	FilmDisc           FilmFamily = "disc"            // a disc that spins in still air
	FilmFree           FilmFamily = "free"            // Natural
	FilmCentral        FilmFamily = "central"         // a power law that sums the plate up
)

// A FilmLine is one law along the speeds of its curve.
type FilmLine struct {
	// ID is a word for tables, Text a few words for people.
	ID     string     `json:"id"`
	Text   string     `json:"text"`
	Family FilmFamily `json:"family"`
	// LengthM is the plate's, 0 for other laws.
	LengthM float64 `json:"length_m,omitempty"`
	Law     string  `json:"law"`
	Source  string  `json:"source"`
	// H is the film coefficient at each speed, W/(m2 K).
	H []float64 `json:"W_per_m2_K"`
}

// A FilmCurve is the film coefficient against speed, by RimFilm and by the laws
// that it is built from. Radiation is not part of it.
type FilmCurve struct {
	FilmSetting
	SpeedMps []float64  `json:"speed_m_per_s"`
	Lines    []FilmLine `json:"lines"`
}

const (
	// CentralFilm is the film coefficient of the central line at
	// CentralMps, W/(m2 K): PlateTurbulent at FilmLengthM in a stream of 1.22
	// times that speed, film of 60 °C at sea level (derived). The line does
	// not follow the temperatures of a setting.
	CentralFilm  = 57.0
	CentralMps   = 30 / 3.6
	CentralFilmK = ZeroCelsiusK + 60

	// CurveTopKmH is where a film curve ends.
	CurveTopKmH = 80
)

// plateLengths are the lengths of plate that are candidates for a rim, m:
// depth of a shallow and of a deep rim, and arcs between what disturbs the
// stream. Common practice, no source.
func plateLengths() []float64 { return []float64{0.02, 0.05, FilmLengthM, 0.3} }

const (
	plateSource = "F. P. Incropera, D. P. DeWitt, Fundamentals of Heat and Mass Transfer, eq. %s; from memory"
	discSource  = "S. Harmand, J. Pelle, S. Poncet, I. V. Shevchuk, review of flow and convective heat transfer of a rotating disc, Int. J. Therm. Sci. 67 (2013) 1; from memory, medium confidence"
	freeSource  = "S. W. Churchill, H. H. S. Chu, laminar and turbulent free convection from a vertical plate, Int. J. Heat Mass Transfer 18 (1975) 1323; from memory"
)

// NewFilmCurve works the lines out from rest to CurveTopKmH, every km/h.
func NewFilmCurve(s FilmSetting) FilmCurve {
	c := FilmCurve{FilmSetting: s, SpeedMps: make([]float64, CurveTopKmH+1)}
	for i := range c.SpeedMps {
		c.SpeedMps[i] = float64(i) / 3.6
	}
	p := PropertiesAt(s.FilmK(), s.PressurePa)
	add := func(l FilmLine, h func(v float64) float64) {
		l.H = make([]float64, len(c.SpeedMps))
		for i, v := range c.SpeedMps {
			l.H[i] = h(v)
		}
		c.Lines = append(c.Lines, l)
	}
	ours := func(stream, v float64) float64 {
		return RimFilm(stream, s.SpinPart*v, s.TrackRadiusM, s.SurfaceK, s.AirK, s.PressurePa)
	}
	const joined = "plate averaged over a turn, spinning disc, each laminar or turbulent, and free convection, joined by their third powers"
	add(FilmLine{ID: "road", Text: "rim on the road", Family: FilmRoad, Law: joined, Source: "derived from the laws below"},
		func(v float64) float64 { return ours(v, v) })
	band := fmt.Sprintf("a factor of %g either way, 95 %%", FilmSpread)
	const bandSource = "common practice, no source: no measurement on a bicycle rim is known"
	add(FilmLine{ID: "road_low", Text: "rim on the road, low", Family: FilmBand, Law: band, Source: bandSource},
		func(v float64) float64 { return ours(v, v) / FilmSpread })
	add(FilmLine{ID: "road_high", Text: "rim on the road, high", Family: FilmBand, Law: band, Source: bandSource},
		func(v float64) float64 { return ours(v, v) * FilmSpread })
	add(FilmLine{ID: "bench_no_fan", Text: "rim on a bench without a fan", Family: FilmBench, Law: joined, Source: "derived from the laws below"},
		func(v float64) float64 { return ours(0, v) })
	meets := s.MeetsPart()
	for _, l := range plateLengths() {
		add(FilmLine{ID: fmt.Sprintf("plate_turbulent_%gmm", l*1000), Text: fmt.Sprintf("turbulent plate, %g m", l), Family: FilmPlateTurbulent, LengthM: l,
			Law: "Nu = 0.037 Re^0.8 Pr^(1/3)", Source: fmt.Sprintf(plateSource, "7.38")},
			func(v float64) float64 { return PlateTurbulent(p, meets*v, l) })
	}
	for _, l := range plateLengths() {
		add(FilmLine{ID: fmt.Sprintf("plate_laminar_%gmm", l*1000), Text: fmt.Sprintf("laminar plate, %g m", l), Family: FilmPlateLaminar, LengthM: l,
			Law: "Nu = 0.664 Re^0.5 Pr^(1/3)", Source: fmt.Sprintf(plateSource, "7.30")},
			func(v float64) float64 { return PlateLaminar(p, meets*v, l) })
	}
	add(FilmLine{ID: "disc_laminar", Text: "disc, laminar", Family: FilmDisc, Law: "Nu = 0.36 Re^0.5", Source: discSource},
		func(v float64) float64 { return discLaminar(p, s.SpinPart*v, s.TrackRadiusM) })
	add(FilmLine{ID: "disc_turbulent", Text: "disc, turbulent", Family: FilmDisc, Law: "Nu = 0.015 Re^0.8", Source: discSource},
		func(v float64) float64 { return discTurbulent(p, s.SpinPart*v, s.TrackRadiusM) })
	add(FilmLine{ID: "disc_in_stream", Text: "disc at rest in a stream", Family: FilmDisc, Law: "Nu = 0.5225 Re^0.5 Pr^(1/3) with the radius",
		Source: "derived: the laminar plate law over strips of the disc"},
		func(v float64) float64 { return discInStream(p, meets*v, s.TrackRadiusM) })
	add(FilmLine{ID: "free", Text: "free convection at rest", Family: FilmFree, LengthM: NaturalLengthM,
		Law: "Nu = 0.68 + 0.670 Ra^0.25 / (1+(0.492/Pr)^(9/16))^(4/9)", Source: freeSource},
		func(float64) float64 { return Natural(p, s.SurfaceK-s.AirK, s.FilmK(), NaturalLengthM) })
	add(FilmLine{ID: "central", Text: "57 (v/30 km/h)^0.8", Family: FilmCentral,
		Law: "57 W/(m2 K) times (v / 30 km/h)^0.8, film of 60 °C at sea level", Source: "derived: turbulent plate of 0.1 m in 1.22 times the road speed"},
		func(v float64) float64 { return CentralFilm * math.Pow(v/CentralMps, turbulentExponent) })
	return c
}

// Line finds a line by its ID; nil if there is none.
func (c *FilmCurve) Line(id string) *FilmLine {
	for i := range c.Lines {
		if c.Lines[i].ID == id {
			return &c.Lines[i]
		}
	}
	return nil
}

// discInStream is the mean film coefficient, W/(m2 K), of a disc of radius r
// metres that stands in a laminar stream of u m/s along its plane: the mean of
// PlateLaminar over strips as long as the disc is there (derived).
func discInStream(p Properties, u, r float64) float64 {
	return 0.5225 * math.Sqrt(u*r/p.Viscosity) * math.Cbrt(p.Prandtl) * p.Conductivity / r
}

// discLaminar and discTurbulent are the two laws that DiscStill takes the
// larger of.
func discLaminar(p Properties, u, r float64) float64 {
	return 0.36 * math.Sqrt(u*r/p.Viscosity) * p.Conductivity / r
}

func discTurbulent(p Properties, u, r float64) float64 {
	return 0.015 * turbulentPower(u*r/p.Viscosity) * p.Conductivity / r
}
