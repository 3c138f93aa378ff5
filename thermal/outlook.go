package thermal

import (
	"context"
	"fmt"
	"math"
	"slices"

	"rimheat/route"
	"rimheat/thermal/ride"
	"rimheat/thermal/rim"
)

// An Outlook is what a rider could change, and what that would do.
type Outlook struct {
	// Changes are tried one at a time, in the central estimate and with the reduced
	// model.
	Changes []Change `json:"changes"`
	// Planned is what is left without a change; for a rider who brakes by turns it is a
	// mean over when a turn begins, as what is left after each change is.
	Planned []ChangedRim `json:"as_planned"`
	// Notes say what must be known of them.
	Notes []string `json:"notes"`
	// Rests are where to let the rims cool, one entry for each candidate that is not
	// within its limits, in their order; none for a recording or without draws.
	Rests []RestAdvice `json:"rests"`
}

// A Change is one thing done otherwise, and what the central estimate then says.
type Change struct {
	// ID is "lighter", "cooler", "earlier", "habit", "share", "slower" or "pads".
	ID string `json:"id"`
	// Text says what is changed: "10 kg less weight"; Imperial the same in
	// pounds, °F and miles an hour.
	Text     string `json:"text"`
	Imperial string `json:"-"`
	// Rims has one entry for each candidate, in their order.
	Rims []ChangedRim `json:"rims"`
}

// A ChangedRim is one candidate after a change.
type ChangedRim struct {
	RimID string `json:"rim"`
	// Applies is false where the change cannot be made, as of pads for another
	// material; the rest is then 0.
	Applies bool `json:"applies"`
	// CoolerK is by how much the place that the deciding limit is about peaks lower,
	// K; negative where it gets hotter. PeakC is that peak, MarginK what is left to the
	// limit with the least margin, whichever it then is.
	CoolerK float64 `json:"cooler_K"`
	PeakC   float64 `json:"peak_C"`
	MarginK float64 `json:"margin_K"`
}

// How much is changed; common practice, no source.
const (
	lighterKg, coolerK = 10.0, 5.0
	earlierS           = 3 * 3600.0
	// earliestS is the earliest start that anybody is asked for, s after midnight.
	earliestS = 4 * 3600.0
	// slowerMps is by how much the cap is lowered.
	slowerMps = 10 / 3.6
	// turnsTried is how many moments for a turn of the brakes to begin are tried.
	turnsTried = 5
	// alikeShare is how near to one half a share of the brakes counts as even.
	alikeShare = 0.04
)

// A variant is a setup with one thing changed. only, if not nil, says which candidates
// the change can be made on.
type variant struct {
	id    string
	words func(u phrasing) string
	setup Setup
	only  []bool
	// parts says that rims or pads are others, so that the reduced models do not fit.
	parts bool
}

// variants lists what is tried of a setup; a recording keeps its technique.
func variants(s Setup, recorded bool) []variant {
	var out []variant
	add := func(id string, words func(u phrasing) string, change func(*Setup)) {
		t := s
		change(&t)
		out = append(out, variant{id: id, words: words, setup: t})
	}
	same := func(text string) func(phrasing) string { return func(phrasing) string { return text } }

	add("lighter", func(u phrasing) string { return u.mass(lighterKg) + " less weight" }, func(t *Setup) { *t = heavier(*t, -lighterKg) })
	if d := s.Weather.Daily; d.On && d.StartS-earlierS >= earliestS {
		add("earlier", same(fmt.Sprintf("setting out at %s", clockTime(d.StartS-earlierS))), func(t *Setup) { t.Weather.Daily.StartS -= earlierS })
	}
	add("cooler", func(u phrasing) string { return "air " + u.gap(coolerK) + " cooler" }, func(t *Setup) { *t = warmer(*t, -coolerK) })
	if !recorded {
		for _, h := range []struct {
			habit ride.Habit
			text  string
		}{{ride.Drag, "steady drag on both brakes"}, {ride.Pulse, "both brakes in pulses"}, {ride.Alternate, "front and rear by turns"}} {
			if h.habit != s.Style.Habit {
				add("habit", same(h.text), func(t *Setup) { t.Style.Habit = h.habit })
			}
		}
	}
	if math.Abs(s.Style.FrontShare-0.5) > alikeShare && (recorded || s.Style.Habit != ride.Alternate) {
		add("share", same("front and rear brake evenly"), func(t *Setup) { t.Style.FrontShare = 0.5 })
	}
	if v := s.Style.CapMps - slowerMps; !recorded && v >= slowestCapMps {
		add("slower", func(u phrasing) string { return "no faster than " + u.wholeSpeed(v) }, func(t *Setup) { t.Style.CapMps = v })
	}
	for _, pad := range rim.Pads() {
		only, any := make([]bool, len(s.Wheels)), false
		t := s
		t.Wheels = slices.Clone(s.Wheels)
		for i := range t.Wheels {
			w := &t.Wheels[i]
			if pad.ForComposite == w.Rim.TrackMaterial().Composite && pad.ID != w.Pad.ID {
				w.Pad, only[i], any = pad, true, true
			}
		}
		if any {
			out = append(out, variant{id: "pads", words: same("pads: " + pad.Name), setup: t, only: only, parts: true})
		}
	}
	return out
}

// look fills in the outlook. families are the reduced models of the setup's candidates
// and d what was drawn, nil if nothing was.
func (a *Assessment) look(ctx context.Context, p *route.Profile, s Setup, families []*rim.Family, d *drawn) error {
	base, err := central(p, s, families, turnsTried)
	if err != nil {
		return err
	}
	// By turns the assessment's own ride begins with one of them: from it the peaks are
	// counted.
	own := base
	if s.Style.Habit == ride.Alternate {
		if own, err = central(p, s, families, 1); err != nil {
			return err
		}
	}
	a.Outlook = &Outlook{Changes: []Change{}, Rests: []RestAdvice{}}
	for i := range a.Rims {
		r := ChangedRim{RimID: a.Rims[i].ID, Applies: true}
		r.compare(&a.Rims[i], own[i], base[i], base[i])
		a.Outlook.Planned = append(a.Outlook.Planned, r)
	}
	for _, v := range variants(s, p.Ride != nil) {
		if err := ctx.Err(); err != nil {
			return err
		}
		if v.setup.Validate() != nil {
			continue // nobody rides like that: ten kilograms less than a child
		}
		fs := families
		if v.parts {
			if fs, err = newFamilies(v.setup.Wheels); err != nil {
				return err
			}
		}
		hot, err := central(p, v.setup, fs, turnsTried)
		if err != nil {
			return err
		}
		c := Change{ID: v.id, Text: v.words(phrasing{}), Imperial: v.words(phrasing{imperial: true})}
		for i := range a.Rims {
			r := ChangedRim{RimID: a.Rims[i].ID, Applies: v.only == nil || v.only[i]}
			if r.Applies {
				r.compare(&a.Rims[i], own[i], base[i], hot[i])
			}
			c.Rims = append(c.Rims, r)
		}
		a.Outlook.Changes = append(a.Outlook.Changes, c)
	}
	a.Outlook.Notes = a.notes(d != nil, p.Ride != nil)
	for i := range a.Rims {
		if a.Rims[i].Verdict == Within || d == nil || p.Ride != nil {
			continue
		}
		r, err := d.rests(ctx, p, s, i)
		if err != nil {
			return err
		}
		a.Outlook.Rests = append(a.Outlook.Rests, *r)
	}
	return nil
}

// notes say what must be known of the changes tried.
func (a *Assessment) notes(drawn, recorded bool) []string {
	notes := []string{}
	if drawn {
		notes = append(notes, fmt.Sprintf("To spare in the central estimate is not yet within: that takes fewer than %.0f of 100 draws over a limit.", 100*MarginalChance))
	}
	if slices.ContainsFunc(a.Outlook.Changes, func(c Change) bool { return c.ID == "share" }) {
		notes = append(notes, "An even share asks more of the rear brake: a rear wheel that brakes hard skids, on a steep, wet or loose road above all.")
	}
	all := true
	for i := range a.Rims {
		all = all && a.Rims[i].Verdict == Within
	}
	switch {
	case all:
	case recorded:
		notes = append(notes, "Stops were not looked for: a recorded ride has its own.")
	case !drawn:
		notes = append(notes, "Stops were not looked for: nothing was drawn.")
	}
	return notes
}

// compare takes the difference of runs of the reduced model, before a change and after
// it, and takes what lies between the assessment's own ride and the run after off the peaks
// that the full solver gave.
func (c *ChangedRim) compare(r *RimResult, own, before, after hottest) {
	c.MarginK = math.Inf(1)
	for _, l := range r.Limits {
		place := placeOf(l.On)
		lower := own.at(place)[0] - after.at(place)[0]
		c.MarginK = min(c.MarginK, l.MarginK+lower)
		if l.On == r.LimitOn {
			c.CoolerK, c.PeakC = before.at(place)[0]-after.at(place)[0], l.PeakC-lower
		}
	}
}

// central rides the central world with the reduced models, in the steps of an assessment:
// the hottest temperatures of the whole ride, of each candidate. Where the brakes work by
// turns it is the mean over as many moments for a turn to begin, which is chance.
func central(p *route.Profile, s Setup, families []*rim.Family, moments int) ([]hottest, error) {
	m, err := newSampler(p, s, families, nil)
	if err != nil {
		return nil, err
	}
	t := m.doubts.central()
	phases := 1
	if t.style.Habit == ride.Alternate {
		phases = moments
	}
	out, once := make([]hottest, len(s.Wheels)), make([]hottest, len(s.Wheels))
	for i := range out {
		out[i], once[i] = hottest{peaks: make([]float64, places)}, hottest{peaks: make([]float64, places)}
	}
	r := m.newRider()
	ridden := ride.NewPlan
	if p.Ride != nil {
		ridden = ride.NewReplay
	}
	for k := range phases {
		t.style.TurnS = ride.TurnOfBrakesS * float64(k) / float64(phases)
		plan, err := ridden(p, t.load, t.weather, t.resistance, t.style)
		if err != nil {
			return nil, err
		}
		for _, h := range once {
			h.clear()
		}
		if err := r.heat(plan.Duty(StandS), t, func(i int) hottest { return once[i] }); err != nil {
			return nil, err
		}
		for i, h := range once {
			for j, c := range h.peaks {
				out[i].peaks[j] += c / float64(phases)
			}
		}
	}
	return out, nil
}
