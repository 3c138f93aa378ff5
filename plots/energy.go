package plots

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"

	"rimheat/thermal"
)

// SaveEnergy draws where the energy of each descent came from and where it went, and
// writes the figure to w in the named format, one of Formats. The figure is 7.5 inches
// wide. Nothing is written unless the whole figure could be drawn. A ride without
// descents gives a sheet that says so.
func SaveEnergy(w io.Writer, format string, a *thermal.Assessment, opt Options) error {
	return save(w, format, func(tf *typeface) (*scene, error) { return composeEnergy(a, opt, tf) })
}

// mostLedgers is how many descents get a bar.
const mostLedgers = 12

// An energyKind is what a part of a ledger is.
type energyKind int

const (
	energyFront energyKind = iota
	energyRear
	energyAir
	energyRolling
	energyKinetic
	energyPotential
	energyPedal
)

// name says what the part is on the side where it stands.
func (k energyKind) name(in bool) string {
	switch k {
	case energyFront:
		return "front brake"
	case energyRear:
		return "rear brake"
	case energyAir:
		if in {
			return "tail wind"
		}
		return "air"
	case energyRolling:
		return "rolling"
	case energyKinetic:
		if in {
			return "speed lost"
		}
		return "speed gained"
	case energyPotential:
		if in {
			return "height"
		}
		return "height gained"
	}
	return "pedals"
}

// An energyPart is one part of what came in or went out, joules, more than nothing.
type energyPart struct {
	kind energyKind
	j    float64
}

// A ledger is one descent's energy with no part less than nothing: what would be stands
// on the other side.
type ledger struct {
	no      int // as in the table, from 1
	dropM   float64
	in, out []energyPart
	// inJ is all that came in, brakesJ what went into both brakes, residualJ what the
	// two sides differ by.
	inJ, brakesJ, residualJ float64
}

// ledgerOf sorts a stretch's energy into what came in and what went out.
func ledgerOf(e thermal.Energy) ledger {
	l := ledger{inJ: e.InJ(), brakesJ: e.BrakesJ(), residualJ: e.ResidualJ()}
	put := func(k energyKind, j float64, in bool) {
		if j < 0 {
			j, in = -j, !in
		}
		switch {
		case j == 0:
		case in:
			l.in = append(l.in, energyPart{k, j})
		default:
			l.out = append(l.out, energyPart{k, j})
		}
	}
	// The brakes begin at the axis, so that descents can be compared by them.
	put(energyFront, e.BrakeFrontJ, false)
	put(energyRear, e.BrakeRearJ, false)
	put(energyAir, e.AirJ, false)
	put(energyRolling, e.RollingJ, false)
	put(energyKinetic, e.KineticJ, false)
	put(energyPotential, e.PotentialJ, true)
	put(energyPedal, e.PedalJ, true)
	slices.SortFunc(l.in, func(a, b energyPart) int { return byOrderIn(a.kind, b.kind) })
	return l
}

// byOrderIn orders what comes in, the height first.
func byOrderIn(a, b energyKind) int {
	order := []energyKind{energyPotential, energyPedal, energyKinetic, energyAir, energyRolling, energyFront, energyRear}
	return cmp.Compare(slices.Index(order, a), slices.Index(order, b))
}

// outJ is all that went out, joules.
func (l *ledger) outJ() float64 {
	sum := 0.0
	for _, p := range l.out {
		sum += p.j
	}
	return sum
}

// checkEnergy reports what cannot be drawn.
func checkEnergy(a *thermal.Assessment) error {
	if a == nil {
		return errors.New("no assessment to draw a figure of")
	}
	check := func(what string, e thermal.Energy) error {
		if err := allFinite(what, e.PotentialJ, e.PedalJ, e.AirJ, e.RollingJ, e.BrakeFrontJ, e.BrakeRearJ, e.KineticJ); err != nil {
			return err
		}
		// Rounding may leave a brake that did nothing a trifle under it.
		least := -1e-6 * (math.Abs(e.PotentialJ) + math.Abs(e.PedalJ) + 1)
		if min(e.BrakeFrontJ, e.BrakeRearJ, e.RollingJ, e.PedalJ) < least {
			return errors.New(what + " has brakes, tyres or pedals that work backwards")
		}
		return nil
	}
	if err := check("the energy of the ride", a.Energy); err != nil {
		return err
	}
	for i := range a.Descents {
		what := fmt.Sprintf("the energy of descent %d", i+1)
		if err := check(what, a.Descents[i].Energy); err != nil {
			return err
		}
		if err := allFinite(what, a.Descents[i].DropM); err != nil {
			return err
		}
	}
	return nil
}

// shownLedgers are the descents that get a bar, in the order of the road, and all others
// taken together, n of them.
func shownLedgers(ds []thermal.Descent) (shown []ledger, rest ledger, n int) {
	order := make([]int, len(ds))
	for i := range order {
		order[i] = i
	}
	if len(ds) > mostLedgers {
		slices.SortStableFunc(order, func(i, j int) int {
			return cmp.Compare(ds[j].Energy.BrakesJ(), ds[i].Energy.BrakesJ())
		})
		for _, i := range order[mostLedgers:] {
			l := ledgerOf(ds[i].Energy)
			rest.inJ, rest.brakesJ = rest.inJ+l.inJ, rest.brakesJ+l.brakesJ
			n++
		}
		order = order[:mostLedgers]
		slices.Sort(order)
	}
	for _, i := range order {
		l := ledgerOf(ds[i].Energy)
		l.no, l.dropM = i+1, ds[i].DropM
		shown = append(shown, l)
	}
	return shown, rest, n
}
