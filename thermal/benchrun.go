package thermal

import (
	"fmt"
	"math"

	"rimheat/thermal/air"
	"rimheat/thermal/rim"
)

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
	e := r.solver.Balance()
	now.InJ, now.StoredJ, now.LostJ = e.In, e.Stored, e.Lost
	if e.Braked > 0 {
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
	r.sustained.step(to-from, middle.SweptK, middle.WallK)
	r.before = st
	track := r.sustained.trackK(st.WallK) - air.ZeroCelsiusK
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
