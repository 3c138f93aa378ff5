package rim

import (
	"bufio"
	"bytes"
	"cmp"
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"
)

// The kept results that the Solver's finer mesh is held to hold for the Reduced
// of that mesh as well: every sample of every place within 0.5 K or 1 % of its
// rise.
func TestReducedAgainstFiniteElements(t *testing.T) {
	for _, c := range elementsCases(t) {
		s := alone(t, c.sec, 1.4)
		m, err := s.reduced()
		if err != nil {
			t.Fatal(err)
		}
		m.Reset(300)
		var ours []elementsSample
		for i := 0; len(ours) < len(c.samples); i++ {
			mid := (float64(i) + 0.5) * c.dt
			w := weather{film: c.film, airK: 300}
			if mid > c.heat {
				w.film = c.coolFilm
			} else if math.Mod(mid, c.on+c.off) < c.on {
				w.flux = c.flux
			}
			if err := m.advanceFor(c.dt, w); err != nil {
				t.Fatal(err)
			}
			if float64(i+1)*c.dt >= c.samples[len(ours)].t-1e-9 {
				ours = append(ours, elementsSample{c.samples[len(ours)].t, placesOf(m.State(), 300)})
			}
		}
		if worst, where := off(ours, c.samples); worst > 1 {
			t.Errorf("%s, %d patterns: off by %.0f %% of what is allowed: %s", c.name, m.Patterns(), 100*worst, where)
		} else {
			t.Logf("%s, %d patterns: off by %.0f %% of what is allowed", c.name, m.Patterns(), 100*worst)
		}
	}
}

// reduced makes a Reduced of s as it is.
func (s *Solver) reduced() (*Reduced, error) {
	f := Family{rub: s.rub, alongs: 1, throughs: 1}
	if err := f.reduce([]*Solver{s}, aloneWorstK); err != nil {
		return nil, err
	}
	return f.New(), nil
}

// placesOf gives what the finite elements sample, above airK.
func placesOf(st State, airK float64) [5]float64 {
	return [5]float64{st.SweptK - airK, st.MidWallK - airK, st.InnerWallK - airK, st.BedCentreK - airK, st.SpokeBedK - airK}
}

// advanceFor is Step with film and flux given.
func (m *Reduced) advanceFor(dt float64, w weather) error {
	if err := m.advance(dt, w); err != nil {
		return err
	}
	m.sky = sky{w.film, w.flux, w.airK}
	m.sweptK = m.swept(m.trackMean, m.meanInner)
	return nil
}

// besideCase is a box section and a ride on it for the comparison with finite
// elements: specific heat that rises, radiation, films and fluxes given.
type besideCase struct {
	name string
	sec  Section
	// fine is the mesh of the finite elements, cells the Resolution of ours:
	// the coarsest that hold. watts is the size of the braking.
	fine, cells, watts float64
}

const (
	besideAirK  = referenceK // so that rises are counted from the reference
	besideSteps = 3 * 3600   // of 1 s
	besideEvery = 60         // seconds between samples
)

// besideCases are a deep carbon rim and a shallow metal one. Their meshes are
// the coarsest that hold 0.5 K or 1 % of the rise on every sample against finite
// elements half as large as their standard; BenchmarkMeshBeside finds them.
func besideCases() []besideCase {
	const mm = 1e-3
	matter := func(along, through, rho, c, rise, emissivity float64) Material {
		m := Material{ID: "beside", Name: "beside"}
		m.ConductivityAlong.Value, m.ConductivityThrough.Value = along, through
		m.Density.Value, m.SpecificHeat.Value, m.SpecificHeatRise.Value = rho, c, rise
		m.EmissivityTrack.Value, m.EmissivityBody.Value = emissivity, emissivity
		return m
	}
	return []besideCase{
		{"carbon", Section{ID: "beside carbon", Kind: "clincher", Material: matter(4, 0.65, 1550, 1000, 3.5, 0.85),
			Geometry: Geometry{Shape: Box, OuterWidthM: 25.6 * mm, InnerWidthM: 19 * mm, DepthM: 50 * mm, TrackHeightM: 9 * mm, TrackBelowEdgeM: mm,
				BedBelowEdgeM: 6.5 * mm, BedM: 1.2 * mm, FlankM: 0.9 * mm, SpokeBedM: 2.8 * mm, BeadSeatDiameterM: 0.622}}, 0.45, 1.6, 500},
		{"metal", Section{ID: "beside metal", Kind: "clincher", Material: matter(167, 167, 2700, 896, 0.5, 0.3),
			Geometry: Geometry{Shape: Box, OuterWidthM: 22 * mm, InnerWidthM: 18.4 * mm, DepthM: 22 * mm, TrackHeightM: 9 * mm, TrackBelowEdgeM: mm,
				BedBelowEdgeM: 6.5 * mm, BedM: 1.1 * mm, FlankM: mm, SpokeBedM: 1.4 * mm, BeadSeatDiameterM: 0.622}}, 0.15, 1, 900},
	}
}

// besideStep is one second of a ride.
type besideStep struct{ film, flux float64 }

// ride gives three hours: three descents with their climbs and flats, speed
// that wanders, brakes pulsed in bends, power that never stays.
func (c *besideCase) ride() []besideStep {
	rng := rand.New(rand.NewPCG(3, 1))
	g := c.sec.Geometry
	trackM2 := 2 * math.Pi * g.TrackRadiusM() * g.TrackHeightM
	steps := make([]besideStep, besideSteps)
	for i := range steps {
		s := float64(i)
		v := 9 + 4*math.Sin(s/97) + 2*math.Sin(s/23) + 0.6*(rng.Float64()-0.5)
		if i/60%37 == 36 {
			v = 0.5
		}
		// Near air.RimFilm, but the kept results must not move with it.
		steps[i].film = 8 + 8.5*math.Pow(v, 0.8)
		watts := c.watts * (1 + 0.6*math.Sin(s/41)) * (0.7 + 0.6*rng.Float64())
		if i%3600 < 2000 && i%17 < 9 {
			steps[i].flux = watts / 2 / trackM2
		}
	}
	return steps
}

// write puts section and ride where the finite elements read them.
func (c *besideCase) write(t testing.TB, dir string, ride []besideStep) {
	t.Helper()
	g, m := c.sec.Geometry, c.sec.Material
	var in, steps bytes.Buffer
	fmt.Fprintln(&in, g.OuterWidthM, g.InnerWidthM, g.DepthM, g.TrackHeightM, g.TrackBelowEdgeM, g.BedBelowEdgeM, g.BedM, g.FlankM, g.SpokeBedM, g.EdgeRadiusM())
	fmt.Fprintln(&in, m.ConductivityAlong.Value, m.ConductivityThrough.Value, m.Density.Value*m.SpecificHeat.Value)
	fmt.Fprintln(&steps, len(ride), 1, m.SpecificHeatRise.Value/m.SpecificHeat.Value, m.EmissivityBody.Value, besideAirK)
	for _, s := range ride {
		fmt.Fprintf(&steps, "%.10g %.10g\n", s.film, s.flux)
	}
	for name, b := range map[string][]byte{"case.txt": in.Bytes(), "ride.txt": steps.Bytes()} {
		if err := os.WriteFile(filepath.Join(dir, name), b, 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// besideRun is a run through the ride: samples, and wall-clock times.
type besideRun struct {
	samples         []elementsSample
	stepping, whole time.Duration
	note            string
}

// besideElements runs FreeFem++.
func besideElements(t testing.TB, solver, dir string, args ...string) besideRun {
	t.Helper()
	var r besideRun
	cmd := exec.Command(solver, append([]string{"-nw", "-v", "0", filepath.Join(elementsDir(), "ride.edp"),
		"-in", filepath.Join(dir, "case.txt"), "-ride", filepath.Join(dir, "ride.txt"), "-every", fmt.Sprint(besideEvery)}, args...)...)
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	start := time.Now()
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	var from time.Time
	for sc := bufio.NewScanner(out); sc.Scan(); {
		line := sc.Text()
		switch {
		case strings.HasPrefix(line, "# stepping"):
			from = time.Now()
			continue
		case strings.HasPrefix(line, "# done"):
			r.stepping = time.Since(from)
		}
		if strings.HasPrefix(line, "#") {
			r.note += strings.TrimPrefix(line, "#")
			continue
		}
		r.samples = append(r.samples, sampleOf(t, line))
	}
	if err := cmd.Wait(); err != nil {
		t.Fatal(err)
	}
	r.whole = time.Since(start)
	if len(r.samples) != besideSteps/besideEvery || r.stepping == 0 {
		t.Fatalf("%d samples, stepping took %v", len(r.samples), r.stepping)
	}
	return r
}

// advancer is what takes films and fluxes as they are.
type advancer interface {
	advanceBeside(w weather) error
	State() State
}

type besideFull struct{ *Solver }

func (s besideFull) advanceBeside(w weather) error {
	return s.advance(Drive{DtS: 1, AirK: w.airK}, w.film, w.flux)
}

type besideReduced struct{ *Reduced }

func (m besideReduced) advanceBeside(w weather) error { return m.advanceFor(1, w) }

// besideOurs runs one of our models, its making included in whole.
func besideOurs(t testing.TB, ride []besideStep, make func() (advancer, error)) besideRun {
	t.Helper()
	var r besideRun
	start := time.Now()
	m, err := make()
	if err != nil {
		t.Fatal(err)
	}
	from := time.Now()
	for i, s := range ride {
		if err := m.advanceBeside(weather{film: s.film, flux: s.flux, airK: besideAirK}); err != nil {
			t.Fatal(err)
		}
		if (i+1)%besideEvery == 0 {
			r.samples = append(r.samples, elementsSample{float64(i + 1), placesOf(m.State(), besideAirK)})
		}
	}
	r.stepping, r.whole = time.Since(from), time.Since(start)
	return r
}

// insulated is the section with nothing inside, as the finite elements have it.
func (c *besideCase) insulated(fine float64) (*Solver, error) {
	if err := c.sec.Validate(); err != nil {
		return nil, err
	}
	s := build(c.sec, inert(), Options{Resolution: Resolution{Factor: fine}})
	insulate(s)
	s.base[s.diag[s.cavity]] = 1e-9 // so that it has a temperature
	s.Reset(besideAirK)
	return s, nil
}

// off gives the largest difference as a part of 0.5 K or 1 % of the rise,
// whichever is more, with the place.
func off(a, b []elementsSample) (worst float64, where string) {
	for i, x := range a {
		for k, v := range x.places {
			if e := math.Abs(v-b[i].places[k]) / math.Max(0.5, 0.01*b[i].places[k]); e > worst {
				worst, where = e, fmt.Sprintf("%s at %g s: %.2f K beside %.2f K", elementsPlaces[k], x.t, v, b[i].places[k])
			}
		}
	}
	return worst, where
}

func middleRun(runs []besideRun) besideRun {
	slices.SortFunc(runs, func(a, b besideRun) int { return cmp.Compare(a.whole, b.whole) })
	return runs[len(runs)/2]
}

// full makes a Solver of the insulated section.
func (c *besideCase) full() (advancer, error) {
	s, err := c.insulated(c.cells)
	return besideFull{s}, err
}

// reduced makes a Reduced of the insulated section.
func (c *besideCase) reduced() (advancer, error) {
	s, err := c.insulated(c.cells)
	if err != nil {
		return nil, err
	}
	m, err := s.reduced()
	if err != nil {
		return nil, err
	}
	m.Reset(besideAirK)
	return besideReduced{m}, nil
}

var renewRides = flag.Bool("renew-rides", false, "BenchmarkBesideFiniteElements writes testdata/finite_elements/ride again")

func (c *besideCase) keptFile() string {
	return filepath.Join(elementsDir(), "ride", c.name+".out")
}

// kept reads the kept results on the fine mesh.
func (c *besideCase) kept(t testing.TB) []elementsSample {
	t.Helper()
	out, err := os.ReadFile(c.keptFile())
	if err != nil {
		t.Fatal(err)
	}
	var kept []elementsSample
	for line := range strings.Lines(string(out)) {
		if !strings.HasPrefix(line, "#") {
			kept = append(kept, sampleOf(t, line))
		}
	}
	if len(kept) != besideSteps/besideEvery {
		t.Fatalf("%s: %d samples", c.keptFile(), len(kept))
	}
	return kept
}

// sampleOf reads a line that the finite elements wrote.
func sampleOf(t testing.TB, line string) (s elementsSample) {
	t.Helper()
	p := &s.places
	if _, err := fmt.Sscan(line, &s.t, &p[0], &p[1], &p[2], &p[3], &p[4]); err != nil {
		t.Fatalf("%q: %v", line, err)
	}
	return s
}

// hold holds the kept results against what the elements give now, or writes
// them.
func (c *besideCase) hold(t testing.TB, now besideRun) {
	t.Helper()
	if *renewRides {
		var out bytes.Buffer
		fmt.Fprintf(&out, "#%s\n", now.note)
		for _, s := range now.samples {
			fmt.Fprintf(&out, "%g %.6g %.6g %.6g %.6g %.6g\n", s.t, s.places[0], s.places[1], s.places[2], s.places[3], s.places[4])
		}
		if err := os.WriteFile(c.keptFile(), out.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	kept := c.kept(t)
	for i, s := range now.samples {
		for k, v := range s.places {
			if d := v - kept[i].places[k]; math.Abs(d) > 0.05 {
				t.Errorf("%s at %g s, %s: %.4f K, kept %.4f K", c.name, s.t, elementsPlaces[k], v, kept[i].places[k])
			}
		}
	}
}

// Source: finite elements (FreeFem++, quadratic triangles, ride.edp), kept
// results: three hours of braking with specific heat that rises and radiation,
// film and power given anew each second. Solver and Reduced, on the meshes of
// the comparison of speed: within 0.5 K or 1 % of the rise on every sample of
// every place.
func TestRideAgainstFiniteElements(t *testing.T) {
	for _, c := range besideCases() {
		ride, want := c.ride(), c.kept(t)
		for _, m := range []struct {
			name string
			make func() (advancer, error)
		}{{"solver", c.full}, {"reduced", c.reduced}} {
			worst, where := off(besideOurs(t, ride, m.make).samples, want)
			t.Logf("%s, %s: off by %.0f %% of what is allowed (%s)", c.name, m.name, 100*worst, where)
			if worst > 1 {
				t.Errorf("%s, %s: %s", c.name, m.name, where)
			}
		}
	}
}

// Three hours given second by second, through finite elements, the Solver and
// the Reduced, in one run, by one thread each, with the same input. Every sample
// of every place of each is held to 0.5 K or 1 % of the rise against finite
// elements on a fine mesh, run beside them; each has the coarsest mesh that
// holds. Reported are ratios of wall-clock times: x_full and x_reduced are whole
// against whole (making, reading and meshing included), the finite elements
// keeping factors as long as iteration with them pays, as the Solver does;
// x_reduced_steps is the stepping alone. With _anew their factors are made at
// each step, since film and specific heat move at each: what a plain script
// does. Ours is the middle of fifteen runs. It needs FreeFem++ and two minutes.
func BenchmarkBesideFiniteElements(b *testing.B) {
	eachBeside(b, (*besideCase).beside)
}

// eachBeside runs a comparison on each case where FreeFem++ is installed.
func eachBeside(b *testing.B, run func(c *besideCase, b *testing.B, solver string)) {
	solver, err := exec.LookPath("FreeFem++")
	if err != nil {
		b.Skip("FreeFem++ is not installed (Debian packages freefem++ and libfreefem++)")
	}
	for _, c := range besideCases() {
		b.Run(c.name, func(b *testing.B) {
			for b.Loop() {
				run(&c, b, solver)
			}
		})
	}
}

func (c *besideCase) beside(b *testing.B, solver string) {
	dir, ride := b.TempDir(), c.ride()
	c.write(b, dir, ride)
	fine := fmt.Sprint(c.fine)
	best := besideElements(b, solver, dir, besideBest()...)
	c.hold(b, best)
	// A burst of other work on the machine must not meet all of our short runs.
	var fulls, reduceds []besideRun
	oursAgain := func() {
		for range 5 {
			fulls = append(fulls, besideOurs(b, ride, c.full))
			reduceds = append(reduceds, besideOurs(b, ride, c.reduced))
		}
	}
	oursAgain()
	anew := besideElements(b, solver, dir, "-fine", fine)
	oursAgain()
	kept := besideElements(b, solver, dir, "-fine", fine, "-keep", "0.2", "-warm", "20")
	oursAgain()
	full, reduced := middleRun(fulls), middleRun(reduceds)
	rise := 0.0
	for _, s := range best.samples {
		rise = max(rise, s.places[0])
	}
	b.Logf("%s: swept mean up to %.0f K above the air", c.name, rise)
	for _, x := range []struct {
		name string
		r    besideRun
	}{{"elements, fine mesh", best}, {"elements, factors anew", anew}, {"elements, factors kept", kept}, {"solver", full}, {"reduced", reduced}} {
		worst, where := off(x.r.samples, best.samples)
		b.Logf("%s, %s: stepping %.4g s, whole %.4g s; off by %.0f %% of what is allowed (%s);%s", c.name, x.name, x.r.stepping.Seconds(), x.r.whole.Seconds(), 100*worst, where, x.r.note)
		if worst > 1 {
			b.Errorf("%s, %s: %s", c.name, x.name, where)
		}
	}
	if rise < 80 {
		b.Errorf("%s: a rise of %.0f K tests little", c.name, rise)
	}
	ratio := func(x, y time.Duration) float64 { return x.Seconds() / y.Seconds() }
	for _, x := range []struct {
		name   string
		theirs besideRun
	}{{"", kept}, {"_anew", anew}} {
		b.ReportMetric(ratio(x.theirs.whole, full.whole), "x_full"+x.name)
		b.ReportMetric(ratio(x.theirs.whole, reduced.whole), "x_reduced"+x.name)
		b.ReportMetric(ratio(x.theirs.stepping, reduced.stepping), "x_reduced_steps"+x.name)
	}
	b.ReportMetric(1e3*reduced.whole.Seconds(), "ms_reduced")
}

// besideBest are the options of the reference: half the standard cells.
func besideBest() []string { return []string{"-fine", "2", "-keep", "0.1", "-warm", "12"} }

// How coarse may finite elements and Solver be? Each mesh on the same ride
// against the reference.
func BenchmarkMeshBeside(b *testing.B) { eachBeside(b, (*besideCase).meshes) }

func (c *besideCase) meshes(b *testing.B, solver string) {
	dir := b.TempDir()
	ride := c.ride()
	c.write(b, dir, ride)
	best := besideElements(b, solver, dir, besideBest()...)
	for _, fine := range []float64{0.15, 0.25, 0.35, 0.45, 0.6, 1} {
		r := besideElements(b, solver, dir, "-fine", fmt.Sprint(fine), "-keep", "0.1", "-warm", "12")
		worst, where := off(r.samples, best.samples)
		b.Logf("%s, mesh %g: off by %.0f %% of what is allowed (%s); %.3g s;%s", c.name, fine, 100*worst, where, r.whole.Seconds(), r.note)
		if fine == c.fine && worst > 1 {
			b.Errorf("%s: a mesh of %g is too coarse", c.name, fine)
		}
	}
	for _, cells := range []float64{1, 1.2, 1.4, 1.6, 2} {
		n := 0
		r := besideOurs(b, ride, func() (advancer, error) {
			s, err := c.insulated(cells)
			if err == nil {
				n = s.Cells()
			}
			return besideFull{s}, err
		})
		worst, where := off(r.samples, best.samples)
		b.Logf("%s, Solver's mesh %g of %d cells: off by %.0f %% of what is allowed (%s); %.3g s", c.name, cells, n, 100*worst, where, r.whole.Seconds())
		if cells == c.cells && worst > 1 {
			b.Errorf("%s: a mesh of %g is too coarse", c.name, cells)
		}
	}
}
