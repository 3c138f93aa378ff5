package thermal

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"rimheat/route"
	"rimheat/thermal/risk"
)

// A Lesson is what a reading teaches of a setup with one wheel.
type Lesson struct {
	RimID string `json:"rim"`
	Name  string `json:"name"`
	Route string `json:"route"`
	Draws int    `json:"draws"`
	Seed  uint64 `json:"seed"`
	// ForetoldC is what the draws said before the reading was known, AfterC what
	// they say with it; both for the place and the moment of the reading.
	ForetoldC Percentiles `json:"foretold_C"`
	AfterC    Percentiles `json:"after_C"`
	// Below is the part of the draws, with the thermometer's own error, that
	// foretold less than what was read.
	Below float64 `json:"foretold_below"`
	// Inputs are what the reading says of the inputs that stay, all it moves.
	Inputs []LessonInput `json:"inputs"`
	// Taught is what a setup takes over.
	Taught Taught `json:"-"`
	// Before and After are the ride assessed before and after.
	Before   Reply    `json:"before"`
	After    Reply    `json:"after"`
	Cautions []string `json:"cautions"`
	// Imperial holds the cautions with °F.
	Imperial []string `json:"-"`
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
	learningPoints = 20000
	// contradicts is the part of the draws on the far side of a reading under
	// which it is refused.
	contradicts = 0.005
	// worthTelling is the least that an input must move or narrow to be written,
	// standard deviations.
	worthTelling = 0.02
	// learnExplained is the least part of what the draws foretell that the fit must
	// explain.
	learnExplained = 0.9
)

// A Contradiction is a reading that no draw of a setup explains.
type Contradiction struct {
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

// Learn finds what a reading teaches: it weighs possible worlds by how likely each
// makes the reading (Bayes), and sums up the inputs that stay in their mean and the
// one direction in which they narrow. A *Contradiction says that the reading cannot
// be explained.
func Learn(ctx context.Context, p *route.Profile, s Setup, r Reading) (*Lesson, error) {
	if err := r.Validate(p); err != nil {
		return nil, err
	}
	q, err := newInquiry(p, s)
	if err != nil {
		return nil, err
	}
	foretold, err := q.foretold(ctx, r)
	if err != nil {
		return nil, err
	}
	per := q.design.PerBlock()
	before, err := risk.Summarise(foretold, per)
	if err != nil {
		return nil, err
	}
	w := s.Wheels[0]
	l := &Lesson{RimID: w.Rim.ID, Name: w.Rim.Name, Route: p.Name, Draws: q.design.Len(), Seed: s.Sampling.Seed,
		Cautions: phrasing{}.askedCautions(w), Imperial: phrasing{imperial: true}.askedCautions(w)}
	l.ForetoldC = Percentiles{before.P05.Value, before.P50.Value, before.P95.Value}
	expansion, err := risk.NewExpansion(q.design)
	if err != nil {
		return nil, err
	}
	fit, err := expansion.Fit(foretold)
	if err != nil {
		return nil, err
	}
	if before.Sd > 0.1 && fit.Explained < learnExplained {
		return nil, fmt.Errorf("what the wheel reads there hangs on too many things at once to learn from it (%.0f %% explained): read after a longer steady stretch", 100*fit.Explained)
	}
	l.Below = r.below(foretold)
	if l.Below < contradicts || l.Below > 1-contradicts {
		return nil, &Contradiction{ReadC: r.middle(), ForetoldC: l.ForetoldC, Above: l.Below > 0.5}
	}
	if err := l.weigh(q, fit, r, before.Sd*math.Sqrt(max(0, 1-fit.Explained))); err != nil {
		return nil, err
	}
	if l.Before, err = q.ask(ctx, s); err != nil {
		return nil, err
	}
	after := s
	after.Readings = append(slices.Clone(s.Readings), l.Taught)
	l.After, err = q.ask(ctx, after)
	return l, err
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

// weigh draws possible worlds, weighs them by the reading and sums up.
func (l *Lesson) weigh(q *inquiry, fit *risk.Fit, r Reading, moreSd float64) error {
	d, err := risk.NewDesign(designBlocks, learningPoints/designBlocks, draws, l.Seed+1)
	if err != nil {
		return err
	}
	n := d.Len()
	weights, temps := make([]float64, n), make([]float64, n)
	z := make([]numbers, n)
	total, squares := 0.0, 0.0
	for k := range n {
		u := d.Point(k)
		if temps[k], err = fit.At(u); err != nil {
			return err
		}
		weights[k] = r.chance(temps[k], moreSd)
		total += weights[k]
		squares += weights[k] * weights[k]
		for i, v := range u {
			z[k][i] = math.Sqrt2 * math.Erfinv(2*v-1)
		}
	}
	if !(total > 0) || total*total/squares < 200 {
		return &Contradiction{ReadC: r.middle(), ForetoldC: l.ForetoldC, Above: l.Below > 0.5}
	}
	l.AfterC = weightedPercentiles(temps, weights)
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
	along, err := narrowed(cov)
	if err != nil {
		return err
	}
	l.Taught = Taught{Text: "", RimID: l.RimID}
	for i, x := range lasting {
		if math.Abs(mean[i]) >= worthTelling {
			l.Taught.Mean = append(l.Taught.Mean, Named{x.name, mean[i]})
		}
		if math.Abs(along[i]) >= worthTelling {
			l.Taught.Along = append(l.Taught.Along, Named{x.name, along[i]})
		}
	}
	l.sumUp(q, z, weights)
	return nil
}

// narrowed finds the direction in which a covariance has lost most of 1, and how
// much of it: the vector a whose a a' is the nearest to what is missing.
func narrowed(cov *mat.SymDense) ([]float64, error) {
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
		return nil, fmt.Errorf("what the reading narrows cannot be found")
	}
	values := e.Values(nil) // ascending
	top := min(values[n-1], 0.999)
	along := make([]float64, n)
	if top <= 0 {
		return along, nil
	}
	var vectors mat.Dense
	e.VectorsTo(&vectors)
	for i := range along {
		along[i] = math.Sqrt(top) * vectors.At(i, n-1)
	}
	return along, nil
}

// sumUp says what became of the inputs.
func (l *Lesson) sumUp(q *inquiry, z []numbers, weights []float64) {
	s := &q.setup
	d := newDoubts(s, q.profile.Ride != nil)
	even, values := make([]float64, len(z)), make([]float64, len(z))
	for k := range even {
		even[k] = 1
	}
	for k := range z {
		z[k] = s.taught(z[k], "") // as the readings before have it
	}
	for _, x := range lasting {
		u := uncertainTable()[slices.IndexFunc(uncertainTable(), func(u Uncertain) bool { return u.ID == drawInputs()[x.draw] })]
		for k := range z {
			values[k] = d.value(&z[k], x.draw)
		}
		in := LessonInput{Name: x.name, Text: u.Name, Kind: u.Kind, Unit: u.Unit, Before: rangeOf(values, even), After: rangeOf(values, weights)}
		if x.name == "conductivity-through" {
			in.Text += ", through the wall"
		}
		wide := in.Before.High - in.Before.Low
		if wide > 0 && (math.Abs(in.After.Mid-in.Before.Mid) > worthTelling*wide || in.After.High-in.After.Low < (1-worthTelling)*wide) {
			l.Inputs = append(l.Inputs, in)
		}
	}
	for _, x := range lasting {
		id := drawInputs()[x.draw]
		if !slices.ContainsFunc(l.Taught.Figures, func(n Named) bool { return n.Name == id }) {
			l.Taught.Figures = append(l.Taught.Figures, Named{id, d.figure[x.draw]})
		}
	}
	l.Taught.With = []Named{{"cda", s.Resistance.CdAM2}, {"crr", s.Resistance.Crr}, {"front-share", s.Style.FrontShare}}
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
