package ride

import (
	"math"
	"testing"

	"rimheat/thermal/air"
)

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.6g, want %.6g within %.2g", what, got, want, tol)
	}
}

// Source: the worked example in the appendix of J. C. Martin, D. L. Milliken,
// J. E. Cobb, K. L. McFadden, A. R. Coggan, "Validation of a mathematical
// model for road cycling power", J. Appl. Biomech. 14 (1998) 276-291, term by
// term (inputs from memory, arithmetic run again).
func TestMartinExample(t *testing.T) {
	const (
		v, vi, vf, seconds = 8.36, 8.28, 8.45, 56.42
		mass, crr, cda     = 90.0, 0.0032, 0.2565 + 0.0044
		rho, grade         = 1.2234, 0.003
	)
	near(t, "tangential wind", 2.94*math.Cos((340-310)*math.Pi/180), 2.55, 0.005)
	const head = 2.55 // as the paper rounds it
	// The paper takes g as 9.81.
	g := 9.81 / air.StandardGravity
	pAir := AirForce(rho, cda, v, head) * v
	pRoll := RollingForce(mass, crr, grade) * g * v
	pBearing := BearingForce(v) * v
	pSlope := -SlopeForce(mass, grade) * g * v
	pKinetic := 0.5 * EffectiveMass(mass) * (vf*vf - vi*vi) / seconds
	net := pAir + pRoll + pBearing + pSlope + pKinetic
	near(t, "air", pAir, 158.8, 0.1)
	near(t, "rolling", pRoll, 23.6, 0.1)
	near(t, "bearings", pBearing, 1.37, 0.1)
	near(t, "slope", pSlope, 22.1, 0.1)
	near(t, "kinetic", pKinetic, 2.30, 0.1)
	near(t, "net", net, 208.2, 0.1)
	near(t, "total", net/drivetrain, 213.1, 0.1)
	near(t, "total as printed", net/drivetrain, 213.3, 0.3)
}

// Source: closed form, P_max = (2/3) F v_t/sqrt(3) at v_t/sqrt(3) (derived).
func TestWorstSteadySpeed(t *testing.T) {
	for _, c := range []struct{ mass, grade, crr, rho, cda, force, vt, v, p float64 }{
		{85, 0.10, 0.005, 1.15, 0.38, 78.796, 18.990, 10.964, 575.94},
		{100, 0.13, 0.005, 1.15, 0.40, 121.560, 22.990, 13.273, 1075.65},
		{90, 0.08, 0.005, 1.112, 0.35, 65.984, 18.414, 10.631, 467.67},
	} {
		r := Resistance{CdAM2: c.cda, Crr: c.crr}
		vt := TerminalSpeed(c.mass, r, c.rho, -c.grade)
		near(t, "force", SlopeForce(c.mass, -c.grade)-RollingForce(c.mass, c.crr, -c.grade), c.force, 1e-4*c.force)
		near(t, "terminal speed", vt, c.vt, 1e-4*c.vt)
		// The worst speed is searched for, not computed from the closed form.
		best, at := 0.0, 0.0
		for v := 0.0; v < vt; v += 1e-3 {
			if p := SteadyBrakePower(c.mass, r, c.rho, -c.grade, v); p > best {
				best, at = p, v
			}
		}
		near(t, "worst speed", at, c.v, 2e-3)
		near(t, "worst speed over terminal", at/vt, 1/math.Sqrt(3), 1e-4)
		near(t, "most power", best, c.p, 1e-4*c.p)
	}
}

// Source: (b/h) cos th - sin th with b/h 0.5 at 10 % down: 0.398 g (derived).
func TestTippingLimit(t *testing.T) {
	near(t, "tipping", TippingG(-0.10), 0.398, 1e-3)
	near(t, "tipping on the level", TippingG(0), 0.5, 1e-12)
}
