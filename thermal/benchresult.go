package thermal

import (
	"math"
	"strings"
	"unicode"
)

// A BenchPreset is a known programme: what it is, and where it comes from.
type BenchPreset struct{ Name, Text, Source string }

// A BenchResult is all that a view of the bench shows.
type BenchResult struct {
	Rim     BenchRim      `json:"rim"`
	Inputs  BenchInputs   `json:"inputs"`
	Samples []BenchSample `json:"samples"`
	Energy  BenchEnergy   `json:"energy"`
	Peaks   BenchPeaks    `json:"peaks"`
	Limits  []BenchLimit  `json:"limits"`
	// Pads is missing without pads.
	Pads *PadHeat `json:"pads_heat,omitempty"`
	Tyre TyreHeat `json:"tyre"`
	// StandS is how long the wheel stands without a fan after the run, s, which
	// Limits, Tyre and Soak cover and Samples, Energy and Peaks do not.
	StandS float64 `json:"stand_s"`
	// Soak is what bed, tape, tube and spoke bed come to after the last
	// braking; empty if there was none.
	Soak     []SoakPlace `json:"soak"`
	Cautions []string    `json:"cautions"`

	// Trace holds the state after every step, for figures, without RimShare
	// and energies.
	Trace []BenchSample `json:"-"`
}

// BenchRim says what was on the bench.
type BenchRim struct {
	ID          string  `json:"id"`
	Name        string  `json:"name"`
	Material    string  `json:"material"`
	MassKg      float64 `json:"mass_kg"`
	WallM       float64 `json:"wall_m"`
	SweptAreaM2 float64 `json:"swept_area_m2"`
}

// BenchInputs are the inputs as they were used. KmH and AirflowKmH are means
// over time, their ranges the lowest and highest.
type BenchInputs struct {
	Preset       string `json:"preset"`
	PresetText   string `json:"preset_text"`
	PresetSource string `json:"preset_source"`

	DurationS   float64    `json:"duration_s"`
	BrakingS    float64    `json:"braking_s"`
	MeanWatts   float64    `json:"mean_watts"`
	MostWatts   float64    `json:"most_watts"`
	KmH         float64    `json:"kmh"`
	KmHRange    [2]float64 `json:"kmh_range"`
	AirTempC    float64    `json:"air_temp_C"`
	Pads        string     `json:"pads"`
	TyreSide    string     `json:"tyre_side"`
	TyreKPa     float64    `json:"tyre_kPa"`
	SunWPerM2   float64    `json:"sun_W_per_m2"`
	SampleEvery float64    `json:"every_s"`
	// AirflowKmH, its range and FilmFactor are there unless Film was given; Film, Emissivity and Flux,
	// at its highest, are there if they were given.
	AirflowKmH   *float64    `json:"airflow_kmh,omitempty"`
	AirflowRange *[2]float64 `json:"airflow_kmh_range,omitempty"`
	FilmFactor   *float64    `json:"film_factor,omitempty"`
	Film         *float64    `json:"film_W_per_m2_K,omitempty"`
	Emissivity   *float64    `json:"emissivity,omitempty"`
	Flux         *float64    `json:"flux_W_per_m2,omitempty"`
	Assumed      []string    `json:"assumed"`
}

// BenchReadings are what the wheel's instruments show. PadC, the pad just
// behind its face, is missing without pads. TyreKPa is above the air's
// pressure.
type BenchReadings struct {
	SweptMeanC float64 `json:"swept_mean_C"`
	HottestC   float64 `json:"hottest_C"`
	// TrackC is the track as it is held against its limit, see SustainS;
	// TyreSideC the hottest place that tyre, tape or tube touch.
	TrackC     float64  `json:"track_judged_C"`
	TyreSideC  float64  `json:"tyre_side_C"`
	MidWallC   float64  `json:"mid_wall_C"`
	InnerWallC float64  `json:"inner_wall_C"`
	BedCentreC float64  `json:"bed_centre_C"`
	SpokeBedC  float64  `json:"spoke_bed_C"`
	TyreAirC   float64  `json:"tyre_air_C"`
	TyreKPa    float64  `json:"tyre_kPa"`
	PadC       *float64 `json:"pad_C,omitempty"`
}

// A BenchSample is the state at one moment. Watts and KmH are those of the
// stretch that ends there. RimShare is the part of all braking energy so far
// that went into the rim, nil before any.
type BenchSample struct {
	TimeS float64 `json:"t_s"`
	Watts float64 `json:"watts"`
	KmH   float64 `json:"kmh"`
	BenchReadings
	RimShare *float64 `json:"rim_share"`
	// InJ went into the rim so far, of which StoredJ is still there and in the
	// tyre and LostJ went to the air, joules.
	InJ     float64 `json:"in_J"`
	StoredJ float64 `json:"stored_J"`
	LostJ   float64 `json:"lost_J"`
}

// BenchEnergy is the wheel's ledger over the run, joules: Braked + Sun = Pads +
// In, and In = Stored + Lost.
type BenchEnergy struct {
	BrakedJ float64 `json:"braked_J"`
	PadsJ   float64 `json:"pads_J"`
	SunJ    float64 `json:"sun_J"`
	InJ     float64 `json:"in_J"`
	StoredJ float64 `json:"stored_J"`
	LostJ   float64 `json:"lost_J"`
}

// BenchPeaks are the highest readings of all steps, not of the samples alone,
// and when the swept mean was highest.
type BenchPeaks struct {
	BenchReadings
	SweptMeanAtS float64 `json:"swept_mean_at_s"`
}

func (p *BenchPeaks) take(now BenchReadings, t float64) {
	const rounding = 1e-9 // K, which a wheel that nobody brakes moves by
	if now.SweptMeanC > p.SweptMeanC+rounding {
		p.SweptMeanAtS = t
	}
	for _, m := range []struct {
		to *float64
		v  float64
	}{
		{&p.SweptMeanC, now.SweptMeanC}, {&p.HottestC, now.HottestC}, {&p.TrackC, now.TrackC}, {&p.TyreSideC, now.TyreSideC}, {&p.MidWallC, now.MidWallC}, {&p.InnerWallC, now.InnerWallC},
		{&p.BedCentreC, now.BedCentreC}, {&p.SpokeBedC, now.SpokeBedC}, {&p.TyreAirC, now.TyreAirC}, {&p.TyreKPa, now.TyreKPa},
	} {
		*m.to = math.Max(*m.to, m.v)
	}
	if now.PadC != nil && *now.PadC > *p.PadC {
		p.PadC = now.PadC
	}
}

// A BenchLimit is a limit, how hot the place it is about got in the run and the
// standing after it, and when that reached it. PeakC is as in Assess: of the track the wall and the surface's
// lasting excess, see SustainS.
type BenchLimit struct {
	On      string  `json:"on"`
	LimitC  float64 `json:"limit_C"`
	Source  string  `json:"source"`
	Assumed bool    `json:"assumed"`
	PeakC   float64 `json:"peak_C"`
	Verdict Verdict `json:"verdict"`
	// ReachedS is missing if it was never reached, and 0 if the wheel was that
	// hot before it was braked.
	ReachedS *float64 `json:"reached_s,omitempty"`
	// AlarmC and Band are as in LimitResult.
	AlarmC *float64 `json:"alarm_C,omitempty"`
	Band   Band     `json:"band,omitempty"`
}

// Legible is the first of the names that shows anything, or words for none of
// them: a name may consist of blanks and of letters that nobody can see.
func Legible(names ...string) string {
	for _, s := range names {
		if strings.ContainsFunc(s, visible) {
			return s
		}
	}
	return "a rim without a name"
}

// visible tells whether a letter leaves ink. Unicode counts some as letters and
// symbols that fill a place and show nothing.
func visible(r rune) bool {
	const brailleBlank = '\u2800'
	return unicode.IsGraphic(r) && !unicode.IsSpace(r) && !unicode.Is(unicode.M, r) && !unicode.Is(unicode.Zs, r) &&
		!unicode.Is(unicode.Other_Default_Ignorable_Code_Point, r) && r != brailleBlank && r != unicode.ReplacementChar
}
