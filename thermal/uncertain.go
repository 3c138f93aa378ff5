package thermal

import (
	"bytes"
	_ "embed" // for uncertain.toml
	"fmt"
	"slices"
	"sync"

	"github.com/pelletier/go-toml/v2"
)

// SpreadKind says what the figure of an uncertain input means.
type SpreadKind string

const (
	// ByFactor: times or divided by the figure, log-normal.
	ByFactor SpreadKind = "factor"
	// ByOffset: plus or minus the figure, normal.
	ByOffset SpreadKind = "offset"
	// ByRange: that part of the range which the parts' tables state, triangular.
	ByRange SpreadKind = "range"
)

// An Uncertain is one input that is not known exactly. Nineteen in twenty truths
// are taken to lie within Given of the value where somebody gave it, within
// Assumed where nobody did.
type Uncertain struct {
	ID      string     `toml:"id"`
	Name    string     `toml:"name"`
	Kind    SpreadKind `toml:"kind"`
	Unit    string     `toml:"unit"` // of an offset, SI
	Given   float64    `toml:"given"`
	Assumed float64    `toml:"assumed"`
	Known   string     `toml:"known"`
	Source  string     `toml:"source"`
}

//go:embed data/uncertain.toml
var uncertainText []byte

// uncertainTable is read once. It is part of the program: a fault in it is a
// fault of the build, which TestUncertainInputs finds.
var uncertainTable = sync.OnceValue(func() []Uncertain {
	var t struct {
		Input []Uncertain `toml:"input"`
	}
	d := toml.NewDecoder(bytes.NewReader(uncertainText))
	d.DisallowUnknownFields()
	if err := d.Decode(&t); err != nil {
		panic(err)
	}
	return t.Input
})

// UncertainInputs lists the inputs that are drawn, in the order of the data. The
// slice is the caller's own.
func UncertainInputs() []Uncertain { return slices.Clone(uncertainTable()) }

// uncertainByID looks one up.
func uncertainByID(id string) (u Uncertain, ok bool) {
	for _, u := range uncertainTable() {
		if u.ID == id {
			return u, true
		}
	}
	return Uncertain{}, false
}

// Bounds gives the least and the greatest figure that the spread of an input may
// have: at the least the input is taken as certain.
func (u Uncertain) Bounds() (least, most float64) {
	switch u.Kind {
	case ByFactor:
		return 1, 3
	case ByRange:
		return 0, 1
	}
	switch u.Unit {
	case "K":
		return 0, 20
	case "kg":
		return 0, 50
	case "m/s":
		return 0, 10
	}
	return 0, 0.4
}

// check reports a figure outside the bounds.
func (u Uncertain) check(figure float64) error {
	if lo, hi := u.Bounds(); !(figure >= lo && figure <= hi) {
		return fmt.Errorf("spread of %s is %g, outside %g to %g", u.ID, figure, lo, hi)
	}
	return nil
}
