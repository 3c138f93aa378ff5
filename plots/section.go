package plots

import (
	"errors"
	"fmt"
	"io"
	"slices"

	"rimheat/thermal"
)

// SaveSections draws the cross-sections of the rims side by side, each at its hottest
// moment, to one scale of length and of colour, and writes the figure to w in the named
// format, one of Formats. The figure is 7.5 inches wide. Nothing is written unless the
// whole figure could be drawn. It is an error if no rim of the assessment has a section.
func SaveSections(w io.Writer, format string, a *thermal.Assessment, opt Options) error {
	return save(w, format, func(tf *typeface) (*scene, error) { return composeSections(a, opt, tf) })
}

// checkSections reports what cannot be drawn.
func checkSections(a *thermal.Assessment) error {
	switch {
	case a == nil:
		return errors.New("no assessment to draw a figure of")
	case len(a.Rims) == 0:
		return errors.New("the assessment has no rim to draw")
	}
	some := false
	for i := range a.Rims {
		f := a.Rims[i].Field
		if f == nil {
			continue
		}
		some = true
		what := fmt.Sprintf("the section of rim %d", i+1)
		if err := allFinite(what, f.AtM, f.TimeS, f.HalfWidthM, f.DepthM, f.TrackC, f.BedC, f.TyreSideC, f.SpokeBedC, f.AirC,
			f.TrackFromM, f.TrackToM, f.BedFromM, f.BedToM); err != nil {
			return err
		}
		if len(f.Cells) == 0 || !(f.HalfWidthM > 0) || !(f.DepthM > 0) {
			return errors.New(what + " has no cells, no width or no depth")
		}
		for k := range f.Cells {
			c := &f.Cells[k]
			if err := allFinite(what, slices.Concat(c.X[:], c.Y[:], []float64{c.C})...); err != nil {
				return err
			}
			if slices.Min(c.X[:]) < -lengthSlackM || slices.Max(c.X[:]) > f.HalfWidthM+lengthSlackM || slices.Min(c.Y[:]) < -lengthSlackM || slices.Max(c.Y[:]) > f.DepthM+lengthSlackM {
				return errors.New(what + " has a cell outside its width and depth")
			}
		}
	}
	if !some {
		return errors.New("the assessment holds no section of a rim to draw")
	}
	return nil
}

// lengthSlackM is what sums of lengths may be off by rounding, m.
const lengthSlackM = 1e-9

// rimsWithField lists the rims that have a section.
func rimsWithField(rims []thermal.RimResult) []int {
	var out []int
	for i := range rims {
		if rims[i].Field != nil {
			out = append(out, i)
		}
	}
	return out
}

// tellingRims picks, of rims that have a section, the one that stands worst and the best
// one of the other kind, composite or metal, if there is any; in the order of the rims.
func tellingRims(rims []thermal.RimResult) []int {
	all := rimsWithField(rims)
	worst := slices.MinFunc(all, func(i, j int) int { return thermal.WorseFirst(&rims[i], &rims[j]) })
	other := slices.DeleteFunc(slices.Clone(all), func(i int) bool { return rims[i].Composite == rims[worst].Composite })
	if len(other) == 0 {
		return []int{worst}
	}
	// The earliest in the list of those that stand equally well.
	best := slices.MinFunc(other, func(i, j int) int { return thermal.WorseFirst(&rims[j], &rims[i]) })
	return []int{min(worst, best), max(worst, best)}
}

// composeSections lays the figure out.
func composeSections(a *thermal.Assessment, opt Options, tf *typeface) (*scene, error) {
	if err := checkSections(a); err != nil {
		return nil, err
	}
	shown := rimsWithField(a.Rims)
	if opt.bare {
		shown = tellingRims(a.Rims)
	}
	s := newSectionSheet(a, shown, opt, tf)
	s.layOut()
	return s.sc, nil
}
