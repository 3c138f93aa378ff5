package thermal

import (
	"math"

	"rimheat/route"
	"rimheat/thermal/air"
	"rimheat/thermal/ride"
	"rimheat/thermal/rim"
)

// Places that a limit can be about.
const (
	OnTrack    = "track"
	OnTyreSide = "tyre side"
	OnFairing  = "fairing"
)

// wheelNames are the names of the two wheels in every view.
var wheelNames = [2]string{"front", "rear"}

// judge holds one candidate's two wheels against its limits.
func judge(w Wheel, tyres Tyres, p *route.Profile, descents []Descent, plan *ride.Plan, d *ride.Duty, c *candidateRuns) RimResult {
	front, rear := &c.front, &c.rear
	r := RimResult{
		ID: w.Rim.ID, Name: w.Rim.Name, Material: w.Rim.MaterialNames(),
		MassKg: front.massKg, WallM: w.Rim.Geometry.WallM(), Pad: w.Pad.Name, TyreSide: w.TyreSide.Name, Composite: w.Rim.ResinInTrack(),
		Front: front.history, Rear: rear.history,
	}
	track := peakOf(front.history.TrackC, rear.history.TrackC, 0, d.Len())
	r.PeakC, r.PeakAtM, r.PeakWheel = track.c, d.DistM[track.step], wheelNames[track.wheel]
	r.PeakInStop = d.TimeS[track.step] > plan.StopStartS()

	r.Field = fieldOf(w, d, c.of(track.wheel), r.PeakWheel)

	n := d.Len()
	r.SurfacePeakC = peakOf(front.history.SurfaceC, rear.history.SurfaceC, 0, n).c
	r.ContactPeakC = peakOf(front.history.ContactC, rear.history.ContactC, 0, n).c
	r.TyreSidePeakC = peakOf(front.history.TyreSideC, rear.history.TyreSideC, 0, n).c
	r.SpokeBedPeakC = peakOf(front.history.SpokeBedC, rear.history.SpokeBedC, 0, n).c

	for _, l := range limitsOf(w) {
		f, b := front.history.at(l.On), rear.history.at(l.On)
		at := peakOf(f, b, 0, d.Len())
		l.PeakC, l.PeakAtM, l.Wheel = at.c, d.DistM[at.step], wheelNames[at.wheel]
		l.settle()
		l.Over = overSpans(f, b, l.LimitC, p, d)
		r.Limits = append(r.Limits, l)
	}
	decide(&r)
	_, r.PeakInDoubt = doubtOf(p, &r)
	if c.poor != nil {
		r.PoorCooling = poorCooling(r.Limits, c.poor)
	}

	for i := range descents {
		r.Descents = append(r.Descents, peaksOn(i, descents, d, front, rear))
	}
	bf, br := front.balance, rear.balance
	r.Heat = HeatBalance{InJ: bf.In + br.In, SunJ: bf.Sun + br.Sun, StoredJ: bf.Stored + br.Stored, LostJ: bf.Lost + br.Lost}
	r.RimShare = 1
	if braked := bf.Braked + br.Braked; braked > 0 {
		r.RimShare = (r.Heat.InJ - r.Heat.SunJ) / braked
	}
	r.Pads = padHeat(w.Pad, math.Max(front.padK, rear.padK), math.Max(bf.Braked, br.Braked))
	r.Tyre = TyreHeat{
		AirPeakC: math.Max(front.tyreAirK, rear.tyreAirK) - air.ZeroCelsiusK,
		ColdKPa:  tyres.GaugePa / 1e3, HotKPa: math.Max(front.hotPa, rear.hotPa) / 1e3,
	}
	r.Tyre.heldAgainst(tyres, w.Rim.MaxGaugePa)
	r.Soak = hotterSoak(front.soak.places(), rear.soak.places())
	return r
}

// settle draws what follows from the peak.
func (l *LimitResult) settle() {
	l.MarginK = l.LimitC - l.PeakC
	l.Verdict, l.Band = verdictOf(l.MarginK), bandOf(*l)
}

// verdictOf puts a margin into a word.
func verdictOf(marginK float64) Verdict {
	switch {
	case marginK <= 0:
		return Over
	case marginK < MarginalK:
		return Marginal
	}
	return Within
}

// at is the temperature that a limit of that place is about.
func (h *History) at(place string) []float64 {
	switch place {
	case OnTyreSide:
		return h.TyreSideC
	case OnFairing:
		return h.FairingC
	}
	return h.TrackC
}

// poorCooling finds the tightest limit of the runs with less film.
func poorCooling(limits []LimitResult, runs []wheelRun) *PoorCooling {
	best := &PoorCooling{MarginK: math.Inf(1)}
	for _, l := range limits {
		peak := math.Inf(-1)
		for i := range runs {
			for _, c := range runs[i].history.at(l.On) {
				peak = max(peak, c)
			}
		}
		if m := l.LimitC - peak; m < best.MarginK {
			best = &PoorCooling{Factor: air.FilmSpread, On: l.On, LimitC: l.LimitC, PeakC: peak, MarginK: m}
		}
	}
	return best
}

// decide picks the limit that the verdict hangs on: the one with the least
// margin, the track's on a tie.
func decide(r *RimResult) {
	worst := 0
	for i, l := range r.Limits {
		if l.MarginK < r.Limits[worst].MarginK {
			worst = i
		}
	}
	r.hangOn(r.Limits[worst])
}

// hangOn takes one limit for the deciding one.
func (r *RimResult) hangOn(worst LimitResult) {
	r.LimitC, r.LimitOn, r.LimitSource, r.LimitAssumed = worst.LimitC, worst.On, worst.Source, worst.Assumed
	r.Verdict, r.MarginK, r.JudgedPeakC, r.Over = worst.Verdict, worst.MarginK, worst.PeakC, worst.Over
}

// limitsOf lists what a candidate must bear, the track first.
func limitsOf(w Wheel) []LimitResult {
	var ls []LimitResult
	switch {
	case w.Rim.MakerLimitK > 0:
		ls = append(ls, LimitResult{On: OnTrack, LimitC: w.Rim.MakerLimitK - air.ZeroCelsiusK, Source: "rim maker's figure, given by the user"})
	case w.Rim.ResinInTrack():
		ls = append(ls, resinLimit(OnTrack, w.Rim.ResinClass))
	}
	if w.Rim.Fairing.Material.Composite {
		ls = append(ls, resinLimit(OnFairing, w.Rim.ResinClass))
	}
	t := w.TyreSide
	return append(ls, LimitResult{On: OnTyreSide, LimitC: t.LimitC, LowC: t.LowC, HighC: t.HighC, Source: "assumed for a " + t.Name, Assumed: true})
}

// resinLimit is what a resin is taken to bear.
func resinLimit(on, class string) LimitResult {
	c, _ := resinClass(class) // Validate has found it
	l := LimitResult{On: on, LimitC: c.LimitC, LowC: c.LowC, HighC: c.HighC, Source: c.Source, Assumed: true}
	if c.AlarmC > 0 {
		l.AlarmC = &c.AlarmC
	}
	return l
}

// bandOf says in which band of its resin a peak lies, "" where none is known.
func bandOf(l LimitResult) Band {
	switch {
	case l.AlarmC == nil:
		return ""
	case l.PeakC >= *l.AlarmC:
		return Alarm
	case l.PeakC >= l.LimitC:
		return Caution
	}
	return BelowCaution
}

// hotterSoak takes each place from the wheel on which it gets hotter.
func hotterSoak(front, rear []SoakPlace) []SoakPlace {
	for i := range front {
		if i < len(rear) && rear[i].PeakC > front[i].PeakC {
			front[i] = rear[i]
		}
	}
	return front
}

// resinClass finds a class by name.
func resinClass(id string) (c rim.ResinClass, ok bool) {
	for _, c := range rim.ResinClasses() {
		if c.ID == id {
			return c, true
		}
	}
	return rim.ResinClass{}, false
}

type peak struct {
	c     float64
	step  int
	wheel int
}

// peakOf finds the hottest step of either wheel in [from, to); the front
// wheel and the earlier step win a tie.
func peakOf(front, rear []float64, from, to int) peak {
	best := peak{c: math.Inf(-1), step: from}
	for wheel, h := range [2][]float64{front, rear} {
		for i, c := range h[from:to] {
			if c > best.c {
				best = peak{c, from + i, wheel}
			}
		}
	}
	return best
}

// peaksOn gives a candidate's peaks on descent i. Track and contact are those
// between its start and end; tyre side and spoke bed warm up late, so theirs
// run on to the start of the next descent.
func peaksOn(i int, descents []Descent, d *ride.Duty, front, rear *wheelRun) RimDescent {
	n := d.Len()
	from := firstStep(d.DistM, descents[i].StartM)
	to := min(firstStep(d.DistM, descents[i].EndM)+1, n)
	late := n
	if i+1 < len(descents) {
		late = max(firstStep(d.DistM, descents[i+1].StartM), to)
	}
	if i == len(descents)-1 && descents[i].EndM >= d.DistM[n-1] {
		to = n
	}
	f, r := front.history, rear.history
	fp, rp := peakOf(f.TrackC, f.TrackC, from, to), peakOf(r.TrackC, r.TrackC, from, to)
	hot := fp.step
	if rp.c > fp.c {
		hot = rp.step
	}
	return RimDescent{
		Index: i, FrontPeakC: fp.c, RearPeakC: rp.c,
		SurfacePeakC:  peakOf(f.SurfaceC, r.SurfaceC, from, to).c,
		ContactPeakC:  peakOf(f.ContactC, r.ContactC, from, to).c,
		TyreSidePeakC: peakOf(f.TyreSideC, r.TyreSideC, from, late).c,
		SpokeBedPeakC: peakOf(f.SpokeBedC, r.SpokeBedC, from, late).c,
		AirC:          d.AirK[hot] - air.ZeroCelsiusK,
	}
}

// firstStep is the first step that ends beyond the distance (the last step if
// none does).
func firstStep(dist []float64, m float64) int {
	for i, x := range dist {
		if x > m {
			return i
		}
	}
	return len(dist) - 1
}

// overSpans lists where the hotter wheel is at or above the limit. Crossings
// are interpolated within the step.
func overSpans(front, rear []float64, limit float64, p *route.Profile, d *ride.Duty) []OverSpan {
	spans := []OverSpan{}
	hot := func(i int) float64 { return math.Max(front[i], rear[i]) }
	inside := false
	for i := range front {
		c := hot(i)
		if (c >= limit) == inside {
			continue
		}
		inside = !inside
		part := 1.0 // where in step i the limit is met
		t0, x0 := 0.0, 0.0
		if i > 0 {
			before := hot(i - 1)
			part = (limit - before) / (c - before)
			t0, x0 = d.TimeS[i-1], d.DistM[i-1]
		}
		t, x := t0+part*(d.TimeS[i]-t0), x0+part*(d.DistM[i]-x0)
		if inside {
			spans = append(spans, OverSpan{StartM: x, EndM: x, StartS: t, HeightM: heightAt(p, x)})
		} else {
			s := &spans[len(spans)-1]
			s.EndM, s.DurationS = x, t-s.StartS
		}
	}
	if inside {
		s := &spans[len(spans)-1]
		s.EndM, s.DurationS = d.DistM[d.Len()-1], d.TimeS[d.Len()-1]-s.StartS
	}
	return spans
}

func heightAt(p *route.Profile, m float64) float64 {
	x := m / p.SpacingM
	i := min(max(int(x), 0), len(p.HeightM)-2)
	f := min(max(x-float64(i), 0), 1)
	return p.HeightM[i]*(1-f) + p.HeightM[i+1]*f
}
