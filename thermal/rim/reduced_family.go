package rim

import (
	"fmt"
	"math"
	"slices"
)

// A Family is the reduced model of a wheel for all conductivities that its
// materials and its pads may have: what many runs of one wheel share, each with
// its own place in these ranges. Nothing changes it once it is made, so several
// goroutines may use it.
type Family struct {
	p   *reduction
	sec Section
	pad Pad
	rub contact // as the options have it
	// nodes are the projections at all pairs of rangeNodes, one row each, through
	// the wall fastest; alongs and throughs are how many there are each way.
	nodes            []float64
	alongs, throughs int
}

// Tuning sets what one run of a Family's wheel differs in.
type Tuning struct {
	// FilmFactor multiplies the film coefficient, as in Options: 0 means 1. A
	// fixed film stays as it is.
	FilmFactor float64
	// Along and Through are the places of the materials' conductivities in
	// their ranges, as in Section.At, Pad that of the pads' in Pad.At: -1 to 1,
	// 0 for the central values.
	Along, Through, Pad float64
}

// NewFamily makes the model of one wheel with the rim and the pads, for all
// conductivities in their ranges. The cells are those of the central section.
func NewFamily(sec Section, pad Pad, opt Options) (*Family, error) {
	return newFamily(sec, pad, opt, familyWorstK)
}

func newFamily(sec Section, pad Pad, opt Options, worstK float64) (*Family, error) {
	if err := sec.Validate(); err != nil {
		return nil, err
	}
	if err := opt.validate(); err != nil {
		return nil, err
	}
	fine := opt.Resolution.fine()
	z := sec.cellSizes(fine)
	along, through := sec.conductionVaries()
	alongs, throughs := rangeNodes(along), rangeNodes(through)
	var solvers []*Solver
	for _, a := range alongs {
		for _, b := range throughs {
			at := sec.At(a, b)
			if err := at.Validate(); err != nil {
				return nil, fmt.Errorf("at the ends of its conductivities: %w", err)
			}
			s := onMesh(at, cutMesh(at, z, fine))
			s.rub.fixedFilm = opt.FilmWPerM2K
			solvers = append(solvers, s)
		}
	}
	f := &Family{sec: sec, pad: pad, rub: newContact(sec, pad, opt), alongs: len(alongs), throughs: len(throughs)}
	if err := f.reduce(solvers, worstK); err != nil {
		return nil, err
	}
	return f, nil
}

// reduce makes the reduced model of the solvers, one for each pair of nodes, with
// patterns good to worstK.
func (f *Family) reduce(solvers []*Solver, worstK float64) error {
	// What the section does is looked at for ends and middle of both ranges,
	// and sets the patterns everywhere between.
	var of []answers
	for i := range (f.alongs + 1) / 2 {
		for j := range (f.throughs + 1) / 2 {
			a, err := solvers[2*i*f.throughs+2*j].answers()
			if err != nil {
				return err
			}
			of = append(of, a)
		}
	}
	s := solvers[len(solvers)/2]
	bases := newBases(s.placeWeights(), of, worstK)
	var err error
	if f.p, err = newReduction(s, len(bases[0]), of); err != nil {
		return err
	}
	for k, at := range solvers {
		basis := f.blend(bases, k/f.throughs, k%f.throughs)
		orthonormal(basis, s.c0)
		node := f.p.project(at, basis).all
		f.nodes = append(slices.Grow(f.nodes, (len(solvers)-k)*len(node)), node...)
	}
	return nil
}

// blend gives the patterns at a pair of nodes: on the parabolas through those at
// ends and middles.
func (f *Family) blend(bases [][][]float64, i, j int) [][]float64 {
	wa, wb := parabola(f.alongs, i), parabola(f.throughs, j)
	basis := make([][]float64, len(bases[0]))
	for k := range basis {
		basis[k] = make([]float64, len(bases[0][k]))
		for q, b := range bases {
			axpy(wa[q/len(wb)]*wb[q%len(wb)], b[k], basis[k])
		}
	}
	return basis
}

// parabola gives the weights, at one of the nodes, of the first, the middle and
// the last of five, or of one alone.
func parabola(nodes, i int) []float64 {
	if nodes == 1 {
		return []float64{1}
	}
	x := float64(i)/2 - 1
	return []float64{x * (x - 1) / 2, 1 - x*x, x * (x + 1) / 2}
}

// rangeNodes are the places at which a section is projected: those of two
// parabolas, which meet at 0, where Quantity.At may have a bend; or the middle,
// where nothing varies.
func rangeNodes(varies bool) []float64 {
	if !varies {
		return []float64{0}
	}
	return []float64{-1, -0.5, 0, 0.5, 1}
}

// conductionVaries tells whether any material's conductivity has a range, by the
// place of Section.At that it hangs on.
func (sec *Section) conductionVaries() (along, through bool) {
	ms := []*Material{&sec.Material}
	if sec.Surface.ThicknessM > 0 {
		ms = append(ms, &sec.Surface.Material)
	}
	if sec.HasFairing() {
		ms = append(ms, &sec.Fairing.Material)
	}
	for _, m := range ms {
		a, b := m.ConductivityAlong.Low < m.ConductivityAlong.High, m.ConductivityThrough.Low < m.ConductivityThrough.High
		along = along || m.Composite && a
		through = through || b || !m.Composite && a
	}
	return along, through
}

// nodeWeights gives the weights of three nodes, from first on, at a place; of one
// alone where there is one alone.
func nodeWeights(nodes int, place float64) (first, n int, w [3]float64) {
	if nodes == 1 {
		return 0, 1, [3]float64{1}
	}
	u := 2 * min(max(place, -1), 1)
	if u < 0 {
		u += 2
	} else {
		first = 2
	}
	return first, 3, [3]float64{(u - 1) * (u - 2) / 2, u * (2 - u), u * (u - 1) / 2}
}

// Tune sets what sets this run of the wheel apart. It holds from the next Reset,
// which must follow.
func (m *Reduced) Tune(t Tuning) error {
	if err := (Options{FilmFactor: t.FilmFactor}).validate(); err != nil {
		return err
	}
	if t.FilmFactor == 0 {
		t.FilmFactor = 1
	}
	if math.IsNaN(t.Along + t.Through + t.Pad) {
		return fmt.Errorf("places of conductivities are %g, %g and %g; give numbers from -1 to 1", t.Along, t.Through, t.Pad)
	}
	m.rub.filmFactor = t.FilmFactor
	m.moveTo(t.Along, t.Through)
	at := m.f.sec.At(t.Along, t.Through)
	m.rub.track = at.rubbed()
	m.rub.blk.conductivity = m.f.pad.Conductivity.At(t.Pad)
	return nil
}

// moveTo blends the projection for two places of conductivities.
func (m *Reduced) moveTo(along, through float64) {
	f, size := m.f, len(m.all)
	a, n, wa := nodeWeights(f.alongs, along)
	b, k, wb := nodeWeights(f.throughs, through)
	clear(m.all)
	for i, w := range wa[:n] {
		by := [3]float64{w * wb[0], w * wb[1], w * wb[2]}
		addRows(m.all, by[:k], f.nodes[((a+i)*f.throughs+b)*size:])
	}
}
