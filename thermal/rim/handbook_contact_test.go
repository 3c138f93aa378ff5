package rim

import (
	"math"
	"testing"
)

// share is the part of the braking heat that goes into the wall m when two
// pads on a ring of radius r are pressed on it, both at one temperature at
// first: over the time from half to all of seconds, so that neither the first
// cell of the pad nor the first step counts. So fast a wheel has no flash, and
// both bodies have one mean temperature where they touch, as the formula says.
func share(t *testing.T, m Section, p Pad, r, thick, seconds float64) float64 {
	t.Helper()
	s := plate(t, m, thick, r, 2*2*math.Pi*r*p.Height.Value, p, Options{Resolution: Resolution{Factor: 2}})
	var half Balance
	brake(t, s, seconds/2, seconds/2000, baseK, even(10e3), nil)
	half = s.Balance()
	brake(t, s, seconds/2, seconds/2000, baseK, even(10e3), nil)
	b := s.Balance()
	if far := s.State().InnerWallK - baseK; far > 1e-3*(s.State().SweptK-baseK) {
		t.Errorf("the wall is no half space: its far side rose by %.3g K", far)
	}
	return (b.In - half.In) / (b.Braked - half.Braked)
}

// padMesh is by how much the heat of our block falls short of a half space's
// because its cells grow from the face inwards: 0.4 %; 1.9 % if they grew by
// 1.7 (derived by solving the same block with other cells).
const padMesh = 0.006

// Check 11. Source: R. Limpert, Brake Design and Safety, eq. 3-18 with the
// inputs of its author's worksheet: 0.8648, printed 0.865 (published). The
// formula by our effusivity meets it to 5e-4. Our pads leave 0.07 % more to the
// rotor than that, because of padMesh.
func TestHandbookShare(t *testing.T) {
	const r, height = 0.1, 1e-4
	m, p := stopRotor(), stopPad(r, height)
	e := m.Material.Effusivity(baseK)
	want := e / (e + effusivityOf(p))
	within(t, "e_r/(e_r+e_p)", want, 0.8648, 5e-5)
	within(t, "e_r/(e_r+e_p) as printed", want, stopShare, 5e-4)
	got := share(t, m, p, r, 0.1, 8)
	t.Logf("share of the rotor %.5f", got)
	near(t, "pads' part", 1-got, 1-0.8648, padMesh)
}

// Check 25. Source: both bodies at one mean contact temperature, weighted by
// area (T. P. Newcomb; R. Limpert; numbers derived): 50 mm of pad with 739 W
// s^0.5/(m2 K) on a ring of 306 mm, on carbon/epoxy, aluminium and a skin of
// glass/epoxy. By the formula with our effusivity to 1e-4, and so by our
// pads' division.
func TestHandbookShareByArea(t *testing.T) {
	const r = 0.306
	p := inert()
	p.Conductivity.Value, p.Density.Value, p.SpecificHeat.Value = 0.3, 1300, 1400
	p.Length.Value, p.Height.Value, p.Thickness.Value = 50e-3, 1e-4, 10e-3
	for _, c := range []struct {
		name                      string
		k, rho, c, thick, seconds float64
		want                      float64
	}{
		{"carbon/epoxy", 0.8, 1550, 1050, 0.03, 20, 0.98344},
		{"aluminium", 167, 2700, 896, 0.3, 20, 0.99904},
		{"glass/epoxy", 0.4, 1900, 900, 0.03, 20, 0.97729},
	} {
		m := bare(c.k, c.rho, c.c, Geometry{})
		eA := m.Material.Effusivity(baseK) * 2 * math.Pi * r
		within(t, c.name+" by the formula", eA/(eA+effusivityOf(p)*p.Length.Value), c.want, 1e-4)
		got := share(t, m, p, r, c.thick, c.seconds)
		t.Logf("%s: share %.5f, by the formula %.5f", c.name, got, c.want)
		within(t, c.name+" by our pads", got, c.want, 1e-4)
	}
}

// Check 24 for a hard stop: 500 W on 50 by 9 mm at 11.39 m/s: 72.8 K at the
// trailing edge and 48.5 K in the mean on carbon, 4.1 and 2.8 K on aluminium
// (J. C. Jaeger 1942, from memory; numbers derived).
func TestHandbookBandInAHardStop(t *testing.T) {
	const q = 500 / (50e-3 * 9e-3)
	for _, c := range []struct{ k, rho, c, max, mean, printed float64 }{
		{0.8, 1550, 1050, 72.8, 48.5, 0.05}, {167, 2700, 896, 4.1, 2.8, 0.05},
	} {
		e := bare(c.k, c.rho, c.c, Geometry{}).Material.Effusivity(baseK)
		f := FlashRise(e, 50e-3, 1e9, 11.39) // a wheel so large that the pad passes once
		within(t, "trailing edge", f.Max*q, c.max, c.printed+0.005*c.max)
		within(t, "mean", f.Mean*q, c.mean, c.printed+0.005*c.mean)
	}
}
