package ride

// Defaults of an assessment that names none of these. The source of each
// stands beside it.
const (
	DefaultRiderKg   = 75.0 // common practice, no source
	DefaultBikeKg    = 9.0  // bicycle, bottles, tools; common practice, no source
	DefaultLuggageKg = 0.0
	DefaultAirTempC  = 35.0 // a hot day, on the safe side; common practice, no source
	DefaultHumidity  = 0.4  // worth under 1 % of drag; common practice, no source
	// StandardLapse is the lapse rate of ISO 2533:1975, kelvin per metre.
	StandardLapse = 0.0065
	// DefaultCdAM2: a recreational rider who brakes sits up on the hoods,
	// 0.32 to 0.45 m2; from memory, medium confidence.
	DefaultCdAM2 = 0.36
	// DefaultCrr: a 25-28 mm tyre on ordinary asphalt, between smooth
	// 0.003-0.005 and rough 0.006-0.010; from memory.
	DefaultCrr = 0.005
	// DefaultPedalW is an unhurried all-day power; common practice, no source.
	DefaultPedalW = 170.0
)

const styleSource = "cap, braking and cornering: common practice, no source, inside 0.2-0.35 g comfortable and 0.5 g brisk cornering, 1.5-2.5 m/s2 comfortable and 3.4 m/s2 design braking; front share: from memory, riders spread over 0.5-0.8, 0.65 the middle; more where braking is hard, since the load on the front wheel then calls for 0.73 at 0.3 g (derived)"

// Styles lists the built-in riding styles, mildest first. The slice is the
// caller's own.
func Styles() []Style {
	return []Style{
		{ID: "cautious", Name: "Cautious: slow, always on the brakes", CapMps: 28 / 3.6, CornerG: 0.20, BrakeG: 0.15, FrontShare: 0.65, Habit: Drag, PedalW: DefaultPedalW, Source: styleSource},
		{ID: "steady", Name: "Steady: holds a comfortable speed, brakes before bends", CapMps: 40 / 3.6, CornerG: 0.30, BrakeG: 0.20, FrontShare: 0.65, Habit: Drag, PedalW: DefaultPedalW, Source: styleSource},
		{ID: "brisk", Name: "Brisk: lets it run, brakes late, hard and short", CapMps: 65 / 3.6, CornerG: 0.45, BrakeG: 0.35, FrontShare: 0.70, Habit: Pulse, PedalW: DefaultPedalW, Source: styleSource},
	}
}
