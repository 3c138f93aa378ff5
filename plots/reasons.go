package plots

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"slices"

	"rimheat/thermal"
)

// Roles of the shapes that only this sheet has.
const (
	roleBar     role = "bar"
	roleShared  role = "shared"
	roleWhisker role = "whisker"
)

// SaveReasons draws what the answer of each rim hangs on and writes the figure
// to w in the named format, one of Formats: the parts that the uncertain inputs
// have in the variance of the margin. Nothing is written unless the whole figure
// could be drawn. It is an error if nothing was drawn at random for the
// assessment or one of its rims.
func SaveReasons(w io.Writer, format string, a *thermal.Assessment, opt Options) error {
	return save(w, format, func(tf *typeface) (*scene, error) { return composeReasons(a, units{imperial: opt.Imperial}, tf) })
}

// leastDriver is the part of the variance from which on an input gets a bar.
const leastDriver = 0.01

// reasonsOf is what one panel shows.
type reasonsOf struct {
	rim  int
	r    *thermal.RimResult
	tag  string
	says []string
	// bars are the inputs with a bar, the strongest first; left is how many
	// have none. Where there is no bar, instead says why.
	bars    []thermal.Driver
	left    int
	instead []string
}

// checkReasons reports what cannot be drawn.
func checkReasons(a *thermal.Assessment) error {
	switch {
	case a == nil:
		return errors.New("no assessment to draw a figure of")
	case len(a.Rims) == 0:
		return errors.New("the assessment has no rim to draw")
	case a.Sampling == nil:
		return errors.New("nothing was drawn: what an answer hangs on comes from draws")
	}
	for i := range a.Rims {
		k := a.Rims[i].Risk
		if k == nil {
			return fmt.Errorf("nothing was drawn for rim %d: what an answer hangs on comes from draws", i+1)
		}
		what := fmt.Sprintf("what was drawn for rim %d", i+1)
		if err := allFinite(what, k.Chance.P, k.MarginK.P05, k.MarginK.P95, k.Explained); err != nil {
			return err
		}
		for _, d := range k.Drivers {
			if err := allFinite(what, d.First, d.Total, d.TotalSE); err != nil {
				return err
			}
		}
	}
	return nil
}

// gatherReasons takes what is drawn of one rim.
func gatherReasons(tf *typeface, u units, a *thermal.Assessment, i int) reasonsOf {
	r := &a.Rims[i]
	k := r.Risk
	p := reasonsOf{rim: i, r: r, tag: tagOf(i, len(a.Rims)), says: wrapAll(tf, textStyle{size: filmText}, 2, reasonWords(r, u)...)}
	instead := ""
	if k.Explained < thermal.ExplainedEnough {
		instead = fmt.Sprintf("Too many things at once: their parts could not be told from these draws (%s %% of the variance explained, %s %% needed).",
			number(100*max(0, k.Explained), 0), number(100*thermal.ExplainedEnough, 0))
	} else {
		for _, d := range k.Drivers {
			if d.Total >= leastDriver {
				p.bars = append(p.bars, d)
			} else {
				p.left++
			}
		}
		slices.SortStableFunc(p.bars, func(a, b thermal.Driver) int { return cmp.Compare(b.Total, a.Total) })
		switch {
		case len(p.bars) > 0:
		case k.MarginK.P05 == k.MarginK.P95:
			instead = "On nothing: the margin is the same in all draws."
		default:
			instead = "On no input that would make 1 % of the variance."
		}
	}
	if instead != "" {
		p.instead = wrapAll(tf, textStyle{size: filmText, bold: true}, 3, instead)
	}
	return p
}

// composeReasons lays the figure out.
func composeReasons(a *thermal.Assessment, u units, tf *typeface) (*scene, error) {
	if err := checkReasons(a); err != nil {
		return nil, err
	}
	var panels []reasonsOf
	h, some := 0.0, false
	for i := range a.Rims {
		p := gatherReasons(tf, u, a, i)
		panels = append(panels, p)
		h += p.height()
		some = some || len(p.bars) > 0
	}
	remarks := foot(tf, reasonsFoot(a.Sampling), makerHolds)
	h += reasonsHead + footH(remarks)
	if some {
		h += reasonsKey
	}
	s := &reasonsSheet{narrowSheet: newNarrow(u, tf, h), most: mostPart(panels)}
	y := s.title(a.Route.Name) - filmLineH
	s.sc.write(tf, roleVerdict, noRim, s.text(), "What the answer hangs on: parts of the variance of the margin", filmSide, y, alignLeft)
	y = s.sc.h - reasonsHead
	for _, p := range panels {
		s.panel(p, y)
		y -= p.height()
	}
	if some {
		s.key(y - 6)
	}
	s.writeFoot(remarks)
	return s.sc, nil
}

// reasonsFoot says what the bars are.
func reasonsFoot(d *thermal.SamplingSummary) string {
	return fmt.Sprintf("The margin is that to the deciding limit. %s draws, seed %d; how widely each input was drawn is mostly common practice, no source.",
		number(float64(d.Samples), 0), d.Seed)
}
