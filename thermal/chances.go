package thermal

// SamplingSummary is what was drawn.
type SamplingSummary struct {
	Samples int    `json:"samples"`
	Seed    uint64 `json:"seed"`
	// Full says that the section solver ran for every draw and not the reduced
	// model.
	Full   bool    `json:"full_solver"`
	Inputs []Drawn `json:"inputs"`
}

// Drawn is one input that was drawn: nineteen in twenty of its values lie within
// Figure, see SpreadKind.
type Drawn struct {
	ID     string     `json:"id"`
	Name   string     `json:"name"`
	Kind   SpreadKind `json:"kind"`
	Unit   string     `json:"unit,omitempty"`
	Figure float64    `json:"figure"`
	// Assumed says that the figure is the one for an input that nobody gave,
	// GivenSpread that somebody gave the figure.
	Assumed     bool   `json:"assumed"`
	GivenSpread bool   `json:"spread_given"`
	Known       string `json:"known"`
	Source      string `json:"source"`
}

// Percentiles of the draws: 5, 50 and 95 % lie below.
type Percentiles struct {
	P05 float64 `json:"p05"`
	P50 float64 `json:"p50"`
	P95 float64 `json:"p95"`
}

// DecidingMarginK is what the draws leave to the deciding limit, the zero value without
// draws.
func (r *RimResult) DecidingMarginK() Percentiles {
	if r.Risk == nil {
		return Percentiles{}
	}
	for _, l := range r.Risk.Limits {
		if l.On == r.LimitOn {
			return l.MarginK
		}
	}
	return r.Risk.MarginK
}

// A Chance is a part of the draws. Low and High bound it, 95 %, as far as the
// number of draws goes; what is wrong with the model or the spreads is not in
// them.
type Chance struct {
	P    float64 `json:"p"`
	Low  float64 `json:"low"`
	High float64 `json:"high"`
}

// Risk is what the draws say of one candidate.
type Risk struct {
	// Chance of reaching a limit of the rim, whichever, on the whole ride.
	Chance Chance `json:"chance"`
	// MarginK is the least margin to any of them.
	MarginK Percentiles `json:"margin_K"`
	// TrackC is the brake track's peak on the hotter wheel.
	TrackC   Percentiles   `json:"track_C"`
	Limits   []LimitRisk   `json:"limits"`
	Descents []DescentRisk `json:"descents"`
	// Drivers are the uncertain inputs on which the margin to the deciding limit
	// hangs, the strongest first.
	Drivers []Driver `json:"drivers"`
	// Explained is the part of that margin's variance which the fit behind
	// Drivers accounts for, found on draws left out one at a time.
	Explained float64 `json:"explained"`
}

// ExplainedEnough is the least part of the variance that must be accounted for, so
// that its parts can be told.
const ExplainedEnough = 0.8

// LimitRisk is one limit on the whole ride; it stands where its LimitResult does.
type LimitRisk struct {
	On      string      `json:"on"`
	Chance  Chance      `json:"chance"`
	PeakC   Percentiles `json:"peak_C"`
	MarginK Percentiles `json:"margin_K"`
}

// DescentRisk is one descent: the brake track's peak on the hotter wheel, and the
// chance of reaching any limit there.
type DescentRisk struct {
	Index  int         `json:"index"`
	TrackC Percentiles `json:"track_C"`
	Chance Chance      `json:"chance"`
}

// A Driver is one uncertain input: the parts of the margin's variance that it
// makes by itself (First) and with its interactions (Total), and their standard
// errors by sampling.
type Driver struct {
	ID      string  `json:"id"`
	Name    string  `json:"name"`
	First   float64 `json:"first"`
	FirstSE float64 `json:"first_se"`
	Total   float64 `json:"total"`
	TotalSE float64 `json:"total_se"`
}
