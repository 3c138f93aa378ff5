// Package thermal answers one question about a planned ride: how hot do the
// rims of a rim-braked bicycle get on its descents, and does each candidate
// rim stay within its limit? Start with Assess.
//
// It is pure computation: it reads no files and no clock, and the same input
// gives the same output on any number of cores.
package thermal

import (
	"context"
	"fmt"
	"math"
	"slices"
	"sync"

	"rimheat/route"
	"rimheat/thermal/air"
	"rimheat/thermal/ride"
	"rimheat/thermal/rim"
)

// StandS is how long the bicycle stands at the end of the route while the
// heat left in the rims spreads, s; common practice, no source.
const StandS = 600.0

// boundResolution coarsens the mesh of the run with poor cooling, which is a
// bound and not the answer: it makes a carbon track 0.7 K in 90 hotter at a third
// of the cost.
const boundResolution = 0.6

// Assess rides the profile once with the setup and holds every candidate rim
// against its limits; then, if the setup asks for it, it rides once more for
// every draw of what is not known exactly. The setup's mistakes come back as
// errors.
func Assess(p *route.Profile, s Setup) (*Assessment, error) {
	return AssessContext(context.Background(), p, s, nil)
}

// AssessContext is Assess that ends with the context's error soon after that is
// done. told, if not nil, hears from several goroutines how many draws are done.
func AssessContext(ctx context.Context, p *route.Profile, s Setup, told func(done, of int)) (*Assessment, error) {
	if err := s.Validate(); err != nil {
		return nil, err
	}
	if err := s.fits(p); err != nil {
		return nil, err
	}
	given := s
	films := make([]float64, len(s.Wheels))
	if len(s.Readings) > 0 {
		t := newDoubts(&given, p.Ride != nil).central()
		s = s.as(t)
		for i, h := range t.heat {
			films[i] = h.film
		}
	}
	ridden := ride.NewPlan
	if p.Ride != nil {
		ridden = ride.NewReplay
	}
	plan, err := ridden(p, s.Load, s.Weather, s.Resistance, s.Style)
	if err != nil {
		return nil, err
	}
	duty := plan.Duty(StandS)
	a := &Assessment{
		Route:    summariseRoute(p, plan),
		Setup:    summariseSetup(p, plan, given),
		Descents: make([]Descent, 0, len(p.Descents)),
		Energy:   plan.Ledger(0, len(p.DistM)-1),
		Trace:    traceOf(p, plan, s.Weather),
	}
	for _, d := range p.Descents {
		a.Descents = append(a.Descents, Descent{
			StartM: d.StartM, EndM: d.EndM, DropM: d.DropM,
			MeanGrade: d.MeanGrade, SteepestGrade: d.SteepestGrade,
			Hairpins: d.Hairpins, SharpestCornerM: finite(d.SharpestCornerM),
			DurationS: plan.MovingS(d.Start, d.End), StoodS: plan.TimeS[d.End] - plan.TimeS[d.Start] - plan.MovingS(d.Start, d.End),
			Energy: plan.Ledger(d.Start, d.End),
		})
	}

	// Every wheel of every candidate is a task of its own; each writes its
	// own place, so that the number of cores changes nothing.
	// So is a second run with poorer cooling. Where both brakes work together
	// the wheel with the larger share is the hotter one throughout; by turns
	// either may be.
	byTurns, frontMore := s.Style.Habit == ride.Alternate, s.Style.FrontShare >= 0.5
	conditions := conditions{Duty: duty, weather: s.Weather, tyres: s.Tyres, endS: plan.TimeS[len(plan.TimeS)-1]}
	results := make([]candidateRuns, len(s.Wheels))
	var wg sync.WaitGroup
	for i := range results {
		c, w := &results[i], s.Wheels[i]
		taught := rim.Options{FilmFactor: films[i]} // 0 stands for 1
		wg.Go(func() { c.front = heatWheel(w, conditions, true, taught) })
		wg.Go(func() { c.rear = heatWheel(w, conditions, false, taught) })
		if s.Sampling.Samples > 0 {
			continue // the draws say more
		}
		poor := rim.Options{FilmFactor: 1 / air.FilmSpread, Resolution: rim.Resolution{Factor: boundResolution}}
		if films[i] > 0 {
			poor.FilmFactor *= films[i]
		}
		c.poor = make([]wheelRun, 2)
		if byTurns || frontMore {
			wg.Go(func() { c.poor[0] = heatWheel(w, conditions, true, poor) })
		}
		if byTurns || !frontMore {
			wg.Go(func() { c.poor[1] = heatWheel(w, conditions, false, poor) })
		}
	}
	wg.Wait()
	for i, w := range s.Wheels {
		c := &results[i]
		for _, r := range append([]wheelRun{c.front, c.rear}, c.poor...) {
			if r.err != nil {
				return nil, r.err
			}
		}
		a.Rims = append(a.Rims, judge(w, s.Tyres, p, a.Descents, plan, duty, c))
	}
	tellApart(a.Rims)
	if err := a.further(ctx, p, given, told); err != nil {
		return nil, err
	}
	metric, imperial := phrasing{}, phrasing{imperial: true}
	a.Advice, a.Cautions = metric.advise(a), metric.cautions(a, p, s)
	a.Imperial = Words{Advice: imperial.advise(a), Cautions: imperial.cautions(a, p, s)}
	return a, nil
}

// further adds what takes more rides: the draws, and what would change the answer.
func (a *Assessment) further(ctx context.Context, p *route.Profile, s Setup, told func(done, of int)) (err error) {
	if s.Sampling.Samples == 0 && !s.Outlook {
		return nil
	}
	var families []*rim.Family
	if !s.Sampling.Full {
		if families, err = newFamilies(s.Wheels); err != nil {
			return err
		}
	}
	var d *drawn
	if s.Sampling.Samples > 0 {
		if d, err = a.draw(ctx, p, s, families, told); err != nil {
			return err
		}
	}
	if s.Outlook {
		return a.look(ctx, p, s, families, d)
	}
	return nil
}

// finite is nil for what is not finite: JSON has no word for it.
func finite(v float64) *float64 {
	if math.IsInf(v, 0) || math.IsNaN(v) {
		return nil
	}
	return &v
}

// tellApart adds the identifier to names that several rims have.
func tellApart(rims []RimResult) {
	count := map[string]int{}
	for _, r := range rims {
		count[r.Name]++
	}
	for i := range rims {
		if r := &rims[i]; count[r.Name] > 1 {
			r.Name += " (" + r.ID + ")"
		}
	}
}

// candidateRuns are the runs of one candidate: both wheels, and, where nothing is
// drawn, the wheels with poorer cooling that can be the hotter one (the other is
// left empty).
type candidateRuns struct {
	front, rear wheelRun
	poor        []wheelRun
}

// conditions are what every wheel goes through.
type conditions struct {
	*ride.Duty
	weather ride.Weather
	tyres   Tyres
	// endS is when the ride ends and the standing begins, s.
	endS float64
}

// sunPart is the part of the sun's irradiance that the outer faces get. One side
// of a wheel can be turned to the sun; carbon passes little on to the other, so
// the side in the sun is taken for both, which is on the safe side.
const sunPart = 1.0

// wheelRun is what one wheel did over the duty.
type wheelRun struct {
	history History
	balance rim.Balance
	massKg  float64
	soak    soak
	// hottest is the section when the track was at its hottest.
	hottest snapshot
	// tyreAirK and padK are peaks, hotPa the tyre's highest pressure above the
	// air's.
	tyreAirK, padK, hotPa float64
	err                   error
}

func heatWheel(w Wheel, d conditions, front bool, opt rim.Options) (r wheelRun) {
	s, err := rim.NewSolver(w.Rim, w.Pad, opt)
	if err != nil {
		return wheelRun{err: err}
	}
	power := d.RearW
	if front {
		power = d.FrontW
	}
	n := d.Len()
	r.massKg = s.MassKg()
	cols := 5
	if w.Rim.HasFairing() {
		cols++
	}
	col := make([]float64, cols*n)
	r.history = History{
		TimeS: d.TimeS, DistM: d.DistM,
		TrackC: col[:n:n], ContactC: col[n : 2*n : 2*n], TyreSideC: col[2*n : 3*n : 3*n], SpokeBedC: col[3*n : 4*n : 4*n], SurfaceC: col[4*n : 5*n : 5*n],
	}
	if w.Rim.HasFairing() {
		r.history.FairingC = col[5*n:]
	}
	startK := d.AirK[0] + d.weather.RoadAirK
	s.Reset(startK)
	var track sustained
	for i := range n {
		if err := s.Step(driveOf(d.Duty, power, &d.weather, i)); err != nil {
			return wheelRun{err: fmt.Errorf("at km %.2f: %w", d.DistM[i]/1000, err)}
		}
		st := s.State()
		track.step(d.DtS[i], st.SweptK, st.WallK)
		r.history.TrackC[i] = track.trackK(st.WallK) - air.ZeroCelsiusK
		r.hottest.look(s, st, r.history.TrackC[i], i)
		r.history.SurfaceC[i] = st.SweptK - air.ZeroCelsiusK
		r.history.ContactC[i] = st.ContactK - air.ZeroCelsiusK
		r.history.TyreSideC[i] = st.TyreSideK - air.ZeroCelsiusK
		r.history.SpokeBedC[i] = st.SpokeBedK - air.ZeroCelsiusK
		if r.history.FairingC != nil {
			r.history.FairingC[i] = st.FairingK - air.ZeroCelsiusK
		}
		r.tyreAirK, r.padK = math.Max(r.tyreAirK, st.TyreAirK), math.Max(r.padK, st.PadK)
		// The tyre is filled where and when the ride begins, in the air of the
		// place and not in that over the road.
		r.hotPa = math.Max(r.hotPa, hotGaugePa(d.tyres.GaugePa, d.PressurePa[0], d.AirK[0], st.TyreAirK, d.PressurePa[i]))
		if d.TimeS[i] >= d.endS-1e-6 && !r.soak.begun {
			r.soak.begin(d.TimeS[i], st)
		}
		r.soak.step(d.TimeS[i], st)
	}
	r.balance = s.Balance()
	r.hottest.outline, r.hottest.roadAirK = s.Outline(), d.weather.RoadAirK
	return r
}

func summariseRoute(p *route.Profile, plan *ride.Plan) RouteSummary {
	r := RouteSummary{
		Name: p.Name, DistanceM: p.DistanceM, ClimbM: p.ClimbM, DropM: p.DropM,
		LowestM: math.Inf(1), HighestM: math.Inf(-1),
		DurationS: plan.TimeS[len(plan.TimeS)-1], Points: p.Points,
		Repairs: append([]route.Repair{}, p.Repairs...), Heights: p.Heights,
	}
	if p.Ride != nil {
		r.Replay = replayOf(p.Ride)
	}
	for _, z := range p.HeightM {
		r.LowestM, r.HighestM = math.Min(r.LowestM, z), math.Max(r.HighestM, z)
	}
	return r
}

func summariseSetup(p *route.Profile, plan *ride.Plan, s Setup) SetupSummary {
	sum := SetupSummary{
		RiderKg: s.Load.RiderKg, BikeKg: s.Load.BikeKg, LuggageKg: s.Load.LuggageKg, TotalKg: s.Load.TotalKg(),
		AirTempC: s.Weather.AirTempK - air.ZeroCelsiusK, AtHeightM: ride.AtHeightM(p, s.Weather),
		SunWPerM2: s.Weather.SunWPerM2, RoadAirK: s.Weather.RoadAirK, TyreKPa: s.Tyres.GaugePa / 1e3,
		LapseKPerM: s.Weather.LapseKPerM, WindMps: s.Weather.WindMps,
		WindFrom: s.Weather.WindFromRad * 180 / math.Pi, Humidity: s.Weather.Humidity,
		CdAM2: s.Resistance.CdAM2, Crr: s.Resistance.Crr,
		Style: s.Style.ID, CapMps: s.Style.CapMps, CornerG: s.Style.CornerG, BrakeG: s.Style.BrakeG,
		FrontShare: s.Style.FrontShare, Habit: string(s.Style.Habit), PedalW: s.Style.PedalW,
		Assumed: append([]string{}, s.Assumed...),
	}
	if len(s.Style.Pauses) > 0 {
		sum.Stops = coolStops(p, s.Style.Pauses)
	}
	for _, k := range s.Readings {
		if !slices.Contains(sum.Readings, k.Text) {
			sum.Readings = append(sum.Readings, k.Text)
		}
	}
	sum.Learned = s.learned(p.Ride != nil)
	if p.Ride != nil {
		// Of the technique only the sharing of the brakes is the setup's.
		sum.Style, sum.CapMps, sum.CornerG, sum.BrakeG, sum.PedalW = "recorded", 0, 0, 0, 0
		sum.Assumed = slices.DeleteFunc(sum.Assumed, func(n string) bool { return slices.Contains(recordedInputs(), n) })
	}
	if d := s.Weather.Daily; d.On {
		sum.AirTempC = d.AirK(0) - air.ZeroCelsiusK
		sum.DayAir = &DayAir{
			Start: clockTime(d.StartS), CoolestAt: clockTime(ride.CoolestAtS), HottestAt: clockTime(ride.HottestAtS),
			AirMinC: d.MinK - air.ZeroCelsiusK, AirMaxC: d.MaxK - air.ZeroCelsiusK,
			CoolestMetC: slices.Min(plan.AirK) - air.ZeroCelsiusK, WarmestMetC: slices.Max(plan.AirK) - air.ZeroCelsiusK,
		}
	}
	return sum
}

// recordedInputs are the inputs whose place a recording takes.
func recordedInputs() []string { return []string{"style", "cap-kmh", "corner-g", "brake-g", "pedal-w"} }

// clockTime is a time of day, seconds since midnight, as "HH:MM".
func clockTime(s float64) string {
	minutes := int(math.Round(s/60)) % (24 * 60)
	return fmt.Sprintf("%02d:%02d", minutes/60, minutes%60)
}
