package thermal

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"rimheat/route"
	"rimheat/thermal/air"
	"rimheat/thermal/rim"
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
	// unsureHeightsM is the noise of heights from which on the peaks are said
	// to be unsure, m: with 5 m that wanders over 200 m, peaks on invented roads
	// were up to 5 % of their rise off where the grade is steady over kilometres
	// and up to 9 % elsewhere (derived, TestNoiseAndThinning).
	unsureHeightsM = 2.0
	// nearDoubtM is how far a doubtful stretch of road reaches, m: the heat
	// made on it is still in the rim for that long; common practice, no source.
	nearDoubtM = 1000.0
)

// A cautionList gathers cautions in order. What holds for several rims is said
// once for all of them.
type cautionList struct {
	texts []string
	names [][]string
}

// all adds a caution that is about no rim.
func (l *cautionList) all(format string, args ...any) {
	l.texts, l.names = append(l.texts, fmt.Sprintf(format, args...)), append(l.names, nil)
}

// of adds a caution about a rim, whose name goes where the text has {}.
func (l *cautionList) of(name, format string, args ...any) {
	text := fmt.Sprintf(format, args...)
	for i, t := range l.texts {
		if t == text && l.names[i] != nil {
			l.names[i] = append(l.names[i], name)
			return
		}
	}
	l.texts, l.names = append(l.texts, text), append(l.names, []string{name})
}

// sentences gives the cautions with the names in their places.
func (l *cautionList) sentences() []string {
	var out []string
	for i, t := range l.texts {
		if l.names[i] != nil {
			t = strings.ReplaceAll(t, "{}", nameList(l.names[i], " and "))
		}
		out = append(out, t)
	}
	return out
}

// cautions lists what this setup and answer add, then what always holds.
func (u phrasing) cautions(a *Assessment, p *route.Profile, s Setup) []string {
	var l cautionList
	for i, r := range a.Rims {
		u.rimCautions(&l, r, s.Wheels[i], slices.Contains(s.Assumed, "tyre-kpa"))
	}
	for _, r := range a.Rims {
		if k, ok := a.hottestAtStop(&r); ok && r.Verdict != Within {
			l.of(r.Name, "On {} the brake track is hottest in braking to the planned stop at %s: another place for it may serve better.", u.place(k))
		}
	}
	for _, r := range a.Rims {
		if d, ok := doubtOf(p, &r); ok {
			l.of(r.Name, "The hottest place of {}, or the first over its limit, lies at or just after a stretch of road that is in doubt (%s, %s to %s): check the route there.", d.Why, u.place(d.StartM), u.place(d.EndM))
		}
	}
	if r := a.Route.Replay; r != nil {
		l.all("A replay knows the speeds of the recording to some %s: short hard braking comes out softer than it was, and a peak may be lower by 15 %% of its rise. Wind and company of that day count only if given.", u.speed(r.SpeedNoiseMps))
	}
	if h := p.Heights; (h.Found == route.HeightsWander || h.Found == route.HeightsScatter) && h.NoiseM >= unsureHeightsM {
		l.all("The heights in the file are poor (%s by some %s): a steep stretch of a kilometre can hide in that, or be made up by it, and a peak be a tenth of its rise off, more where the grade keeps changing. Heights from elevation tiles or another recording would be surer.", h.Found, u.height(h.NoiseM))
	}
	seen := map[string]bool{}
	for _, w := range s.Wheels {
		if c := w.TyreSide.Caution; c != "" && !seen[c] {
			seen[c] = true
			l.all("%s", c)
		}
	}
	for i, r := range a.Rims {
		c, ok := resinClass(s.Wheels[i].Rim.ResinClass)
		if !ok || !resinAssumed(r) || seen[c.ID] {
			continue
		}
		seen[c.ID] = true
		u.resinCaution(&l, c, r.Composite)
	}
	if a.Sampling != nil {
		drawCaution(&l)
	} else {
		l.all("Over means at or above the limit, marginal less than %s below it, within further below. These are central estimates: how well moving air cools a rim is known only within a factor of about %.1f either way, so real peaks may lie well above what is shown. Nothing was drawn: with draws, which span assumed limits too, a rim that is within here may be marginal or over.", u.gap(MarginalK), air.FilmSpread)
	}
	always(&l)
	return l.sentences()
}

// What tells the user of the command line how to give a figure.
const rimLimitHint, tyrePressureHint = " and give the figure with --rim-limit", ", so give yours with --tyre-kpa"

// ForCustomers is a caution without hints for those who sit at the command line.
func ForCustomers(caution string) string {
	return strings.NewReplacer(rimLimitHint, "", tyrePressureHint, "").Replace(caution)
}

// resinCaution says that a resin's limit is assumed.
func (u phrasing) resinCaution(l *cautionList, c rim.ResinClass, track bool) {
	what, ask := "a carbon track", rimLimitHint
	if !track {
		what, ask = "a carbon fairing and its bond", ""
	}
	l.all("The limit of %s for the resin of %s (%s) is assumed, not known: such resins lie from %s to %s, and others lie lower still. Ask the rim's maker%s.", u.temp(c.LimitC), what, c.Name, u.temp(c.LowC), u.temp(c.HighC), ask)
}

// drawCaution says what draws are worth.
func drawCaution(l *cautionList) {
	l.all("Over means that half of the draws or more reach a limit, marginal that %.0f %% or more do, within that fewer do. The draws span only what is listed as not known exactly, and how wide that is taken to be is mostly common practice: most of all how well moving air cools a rim, which nobody has measured on a bicycle.", 100*MarginalChance)
}

// always adds what is said with every result.
func always(l *cautionList) {
	l.all("The rim maker's limits and instructions, local rules, and the judgement of a qualified mechanic come before anything printed here.")
	l.all("Rain, worn or contaminated pads, dragging brakes, a dented or damaged rim, wrong tyre pressure and an unsuitable tube or tape are not in the model.")
	l.all("On the road: brake with both brakes, and before bends. On a steep road a middle speed held with the brakes heats rims most; never ride faster than is safe to spare them: stop early and let them cool. Stop at once if a brake pulses, smells or fades, and never touch a hot rim.")
}

// askedCautions are those of answers about one rim that draws gave.
func (u phrasing) askedCautions(w Wheel) []string {
	var l cautionList
	for _, k := range limitsOf(w) {
		if c, ok := resinClass(w.Rim.ResinClass); ok && k.Assumed && k.On != OnTyreSide {
			u.resinCaution(&l, c, w.Rim.ResinInTrack())
			break
		}
	}
	for _, k := range limitsOf(w) {
		if k.On == OnTyreSide {
			l.all("The limit of %s for the tyre side (%s) is assumed: such limits lie from %s to %s.", u.temp(k.LimitC), w.TyreSide.Name, u.temp(k.LowC), u.temp(k.HighC))
		}
	}
	if c := w.TyreSide.Caution; c != "" {
		l.all("%s", c)
	}
	if w.Rim.ResinInTrack() {
		l.all("A carbon rim that gets too hot may fail later without warning; one that has been must be inspected.")
	}
	drawCaution(&l)
	always(&l)
	return l.sentences()
}

// toStopM is how far before a planned stop the braking to it begins, m; common practice,
// no source.
const toStopM = 60.0

// hottestAtStop says whether a rim is hottest in braking to a planned stop, and where that
// is, m.
func (a *Assessment) hottestAtStop(r *RimResult) (atM float64, ok bool) {
	for _, k := range a.Trace.Stands {
		if !k.Recorded && r.PeakAtM > k.AtM-toStopM && r.PeakAtM <= k.AtM+1 {
			return k.AtM, true
		}
	}
	return 0, false
}

// chanceOn is the chance of reaching the limit of a place.
func (r *RimResult) chanceOn(on string) float64 {
	for _, l := range r.Risk.Limits {
		if l.On == on {
			return l.Chance.P
		}
	}
	return r.Risk.Chance.P
}

// rimCautions says what one candidate adds. assumedPressure tells that nobody
// gave the tyre's pressure.
func (u phrasing) rimCautions(say *cautionList, r RimResult, w Wheel, assumedPressure bool) {
	m := w.Rim.Material
	for _, l := range r.Limits {
		how := ""
		switch {
		case l.MarginK <= 0:
		case r.Risk != nil && (l.Verdict == Over || r.Verdict == Over && l.On == r.LimitOn):
			how = " in " + ChanceWords(r.chanceOn(l.On)) + " of the draws, though not in the central estimate"
		default:
			continue
		}
		switch {
		case l.On == OnTyreSide:
			say.of(r.Name, "On {} the tyre side gets hotter than a %s is taken to bear%s: tube, tape or bead may fail, suddenly.", w.TyreSide.Name, how)
		case l.On == OnFairing:
			say.of(r.Name, "On {} the fairing gets hotter beside its bond than its resin is taken to bear%s: it may come loose.", how)
		case r.Composite:
			say.of(r.Name, "On {} the track would pass its limit%s: a carbon rim that gets too hot may fail later without warning; one that has been must be inspected.", how)
		default:
			say.of(r.Name, "On {} the track would pass the limit that its maker gives%s.", how)
		}
	}
	for _, l := range r.Limits {
		switch l.Band {
		case Alarm:
			say.of(r.Name, "On {} the %s comes into the alarm band of its resin (from %s, assumed: dry glass transition less 15 K): under the tyre's pressure it may give way within minutes.", l.On, u.temp(*l.AlarmC))
		case Caution:
			say.of(r.Name, "On {} the %s comes into the caution band of its resin (from %s for long service, alarm from %s, both assumed).", l.On, u.temp(l.LimitC), u.temp(*l.AlarmC))
		}
	}
	if t := r.Tyre; t.Over {
		do := "pump it less"
		switch {
		case assumedPressure:
			do = "the " + u.pressure(t.ColdKPa) + " cold are assumed" + tyrePressureHint
		case t.ColdKPa > *t.MaxKPa:
			do = "it is pumped too hard cold"
		}
		say.of(r.Name, "On {} the hot tyre passes the %s that the maker of the %s allows: %s.", u.pressure(*t.MaxKPa), t.MaxOf, do)
	}
	if p := r.Pads; p.FrictionHot < fadedPart*p.FrictionCold {
		say.of(r.Name, "On {} the pads get so hot that they grip less well than cold: the brake needs a firmer hand and stops later.")
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
		say.of(r.Name, "On {} the skin under the pads passes %s%s, where pads glaze and fade.", u.temp(glaze), moments)
	}
	if w.Rim.ResinInTrack() && r.SurfacePeakC >= epoxyEndC {
		say.of(r.Name, "On {} the track's surface passes %s, where epoxy begins to blister and this estimate ends: take it as far too hot.", u.temp(epoxyEndC))
	}
	if m.Composite && w.Rim.Kind == "clincher" && w.Rim.Geometry.WallM() < thinWallM-1e-9 {
		say.of(r.Name, "The walls of {} are %.1f mm each; for a carbon clincher under rim brakes about 3 mm is the least, 2 mm is too thin (common practice, no source).", w.Rim.Geometry.WallM()*1e3)
	}
	if d := math.Round(w.Rim.Geometry.BeadSeatDiameterM * 1e3); !slices.Contains(beadSeatsMM(), d) {
		say.of(r.Name, "No common tyre sits on {}: its bead seat diameter is given as %.0f mm (700C has 622, 650B 584, 26-inch off-road 559).", d)
	}
	if w.Rim.TrackMaterial().Composite != w.Pad.ForComposite {
		say.of(r.Name, "The pads (%s) are not meant for the track of {}: never mix pads between aluminium and carbon rims.", w.Pad.Name)
	}
}

// beadSeatsMM are the bead seat diameters of common tyres, mm (ISO 5775-1, from
// memory).
func beadSeatsMM() []float64 {
	return []float64{622, 635, 630, 590, 584, 571, 559, 540, 520, 507, 451, 406, 355, 349, 305}
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

// doubtOf finds the doubtful stretch that a rim's answer hangs on: where the track
// is hottest, where the deciding limit's place is, or where it is first over.
func doubtOf(p *route.Profile, r *RimResult) (route.Span, bool) {
	places := []float64{r.PeakAtM}
	for _, l := range r.Limits {
		if l.On == r.LimitOn {
			places = append(places, l.PeakAtM)
		}
	}
	if len(r.Over) > 0 {
		places = append(places, r.Over[0].StartM)
	}
	for _, m := range places {
		if d, ok := doubtfulNear(p, m); ok {
			return d, true
		}
	}
	return route.Span{}, false
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
