package rim

import (
	"math"
	"testing"
)

// Checks 15 and 16. Source: half space under constant flux, 10 kW/m2 for 10 s
// (H. S. Carslaw, J. C. Jaeger, Conduction of Heat in Solids, 2.9, from
// memory; numbers derived): carbon/epoxy at the surface, 1 and 2 mm deep, and
// aluminium, whose wall must be 0.3 m thick to be a half space for so long.
func TestHandbookHalfSpaceFlux(t *testing.T) {
	s := wall(t, 0.8, 1550, 1050, 0.03, 0, 8)
	brake(t, s, 10, 0.05, baseK, even(10e3), nil)
	near(t, "carbon, surface", s.State().SweptK-baseK, 31.272, 0.003)
	near(t, "carbon, 1 mm", middle(s, 1e-3), 20.349, 0.003)
	near(t, "carbon, 2 mm", middle(s, 2e-3), 12.426, 0.003)
	t.Logf("carbon %.3f, %.3f, %.3f K", s.State().SweptK-baseK, middle(s, 1e-3), middle(s, 2e-3))

	s = wall(t, 167, 2700, 896, 0.3, 0, 2)
	brake(t, s, 10, 0.05, baseK, even(10e3), nil)
	near(t, "aluminium, surface", s.State().SweptK-baseK, 1.7753, 0.001)
	t.Logf("aluminium %.5f K", s.State().SweptK-baseK)
}

// Check 17. Source: half space whose air steps by 10 K under a film of 50
// W/(m2 K) for 60 s: 0.29171 of the step (Carslaw & Jaeger 2.7; F. P.
// Incropera, D. P. DeWitt, Fundamentals of Heat and Mass Transfer, eq. 5.63,
// from memory; number derived).
func TestHandbookHalfSpaceFilm(t *testing.T) {
	const alpha = 4.9155e-7
	s := wall(t, 0.8, 1600, 0.8/alpha/1600, 0.06, 50, 4)
	brake(t, s, 60, 0.25, baseK+10, even(0), nil)
	near(t, "surface", (s.State().SweptK-baseK)/10, 0.29171, 0.003)
	t.Logf("surface %.5f of the step", (s.State().SweptK-baseK)/10)
}

// Check 18. Source: half space whose surface steps, erfc(x/(2 sqrt(alpha t)))
// = 0.45666 at 25 mm after 30 s with alpha 18.8e-6 m2/s (derived). A film of
// 1e9 W/(m2 K) holds the surface.
func TestHandbookHalfSpaceHeldSurface(t *testing.T) {
	const k = 50.0
	s := wall(t, k, 5000, k/18.8e-6/5000, 0.2, 1e9, 8)
	brake(t, s, 30, 0.05, baseK+10, even(0), nil)
	within(t, "25 mm deep", middle(s, 25e-3)/10, 0.45666, 1e-4)
	t.Logf("%.6f of the step", middle(s, 25e-3)/10)
}

// Check 19. Source: how deep to bury a pipe, a worked example of Incropera &
// DeWitt, chapter 5 (from memory): soil of 0.138e-6 m2/s at 20 °C whose
// surface falls to -15 °C is at 0 °C 0.677 m deep after 60 days, 0.68 m in the
// book.
func TestHandbookBurialDepth(t *testing.T) {
	const k, days = 0.52, 60.0
	s := wall(t, k, 2050, k/0.138e-6/2050, 4, 1e9, 0.1)
	brake(t, s, days*86400, 3600, baseK-35, even(0), nil)
	// 0 °C is 20 K below the soil's start.
	lo, hi := 0.3, 1.2
	for hi-lo > 1e-5 {
		if x := (lo + hi) / 2; middle(s, x) < -20 {
			lo = x
		} else {
			hi = x
		}
	}
	within(t, "depth, m", lo, 0.677, 0.005)
	t.Logf("depth %.4f m", lo)
}

// Check 20. Source: plane wall at Biot 1 and Fourier 1, middle plane 0.5339 of
// the step (first term 1.1191 exp(-0.8603^2); Incropera & DeWitt, table 5.1,
// from memory).
func TestHandbookPlaneWall(t *testing.T) {
	const k, half = 0.8, 5e-3
	const rho, c = 1600.0, 1000.0
	s := wall(t, k, rho, c, half, k/half, 4)
	brake(t, s, half*half*rho*c/k, half*half*rho*c/k/400, baseK-10, even(0), nil)
	got := 1 + (s.State().InnerWallK-baseK)/10
	within(t, "middle plane", got, 0.5339, 1e-4)
	within(t, "surface", 1+(s.State().SweptK-baseK)/10, 0.5339*math.Cos(0.8603), 1e-4)
	t.Logf("middle plane %.5f", got)
}

// Check 22. Source: straight fin of uniform section with adiabatic tip, one
// face cooled, k 5, t 1.4 mm, h 50, L 20 mm: m 84.52 1/m, efficiency
// tanh(mL)/(mL) = 0.5527 (Incropera & DeWitt, 3.6, from memory). The theory
// knows no gradient across the fin, so the material conducts across it a
// thousand times better than along; TestStraightFinEfficiency in
// reference_test.go has the same fin isotropic.
func TestHandbookFin(t *testing.T) {
	const thick, length, h, k = 1.4e-3, 20e-3, 50.0, 5.0
	g := Geometry{Shape: Box, OuterWidthM: 2 * thick, FlankM: thick, TrackHeightM: 5e-3, DepthM: 5e-3 + length, BeadSeatDiameterM: 1e4}
	m := bare(k, 2000, 1000, g)
	m.Material.ConductivityThrough.Value = 1e3 * k
	s := build(m, inert(), Options{NoPads: true, FilmWPerM2K: h, Resolution: Resolution{Factor: 8}})
	base := g.EdgeRadiusM() - g.TrackHeightM
	tip := math.Inf(1)
	for _, c := range s.mesh.cells {
		tip = math.Min(tip, c.radiusM)
	}
	closed := false
	for i := range s.mesh.faces {
		f := &s.mesh.faces[i]
		if c := s.mesh.cells[f.cell]; f.kind == faceOuter && c.radiusM == tip && f.half == c.halfS {
			f.areaM, closed = 0, true
		}
	}
	if !closed {
		t.Fatal("the fin has no tip")
	}
	s.Reset(baseK)
	brake(t, s, 1e6, 5e4, baseK, even(2e3), nil)
	var heat, area, sum float64
	for _, l := range s.mesh.links {
		a, b := s.mesh.cells[l.a], s.mesh.cells[l.b]
		if a.radiusM > base && b.radiusM < base {
			heat += l.g * (s.t[l.a] - s.t[l.b])
			// Temperature where the two cells meet.
			sum += a.dx * (s.t[l.a]/a.halfS + s.t[l.b]/b.halfS) / (1/a.halfS + 1/b.halfS)
			area += a.dx
		}
	}
	theta := sum/area - baseK
	mL := math.Sqrt(h/(k*thick)) * length
	near(t, "m, 1/m", mL/length, 84.52, 1e-4)
	got := heat / (2 * math.Pi * base * length * h * theta)
	within(t, "efficiency", got, 0.5527, 1e-4)
	t.Logf("efficiency %.5f, closed form %.5f, base +%.2f K", got, math.Tanh(mL)/mL, theta)
}

// Check 23. Source: Fourier's law, 10 kW/m2 through 1.6 mm of k 0.8 is 20.0 K.
// TestSlabResistance in reference_test.go holds the resistances to it. In a
// wall of 3.2 mm that no heat leaves, the flow falls in a line to nothing at
// its far face, so that the faces are 20.0 K apart too once the first seconds
// are over. There, between cells of unequal size, the mesh is of second order:
// 0.5 % as routes use it. The swept face is qL/(3k), 13.333 K, above the mean
// (Carslaw & Jaeger 3.8, from memory; derived); that, on the mesh of routes, is
// what sees how the surface is told from the cells behind it.
func TestHandbookSlab(t *testing.T) {
	steady := func(fine float64) State {
		s := wall(t, 0.8, 1550, 1050, 3.2e-3, 0, fine)
		brake(t, s, 300, 0.5, baseK, even(10e3), nil)
		return s.State()
	}
	apart := func(fine float64) float64 { return steady(fine).SweptK - steady(fine).InnerWallK }
	route := steady(1)
	near(t, "swept face over the mean, mesh of routes", route.SweptK-route.WallK, 10e3*3.2e-3/(3*0.8), 0.002)
	near(t, "with the mesh of routes", apart(1), 20.0, 0.006)
	four, eight := apart(4), apart(8)
	near(t, "with cells an eighth as large", eight, 20.0, 2e-4)
	if ratio := (20 - four) / (20 - eight); !(ratio > 3.5 && ratio < 4.5) {
		t.Errorf("halving the cells divides the error by %.2f, not by 4", ratio)
	}
}
