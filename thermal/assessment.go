package thermal

import (
	"rimheat/route"
	"rimheat/thermal/ride"
)

// Verdict is what the tool says of one candidate.
type Verdict string

const (
	// Within: fewer than MarginalChance of the draws reach a limit.
	Within Verdict = "within"
	// Marginal: that many do, but less than half.
	Marginal Verdict = "marginal"
	// Over: half of the draws or more reach a limit.
	Over Verdict = "over"
)

const (
	// MarginalChance is the chance of reaching a limit from which on a rim is
	// called marginal: the 95th percentile of the peak is at the limit.
	// OverChance is the one from which on it is over: the median is.
	MarginalChance, OverChance = 0.05, 0.50
	// MarginalK is the margin of the central estimate below which a rim is called
	// marginal, kelvin, where nothing is drawn; common practice, no source.
	MarginalK = 15
)

// An Assessment is all that a screen, a figure or JSON shows. Every view
// prints from it and computes no physics. JSON carries SI units except °C.
type Assessment struct {
	Route    RouteSummary `json:"route"`
	Setup    SetupSummary `json:"setup"`
	Descents []Descent    `json:"descents"`
	Energy   Energy       `json:"energy"`
	// Sampling says what was drawn, nil if nothing was.
	Sampling *SamplingSummary `json:"sampling,omitempty"`
	Rims     []RimResult      `json:"rims"`
	// Outlook is what would change the answer, nil unless the setup asks for it.
	Outlook  *Outlook `json:"outlook,omitempty"`
	Advice   string   `json:"advice"`
	Cautions []string `json:"cautions"`

	// Imperial holds advice and cautions with miles and °F.
	Imperial Words `json:"-"`
	// Trace is the ride along the route, for figures.
	Trace Trace `json:"-"`
}

// RouteSummary describes the road.
type RouteSummary struct {
	Name      string         `json:"name"`
	DistanceM float64        `json:"distance_m"`
	ClimbM    float64        `json:"climb_m"`
	DropM     float64        `json:"drop_m"`
	LowestM   float64        `json:"lowest_m"`
	HighestM  float64        `json:"highest_m"`
	DurationS float64        `json:"duration_s"`
	Points    int            `json:"points"`
	Repairs   []route.Repair `json:"repairs"`
	// Heights says what the heights were found to be and what was done.
	Heights route.Heights `json:"heights"`
	// Replay is the recording that was replayed, nil where the ride was planned.
	Replay *Replay `json:"replay,omitempty"`
}

// Replay is what a replay stands on.
type Replay struct {
	// Start is the time of leaving the first point, RFC 3339.
	Start string `json:"start"`
	// Stops is how often the rider stood on the way, StoodS for how long in all.
	Stops  int     `json:"stops"`
	StoodS float64 `json:"stood_s"`
	// DropOuts counts stretches without points; the longest took
	// LongestDropOutS.
	DropOuts        int     `json:"drop_outs"`
	LongestDropOutS float64 `json:"longest_drop_out_s"`
	// PositionNoiseM is the scatter of positions from point to point on one
	// axis, SpeedNoiseMps what it leaves in the speed.
	PositionNoiseM float64 `json:"position_noise_m"`
	NoiseAssumed   bool    `json:"position_noise_assumed"`
	SpeedNoiseMps  float64 `json:"speed_noise_mps"`
	PointsLeftOut  int     `json:"points_left_out"`
}

// SetupSummary is the setup as it was used, with friendly names.
type SetupSummary struct {
	RiderKg    float64 `json:"rider_kg"`
	BikeKg     float64 `json:"bike_kg"`
	LuggageKg  float64 `json:"luggage_kg"`
	TotalKg    float64 `json:"total_kg"`
	AirTempC   float64 `json:"air_temp_C"`
	AtHeightM  float64 `json:"air_temp_at_m"`
	LapseKPerM float64 `json:"lapse_K_per_m"`
	// DayAir is nil, and its keys are missing, where the air has one
	// temperature for all hours; with it AirTempC is the air's at the start.
	*DayAir
	WindMps   float64 `json:"wind_mps"`
	WindFrom  float64 `json:"wind_from_deg"`
	Humidity  float64 `json:"humidity"`
	SunWPerM2 float64 `json:"sun_W_per_m2"`
	RoadAirK  float64 `json:"road_air_K"`
	TyreKPa   float64 `json:"tyre_kPa"`
	CdAM2     float64 `json:"cda_m2"`
	Crr       float64 `json:"crr"`
	// CapMps, CornerG, BrakeG and PedalW are absent where a recording takes their
	// place; Style is then "recorded".
	Style      string  `json:"style"`
	CapMps     float64 `json:"cap_mps,omitempty"`
	CornerG    float64 `json:"corner_g,omitempty"`
	BrakeG     float64 `json:"brake_g,omitempty"`
	FrontShare float64 `json:"front_share"`
	Habit      string  `json:"brake_habit"`
	PedalW     float64 `json:"pedal_W,omitempty"`
	// Stops are the rests that the ride is planned with.
	Stops []CoolStop `json:"stops,omitempty"`
	// Assumed names the inputs that nobody gave.
	Assumed []string `json:"assumed"`
	// Readings are the measured temperatures that have moved and narrowed what is
	// above, missing without any.
	Readings []string `json:"readings,omitempty"`
	// Learned is what they moved the middle of inputs to.
	Learned []LearnedValue `json:"learned,omitempty"`
}

// LearnedValue is the middle of an input after readings, as its spread is stated: a
// factor on the value, an offset in Unit, or a place in its range from -1 to 1. RimID
// is the candidate that it holds for, missing for the rider's.
type LearnedValue struct {
	ID    string     `json:"id"`
	Name  string     `json:"name"`
	RimID string     `json:"rim,omitempty"`
	Kind  SpreadKind `json:"kind"`
	Unit  string     `json:"unit,omitempty"`
	Value float64    `json:"value"`
}

// DayAir is the air of a ride that has an hour; see ride.Daily.
type DayAir struct {
	// Start is the local clock time at which the ride starts, "HH:MM".
	Start string `json:"start"`
	// AirMinC and AirMaxC are the day's coolest and hottest air at
	// SetupSummary.AtHeightM.
	AirMinC float64 `json:"air_min_C"`
	AirMaxC float64 `json:"air_max_C"`
	// CoolestAt and HottestAt are when the day is assumed to come to them,
	// local clock time, "HH:MM".
	CoolestAt string `json:"air_min_at"`
	HottestAt string `json:"air_max_at"`
	// CoolestMetC and WarmestMetC are what the rider meets on the ride, at any
	// height; a hot road's extra warmth is not in them.
	CoolestMetC float64 `json:"coolest_air_met_C"`
	WarmestMetC float64 `json:"warmest_air_met_C"`
}

// Energy is the ledger of a stretch, joules; see ride.Energy.
type Energy = ride.Energy

// Descent is one row of the table.
type Descent struct {
	StartM        float64 `json:"start_m"`
	EndM          float64 `json:"end_m"`
	DropM         float64 `json:"drop_m"`
	MeanGrade     float64 `json:"mean_grade"`
	SteepestGrade float64 `json:"steepest_grade"`
	// Hairpins counts the hairpins, see route.HairpinTurnRad. SharpestCornerM
	// is the least radius of the road, nil where it is straight all along.
	Hairpins        int      `json:"hairpins"`
	SharpestCornerM *float64 `json:"sharpest_corner_m,omitempty"`
	DurationS       float64  `json:"duration_s"`
	// StoodS is how long a recorded rider stood on it, which DurationS leaves out.
	StoodS float64 `json:"stood_s,omitempty"`
	Energy Energy  `json:"energy"`
}

// RimResult is the answer for one candidate.
type RimResult struct {
	ID       string  `json:"id"`
	Name     string  `json:"name"`
	Material string  `json:"material"`
	MassKg   float64 `json:"mass_kg"`
	WallM    float64 `json:"wall_m"`
	Pad      string  `json:"pad"`
	TyreSide string  `json:"tyre_side"`

	// The limit that decides the verdict: the one with the least margin, the
	// track's if two have the same.
	LimitC       float64 `json:"limit_C"`
	LimitOn      string  `json:"limit_on"`
	LimitSource  string  `json:"limit_source"`
	LimitAssumed bool    `json:"limit_assumed"`
	Verdict      Verdict `json:"verdict"`

	// PeakC is the peak temperature of the brake track, mean over the swept
	// band's height and round the wheel: the wall behind it plus what its
	// surface keeps above that for ten seconds (see SustainS).
	PeakC     float64 `json:"peak_C"`
	PeakAtM   float64 `json:"peak_at_m"`
	PeakWheel string  `json:"peak_wheel"`
	// PeakInStop says that the peak came while stopping at the very end.
	PeakInStop bool `json:"peak_in_final_stop"`
	// PeakInDoubt says that the peak, or the first place over the deciding
	// limit, lies at or just after a stretch of road that is in doubt.
	PeakInDoubt bool `json:"peak_in_doubt"`
	// Risk is what the draws say, nil if nothing was drawn. PoorCooling is then
	// missing: otherwise it is the same ride if air cools the rim worse.
	Risk        *Risk        `json:"risk,omitempty"`
	PoorCooling *PoorCooling `json:"poor_cooling,omitempty"`
	// Composite rims have a resin limit on their track.
	Composite bool `json:"composite"`
	// SurfacePeakC, ContactPeakC, TyreSidePeakC and SpokeBedPeakC are the
	// whole ride's, either wheel; see RimDescent.
	SurfacePeakC  float64 `json:"surface_peak_C"`
	ContactPeakC  float64 `json:"contact_peak_C"`
	TyreSidePeakC float64 `json:"tyre_side_peak_C"`
	SpokeBedPeakC float64 `json:"spoke_bed_peak_C"`
	// MarginK is the limit less the peak at the place that the limit is
	// about; that peak is JudgedPeakC.
	MarginK     float64 `json:"margin_K"`
	JudgedPeakC float64 `json:"judged_peak_C"`
	// Over lists the stretches at or above the deciding limit.
	Over []OverSpan `json:"over"`
	// Limits holds every limit checked, the deciding one included.
	Limits []LimitResult `json:"limits"`

	Descents []RimDescent `json:"descents"`
	// RimShare is the part of the braking heat that went into the rim, the
	// rest into the pads; whole ride, both wheels.
	RimShare float64 `json:"rim_share"`
	// Heat is the rim's own balance over the ride and the stop after it,
	// both wheels, joules: in = stored + lost.
	Heat HeatBalance `json:"heat"`
	// Pads and Tyre are those of the wheel that is the hotter one there.
	Pads PadHeat  `json:"pads_heat"`
	Tyre TyreHeat `json:"tyre"`
	// Soak is what bed, tape, tube and spoke bed come to while the bicycle
	// stands after the ride, hotter wheel.
	Soak []SoakPlace `json:"soak"`

	// Histories for figures, along the steps of the ride.
	Front, Rear History `json:"-"`
	// Along is what the draws say along the route, nil if nothing was drawn, and
	// Field the section at the moment of PeakC; both for figures.
	Along *Along `json:"-"`
	Field *Field `json:"-"`
}

// Along is the temperature of the brake track, hotter wheel, that 5, 50 and 95 % of
// the draws stay below at each place of the route, °C: entry i is the highest within
// the stretch that is as long as all others and has its middle at DistM[i]. No one
// draw need follow a bound: one may be hot early, another late.
type Along struct {
	DistM, P05C, P50C, P95C []float64
}

// A Field is the temperature in one wheel's cross-section at the end of a step. The
// section is a mirror image about the plane of the wheel: what is here is one half.
type Field struct {
	Wheel string
	AtM   float64
	TimeS float64
	// HalfWidthM is from the outer face of the track to the plane of the wheel,
	// DepthM from the edge to the spokes' side.
	HalfWidthM, DepthM float64
	Cells              []FieldCell
	// TrackC is the brake track as it is judged, SurfaceC its surface at the moment,
	// BedC the middle of the rim bed, TyreSideC the hottest place that tyre, tape or
	// tube touch, SpokeBedC the spoke bed's mean, AirC the air that the rim meets.
	TrackC, SurfaceC, BedC, TyreSideC, SpokeBedC, AirC float64
	// TrackFromM and TrackToM bound the brake track, BedFromM and BedToM the rim bed,
	// metres below the edge.
	TrackFromM, TrackToM, BedFromM, BedToM float64
}

// A FieldCell is one finite volume as the section is drawn: its four corners in order,
// X metres from the plane of the wheel outwards, Y metres below the edge.
type FieldCell struct {
	X, Y [4]float64
	C    float64
}

// PoorCooling is what the tightest limit would see if air cooled the rim worse
// by Factor, which is how uncertain the film coefficient is (air.FilmSpread).
type PoorCooling struct {
	Factor  float64 `json:"factor"`
	On      string  `json:"on"`
	LimitC  float64 `json:"limit_C"`
	PeakC   float64 `json:"peak_C"`
	MarginK float64 `json:"margin_K"`
}

// HeatBalance is one rim pair's energy balance, joules.
type HeatBalance struct {
	InJ float64 `json:"in_J"`
	// SunJ is the part of InJ that sunshine brought.
	SunJ    float64 `json:"sun_J"`
	StoredJ float64 `json:"stored_J"`
	LostJ   float64 `json:"lost_J"`
}

// OverSpan is one stretch at or above the limit, on the hotter wheel.
type OverSpan struct {
	StartM    float64 `json:"start_m"`
	EndM      float64 `json:"end_m"`
	StartS    float64 `json:"start_s"`
	DurationS float64 `json:"duration_s"`
	HeightM   float64 `json:"height_m"`
}

// LimitResult is one limit held against the place that it is about.
type LimitResult struct {
	// On is "track" (the brake track's resin), "tyre side" (tube, tape, bead
	// or cement) or "fairing" (its resin and its bond).
	On      string  `json:"on"`
	LimitC  float64 `json:"limit_C"`
	Source  string  `json:"source"`
	Assumed bool    `json:"assumed"`
	// LowC and HighC are the range in which an assumed limit is believed to lie,
	// missing for a maker's figure.
	LowC    float64    `json:"low_C,omitempty"`
	HighC   float64    `json:"high_C,omitempty"`
	PeakC   float64    `json:"peak_C"`
	PeakAtM float64    `json:"peak_at_m"`
	Wheel   string     `json:"wheel"`
	MarginK float64    `json:"margin_K"`
	Verdict Verdict    `json:"verdict"`
	Over    []OverSpan `json:"over"`
	// AlarmC is where minutes under a tyre's pressure may be too much, for a
	// resin whose dry glass transition is known: LimitC begins the band of
	// caution, AlarmC that of alarm. Both are assumed. Missing otherwise.
	AlarmC *float64 `json:"alarm_C,omitempty"`
	Band   Band     `json:"band,omitempty"`
}

// Band says in which of a resin's bands a peak lies.
type Band string

const (
	// BelowCaution: cooler than the limit for long service.
	BelowCaution Band = "below caution"
	// Caution: at that limit or above.
	Caution Band = "caution"
	// Alarm: at the alarm or above.
	Alarm Band = "alarm"
)

// RimDescent holds the peaks of one candidate on one descent, °C.
type RimDescent struct {
	// Index is the row of Assessment.Descents, from 0.
	Index      int     `json:"index"`
	FrontPeakC float64 `json:"front_peak_C"`
	RearPeakC  float64 `json:"rear_peak_C"`
	// SurfacePeakC is the swept band's surface, mean round the wheel, at its
	// hottest second; ContactPeakC the skin under a pad: surface plus flash;
	// either wheel.
	SurfacePeakC float64 `json:"surface_peak_C"`
	ContactPeakC float64 `json:"contact_peak_C"`
	// TyreSidePeakC is the hottest point that tyre, tape or tube touch;
	// SpokeBedPeakC the spoke bed's mean; either wheel.
	TyreSidePeakC float64 `json:"tyre_side_peak_C"`
	SpokeBedPeakC float64 `json:"spoke_bed_peak_C"`
	// AirC is the air temperature where the track peaks.
	AirC float64 `json:"air_C"`
}

// Trace is the ride on the profile's grid, for figures; SI units, °C and degrees. All
// slices have the same length, but for HairpinM and Stands.
type Trace struct {
	DistM, HeightM, Grade, TimeS, SpeedMps []float64
	// LatDeg and LonDeg are WGS84 degrees.
	LatDeg, LonDeg []float64
	// AirC is the air that the wheels meet, °C. FrontBrakeW and RearBrakeW are the
	// mean power of each brake since the entry before, while the bicycle moves, W.
	AirC, FrontBrakeW, RearBrakeW []float64
	// HairpinM are the middles of the hairpins, metres along the route, rising.
	HairpinM []float64
	// Stands are the rests on the way, planned or recorded, in order.
	Stands []Stand
}

// A Stand is one rest on the way.
type Stand struct {
	AtM, HeightM float64
	// S is how long, s. RollMps is how fast the rider rolls to and fro meanwhile, 0
	// for standing.
	S, RollMps float64
	// Recorded says that it is a replay's.
	Recorded bool
}

// History is what one wheel's rim did over the ride and the stop after it, one
// entry per step, °C at the end of the step.
type History struct {
	TimeS, DistM []float64
	// TrackC is the brake track as it is judged, SurfaceC the swept band's
	// surface at the moment, ContactC the skin under the pad.
	TrackC, SurfaceC, ContactC, TyreSideC, SpokeBedC []float64
	// FairingC is nil without a fairing.
	FairingC []float64
}
