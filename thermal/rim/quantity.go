package rim

import (
	"fmt"
	"slices"
)

// Basis says how a number is known.
type Basis string

const (
	// Published: read in the source that Source names.
	Published Basis = "published"
	// FromMemory: believed to stand in the literature, not looked up again.
	FromMemory Basis = "from memory"
	// Derived: computed from other numbers in the way Source says.
	Derived Basis = "derived"
	// CommonPractice: what the trade does, with no source to cite.
	CommonPractice Basis = "common practice, no source"
	// Invented: a made-up part, chosen inside what the trade builds.
	Invented Basis = "invented for this project"
	// GivenByUser: stands in a rim file or on the command line.
	GivenByUser Basis = "given by the user"
)

// bases lists what the data may say of a number.
func bases() []Basis {
	return []Basis{Published, FromMemory, Derived, CommonPractice, Invented, GivenByUser}
}

// A Quantity is a number that carries its unit, the range in which it is
// believed to lie, where it comes from, and how it is known, so that every
// list of values can show all of it.
type Quantity struct {
	Value  float64
	Unit   string
	Source string
	Basis  Basis
	// Low and High are both 0 where no range is known.
	Low, High float64
}

// At is the number at a place of its range: Low at -1, Value at 0, High at 1, on
// the parabola through these, or on two lines where the parabola would turn
// back, because Value lies too near an end. Places beyond the ends count as the
// ends. A number without a range is Value everywhere.
func (q Quantity) At(place float64) float64 {
	if q.Low == 0 && q.High == 0 {
		return q.Value
	}
	x := min(max(place, -1), 1)
	down, up := q.Value-q.Low, q.High-q.Value
	if max(down, up) > 3*min(down, up) {
		if x < 0 {
			return q.Value + x*down
		}
		return q.Value + x*up
	}
	return q.Value + x*((up+down)/2+x*(up-down)/2)
}

// fixedAt is the quantity with its value at a place, known no more as a range.
func (q Quantity) fixedAt(place float64) Quantity {
	q.Value = q.At(place)
	q.Low, q.High = 0, 0
	return q
}

// validate reports a value outside its own range or without a known basis.
func (q Quantity) validate() error {
	if !slices.Contains(bases(), q.Basis) {
		return fmt.Errorf("known %q is none of the marks", q.Basis)
	}
	if (q.Low != 0 || q.High != 0) && !(q.Low <= q.Value && q.Value <= q.High) {
		return fmt.Errorf("%g lies outside its range %g to %g", q.Value, q.Low, q.High)
	}
	if q.Unit == "" || q.Source == "" {
		return fmt.Errorf("unit or source is missing")
	}
	return nil
}
