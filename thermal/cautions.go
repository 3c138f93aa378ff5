package thermal

import (
	"fmt"
	"math"

	"rimheat/route"
	"rimheat/thermal/air"
)

const (
	// thinWallM: a carbon clincher's walls should be at least 3 mm each; 2 mm
	// is too thin, 3.3 mm sound; common practice, no source.
	thinWallM = 3e-3
	// Where pads glaze, °C: those for carbon are said to be made for
	// 320 °C, those for aluminium for 180 °C (a pad maker's statement at second
	// hand, published).
	glazeCarbonC, glazeAluC = 320.0, 180.0
	// epoxyEndC is where epoxy begins to blister (from memory); beyond it the
	// specific heat and all else here no longer hold.
	epoxyEndC = 260.0
	// fadedPart is the part of its cold friction below which a pad is said to
	// fade; common practice, no source.
	fadedPart = 0.9
	// nearDoubtM is how far a doubtful stretch of road reaches, m: the heat
	// made on it is still in the rim for that long; common practice, no source.
	nearDoubtM = 1000.0
)

// cautions lists what this setup and answer add, then what always holds.
func (u phrasing) cautions(a *Assessment, p *route.Profile, s Setup) []string {
	var cs []string
	say := func(format string, args ...any) { cs = append(cs, fmt.Sprintf(format, args...)) }
	for i, r := range a.Rims {
		u.rimCautions(say, r, s.Wheels[i])
	}
	for _, r := range a.Rims {
		if d, ok := doubtfulNear(p, r.PeakAtM); ok {
			say("The hottest place of the %s lies at or just after a stretch of road that is in doubt (%s, %s to %s): check the route there.", r.Name, d.Why, u.place(d.StartM), u.place(d.EndM))
		}
	}
	seen := map[string]bool{}
	for _, w := range s.Wheels {
		if c := w.TyreSide.Caution; c != "" && !seen[c] {
			seen[c] = true
			say("%s", c)
		}
	}
	for i, r := range a.Rims {
		c, ok := resinClass(s.Wheels[i].Rim.ResinClass)
		if !ok || !resinAssumed(r) || seen[c.ID] {
			continue
		}
		seen[c.ID] = true
		say("The limit of %s for the resin of a carbon rim is assumed, not known: resins of this kind lie from %s to %s, and others lie lower still. Ask the rim's maker and give the figure with --rim-limit.", u.temp(c.LimitC), u.temp(c.LowC), u.temp(c.HighC))
	}
	say("Over means at or above the limit, marginal less than %s below it, within further below. These are central estimates: how well moving air cools a rim is known only within a factor of about %.1f either way, so real peaks may lie well above what is shown.", u.gap(MarginalK), air.FilmSpread)
	say("The rim maker's limits and instructions, local rules, and the judgement of a qualified mechanic come before anything printed here.")
	say("Rain, worn or contaminated pads, dragging brakes, a dented or damaged rim, wrong tyre pressure and an unsuitable tube or tape are not in the model.")
	say("On the road: brake with both brakes, and before bends. On a steep road a middle speed held with the brakes heats rims most; never ride faster than is safe to spare them: stop early and let them cool. Stop at once if a brake pulses, smells or fades, and never touch a hot rim.")
	return cs
}

// rimCautions says what one candidate adds.
func (u phrasing) rimCautions(say func(string, ...any), r RimResult, w Wheel) {
	m := w.Rim.Material
	for _, l := range r.Limits {
		switch {
		case l.Verdict != Over:
		case l.On == OnTyreSide:
			say("On the %s the tyre side gets hotter than a %s is taken to bear: tube, tape or bead may fail, suddenly.", r.Name, w.TyreSide.Name)
		case l.On == OnFairing:
			say("The fairing of the %s gets hotter beside its bond than its resin is taken to bear: it may come loose.", r.Name)
		case m.Composite:
			say("The %s passes its limit in this estimate: a carbon rim that has been too hot may fail later without warning; have it inspected.", r.Name)
		default:
			say("The %s passes the limit that its maker gives.", r.Name)
		}
	}
	for _, l := range r.Limits {
		switch l.Band {
		case Alarm:
			say("The %s of the %s comes into the alarm band of its resin (from %s, assumed: dry glass transition less 15 K): under the tyre's pressure it may give way within minutes.", l.On, r.Name, u.temp(*l.AlarmC))
		case Caution:
			say("The %s of the %s comes into the caution band of its resin (from %s for long service, alarm from %s, both assumed).", l.On, r.Name, u.temp(l.LimitC), u.temp(*l.AlarmC))
		}
	}
	if t := r.Tyre; t.MaxKPa != nil && t.HotKPa > *t.MaxKPa {
		cold := "pump it less"
		if t.ColdKPa > *t.MaxKPa {
			cold = "it is pumped too hard cold"
		}
		say("The tyre on the %s comes to %s when hot, above the %s that the maker of the %s allows: %s.", r.Name, u.pressure(t.HotKPa), u.pressure(*t.MaxKPa), t.MaxOf, cold)
	}
	if p := r.Pads; p.FrictionHot < fadedPart*p.FrictionCold {
		say("The pads on the %s come to %s and grip only some %.0f %% as well as cold there: the brake needs a firmer hand and stops later.", r.Name, u.temp(p.PeakC), 100*p.FrictionHot/p.FrictionCold)
	}
	glaze := glazeAluC
	if w.Pad.ForComposite {
		glaze = glazeCarbonC
	}
	if r.ContactPeakC >= glaze {
		moments := ""
		if r.PeakC < glaze {
			moments = " for moments"
		}
		say("Under the pads the skin of the %s reaches some %s%s: pads glaze and fade there.", r.Name, u.temp(10*math.Round(r.ContactPeakC/10)), moments)
	}
	if m.Composite && r.SurfacePeakC >= epoxyEndC {
		say("The surface of the %s passes %s, where epoxy begins to blister and this estimate ends: take it as far too hot.", r.Name, u.temp(epoxyEndC))
	}
	if m.Composite && w.Rim.Kind == "clincher" && w.Rim.Geometry.WallM() < thinWallM-1e-9 {
		say("The %s has walls of %.1f mm each; for a carbon clincher under rim brakes about 3 mm is the least, 2 mm is too thin (common practice, no source).", r.Name, w.Rim.Geometry.WallM()*1e3)
	}
	if w.Rim.TrackMaterial().Composite != w.Pad.ForComposite {
		say("The pads (%s) are not meant for the track of the %s: never mix pads between aluminium and carbon rims.", w.Pad.Name, r.Name)
	}
}

// resinAssumed says whether a resin's assumed limit is among a rim's limits.
func resinAssumed(r RimResult) bool {
	for _, l := range r.Limits {
		if l.On != OnTyreSide && l.Assumed {
			return true
		}
	}
	return false
}

// doubtfulNear finds the doubtful stretch that a place lies on or just after.
func doubtfulNear(p *route.Profile, m float64) (route.Span, bool) {
	for _, d := range p.Doubtful {
		if m >= d.StartM && m <= d.EndM+nearDoubtM {
			return d, true
		}
	}
	return route.Span{}, false
}
