package thermal

import (
	"fmt"
	"math"
	"slices"
)

// A Taught is one direction of what readings on one ride have taught of a rider and
// a wheel. Before it, the uncertain inputs in standard deviations of their spreads
// were z, normal and independent or taught by what stands before; after it they are
//
//	Mean + (1 - (1-sqrt(1-a.a)) e e') z,  e = a/|a|, a = Along
//
// that is, moved by Mean and narrowed along a. Readings narrow as many directions
// at right angles as there are of them; the first one holds the mean.
type Taught struct {
	// Text says what was read, RimID on which candidate.
	Text  string
	RimID string
	// PadID is the compound that it was learned with.
	PadID string
	// Mean and Along are by the names of LastingInputs.
	Mean, Along []Named
	// Figures are the spreads that count, by the identifiers of UncertainInputs,
	// With the values that were stated when it was learned, by the names of inputs.
	Figures, With []Named
}

// Named is a number with a name.
type Named struct {
	Name  string
	Value float64
}

// lasting are the numbers of a draw that stay with rider and wheel, and their
// names. Air, wind, technique and load are another day's, and limits cannot be
// read off a rim.
var lasting = [...]struct {
	name string
	draw int
	// riders says that it is the rider's on any wheels, and not one rim's.
	riders bool
}{
	{"film", drawFilm, false}, {"cda", drawCdA, true}, {"crr", drawCrr, true}, {"front-share", drawFront, true},
	{"conductivity-along", drawAlong, false}, {"conductivity-through", drawThrough, false}, {"pads", drawPads, false},
}

// LastingInputs are the names of what a reading can teach.
func LastingInputs() []string {
	var names []string
	for _, l := range lasting {
		names = append(names, l.name)
	}
	return names
}

// drawNamed is the number of a draw that a name of LastingInputs stands for, -1 for
// none.
func drawNamed(name string) int {
	for _, l := range lasting {
		if l.name == name {
			return l.draw
		}
	}
	return -1
}

// mostTaught bounds what a reading can move an input by, standard deviations.
const mostTaught = 4.0

// Validate reports what cannot have been learned.
func (k Taught) Validate() error {
	for _, list := range [][]Named{k.Mean, k.Along} {
		for i, n := range list {
			switch {
			case drawNamed(n.Name) < 0:
				return fmt.Errorf("a reading cannot teach %q", n.Name)
			case slices.ContainsFunc(list[:i], func(m Named) bool { return m.Name == n.Name }):
				return fmt.Errorf("%s stands twice", n.Name)
			case !(math.Abs(n.Value) <= mostTaught):
				return fmt.Errorf("%s moved by %g standard deviations, outside -%g to %g", n.Name, n.Value, mostTaught, mostTaught)
			}
		}
	}
	if size := k.along(); !(size < 1) {
		return fmt.Errorf("the spread along it would be less than nothing")
	}
	return nil
}

// along is the square of Along.
func (k *Taught) along() float64 {
	size := 0.0
	for _, n := range k.Along {
		size += n.Value * n.Value
	}
	return size
}

// taught moves and narrows standard normal numbers by the readings on one rim, by
// all of them for "". The last reading was learned in the units of those before.
func (s *Setup) taught(z numbers, rimID string) numbers {
	for i := len(s.Readings) - 1; i >= 0; i-- {
		if k := &s.Readings[i]; rimID == "" || k.RimID == rimID {
			z = k.apply(z)
		}
	}
	return z
}

// ofDraw is the input that a number of a draw belongs to, and the number's own name.
func ofDraw(draw int) (u Uncertain, name string) {
	u, _ = uncertainByID(drawInputs()[draw])
	switch draw {
	case drawAlong:
		return u, u.Name + ", along the wall"
	case drawThrough:
		return u, u.Name + ", through the wall"
	}
	return u, u.Name
}

// learned lists what readings have moved.
func (s *Setup) learned(replayed bool) []LearnedValue {
	if len(s.Readings) == 0 {
		return nil
	}
	var out []LearnedValue
	d := newDoubts(s, replayed)
	add := func(rimID string, z numbers) {
		for _, l := range lasting {
			if l.riders != (rimID == "") || z[l.draw] == 0 {
				continue
			}
			u, name := ofDraw(l.draw)
			out = append(out, LearnedValue{ID: l.name, Name: name, RimID: rimID, Kind: u.Kind, Unit: u.Unit, Value: d.value(&z, l.draw)})
		}
	}
	add("", s.taught(numbers{}, ""))
	for _, w := range s.Wheels {
		add(w.Rim.ID, s.taught(numbers{}, w.Rim.ID))
	}
	return out
}

func (k *Taught) apply(z numbers) numbers {
	out := z
	if size := k.along(); size > 0 {
		along := 0.0
		for _, n := range k.Along {
			along += n.Value * z[drawNamed(n.Name)]
		}
		by := (1 - math.Sqrt(1-size)) * along / size
		for _, n := range k.Along {
			out[drawNamed(n.Name)] -= by * n.Value
		}
	}
	for _, n := range k.Mean {
		out[drawNamed(n.Name)] += n.Value
	}
	return out
}
