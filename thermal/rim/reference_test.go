package rim

import (
	"math"
	"testing"
)

// bare is a rim of one isotropic material without radiation, for comparison
// with closed forms.
func bare(k, rho, c float64, g Geometry) Section {
	q := func(v float64) Quantity { return Quantity{Value: v} }
	return Section{ID: "bare", Kind: "clincher", Geometry: g, Material: Material{
		Name: "test", ConductivityAlong: q(k), ConductivityThrough: q(k), Density: q(rho), SpecificHeat: q(c),
	}}
}

// block20 is a solid wall 20 mm thick: for seconds, a half space.
var block20 = Geometry{Shape: Box, OuterWidthM: 0.06, InnerWidthM: 0.02, DepthM: 0.06, TrackHeightM: 0.02,
	TrackBelowEdgeM: 0.005, BedBelowEdgeM: 0.015, BedM: 0.002, FlankM: 0.02, SpokeBedM: 0.01, BeadSeatDiameterM: 0.7}

// inert is a pad that takes no heat.
func inert() Pad {
	p := Pads()[0]
	p.Conductivity.Value = 1e-12
	return p
}

// alone makes a solver whose cavity and tyre take no heat, at 0 K above a
// base of 300 K.
func alone(t *testing.T, sec Section, fine float64) *Solver {
	t.Helper()
	s := build(sec, inert(), Options{Resolution: Resolution{Factor: fine}})
	insulate(s)
	s.Reset(300)
	return s
}

// insulate cuts a solver's cavity and tyre off from the section.
func insulate(s *Solver) {
	clear(s.base)
	for _, l := range s.mesh.links {
		s.base[s.a.at(l.b, l.a)] -= l.g
		s.base[s.diag[l.a]] += l.g
		s.base[s.diag[l.b]] += l.g
	}
	s.cavG, s.tyreG = nil, nil
	s.base[s.diag[s.tyre]] = tyreLossWPerK / 2
}

func run(t *testing.T, s *Solver, seconds, dt, film, flux float64) {
	t.Helper()
	for x := 0.0; x < seconds-1e-9; x += dt {
		if err := s.advance(Drive{DtS: dt, AirK: 300}, film, flux); err != nil {
			t.Fatal(err)
		}
	}
}

func near(t *testing.T, what string, got, want, rel float64) {
	t.Helper()
	if !(math.Abs(got-want) <= rel*math.Abs(want)) {
		t.Errorf("%s = %.6g, want %.6g within %.2g relative", what, got, want, rel)
	}
}

// middle gives surface and interior temperature rise at depth m in the row
// nearest the middle of the track, by linear interpolation between cells.
func middle(s *Solver, depth float64) float64 {
	track := s.mesh.track
	w := track[len(track)/2]
	if depth == 0 {
		return s.surf[w.face] - 300
	}
	x := s.mesh.cells[w.cell].dx / 2
	for c := w.cell; ; c++ {
		d := (s.mesh.cells[c].dx + s.mesh.cells[c+1].dx) / 2
		if x+d >= depth {
			f := (depth - x) / d
			return s.t[c]*(1-f) + s.t[c+1]*f - 300
		}
		x += d
	}
}

// Source: H. S. Carslaw, J. C. Jaeger, Conduction of Heat in Solids, 2.9:
// half space under constant flux, 10 kW/m2 for 10 s; numbers derived from it.
func TestHalfSpaceUnderFlux(t *testing.T) {
	s := alone(t, bare(0.8, 1550, 1050, block20), 2)
	run(t, s, 10, 0.25, 0, 10e3)
	near(t, "surface", middle(s, 0), 31.272, 0.003)
	near(t, "1 mm", middle(s, 1e-3), 20.349, 0.006)
	near(t, "2 mm", middle(s, 2e-3), 12.426, 0.010)
	// The standard mesh with the standard step.
	s = alone(t, bare(0.8, 1550, 1050, block20), 1)
	run(t, s, 10, 1, 0, 10e3)
	near(t, "surface, standard mesh", middle(s, 0), 31.272, 0.003)
}

// Source: as above, with aluminium, 2 q sqrt(alpha t/pi)/k, while heat has run
// 2 mm; TestHandbookHalfSpaceFlux has it after 10 s.
func TestHalfSpaceUnderFluxMetal(t *testing.T) {
	const k, rho, c, q, sec = 167.0, 2700.0, 896.0, 10e3, 0.05
	rise := func(t float64) float64 { return 2 * q * math.Sqrt(k/(rho*c)*t/math.Pi) / k }
	s := alone(t, bare(k, rho, c, block20), 6)
	run(t, s, sec, 0.0005, 0, q)
	near(t, "surface", middle(s, 0), rise(sec), 0.003)
}

// Source: Carslaw & Jaeger; Incropera & DeWitt eq. 5.63: half space whose
// surroundings step by 100 K, h 50 W/m2K, 60 s: 0.29171 of the step.
func TestHalfSpaceConvectiveStep(t *testing.T) {
	const rhoC = 0.8 / 4.9155e-7
	sec := bare(0.8, 1550, rhoC/1550, block20)
	s := alone(t, sec, 1)
	for range 120 {
		if err := s.advance(Drive{DtS: 0.5, AirK: 400}, 50, 0); err != nil {
			t.Fatal(err)
		}
	}
	near(t, "surface", middle(s, 0)/100, 0.29171, 0.003)
}

// Source: lumped body, T = q/(hA) (1 - exp(-hA t/(m c))) (derived): a rim of a
// material that conducts so well that it is one temperature.
func TestLumpedBody(t *testing.T) {
	g := byID(t, "alu-classic").Geometry
	sec := bare(500, 2700, 896, g)
	s := alone(t, sec, 1)
	var area, heat float64
	for _, f := range s.mesh.faces {
		if f.kind <= faceOuter {
			area += f.areaM
		}
	}
	for _, c := range s.c0[:s.mesh.n] {
		heat += c
	}
	// A small film keeps the Biot number, and with it the gradients, small.
	const film, flux = 2.0, 200.0
	tau := heat / (film * area)
	for _, part := range []float64{0.5, 1, 3} {
		s.Reset(300)
		run(t, s, part*tau, part*tau/200, film, flux)
		want := flux * s.mesh.trackAreaM / (film * area) * (1 - math.Exp(-part))
		near(t, "rise", s.mean(s.mesh.spokeBed)-300, want, 0.004)
		near(t, "rise of the track", s.mean(s.mesh.wall)-300, want, 0.004)
	}
	// And cooling from there: T = T1 exp(-hA t/(m c)).
	from := s.mean(s.mesh.spokeBed) - 300
	run(t, s, tau, tau/200, film, 0)
	near(t, "rise after cooling for one time constant", s.mean(s.mesh.spokeBed)-300, from*math.Exp(-1), 0.004)
}

// Source: straight fin of uniform section with adiabatic tip, one face cooled:
// efficiency tanh(mL)/(mL) = 0.5527 for k 5, t 1.4 mm, h 50, L 20 mm
// (Incropera & DeWitt, 3.6; a cooled tip counts as a length t more). The
// section is a strip 1.4 mm thick on a wheel so large that it is straight,
// heated above and a fin below.
func TestStraightFinEfficiency(t *testing.T) {
	const thick, length, h = 1.4e-3, 20e-3, 50.0
	g := Geometry{Shape: Box, OuterWidthM: 2 * thick, TrackHeightM: 0.009, TrackBelowEdgeM: 0.001, BedBelowEdgeM: 0.0065,
		BedM: 0.001, FlankM: thick, SpokeBedM: 2e-3, BeadSeatDiameterM: 1e4}
	g.DepthM = g.wallEndM() + length - thick
	s := alone(t, bare(5, 2000, 1000, g), 2)
	for range 20 {
		if err := s.advance(Drive{DtS: 5000, AirK: 300}, h, 5e3); err != nil {
			t.Fatal(err)
		}
	}
	// Rows above and below the fin's base, and the heat that crosses it.
	base := g.EdgeRadiusM() - g.wallEndM()
	above := func(i int) bool { return s.mesh.cells[i].radiusM > base }
	var heat, up, down, ups, downs float64
	for _, l := range s.mesh.links {
		if above(l.a) && !above(l.b) {
			heat += l.g * (s.t[l.a] - s.t[l.b])
			ca, cb := s.mesh.cells[l.a], s.mesh.cells[l.b]
			up, ups = up+ca.dx*s.t[l.a], ups+ca.dx
			down, downs = down+cb.dx*s.t[l.b], downs+cb.dx
			if math.Abs(ca.ds-cb.ds) > 0.5*ca.ds {
				t.Fatal("rows at the base differ too much for a mean")
			}
		}
	}
	i := s.mesh.track[len(s.mesh.track)-1].cell
	ca := s.mesh.cells[i]
	var cb cell
	for _, l := range s.mesh.links {
		if l.a == i && !above(l.b) {
			cb = s.mesh.cells[l.b]
		}
	}
	theta := (up/ups*cb.ds+down/downs*ca.ds)/(ca.ds+cb.ds) - 300
	around := 2 * math.Pi * base
	near(t, "fin efficiency", heat/(h*around*length*theta), 0.5527, 0.005)
}

// Source: annular fin of rectangular profile, one face cooled, heated at its
// outer circle and long: the steady temperature falls inwards as I0(m r),
// m = sqrt(h/(k t)) (Incropera & DeWitt, annular fins). The straight fin of
// k 5, t 1.4 mm, h 50 has m = 84.52 1/m.
func TestFlankIsAFin(t *testing.T) {
	g := Geometry{Shape: Box, OuterWidthM: 0.022, InnerWidthM: 0.0192, DepthM: 0.1, TrackHeightM: 0.009,
		TrackBelowEdgeM: 0.001, BedBelowEdgeM: 0.0065, BedM: 0.001, FlankM: 1.4e-3, SpokeBedM: 2e-3, BeadSeatDiameterM: 0.622}
	s := alone(t, bare(5, 2000, 1000, g), 4)
	for range 40 {
		if err := s.advance(Drive{DtS: 3000, AirK: 300}, 50, 5e3); err != nil {
			t.Fatal(err)
		}
	}
	m := math.Sqrt(50 / (5 * 1.4e-3))
	near(t, "m", m, 84.52, 1e-4)
	// Mean temperature of each row of the flank, by radius.
	var rs, ts []float64
	for i := 0; i < s.mesh.n; {
		r, sum, vol, x := s.mesh.cells[i].radiusM, 0.0, 0.0, 0.0
		for ; i < s.mesh.n && s.mesh.cells[i].radiusM == r; i++ {
			c := s.mesh.cells[i]
			sum += c.volumeM3 * (s.t[i] - 300)
			vol += c.volumeM3
			x += c.dx
		}
		below := g.EdgeRadiusM() - g.wallEndM() - r
		if below > 3e-3 && below < 40e-3 && math.Abs(x-g.FlankM) < 1e-9 {
			rs, ts = append(rs, r), append(ts, sum/vol)
		}
	}
	if len(rs) < 10 {
		t.Fatalf("only %d rows of flank", len(rs))
	}
	// The far end is more than four decay lengths away.
	last := len(rs) - 1
	for i := range last {
		got, want := math.Log(ts[i]/ts[last]), math.Log(besselI0(m*rs[i])/besselI0(m*rs[last]))
		near(t, "decay along the fin", got, want, 0.01)
	}
}

// besselI0 is the power series (Abramowitz & Stegun 9.6.12).
func besselI0(x float64) float64 {
	sum, term := 1.0, 1.0
	for k := 1; k < 200; k++ {
		term *= x * x / 4 / float64(k*k)
		sum += term
	}
	return sum
}

// Source: Fourier's law: 10 kW/m2 through 1.6 mm of k 0.8 is 20.0 K. The film
// holds the inner face of nothing here, so the check is of the resistances
// that the mesh adds up from the track's surface to its last cell.
func TestSlabResistance(t *testing.T) {
	g := byID(t, "carbon-deep").Geometry
	g.InnerWidthM = g.OuterWidthM - 3.2e-3
	s := alone(t, bare(0.8, 1550, 1050, g), 1)
	w := s.mesh.track[2]
	r := s.mesh.faces[w.face].half
	last := w.cell
	area := s.mesh.faces[w.face].areaM
	for _, l := range s.mesh.links {
		if l.a == last && l.b == last+1 {
			r += area / l.g
			last++
		}
	}
	r += s.mesh.cells[last].halfX
	near(t, "10 kW/m2 through 1.6 mm", 10e3*r, 20.0, 1e-9)
}

// Source: J. C. Jaeger 1942, band source at high Peclet number, 175 W on 55 by
// 9 mm at 8.333 m/s: 28.40 K at the trailing edge and 18.94 K in the mean on
// carbon of effusivity 1141.05, 1.61 and 1.07 K on aluminium of 20,100
// (derived). FlashRise also takes off what the track's mean already holds.
func TestFlashAgainstJaeger(t *testing.T) {
	const q = 175 / (55e-3 * 9e-3)
	back := func(r float64) float64 { return 1 + math.Sqrt(55e-3/(2*math.Pi*r))*zetaHalf/2 }
	for _, c := range []struct{ e, max, mean float64 }{{1141.05, 28.40, 18.94}, {20100, 1.61, 1.07}} {
		// So large a wheel that the pad passes but once.
		f := FlashRise(c.e, 55e-3, 1e9, 8.333)
		near(t, "trailing edge", f.Max*q, c.max, 0.005)
		near(t, "mean", f.Mean*q, c.mean, 0.005)
		near(t, "at a wheel's radius", FlashRise(c.e, 55e-3, 0.306, 8.333).Max*q, c.max*back(0.306), 0.005)
	}
}

// The sum over all earlier passes of the pad, less the same heat smeared over
// the turn, against FlashRise. Source: superposition of the half space under
// constant flux (Carslaw & Jaeger 2.9).
func TestFlashIsASumOfPasses(t *testing.T) {
	const e, length, radius, v = 1141.05, 50e-3, 0.306, 8.333
	turn := 2 * math.Pi * radius / v
	on := length / v
	var sum float64
	const turns = 400000
	for k := range turns {
		sum += math.Sqrt(float64(k)*turn+on) - math.Sqrt(float64(k)*turn)
	}
	smeared := on / turn * math.Sqrt((turns-1)*turn+on)
	want := 2 / (e * math.Sqrt(math.Pi)) * (sum - smeared)
	near(t, "flash", FlashRise(e, length, radius, v).Max, want, 0.005)
}

// Source: both bodies at one mean contact temperature (Newcomb; Limpert):
// share = e_r A_r/(e_r A_r + e_p A_p). It follows from two half
// spaces that share a surface whose temperature rises as S sqrt(t): each takes
// e S sqrt(pi)/2 per area and second (Carslaw & Jaeger 2.5). The pad's cells
// must take that while neither body is warmed through; the track itself, only
// 20 mm high, loses some 4 % past its borders in the time, so its own S is
// used. TestHandbookShareByArea has walls without borders, and metal.
func TestShareAtShortTimes(t *testing.T) {
	g, p := block20, Pads()[1]
	p.Height.Value = g.TrackHeightM
	s, err := NewSolver(bare(0.8, 1550, 1050, g), p, Options{Resolution: Resolution{Factor: 2}, FilmFactor: 1e-9})
	if err != nil {
		t.Fatal(err)
	}
	s.Reset(300)
	// At a very high speed the flash vanishes, which is what "one mean
	// temperature" means.
	const n, dt = 60, 0.05
	for range n {
		if err := s.Step(Drive{DtS: dt, PowerW: 400, OnPart: 1, RollMps: 1e9, AirK: 300, PressurePa: 101325}); err != nil {
			t.Fatal(err)
		}
	}
	eP, area := math.Sqrt(0.3*1300*1400), 50e-3*g.TrackHeightM
	S := (s.State().SweptK - 300) / math.Sqrt(n*dt)
	near(t, "heat of both pads", s.Balance().Pads, 2*eP*area*S*math.Sqrt(math.Pi)/2*n*dt, 0.04)

	eR := math.Sqrt(0.8 * 1550 * 1050)
	r := g.TrackRadiusM()
	want := eR * 2 * math.Pi * r / (eR*2*math.Pi*r + eP*50e-3)
	b := s.Balance()
	near(t, "pads' part of the heat", 1-b.In/b.Braked, 1-want, 0.10)
}

func byID(t testing.TB, id string) Section {
	t.Helper()
	for _, s := range Rims() {
		if s.ID == id {
			return s
		}
	}
	t.Fatalf("no rim %s", id)
	return Section{}
}

func padFor(s Section) Pad {
	for _, p := range Pads() {
		if p.ForComposite == s.TrackMaterial().Composite {
			return p
		}
	}
	return Pad{}
}
