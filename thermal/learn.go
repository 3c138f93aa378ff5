package thermal

import (
	"fmt"
	"math"

	"rimheat/route"
	"rimheat/thermal/ride"
)

// A StyleLearned is what recorded rides tell of their rider, and how a plan in
// that style compares with each descent that was ridden.
type StyleLearned struct {
	Rides    []RideRead      `json:"rides"`
	Descents []DescentRidden `json:"descents"`

	// SpeedMps is the speed on open road downhill, by distance; CornerG the
	// sideways acceleration at the tightest point of bends; BrakeG the greatest
	// deceleration of each braking; in units of gravity.
	SpeedMps ride.Spread `json:"speed_mps"`
	CornerG  ride.Spread `json:"corner_g"`
	BrakeG   ride.Spread `json:"brake_g"`
	// BrakingShare is the part of the time on descents with a brake at work.
	BrakingShare float64 `json:"braking_share"`

	// The style, and which of it was learned; what was not is the base style's.
	CapMps        float64 `json:"cap_mps"`
	CornerUsedG   float64 `json:"corner_used_g"`
	CornerLearned bool    `json:"corner_learned"`
	BrakeUsedG    float64 `json:"brake_used_g"`
	BrakeLearned  bool    `json:"brake_learned"`
	Habit         string  `json:"brake_habit"`
	PedalW        float64 `json:"pedal_W"`
	PedalLearned  bool    `json:"pedal_learned"`
	FrontShare    float64 `json:"front_share"`
	BaseStyle     string  `json:"base_style"`
	Resistance    Drag    `json:"resistance"`
	TotalKg       float64 `json:"total_kg"`
	// Assumed names the inputs that nobody gave.
	Assumed []string `json:"assumed"`
	// BrakesOff is how far the planned brakes are from the replayed ones, all
	// descents together, as a part of these; 0.2 is 20 % too much.
	BrakesOff float64 `json:"brakes_off"`
	// Poor says that plans in this style are not worth much for the brakes.
	Poor bool `json:"poor"`
}

// Drag is CdA and Crr as stretches of coasting tell them, or as they were given.
type Drag struct {
	// Found says that coasting told them; otherwise they are the setup's.
	Found bool    `json:"found"`
	CdAM2 float64 `json:"cda_m2"`
	CdASd float64 `json:"cda_sd_m2"`
	Crr   float64 `json:"crr"`
	CrrSd float64 `json:"crr_sd"`
	// Stretches is how many agreed, Out how many did not.
	Stretches int `json:"stretches"`
	Out       int `json:"stretches_out"`
}

// RideRead is one recorded ride that was learned from.
type RideRead struct {
	Name      string         `json:"name"`
	DistanceM float64        `json:"distance_m"`
	DurationS float64        `json:"duration_s"`
	Heights   route.Heights  `json:"heights"`
	Replay    Replay         `json:"replay"`
	Repairs   []route.Repair `json:"repairs"`
}

// DescentRidden is one descent: as recorded, and as planned in the learned style.
type DescentRidden struct {
	// Ride is the index of its ride.
	Ride   int     `json:"ride"`
	StartM float64 `json:"start_m"`
	EndM   float64 `json:"end_m"`
	DropM  float64 `json:"drop_m"`
	// RecordedS is the time without StoodS, the stops.
	RecordedS float64 `json:"recorded_s"`
	StoodS    float64 `json:"stood_s"`
	PlannedS  float64 `json:"planned_s"`
	// PotentialJ is what the height gives, ReplayedJ and PlannedJ what the brakes
	// take.
	PotentialJ float64 `json:"potential_J"`
	ReplayedJ  float64 `json:"replayed_brakes_J"`
	PlannedJ   float64 `json:"planned_brakes_J"`
}

// LearnStyle learns from recorded rides, whose profiles must hold a Ride. The
// setup gives weights, weather, resistance and the base style; its wheels count
// for nothing.
func LearnStyle(profiles []*route.Profile, s Setup) (*StyleLearned, error) {
	if err := s.Validate(); err != nil {
		return nil, err
	}
	var rides []ride.Recorded
	out := &StyleLearned{BaseStyle: s.Style.ID, FrontShare: s.Style.FrontShare, TotalKg: s.Load.TotalKg(), Assumed: append([]string{}, s.Assumed...)}
	for _, p := range profiles {
		plan, err := ride.NewReplay(p, s.Load, s.Weather, s.Resistance, s.Style)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", p.Name, err)
		}
		rides = append(rides, ride.Recorded{Profile: p, Plan: plan})
		out.Rides = append(out.Rides, RideRead{
			Name: p.Name, DistanceM: p.DistanceM, DurationS: plan.TimeS[len(plan.TimeS)-1],
			Heights: p.Heights, Replay: *replayOf(p.Ride), Repairs: append([]route.Repair{}, p.Repairs...),
		})
	}
	l, err := ride.Learn(rides, s.Load, s.Weather, s.Resistance, s.Style)
	if err != nil {
		return nil, err
	}
	out.SpeedMps, out.CornerG, out.BrakeG, out.BrakingShare = l.SpeedMps, l.CornerG, l.BrakeG, l.BrakingShare
	st := l.Style
	out.CapMps, out.CornerUsedG, out.CornerLearned = st.CapMps, st.CornerG, l.CornerLearned
	out.BrakeUsedG, out.BrakeLearned, out.Habit = st.BrakeG, l.BrakeLearned, string(st.Habit)
	out.PedalW, out.PedalLearned = st.PedalW, l.PedalLearned
	c := l.Coasting
	out.Resistance = Drag{Found: c.Found, CdAM2: s.Resistance.CdAM2, Crr: s.Resistance.Crr, Stretches: c.Stretches, Out: c.Out}
	r := s.Resistance
	if c.Found {
		r = ride.Resistance{CdAM2: c.CdAM2, Crr: c.Crr}
		out.Resistance.CdAM2, out.Resistance.CdASd, out.Resistance.Crr, out.Resistance.CrrSd = c.CdAM2, c.CdASd, c.Crr, c.CrrSd
	}
	for i, rec := range rides {
		planned, err := ride.NewPlan(rec.Profile, s.Load, s.Weather, r, st)
		if err != nil {
			return nil, err
		}
		again := rec.Plan
		if c.Found {
			if again, err = ride.NewReplay(rec.Profile, s.Load, s.Weather, r, s.Style); err != nil {
				return nil, err
			}
		}
		for _, d := range rec.Profile.Descents {
			moving := again.MovingS(d.Start, d.End)
			e := again.Ledger(d.Start, d.End)
			out.Descents = append(out.Descents, DescentRidden{
				Ride: i, StartM: d.StartM, EndM: d.EndM, DropM: d.DropM,
				RecordedS: moving, StoodS: again.TimeS[d.End] - again.TimeS[d.Start] - moving,
				PlannedS:   planned.TimeS[d.End] - planned.TimeS[d.Start],
				PotentialJ: e.PotentialJ, ReplayedJ: e.BrakesJ(), PlannedJ: planned.Ledger(d.Start, d.End).BrakesJ(),
			})
		}
	}
	out.judge()
	return out, nil
}

// Plans whose brakes take poorBrakes more or less than the recorded ones did, all
// descents together or any long one of them, are called poor. A descent is long from
// longDropM on; what is off by less than poorOfHeight of what the height gives does
// not count. Common practice, no source.
const (
	poorBrakes   = 0.25
	longDropM    = 200.0
	poorOfHeight = 0.10
)

// judge says what the learned style is worth.
func (l *StyleLearned) judge() {
	var planned, replayed, potential float64
	for _, d := range l.Descents {
		planned, replayed, potential = planned+d.PlannedJ, replayed+d.ReplayedJ, potential+d.PotentialJ
		off := math.Abs(d.PlannedJ - d.ReplayedJ)
		if d.DropM >= longDropM && off > poorBrakes*d.ReplayedJ && off > poorOfHeight*d.PotentialJ {
			l.Poor = true
		}
	}
	if replayed > 0 {
		l.BrakesOff = planned/replayed - 1
	}
	if math.Abs(l.BrakesOff) > poorBrakes && math.Abs(planned-replayed) > poorOfHeight/2*potential {
		l.Poor = true
	}
}

// replayOf says what a replay stands on.
func replayOf(d *route.Ride) *Replay {
	return &Replay{
		Start: d.Start.UTC().Format(replayTime), Stops: d.Stops, StoodS: d.StoodS,
		DropOuts: d.DropOuts, LongestDropOutS: d.LongestS, PositionNoiseM: d.NoiseM, NoiseAssumed: d.NoiseAssumed,
		SpeedNoiseMps: d.SpeedNoiseMps, PointsLeftOut: d.LeftOut,
	}
}

// replayTime is how the start of a replay is written, RFC 3339.
const replayTime = "2006-01-02T15:04:05Z07:00"
