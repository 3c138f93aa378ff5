package rim

import (
	"fmt"
	"math"

	"rimheat/thermal/air"
)

const (
	// cavityFilm joins the hollow's air with its walls, W/(m2 K): convection
	// 3-5 in a turning closed hollow and radiation 6-7 between dark walls,
	// which see mostly each other; common practice, no source.
	cavityFilm float64 = 8
	// cavityJPerK is the air in the hollow, both halves (derived: 0.5 l).
	cavityJPerK = 0.5

	// tyreFilm joins the rim's tyre side with the air in the tyre, W/(m2 K).
	// Fitted to a published ride (J. Brandt, P. Hartwell, R. Walmsley): after
	// 5 minutes with the rim above 80 °C the tyre's air had risen by 13-15 K,
	// 0.15-0.2 of the rim's rise. Tape, tube and turning air in series would
	// give 13.
	tyreFilm float64 = 5
	// tyreJPerK is what warms with the tyre's air: tube and tape, 75 g of
	// rubber, and 8 g of air (derived from values from memory).
	tyreJPerK = 150.0
	// tyreLossWPerK is from the tyre's air through the casing to the
	// outside: 10 W/(m2 K) on 0.13 m2 (derived from values from memory).
	tyreLossWPerK = 1.3

	// tyreHeightM is what the tyre adds to the bead seat radius, metres.
	tyreHeightM = 0.025

	referenceK = 298.15 // where SpecificHeat holds, K
)

// A Solver carries the temperatures of one wheel through time. It is not safe
// for use by several goroutines.
type Solver struct {
	sec  Section
	mesh *mesh
	rub  contact

	a      *skyline
	base   []float64 // conductances without capacity and film
	diag   []int     // position of each diagonal in the matrix
	rows   int
	cavity int
	tyre   int

	// Enthalpy above reference: h = c0 th + c1 th^2/2, th = T - reference.
	c0, c1 []float64

	t, h       []float64 // temperatures K and enthalpies J, half wheel
	stage      []float64
	h0, f1, f2 []float64
	rhs        []float64
	ref        []float64 // temperatures at the last factorisation
	refDt      float64
	refFilm    float64
	surf       []float64 // outer faces' surface temperatures, K

	cavG, tyreG []linkTo

	start float64 // enthalpy at Reset, half wheel
	bal   Balance // braked, pads, in and lost, half wheel
}

type linkTo struct {
	cell int
	g    float64
}

// Options sets resolution and film of a Solver. The zero value is standard.
type Options struct {
	Resolution Resolution
	// FilmFactor multiplies the film coefficient; 0 means 1.
	FilmFactor float64
	// FilmWPerM2K, if not 0, replaces the film model on all outer faces, so
	// that others can compare like with like.
	FilmWPerM2K float64
	// NoPads leaves all braking heat to the rim.
	NoPads bool
}

func (o Options) validate() error {
	if f := o.FilmFactor; !(f >= 0) || math.IsInf(f, 1) {
		return fmt.Errorf("film factor is %g; give a positive number", f)
	}
	return nil
}

// NewSolver makes a solver for one wheel with the rim and the pads, at 20 °C.
func NewSolver(sec Section, pad Pad, opt Options) (*Solver, error) {
	if err := sec.Validate(); err != nil {
		return nil, err
	}
	if err := opt.validate(); err != nil {
		return nil, err
	}
	return build(sec, pad, opt), nil
}

// build is NewSolver without asking whether such a rim can be.
func build(sec Section, pad Pad, opt Options) *Solver {
	s := onMesh(sec, newMesh(sec, opt.Resolution))
	s.rub = newContact(sec, pad, opt)
	s.Reset(air.ZeroCelsiusK + 20)
	return s
}

// onMesh makes a solver on a mesh of the section, without pads and not reset.
func onMesh(sec Section, me *mesh) *Solver {
	s := &Solver{sec: sec, mesh: me}
	s.cavity, s.tyre, s.rows = me.n, me.n+1, me.n+2
	s.layout()
	s.c0, s.c1 = make([]float64, s.rows), make([]float64, s.rows)
	for i, c := range me.cells {
		kg := c.volumeM3 * c.of.Density.Value
		s.c0[i], s.c1[i] = kg*c.of.SpecificHeat.Value, kg*c.of.SpecificHeatRise.Value
	}
	s.c0[s.cavity], s.c0[s.tyre] = cavityJPerK/2, tyreJPerK/2
	for _, p := range []*[]float64{&s.t, &s.h, &s.stage, &s.h0, &s.f1, &s.f2, &s.rhs, &s.ref} {
		*p = make([]float64, s.rows)
	}
	s.surf = make([]float64, len(me.faces))
	return s
}

// layout finds which entries of the matrix are needed and fills in the
// conductances that never change.
func (s *Solver) layout() {
	first := make([]int, s.rows)
	for i := range first {
		first[i] = i
	}
	tie := func(a, b int) {
		if a > b {
			a, b = b, a
		}
		first[b] = min(first[b], a)
	}
	for _, l := range s.mesh.links {
		tie(l.a, l.b)
	}
	for _, f := range s.mesh.faces {
		switch f.kind {
		case faceCavity:
			s.cavG = append(s.cavG, linkTo{f.cell, f.areaM / (f.half + 1/cavityFilm)})
			tie(f.cell, s.cavity)
		case faceTyre:
			s.tyreG = append(s.tyreG, linkTo{f.cell, f.areaM / (f.half + 1/tyreFilm)})
			tie(f.cell, s.tyre)
		}
	}
	s.a = newSkyline(first)
	s.diag = make([]int, s.rows)
	for i := range s.diag {
		s.diag[i] = s.a.at(i, i)
	}
	s.base = make([]float64, len(s.a.val))
	add := func(a, b int, g float64) {
		if a < b {
			a, b = b, a
		}
		s.base[s.a.at(a, b)] -= g
		s.base[s.diag[a]] += g
		s.base[s.diag[b]] += g
	}
	for _, l := range s.mesh.links {
		add(l.a, l.b, l.g)
	}
	for _, l := range s.cavG {
		add(l.cell, s.cavity, l.g)
	}
	for _, l := range s.tyreG {
		add(l.cell, s.tyre, l.g)
	}
	s.base[s.diag[s.tyre]] += tyreLossWPerK / 2
}

// MassKg is the mass of the whole rim that geometry and density give.
func (s *Solver) MassKg() float64 { return s.mesh.massKg }

// SweptAreaM2 is the area of both swept bands of the wheel.
func (s *Solver) SweptAreaM2() float64 { return 2 * s.mesh.trackAreaM }

// Cells is the number of finite volumes in the half section.
func (s *Solver) Cells() int { return s.mesh.n }

// Reset puts everything at tK and clears the balance.
func (s *Solver) Reset(tK float64) {
	var sum float64
	for i := range s.t {
		s.t[i] = tK
		s.h[i] = s.enthalpy(i, tK)
		sum += s.h[i]
	}
	for i := range s.surf {
		s.surf[i] = tK
	}
	for i := range s.stage {
		s.stage[i] = tK
	}
	s.start, s.bal = sum, Balance{}
	s.refDt = 0
	s.rub.reset(tK)
}

func (s *Solver) enthalpy(i int, tK float64) float64 {
	th := tK - referenceK
	return th * (s.c0[i] + 0.5*s.c1[i]*th)
}

func (s *Solver) temperature(i int, h float64) float64 {
	c0, c1 := s.c0[i], s.c1[i]
	if c1 == 0 {
		return referenceK + h/c0
	}
	// The root that does not cancel: th = 2h/(c0 + sqrt(c0^2 + 2 c1 h)).
	return referenceK + 2*h/(c0+math.Sqrt(math.Max(c0*c0+2*c1*h, 0)))
}

// Step moves the wheel by d.DtS seconds.
func (s *Solver) Step(d Drive) error {
	if !(d.DtS > 0) {
		return fmt.Errorf("heat step of %g s", d.DtS)
	}
	s.rub.divide(d, s.trackSurface())
	if err := s.advance(d, s.rub.film, s.rub.rimW/s.mesh.trackAreaM); err != nil {
		return err
	}
	s.rub.settle(d, s.trackSurface(), s.mesh.sunAreaM2, &s.bal)
	return nil
}

// swept is the surface of one row of the track. Between the flux through its
// face and the flux on to the next cell the cell's temperature is a parabola,
// not a line: while the skin warms up it is cooler than a line by a sixth of
// the difference.
func (s *Solver) swept(w *weight) float64 {
	half := s.mesh.faces[w.face].half
	c := s.stage[w.cell]
	in, on := (s.surf[w.face]-c)/half, w.g*(c-s.stage[w.next])
	return s.surf[w.face] - half/3*(in-on)
}

func (s *Solver) trackSurface() float64 {
	var t float64
	for i := range s.mesh.track {
		w := &s.mesh.track[i]
		t += w.w * s.swept(w)
	}
	return t
}

func (s *Solver) mean(ws []weight) float64 {
	var t float64
	for _, w := range ws {
		t += w.w * s.t[w.cell]
	}
	return t
}

// State tells the temperatures at the end of the last step.
func (s *Solver) State() State {
	st := State{
		WallK: s.mean(s.mesh.wall), SweptK: s.trackSurface(), ContactK: s.rub.contact,
		MidWallK: s.mean(s.mesh.midWall), InnerWallK: s.mean(s.mesh.innerWall),
		BedCentreK: s.mean(s.mesh.bedCentre), SpokeBedK: s.mean(s.mesh.spokeBed),
		TyreAirK: s.t[s.tyre], PadK: s.rub.blk.faceK,
	}
	for i := range s.mesh.track {
		st.HottestK = math.Max(st.HottestK, s.swept(&s.mesh.track[i]))
	}
	for _, j := range s.mesh.joint {
		a, b := s.t[j.above], s.t[j.below]
		st.FairingK = max(st.FairingK, a-j.over*(a-b), b+j.under*(a-b))
	}
	for _, c := range s.mesh.tyreFaces {
		st.TyreSideK = math.Max(st.TyreSideK, s.t[c])
	}
	return st
}

// Judged tells them at the end of the last step.
func (s *Solver) Judged() Judged { return s.State().judged() }

// Balance tells where the braking energy of both sides of the wheel went
// since Reset.
func (s *Solver) Balance() Balance {
	var now float64
	for _, h := range s.h {
		now += h
	}
	b := s.bal
	return Balance{Braked: 2 * b.Braked, Pads: 2 * b.Pads, Sun: 2 * b.Sun, In: 2 * b.In, Stored: 2 * (now - s.start), Lost: 2 * b.Lost}
}
