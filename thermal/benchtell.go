package thermal

import (
	"math"
	"slices"

	"rimheat/thermal/air"
	"rimheat/thermal/rim"
)

// reading is what the instruments show of a state.
func (r *benchRun) reading(st rim.State) BenchReadings {
	c := func(k float64) float64 { return k - air.ZeroCelsiusK }
	const outside = air.StandardPressurePa
	gauge := hotGaugePa(r.spec.TyreGaugePa, outside, r.spec.AirK, st.TyreAirK, outside)
	now := BenchReadings{
		SweptMeanC: c(st.SweptK), HottestC: c(st.HottestK), TrackC: c(r.sustained.trackK(st.WallK)), TyreSideC: c(st.TyreSideK), MidWallC: c(st.MidWallK), InnerWallC: c(st.InnerWallK),
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
		Energy: e, StandS: r.stoodS, Soak: r.soak.places(),
	}
	const outside = air.StandardPressurePa
	out.Tyre = TyreHeat{
		AirPeakC: r.tyreAirK - air.ZeroCelsiusK, ColdKPa: spec.TyreGaugePa / 1e3,
		HotKPa: hotGaugePa(spec.TyreGaugePa, outside, spec.AirK, r.tyreAirK, outside) / 1e3,
	}
	out.Tyre.heldAgainst(Tyres{spec.TyreGaugePa, spec.TyreMaxGaugePa}, sec.MaxGaugePa)
	told := RimResult{Tyre: out.Tyre, Name: out.Rim.Name, PeakC: r.trackC, SurfacePeakC: r.surfaceC, ContactPeakC: r.contactC}
	for i, l := range r.limits {
		l.settle()
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
		told.Pads = padHeat(spec.Pad, r.padK, e.BrakedJ)
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
