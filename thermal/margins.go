package thermal

import (
	"context"
	"fmt"
	"math"

	"rimheat/route"
	"rimheat/thermal/air"
	"rimheat/thermal/ride"
	"rimheat/thermal/risk"
)

// A Room is how far one input may go with the rim within its limits in nineteen
// of twenty draws, everything else being as it is.
type Room struct {
	// ID is "air-temp", "mass", "head-wind", "slower" or "faster"; Value and
	// the others are in Unit.
	ID   string `json:"id"`
	Unit string `json:"unit"`
	// Planned is the setup's own value, Low and High what was searched between.
	Planned float64 `json:"planned"`
	Low     float64 `json:"searched_low"`
	High    float64 `json:"searched_high"`
	// Side says whether there is such a value: "crosses", or the rim stays
	// within ("below") or not ("above") all over the range.
	Side risk.Side `json:"side"`
	// Value is the last one that was seen to stay within, missing if there is
	// none; Within95 is how far it may be off by the number of draws, 95 %, 0 if
	// that cannot be told.
	Value    *float64 `json:"value,omitempty"`
	Within95 float64  `json:"value_within_95,omitempty"`
	// HotterUp says that the rim gets too hot as the value grows, and not as it
	// falls.
	HotterUp bool `json:"hotter_up"`
	// Wavers says that the margin goes up and down between Low and High: there
	// may be other values.
	Wavers bool `json:"wavers"`
	// DaysHottest says that air temperature is the day's hottest, with its coolest
	// moved along.
	DaysHottest bool `json:"days_hottest,omitempty"`
	// Asked is all that was asked, by rising value.
	Asked []Asked `json:"asked"`
}

// Asked is one value that was tried, and the margin that nineteen of twenty draws
// leave with it, K.
type Asked struct {
	Value   float64 `json:"value"`
	MarginK float64 `json:"margin_p05_K"`
	Within  bool    `json:"within"`
}

// Margins is how much room a rim has on a road.
type Margins struct {
	RimID string `json:"rim"`
	Name  string `json:"name"`
	Route string `json:"route"`
	Draws int    `json:"draws"`
	Seed  uint64 `json:"seed"`
	// Limits are those that the rim is held against.
	Limits []HeldLimit `json:"limits"`
	// Now is the ride as it is planned.
	Now   Reply  `json:"now"`
	Rooms []Room `json:"rooms"`
	// Map is missing if nobody asked for one.
	Map      *MarginMap `json:"map,omitempty"`
	Cautions []string   `json:"cautions"`
	// Imperial holds the cautions with °F.
	Imperial []string `json:"-"`
}

// A MarginMap is the least margin that nineteen of twenty draws leave, K, over air
// temperature and total mass: MarginK[i][j] at AirC[i] and TotalKg[j], both rising.
// Where it is 0 or less, more than one draw in twenty reaches a limit.
type MarginMap struct {
	AirC    []float64   `json:"air_C"`
	TotalKg []float64   `json:"total_kg"`
	MarginK [][]float64 `json:"margin_p05_K"`
	// PlannedAirC and PlannedKg are the setup's own.
	PlannedAirC float64 `json:"planned_air_C"`
	PlannedKg   float64 `json:"planned_kg"`
}

// aQuestion is one input that can be turned up until the rim is too hot.
type aQuestion struct {
	id, unit string
	planned  float64
	lo, hi   float64
	tol      float64
	probes   int
	with     func(s Setup, x float64) Setup
}

// marginSlackK is how far a margin may go back between two values and still count
// as one that only rises or only falls: the draws are the same, but a few of them
// decide, K; common practice, no source.
const marginSlackK = 1.0

// questions are what is asked of a setup.
func questions(p *route.Profile, s Setup) []aQuestion {
	airC, coolestC := s.Weather.AirTempK-air.ZeroCelsiusK, -25.0
	if d := s.Weather.Daily; d.On {
		airC = d.MaxK - air.ZeroCelsiusK
		coolestC += d.MaxK - d.MinK
	}
	total := s.Load.TotalKg()
	qs := []aQuestion{
		{id: "air-temp", unit: "°C", planned: airC, lo: coolestC, hi: 55, tol: 0.5, with: func(s Setup, x float64) Setup { return warmer(s, x-airC) }},
		{id: "mass", unit: "kg", planned: total, lo: total - s.Load.RiderKg + 26, hi: total + 150 - s.Load.LuggageKg, tol: 0.5, with: func(s Setup, x float64) Setup { return heavier(s, x-total) }},
		{id: "head-wind", unit: "m/s", planned: s.Weather.HeadMps, lo: -8, hi: 12, tol: 0.1, with: func(s Setup, x float64) Setup { s.Weather.HeadMps = x; return s }},
	}
	if p.Ride == nil {
		c := s.Style.CapMps
		for _, k := range []aQuestion{{id: "slower", lo: slowestCapMps, hi: c}, {id: "faster", lo: c, hi: fastestCapMps}} {
			k.unit, k.planned, k.tol, k.probes = "m/s", c, 0.1, 5
			k.with = func(s Setup, x float64) Setup { s.Style.CapMps = x; return s }
			if k.lo+k.tol < k.hi {
				qs = append(qs, k)
			}
		}
	}
	return qs
}

// Caps that are asked about, m/s: a brisk walk's pace, and faster than all but
// racers go; common practice, no source.
const slowestCapMps, fastestCapMps = 10 / 3.6, 90 / 3.6

// warmer is a setup in air that is dK warmer at all hours.
func warmer(s Setup, dK float64) Setup {
	if !s.Weather.Daily.On {
		s.Weather.AirTempK += dK
		return s
	}
	s.Weather.Daily.MinK += dK
	s.Weather.Daily.MaxK += dK
	return s
}

// heavier is a setup with dKg more load: what is packed, or a lighter rider where
// there is less.
func heavier(s Setup, dKg float64) Setup {
	s.Load.LuggageKg += dKg
	if s.Load.LuggageKg < 0 {
		s.Load.RiderKg += s.Load.LuggageKg
		s.Load.LuggageKg = 0
	}
	return s
}

// FindMargins asks how much room a setup with one wheel has. withMap asks for the
// map too. told, if not nil, hears how far it is.
func FindMargins(ctx context.Context, p *route.Profile, s Setup, withMap bool, told func(done, of int)) (*Margins, error) {
	q, err := newInquiry(p, s)
	if err != nil {
		return nil, err
	}
	w := s.Wheels[0]
	m := &Margins{RimID: w.Rim.ID, Name: w.Rim.Name, Route: p.Name, Draws: q.design.Len(), Seed: s.Sampling.Seed, Limits: heldLimits(w),
		Cautions: phrasing{}.askedCautions(w), Imperial: phrasing{imperial: true}.askedCautions(w)}
	if m.Now, err = q.ask(ctx, s); err != nil {
		return nil, err
	}
	qs := questions(p, s)
	steps, done := len(qs), 0
	if withMap {
		steps += mapRows
	}
	step := func() {
		if done++; told != nil {
			told(done, steps)
		}
	}
	for _, k := range qs {
		r, err := q.room(ctx, k)
		if err != nil {
			return nil, err
		}
		m.Rooms = append(m.Rooms, r)
		step()
	}
	if withMap {
		if m.Map, err = q.drawMap(ctx, step); err != nil {
			return nil, err
		}
	}
	return m, nil
}

// room searches how far one input may go.
func (q *inquiry) room(ctx context.Context, k aQuestion) (Room, error) {
	search := risk.Search{Lo: k.lo, Hi: k.hi, Tol: k.tol, Probes: k.probes, Slack: marginSlackK}
	se := 0.0
	nearest := math.Inf(1)
	replies := map[float64]Reply{}
	c, err := search.Cross(func(x float64) (float64, error) {
		r, err := q.ask(ctx, k.with(q.setup, x))
		if d := math.Abs(r.MarginK.P05); d < nearest {
			nearest, se = d, r.MarginSE
		}
		replies[x] = r
		return r.tooHot(), err
	})
	if err != nil {
		return Room{}, fmt.Errorf("%s: %w", k.id, err)
	}
	r := Room{ID: k.id, Unit: k.unit, Planned: k.planned, Low: k.lo, High: k.hi, Side: c.Side, HotterUp: c.Rising, Wavers: c.NotMonotonic, DaysHottest: k.id == "air-temp" && q.setup.Weather.Daily.On}
	for _, t := range c.Tried {
		r.Asked = append(r.Asked, Asked{t.X, replies[t.X].MarginK.P05, replies[t.X].Within()})
	}
	if c.Side == risk.Crosses {
		r.Value = &c.Safe
		if slope := slopeAt(c); slope > 0 {
			r.Within95 = studentT * se / slope
		}
	}
	return r, nil
}

// tooHot is how far nineteen of twenty draws are over, K: 0 or more where the rim is
// not within. The chance, which verdicts go by, and the percentile may differ by
// what lies between two draws.
func (r Reply) tooHot() float64 {
	const least = 1e-6
	if r.Within() {
		return min(-r.MarginK.P05, -least)
	}
	return max(-r.MarginK.P05, least)
}

// slopeAt is how fast the function of a search changes about its crossing, by the
// tries next to the bracket; 0 if it cannot be told.
func slopeAt(c risk.Crossing) float64 {
	var lo, hi risk.Try
	for _, t := range c.Tried {
		if t.X <= c.Lo {
			lo = t
		}
	}
	for i := len(c.Tried) - 1; i >= 0; i-- {
		if t := c.Tried[i]; t.X >= c.Hi {
			hi = t
		}
	}
	// The bracket itself is so narrow that one draw may decide its slope.
	for _, t := range c.Tried {
		if t.X < lo.X && lo.X-t.X < (hi.X-lo.X)*20 {
			lo = t
			break
		}
	}
	if hi.X <= lo.X {
		return 0
	}
	return math.Abs((hi.F - lo.F) / (hi.X - lo.X))
}

// studentT is Student's t of 9 degrees of freedom at 95 %: as many as the ten blocks
// of draws leave to their spread.
const studentT = 2.262

// The map has so many air temperatures and masses.
const mapRows, mapColumns = 7, 6

// drawMap asks all over the map.
func (q *inquiry) drawMap(ctx context.Context, step func()) (*MarginMap, error) {
	qs := questions(q.profile, q.setup)
	warm, heavy := qs[0], qs[1]
	m := &MarginMap{PlannedAirC: warm.planned, PlannedKg: heavy.planned}
	const stepC, stepKg = 6.0, 15.0
	coolest := max(min(warm.planned-4*stepC, warm.hi-(mapRows-1)*stepC), warm.lo)
	for i := range mapRows {
		m.AirC = append(m.AirC, coolest+stepC*float64(i))
	}
	lightest := min(max(heavy.planned-2*stepKg, heavy.lo), heavy.hi-(mapColumns-1)*stepKg)
	for j := range mapColumns {
		m.TotalKg = append(m.TotalKg, lightest+stepKg*float64(j))
	}
	for _, a := range m.AirC {
		var row []float64
		for _, kg := range m.TotalKg {
			r, err := q.ask(ctx, heavy.with(warm.with(q.setup, a), kg))
			if err != nil {
				return nil, err
			}
			row = append(row, r.MarginK.P05)
		}
		m.MarginK = append(m.MarginK, row)
		step()
	}
	return m, nil
}

// TerminalMps is how fast a setup rolls by itself, m/s, in still air on a grade at
// a height, at the day's hottest where the air goes by the hour.
func TerminalMps(s Setup, heightM, grade float64) float64 {
	airK := s.Weather.AirTempK
	if s.Weather.Daily.On {
		airK = s.Weather.Daily.MaxK
	}
	rho := air.MoistDensity(airK, air.PressureAt(heightM), s.Weather.Humidity)
	return ride.TerminalSpeed(s.Load.TotalKg(), s.Resistance, rho, grade)
}
