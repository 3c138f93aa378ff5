package thermal

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"rimheat/route"
	"rimheat/thermal/risk"
)

// A Lesson is what readings teach of a setup with one wheel.
type Lesson struct {
	RimID string `json:"rim"`
	Name  string `json:"name"`
	Route string `json:"route"`
	Draws int    `json:"draws"`
	Seed  uint64 `json:"seed"`
	// Limits are those that the rim is held against.
	Limits []HeldLimit `json:"limits"`
	// Readings are what was foretold, in the order of the readings.
	Readings []Foretold `json:"readings"`
	// Inputs are what the readings say of the inputs that stay, all they move.
	Inputs []LessonInput `json:"inputs"`
	// Taught is what a setup takes over: as many directions as there are readings,
	// less those that say nothing.
	Taught []Taught `json:"-"`
	// Before and After are the ride assessed before and after.
	Before   Reply    `json:"before"`
	After    Reply    `json:"after"`
	Cautions []string `json:"cautions"`
	// Imperial holds the cautions with °F.
	Imperial []string `json:"-"`
}

// Foretold is what the draws said of one reading before any was known, and after
// all are; both for its place and moment.
type Foretold struct {
	BeforeC Percentiles `json:"before_C"`
	AfterC  Percentiles `json:"after_C"`
	// Below is the part of the draws, with the thermometer's own error, that
	// foretold less than what was read.
	Below float64 `json:"foretold_below"`
}

// A LessonInput is one input before and after the reading, as its spread is
// stated: a factor on the value, an offset in Unit, or a place in the range from
// -1 to 1; see SpreadKind.
type LessonInput struct {
	Name   string     `json:"name"`
	Text   string     `json:"text"`
	Kind   SpreadKind `json:"kind"`
	Unit   string     `json:"unit,omitempty"`
	Before Range      `json:"before"`
	After  Range      `json:"after"`
}

// A Range is the middle of nineteen in twenty truths and its ends.
type Range struct {
	Low  float64 `json:"low"`
	Mid  float64 `json:"mid"`
	High float64 `json:"high"`
}

const (
	// learningPoints are drawn from the fit of what the draws foretell, tens of
	// thousands, so that what a reading teaches is not itself a matter of chance.
	learningPoints = 40000
	// contradicts is the part of the draws on the far side of a reading under
	// which it is refused.
	contradicts = 0.005
	// leastWorlds is how many worlds must be left, in effect, to be summed up.
	leastWorlds = 100.0
	// worthTelling is the least that an input must move or narrow to be written,
	// standard deviations.
	worthTelling = 0.02
	// learnExplained is the least part of what the draws foretell that the fit must
	// explain.
	learnExplained = 0.9
)

// A Contradiction is a reading that no draw of a setup explains.
type Contradiction struct {
	// Index is which of the readings it is, from 0.
	Index     int
	ReadC     float64 // the middle of a label's two temperatures
	ForetoldC Percentiles
	Above     bool // read is hotter than foretold
}

// Error says what is wrong.
func (c *Contradiction) Error() string {
	side := "below"
	if c.Above {
		side = "above"
	}
	return fmt.Sprintf("the reading of %.0f °C lies %s all that the draws explain (nine in ten %.0f to %.0f °C there)", c.ReadC, side, c.ForetoldC.P05, c.ForetoldC.P95)
}

// errTooSharp says that too few possible worlds are left to sum up.
var errTooSharp = errors.New("the readings do not go together, or are sharper than the draws can tell: give a larger standard deviation, or fewer readings")

// Learn finds what readings on one ride teach: it weighs possible worlds by how likely
// each makes all of them (Bayes), and sums up the inputs that stay in their mean and
// the directions in which they narrow. The errors of several readings are taken
// to have nothing in common. A *Contradiction says that a reading cannot be explained.
func Learn(ctx context.Context, p *route.Profile, s Setup, readings ...Reading) (*Lesson, error) {
	for _, r := range readings {
		if err := r.Validate(p); err != nil {
			return nil, err
		}
	}
	q, err := newInquiry(p, s)
	if err != nil {
		return nil, err
	}
	w := s.Wheels[0]
	l := &Lesson{RimID: w.Rim.ID, Name: w.Rim.Name, Route: p.Name, Draws: q.design.Len(), Seed: s.Sampling.Seed, Limits: heldLimits(w),
		Cautions: phrasing{}.askedCautions(w), Imperial: phrasing{imperial: true}.askedCautions(w)}
	expansion, err := risk.NewExpansion(q.design)
	if err != nil {
		return nil, err
	}
	var fits []fitted
	for _, r := range readings {
		f, told, err := q.fitReading(ctx, expansion, r)
		var no *Contradiction
		if errors.As(err, &no) {
			no.Index = len(fits)
		}
		if err != nil {
			return nil, err
		}
		fits, l.Readings = append(fits, f), append(l.Readings, told)
	}
	if err := l.weigh(q, fits); err != nil {
		return nil, err
	}
	if l.Before, err = q.ask(ctx, s); err != nil {
		return nil, err
	}
	after := s
	after.Readings = append(slices.Clone(s.Readings), l.Taught...)
	l.After, err = q.ask(ctx, after)
	return l, err
}

// fitted is a reading and what foretells it: a polynomial of the draw, and how far
// that may be off, K.
type fitted struct {
	Reading
	fit *risk.Fit
	sd  float64
}

// fitReading finds what the draws foretell of a reading.
func (q *inquiry) fitReading(ctx context.Context, expansion *risk.Expansion, r Reading) (fitted, Foretold, error) {
	c, err := q.foretold(ctx, r)
	if err != nil {
		return fitted{}, Foretold{}, err
	}
	sum, err := risk.Summarise(c, q.design.PerBlock())
	if err != nil {
		return fitted{}, Foretold{}, err
	}
	told := Foretold{BeforeC: Percentiles{sum.P05.Value, sum.P50.Value, sum.P95.Value}, Below: r.below(c)}
	fit, err := expansion.Fit(c)
	if err != nil {
		return fitted{}, told, err
	}
	if sum.Sd > 0.1 && fit.Explained < learnExplained {
		return fitted{}, told, fmt.Errorf("what the wheel reads there hangs on too many things at once to learn from it (%.0f %% explained): read after a longer steady stretch", 100*fit.Explained)
	}
	if told.Below < contradicts || told.Below > 1-contradicts {
		return fitted{}, told, &Contradiction{ReadC: r.middle(), ForetoldC: told.BeforeC, Above: told.Below > 0.5}
	}
	return fitted{r, fit, sum.Sd * math.Sqrt(max(0, 1-fit.Explained))}, told, nil
}

// middle is what was read, in one number.
func (r Reading) middle() float64 {
	switch {
	case !r.isLabel():
		return r.C
	case math.IsNaN(r.OverC):
		return r.UnderC
	case math.IsNaN(r.UnderC):
		return r.OverC
	}
	return (r.OverC + r.UnderC) / 2
}

// below is the part of the foretold temperatures that lies below what was read,
// each with the error of reading. What a label with one end allows counts half.
func (r Reading) below(foretold []float64) float64 {
	sum := 0.0
	for _, c := range foretold {
		switch {
		case !r.isLabel():
			sum += normal((r.C - c) / r.SdC)
		case math.IsNaN(r.OverC): // as read, or hotter
			sum += 0.5 * normal((r.UnderC-c)/labelSd)
		case math.IsNaN(r.UnderC): // as read, or cooler
			sum += 0.5 + 0.5*normal((r.OverC-c)/labelSd)
		default:
			sum += (normal((r.OverC-c)/labelSd) + normal((r.UnderC-c)/labelSd)) / 2
		}
	}
	return sum / float64(len(foretold))
}

// weigh draws possible worlds, weighs them by the readings and sums up.
func (l *Lesson) weigh(q *inquiry, fits []fitted) error {
	d, err := risk.NewDesign(designBlocks, learningPoints/designBlocks, draws, l.Seed+1)
	if err != nil {
		return err
	}
	n := d.Len()
	weights, z := make([]float64, n), make([]numbers, n)
	temps := make([][]float64, len(fits))
	for i := range temps {
		temps[i] = make([]float64, n)
	}
	total, squares := 0.0, 0.0
	for k := range n {
		u := d.Point(k)
		weights[k] = 1
		for i, f := range fits {
			if temps[i][k], err = f.fit.At(u); err != nil {
				return err
			}
			weights[k] *= f.chance(temps[i][k], f.sd)
		}
		total += weights[k]
		squares += weights[k] * weights[k]
		for i, v := range u {
			z[k][i] = math.Sqrt2 * math.Erfinv(2*v-1)
		}
	}
	// The effective number of worlds; L. Kish, Survey Sampling, 1965, from memory.
	if !(total > 0) || total*total/squares < leastWorlds {
		return errTooSharp
	}
	for i := range fits {
		l.Readings[i].AfterC = weightedPercentiles(temps[i], weights)
	}
	var mean [len(lasting)]float64
	for k, w := range weights {
		for i, x := range lasting {
			mean[i] += w / total * z[k][x.draw]
		}
	}
	cov := mat.NewSymDense(len(lasting), nil)
	for i, x := range lasting {
		for j := range i + 1 {
			c := 0.0
			for k, w := range weights {
				c += w / total * (z[k][x.draw] - mean[i]) * (z[k][lasting[j].draw] - mean[j])
			}
			cov.SetSym(i, j, c)
		}
	}
	directions, err := narrowed(cov, len(fits))
	if err != nil {
		return err
	}
	l.takeOver(q, mean, directions)
	l.sumUp(q, z, weights)
	return nil
}

// takeOver puts what was found into the form that a setup takes.
func (l *Lesson) takeOver(q *inquiry, mean [len(lasting)]float64, directions [][]float64) {
	s := &q.setup
	doubts := newDoubts(s, q.profile.Ride != nil)
	k := Taught{RimID: l.RimID, PadID: s.Wheels[0].Pad.ID, With: []Named{{"cda", s.Resistance.CdAM2}, {"crr", s.Resistance.Crr}, {"front-share", s.Style.FrontShare}}}
	for _, x := range lasting {
		id := drawInputs()[x.draw]
		if !slices.ContainsFunc(k.Figures, func(n Named) bool { return n.Name == id }) {
			k.Figures = append(k.Figures, Named{id, doubts.figure[x.draw]})
		}
	}
	for i, x := range lasting {
		if math.Abs(mean[i]) >= worthTelling {
			k.Mean = append(k.Mean, Named{x.name, mean[i]})
		}
	}
	for _, along := range directions {
		k.Along = nil
		for i, x := range lasting {
			if math.Abs(along[i]) >= worthTelling {
				k.Along = append(k.Along, Named{x.name, along[i]})
			}
		}
		l.Taught = append(l.Taught, k)
		k.Mean = nil // moved once
	}
}

// narrowed finds the directions in which a covariance has lost most of 1, at most
// so many and at least one, and how much of it: vectors a whose sum of a a' is the
// nearest to what is missing. They are at right angles.
func narrowed(cov *mat.SymDense, most int) ([][]float64, error) {
	n := cov.SymmetricDim()
	lost := mat.NewSymDense(n, nil)
	for i := range n {
		for j := range i + 1 {
			v := -cov.At(i, j)
			if i == j {
				v++
			}
			lost.SetSym(i, j, v)
		}
	}
	var e mat.EigenSym
	if !e.Factorize(lost, true) {
		return nil, errors.New("what the readings narrow cannot be found")
	}
	values := e.Values(nil) // ascending
	var vectors mat.Dense
	e.VectorsTo(&vectors)
	var out [][]float64
	for k := n - 1; k >= 0 && len(out) < most; k-- {
		top := min(max(values[k], 0), 0.999)
		if len(out) > 0 && top < worthTelling {
			break
		}
		along := make([]float64, n)
		for i := range along {
			along[i] = math.Sqrt(top) * vectors.At(i, k)
		}
		out = append(out, along)
	}
	return out, nil
}

// sumUp says what became of the inputs; readings before on this rim count for its
// film, conduction and pads, those on any rim for the rider.
func (l *Lesson) sumUp(q *inquiry, z []numbers, weights []float64) {
	s := &q.setup
	d := newDoubts(s, q.profile.Ride != nil)
	even, values := make([]float64, len(z)), make([]float64, len(z))
	for k := range even {
		even[k] = 1
	}
	for _, x := range lasting {
		rimID := l.RimID
		if x.riders {
			rimID = ""
		}
		u, name := ofDraw(x.draw)
		for k := range z {
			before := s.taught(z[k], rimID)
			values[k] = d.value(&before, x.draw)
		}
		in := LessonInput{Name: x.name, Text: name, Kind: u.Kind, Unit: u.Unit, Before: rangeOf(values, even), After: rangeOf(values, weights)}
		wide := in.Before.High - in.Before.Low
		if wide > 0 && (math.Abs(in.After.Mid-in.Before.Mid) > worthTelling*wide || in.After.High-in.After.Low < (1-worthTelling)*wide) {
			l.Inputs = append(l.Inputs, in)
		}
	}
}

// weightedPercentiles are those of values that count by weights.
func weightedPercentiles(v, weights []float64) Percentiles {
	q := weightedQuantiles(v, weights, 0.05, 0.5, 0.95)
	return Percentiles{q[0], q[1], q[2]}
}

// rangeOf is the range that holds nineteen in twenty.
func rangeOf(v, weights []float64) Range {
	q := weightedQuantiles(v, weights, 0.025, 0.5, 0.975)
	return Range{q[0], q[1], q[2]}
}

// weightedQuantiles gives the values that rising parts of all weights lie at or
// below.
func weightedQuantiles(v, weights []float64, parts ...float64) []float64 {
	order := make([]int, len(v))
	total := 0.0
	for i := range order {
		order[i] = i
		total += weights[i]
	}
	slices.SortFunc(order, func(a, b int) int { return cmp.Or(cmp.Compare(v[a], v[b]), a-b) })
	out, sum, k := make([]float64, len(parts)), 0.0, 0
	for _, i := range order {
		sum += weights[i]
		for k < len(parts) && sum >= parts[k]*total {
			out[k] = v[i]
			k++
		}
	}
	for ; k < len(parts); k++ { // rounding
		out[k] = v[order[len(order)-1]]
	}
	return out
}
