package thermal

import (
	"context"
	"fmt"
	"math"

	"rimheat/route"
	"rimheat/thermal/ride"
	"rimheat/thermal/rim"
)

// An Outlook is what a rider could change, and what that would do.
type Outlook struct {
	// Changes are tried one at a time, in the central estimate and with the reduced
	// model.
	Changes []Change `json:"changes"`
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
	add := func(id string, words func(u phrasing) string, change func(*Setup)) *variant {
		t := s
		change(&t)
		out = append(out, variant{id: id, words: words, setup: t})
		return &out[len(out)-1]
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
		t.Wheels = append([]Wheel(nil), s.Wheels...)
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
	base, err := central(p, s, families)
	if err != nil {
		return err
	}
	a.Outlook = &Outlook{Changes: []Change{}, Rests: []RestAdvice{}}
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
		hot, err := central(p, v.setup, fs)
		if err != nil {
			return err
		}
		c := Change{ID: v.id, Text: v.words(phrasing{}), Imperial: v.words(phrasing{imperial: true})}
		for i := range a.Rims {
			r := ChangedRim{RimID: a.Rims[i].ID, Applies: v.only == nil || v.only[i]}
			if r.Applies {
				r.compare(&a.Rims[i], base[i], hot[i])
			}
			c.Rims = append(c.Rims, r)
		}
		a.Outlook.Changes = append(a.Outlook.Changes, c)
	}
	if d == nil || p.Ride != nil {
		return nil
	}
	for i := range a.Rims {
		if a.Rims[i].Verdict == Within {
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

// compare takes the difference of two runs of the reduced model off the peaks of the
// assessment, which the full solver gave.
func (c *ChangedRim) compare(r *RimResult, before, after hottest) {
	c.MarginK = math.Inf(1)
	for _, l := range r.Limits {
		place := placeOf(l.On)
		cooler := before.at(place)[0] - after.at(place)[0]
		c.MarginK = min(c.MarginK, l.MarginK+cooler)
		if l.On == r.LimitOn {
			c.CoolerK, c.PeakC = cooler, l.PeakC-cooler
		}
	}
}

// central rides the central world with the reduced models: the hottest temperatures of
// the whole ride, of each candidate.
func central(p *route.Profile, s Setup, families []*rim.Family) ([]hottest, error) {
	m, err := newSampler(p, s, families, nil)
	if err != nil {
		return nil, err
	}
	out := make([]hottest, len(s.Wheels))
	for i := range out {
		out[i] = hottest{peaks: make([]float64, places)}
		out[i].clear()
	}
	return out, m.newRider().ride(m.doubts.central(), func(i int) hottest { return out[i] })
}
