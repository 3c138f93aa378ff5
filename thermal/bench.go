package thermal

import (
	"fmt"
	"math"
	"slices"

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
		TyreKPa: Bound{"kPa", 50, 1500}, EveryS: Bound{"s", 0.1, benchLongestS}, DurationS: Bound{"s", 1e-3, benchLongestS},
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
	if s.TyreSide.Kind != s.Rim.Kind {
		return fmt.Errorf("rim %s is a %s: a %s does not belong on it", s.Rim.ID, s.Rim.Kind, s.TyreSide.Name)
	}
	if _, ok := resinClass(s.Rim.ResinClass); s.Rim.HasResin() && !ok {
		return fmt.Errorf("rim %s: no resin class %q", s.Rim.ID, s.Rim.ResinClass)
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

// A benchGrain multiplies the fineness of the mesh and the length of the time
// steps; both 1 is what Bench takes, others show how much that matters.
type benchGrain struct{ mesh, step float64 }

// bench is Bench with another grain.
func bench(spec BenchSpec, grain benchGrain) (*BenchResult, error) {
	if err := spec.Validate(); err != nil {
		return nil, err
	}
	sec := spec.Rim
	if !math.IsNaN(spec.Emissivity) {
		given := rim.Quantity{Value: spec.Emissivity, Unit: "1", Basis: rim.GivenByUser}
		for _, m := range []*rim.Material{&sec.Material, &sec.Surface.Material, &sec.Fairing.Material} {
			m.EmissivityTrack, m.EmissivityBody = given, given
		}
	}
	pad := spec.Pad
	if spec.NoPads {
		pad = NewWheel(sec).Pad // the solver wants one and leaves it alone
	}
	s, err := rim.NewSolver(sec, pad, rim.Options{
		Resolution: rim.Resolution{Factor: benchResolution * grain.mesh},
		FilmFactor: spec.FilmFactor, FilmWPerM2K: spec.FilmWPerM2K, NoPads: spec.NoPads,
	})
	if err != nil {
		return nil, err
	}
	s.Reset(spec.AirK)
	none := math.Inf(-1)
	r := &benchRun{spec: spec, solver: s, contactC: none, surfaceC: none, trackC: none}
	r.wheel = Wheel{Rim: sec, Pad: pad, TyreSide: spec.TyreSide}
	r.limits = limitsOf(r.wheel)
	r.reached = make([]float64, len(r.limits))
	for i := range r.reached {
		r.limits[i].PeakC, r.reached[i] = none, math.NaN()
	}
	// A wheel in hot air may be over a limit before it is braked.
	r.note(spec.Spans[0], 0, 0)
	r.sample()
	begin := 0.0
	power, jumped := math.NaN(), 0.0
	for _, b := range spec.Spans {
		w := b.PowerW + b.FluxWPerM2*s.SweptAreaM2()
		if !(math.Abs(w-power) <= benchSurgeW) || (w > 0) != (power > 0) {
			jumped, power = begin, w
		}
		end := begin + b.Seconds
		if err := r.span(b, begin, end, jumped, grain.step); err != nil {
			return nil, err
		}
		begin = end
	}
	// The end is told, and no sample so close before it that both would be told
	// at the same time.
	n := len(r.samples)
	if at := r.samples[n-1].TimeS; at > 0 && begin-at < benchApartS {
		r.samples = r.samples[:n-1]
	}
	r.sample()
	out := r.energy()
	if err := r.stand(begin); err != nil {
		return nil, err
	}
	return r.result(out), nil
}

// stand lets the wheel stand without a fan for StandS from t on, s, without
// telling its states: what tyre, tape and bond come to after the braking is held
// against the limits too.
func (r *benchRun) stand(t float64) error {
	if r.solver.Balance().Braked == 0 {
		return nil
	}
	r.stoodS = StandS
	if !r.soak.begun {
		r.soak.begin(t, r.before)
	}
	end := t + StandS
	for begin := t; t < end-1e-9; {
		dt := math.Min(end-t, 4*benchStep(t-begin))
		err := r.solver.Step(rim.Drive{
			DtS: dt, AirK: r.spec.AirK, PressurePa: air.StandardPressurePa, SunWPerM2: sunPart * r.spec.SunWPerM2,
		})
		if err != nil {
			return fmt.Errorf("%.1f s after the bench run: %w", t-begin, err)
		}
		r.hold(r.solver.State(), t, t+dt)
		t += dt
	}
	return nil
}

// A benchRun is a bench at work.
type benchRun struct {
	spec   BenchSpec
	wheel  Wheel
	solver *rim.Solver

	sustained                  sustained
	soak                       soak
	before                     rim.State // at the end of the last step
	samples, trace             []BenchSample
	peaks                      BenchPeaks
	limits                     []LimitResult
	reached                    []float64 // time that each limit is reached, s, NaN if never
	contactC, surfaceC, trackC float64   // highest so far
	padK, tyreAirK             float64   // likewise
	stoodS                     float64   // after the run
}

// span steps through one stretch from begin to end; jumped is when the power
// last did, all seconds.
func (r *benchRun) span(b BenchSpan, begin, end, jumped, stretch float64) error {
	w := b.PowerW + b.FluxWPerM2*r.solver.SweptAreaM2()
	on := 0.0
	if w > 0 {
		on = 1
	}
	if on == 0 && !r.soak.begun && r.solver.Balance().Braked > 0 {
		r.soak.begin(begin, r.before)
	}
	if on > 0 {
		r.soak.begun = false // the wait counts from the last braking
	}
	t := begin
	for t < end-1e-9 {
		due := r.spec.EveryS * float64(len(r.samples))
		stop := end
		if due > t+1e-9 && due < end-1e-6 { // nothing is gained by a step of next to no length
			stop = due
		}
		// Equal steps to the next stop, lest a short one is left over.
		n := math.Ceil((stop-t)/(benchStep(t-jumped)*stretch) - 1e-9)
		to := stop
		if n > 1 {
			to = t + (stop-t)/n
		}
		err := r.solver.Step(rim.Drive{
			DtS: to - t, PowerW: w, OnPart: on, RollMps: b.RollMps, StreamMps: b.AirMps,
			AirK: r.spec.AirK, PressurePa: air.StandardPressurePa, SunWPerM2: sunPart * r.spec.SunWPerM2,
		})
		if err != nil {
			return fmt.Errorf("at %.1f s of the bench run: %w", to, err)
		}
		r.note(b, t, to)
		t = to
		if t >= due-1e-6 {
			r.sample()
		}
	}
	return nil
}

// benchStep is how long a step may be so many seconds after the power jumped.
func benchStep(sinceS float64) float64 {
	dt := benchFirstS
	for 2*dt <= math.Min(benchMostS, benchPart*sinceS+1e-9) {
		dt *= 2
	}
	return dt
}

// sample tells the present state.
func (r *benchRun) sample() {
	now := r.trace[len(r.trace)-1]
	if e := r.solver.Balance(); e.Braked > 0 {
		share := (e.In - e.Sun) / e.Braked
		now.RimShare = &share
	}
	r.samples = append(r.samples, now)
}

// note takes in the state that the stretch b led to in the step between two
// times and holds it against peaks and limits.
func (r *benchRun) note(b BenchSpan, from, to float64) {
	st := r.solver.State()
	r.hold(st, from, to)
	now := BenchSample{TimeS: to, Watts: b.PowerW + b.FluxWPerM2*r.solver.SweptAreaM2(), KmH: b.RollMps * 3.6, BenchReadings: r.reading(st)}
	r.trace = append(r.trace, now)
	if len(r.trace) == 1 {
		r.peaks.BenchReadings = now.BenchReadings
	}
	r.peaks.take(now.BenchReadings, to)
	r.padK = math.Max(r.padK, st.PadK)
	r.contactC = math.Max(r.contactC, st.ContactK-air.ZeroCelsiusK)
	r.surfaceC = math.Max(r.surfaceC, st.SweptK-air.ZeroCelsiusK)
}

// hold takes in the state that the step between two times led to, and holds it
// against the limits.
func (r *benchRun) hold(st rim.State, from, to float64) {
	r.soak.step(to, st)
	r.tyreAirK = math.Max(r.tyreAirK, st.TyreAirK)
	if to == 0 {
		r.before = st
	}
	// The excess is averaged over time, so a step counts by its middle.
	middle := st
	middle.SweptK, middle.WallK = (st.SweptK+r.before.SweptK)/2, (st.WallK+r.before.WallK)/2
	r.sustained.step(to-from, middle)
	r.before = st
	track := r.sustained.trackK(st) - air.ZeroCelsiusK
	r.trackC = math.Max(r.trackC, track)
	for i := range r.limits {
		l, c := &r.limits[i], track
		switch l.On {
		case OnTyreSide:
			c = st.TyreSideK - air.ZeroCelsiusK
		case OnFairing:
			c = st.FairingK - air.ZeroCelsiusK
		}
		l.PeakC = math.Max(l.PeakC, c)
		if c >= l.LimitC && math.IsNaN(r.reached[i]) {
			r.reached[i] = to
		}
	}
}

// reading is what the instruments show of a state.
func (r *benchRun) reading(st rim.State) BenchReadings {
	c := func(k float64) float64 { return k - air.ZeroCelsiusK }
	const outside = air.StandardPressurePa
	gauge := hotGaugePa(r.spec.TyreGaugePa, outside, r.spec.AirK, st.TyreAirK, outside)
	now := BenchReadings{
		SweptMeanC: c(st.SweptK), HottestC: c(st.HottestK), TrackC: c(r.sustained.trackK(st)), TyreSideC: c(st.TyreSideK), MidWallC: c(st.MidWallK), InnerWallC: c(st.InnerWallK),
		BedCentreC: c(st.BedCentreK), SpokeBedC: c(st.SpokeBedK), TyreAirC: c(st.TyreAirK), TyreKPa: gauge / 1e3,
	}
	if !r.spec.NoPads {
		pad := c(st.PadK)
		now.PadC = &pad
	}
	return now
}

// energy is the ledger as it stands.
func (r *benchRun) energy() BenchEnergy {
	e := r.solver.Balance()
	return BenchEnergy{e.Braked, e.Pads, e.Sun, e.In, e.Stored, e.Lost}
}

// result sums the run up; e is the ledger at its end.
func (r *benchRun) result(e BenchEnergy) *BenchResult {
	spec, sec := r.spec, r.wheel.Rim
	out := &BenchResult{
		Rim:     BenchRim{Legible(sec.ID), Legible(sec.Name, sec.ID), sec.MaterialNames(), r.solver.MassKg(), sec.Geometry.WallM(), r.solver.SweptAreaM2()},
		Inputs:  r.inputs(),
		Samples: r.samples, Peaks: r.peaks, Trace: r.trace,
		Energy: e, Soak: r.soak.places(),
	}
	out.StandS = r.stoodS
	const outside = air.StandardPressurePa
	out.Tyre = TyreHeat{
		AirPeakC: r.tyreAirK - air.ZeroCelsiusK, ColdKPa: spec.TyreGaugePa / 1e3,
		HotKPa: hotGaugePa(spec.TyreGaugePa, outside, spec.AirK, r.tyreAirK, outside) / 1e3,
	}
	out.Tyre.heldAgainst(Tyres{spec.TyreGaugePa, spec.TyreMaxGaugePa}, sec.MaxGaugePa)
	told := RimResult{Tyre: out.Tyre, Name: out.Rim.Name, PeakC: r.trackC, SurfacePeakC: r.surfaceC, ContactPeakC: r.contactC}
	for i, l := range r.limits {
		l.MarginK = l.LimitC - l.PeakC
		l.Verdict = verdictOf(l.MarginK)
		l.Band = bandOf(l)
		b := BenchLimit{AlarmC: l.AlarmC, Band: l.Band, On: l.On, LimitC: l.LimitC, Source: l.Source, Assumed: l.Assumed, PeakC: l.PeakC, Verdict: l.Verdict}
		if at := r.reached[i]; !math.IsNaN(at) {
			b.ReachedS = &at
		}
		told.Limits = append(told.Limits, l)
		out.Limits = append(out.Limits, b)
	}
	var say cautionList
	if c := massCaution(out.Rim.MassKg); c != "" {
		say.all("%s", c)
	}
	if spec.NoPads {
		told.ContactPeakC = 0 // nothing rubs
	} else {
		told.Pads = PadHeat{
			PeakC: r.padK - air.ZeroCelsiusK, FrictionCold: spec.Pad.Friction.Value, FrictionHot: spec.Pad.FrictionAt(r.padK), WearM: spec.Pad.WearM(e.BrakedJ),
		}
		out.Pads = &told.Pads
	}
	phrasing{}.rimCautions(&say, told, r.wheel, slices.Contains(spec.Assumed, "tyre-kpa"))
	if c := r.wheel.TyreSide.Caution; c != "" {
		say.all("%s", c)
	}
	if spec.FilmWPerM2K == 0 {
		say.all("How well moving air cools a rim is known only within a factor of about %.1f either way; --film puts your own figure in its place.", air.FilmSpread)
	}
	say.all("This is a wheel on a bench, computed: the rim maker's limits and instructions and the judgement of a qualified mechanic come before anything printed here.")
	out.Cautions = say.sentences()
	return out
}

// inputs tells what the run was made with.
func (r *benchRun) inputs() BenchInputs {
	spec := r.spec
	in := BenchInputs{
		Preset: spec.Preset.Name, PresetText: spec.Preset.Text, PresetSource: spec.Preset.Source,
		DurationS: spec.DurationS(), AirTempC: spec.AirK - air.ZeroCelsiusK, Pads: "none",
		TyreSide: spec.TyreSide.Name, TyreKPa: spec.TyreGaugePa / 1e3, SunWPerM2: spec.SunWPerM2, SampleEvery: r.spec.EveryS, Assumed: append([]string{}, spec.Assumed...),
	}
	if !spec.NoPads {
		in.Pads = spec.Pad.Name
	}
	var flux, flow float64
	rolls, flows := [2]float64{math.Inf(1), 0}, [2]float64{math.Inf(1), 0}
	widen := func(r *[2]float64, kmh float64) { r[0], r[1] = math.Min(r[0], kmh), math.Max(r[1], kmh) }
	for _, b := range spec.Spans {
		widen(&rolls, 3.6*b.RollMps)
		widen(&flows, 3.6*b.AirMps)
		w, part := b.PowerW+b.FluxWPerM2*r.solver.SweptAreaM2(), b.Seconds/in.DurationS
		if w > 0 {
			in.BrakingS += b.Seconds
		}
		in.MeanWatts += w * part
		in.MostWatts, flux = math.Max(in.MostWatts, w), math.Max(flux, b.FluxWPerM2)
		in.KmH += 3.6 * b.RollMps * part
		flow += 3.6 * b.AirMps * part
	}
	if flux > 0 {
		in.Flux = &flux
	}
	if spec.FilmWPerM2K != 0 {
		in.Film = &spec.FilmWPerM2K
	} else {
		in.AirflowKmH, in.AirflowRange, in.FilmFactor = &flow, &flows, &spec.FilmFactor
	}
	in.KmHRange = rolls
	if !math.IsNaN(spec.Emissivity) {
		in.Emissivity = &spec.Emissivity
	}
	return in
}

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
