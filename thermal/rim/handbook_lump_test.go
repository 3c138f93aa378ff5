package rim

import (
	"math"
	"testing"
)

// Check 21. Source: continued braking of a lump, T = T_inf + q/(hA) (1 -
// exp(-hA t/(m c))) (R. Limpert, Brake Design and Safety, from memory): 0.45
// kg, 896 J/(kg K), hA 6.5 W/K, 485 W: time constant 62.03 s, rise 46.25,
// 63.83 and 74.02 K after 60, 120 and 300 s, 74.62 K at last (derived). The
// plate conducts so well that it is one temperature.
func TestHandbookLump(t *testing.T) {
	s, checked := lumpOf(t), 0
	brake(t, s, 300, 0.5, baseK, even(485/s.SweptAreaM2()), func(x float64) {
		if want := map[float64]float64{60: 46.25, 120: 63.83, 300: 74.02}[x]; want != 0 {
			near(t, "rise", s.State().SweptK-baseK, want, 1e-3)
			checked++
		}
	})
	if checked != 3 {
		t.Fatalf("%d of 3 times met", checked)
	}
	brake(t, s, 3000, 10, baseK, even(485/s.SweptAreaM2()), nil)
	near(t, "steady rise", s.State().SweptK-baseK, 74.62, 1e-3)
	// And cooling again: the time constant.
	hot := s.State().SweptK - baseK
	brake(t, s, 62.03, 0.6203, baseK, even(0), nil)
	near(t, "after one time constant", (s.State().SweptK-baseK)/hot, math.Exp(-1), 1e-3)
}

// lumpOf is the body of check 21 as a plate: 0.45 kg of k 1e4 under 100 W/(m2
// K) on 0.065 m2, in three cells.
func lumpOf(t *testing.T) *Solver {
	t.Helper()
	const film, area = 100.0, 6.5 / 100.0
	s := plate(t, bare(1e4, 2700, 896, Geometry{}), 0.45/2700/area, 5000, area, inert(),
		Options{NoPads: true, FilmWPerM2K: film, Resolution: Resolution{Factor: 16}})
	near(t, "mass, kg", s.MassKg(), 0.45, 1e-9)
	return s
}

// stops is what n equal stops, period seconds apart and each worth one rise,
// leave at the end of the last, in rises (repeated braking; R. Limpert, from
// memory); b is hA/(m c), 1/s.
func stops(n int, b, period float64) float64 {
	return (1 - math.Exp(-float64(n)*b*period)) / (1 - math.Exp(-b*period))
}

// Repeated braking of the same lump: 20 stops of 12 kJ, half a minute apart.
// The handbook's stops take no time, ours 20 ms.
func TestHandbookRepeatedStops(t *testing.T) {
	const heat, period, stop = 12e3, 30.0, 0.02
	s := lumpOf(t)
	b := 6.5 / (0.45 * 896)
	for n := 1; n <= 20; n++ {
		brake(t, s, stop, stop/4, baseK, even(heat/stop/s.SweptAreaM2()), nil)
		if n == 1 || n == 5 || n == 20 {
			near(t, "rise in rises of one stop", (s.State().WallK-baseK)/(heat/(0.45*896)), stops(n, b, period), 1e-3)
		}
		brake(t, s, period-stop, (period-stop)/100, baseK, even(0), nil)
	}
}

// A rimLump is an aluminium rim seen as a lump, from the solver's own mass
// and outer area.
type rimLump struct {
	s *Solver
	// heat of the rim with the air in its hollow and of tyre and tube, J/K;
	// hA of the film, joint of rim and tyre and loss of the tyre, W/K.
	heat, tyreHeat, hA, joint, tyreLoss float64
}

func newRimLump(t *testing.T, film float64) rimLump {
	t.Helper()
	sec := byID(t, "alu-classic")
	none := Quantity{Unit: "1"}
	sec.Material.EmissivityTrack, sec.Material.EmissivityBody, sec.Material.SpecificHeatRise = none, none, none
	s, err := NewSolver(sec, padFor(sec), Options{NoPads: true, FilmWPerM2K: film})
	if err != nil {
		t.Fatal(err)
	}
	s.Reset(baseK)
	l := rimLump{s: s, heat: s.MassKg()*sec.Material.SpecificHeat.Value + cavityJPerK, tyreHeat: tyreJPerK, tyreLoss: tyreLossWPerK}
	for _, f := range s.mesh.faces {
		if f.kind <= faceOuter {
			l.hA += 2 * f.areaM * film
		}
	}
	for _, g := range s.tyreG {
		l.joint += 2 * g.g
	}
	return l
}

// meanRise is the rise of the rim's mean from what the wheel has stored.
func (l rimLump) meanRise() float64 {
	return (l.s.Balance().Stored - l.tyreHeat*(l.s.State().TyreAirK-baseK)) / l.heat
}

// rise is that of the rim after t seconds of the heat w, W, from rest, with
// the tyre as a second lump: two linear equations, solved by their own values.
func (l rimLump) rise(w, t float64) float64 {
	a, b := (l.hA+l.joint)/l.heat, l.joint/l.heat
	c, d := l.joint/l.tyreHeat, (l.joint+l.tyreLoss)/l.tyreHeat
	// x' = -a x + b y + w/heat, y' = c x - d y.
	steady := w / l.heat * d / (a*d - b*c)
	steadyTyre := steady * c / d
	half, root := (a+d)/2, math.Sqrt((a-d)*(a-d)/4+b*c)
	fast, slow := half+root, half-root
	// From (-steady, -steadyTyre) along the two vectors (b, a-rate).
	pf := (-steadyTyre*b + steady*(a-slow)) / (b * (slow - fast))
	ps := -steady/b - pf
	return steady + b*(pf*math.Exp(-fast*t)+ps*math.Exp(-slow*t))
}

// Continued braking of an aluminium rim at a Biot number far under 0.1. The
// handbook's lump has no tyre: the rim's mean must lie under the lump that
// loses nothing to the tyre and over the one whose tyre stays as cold as the
// air, and on the two lumps together.
func TestHandbookContinuedBraking(t *testing.T) {
	const watts, film = 150.0, 20.0
	l := newRimLump(t, film)
	if biot := film * 3e-3 / 167; biot > 1e-3 {
		t.Fatalf("Biot number %g across a wall of 3 mm", biot)
	}
	worst, tyre := 0.0, 0.0
	brake(t, l.s, 1200, 2, baseK, even(watts/l.s.SweptAreaM2()), func(x float64) {
		got := l.meanRise()
		most := watts / l.hA * (1 - math.Exp(-l.hA*x/l.heat))
		least := watts / (l.hA + l.joint) * (1 - math.Exp(-(l.hA+l.joint)*x/l.heat))
		if !(got < most && got > least) {
			t.Errorf("after %g s the rim's mean is +%.3f K, the lump between +%.3f and +%.3f K", x, got, least, most)
		}
		worst = math.Max(worst, math.Abs(got/l.rise(watts, x)-1))
		tyre = math.Max(tyre, most/least-1)
	})
	t.Logf("hA %.3f, tyre %.3f W/K, m c %.1f J/K; the tyre is worth %.1f %% at most; two lumps met to %.2f %%; track +%.2f, mean +%.2f, spoke bed +%.2f K",
		l.hA, l.joint, l.heat, 100*tyre, 100*worst, l.s.State().SweptK-baseK, l.meanRise(), l.s.State().SpokeBedK-baseK)
	if worst > 0.005 {
		t.Errorf("rim and tyre as two lumps are %.2f %% off", 100*worst)
	}
}

// Repeated braking of the same rim: 12 stops of 20 kJ in 2 s, 40 s apart,
// between the same two lumps, and on the two together by superposition.
func TestHandbookRepeatedStopsOfARim(t *testing.T) {
	const heat, period, stop, film = 20e3, 40.0, 2.0, 20.0
	l := newRimLump(t, film)
	for n := 1; n <= 12; n++ {
		brake(t, l.s, stop, stop/8, baseK, even(heat/stop/l.s.SweptAreaM2()), nil)
		most, least := stops(n, l.hA/l.heat, period), stops(n, (l.hA+l.joint)/l.heat, period)
		// The handbook's stop is over at once; ours cools while it lasts.
		least *= 1 - (l.hA+l.joint)/l.heat*stop/2
		got := l.meanRise() / (heat / l.heat)
		if !(got < most && got > least) {
			t.Errorf("after %d stops %.4f rises of one, the lump between %.4f and %.4f", n, got, least, most)
		}
		both := 0.0
		for k := range n {
			since := float64(k) * period
			both += l.rise(heat/stop, since+stop) - l.rise(heat/stop, since)
		}
		near(t, "mean of the rim against two lumps", got*heat/l.heat, both, 0.005)
		if n == 12 {
			t.Logf("after %d stops %.4f rises, the lump %.4f to %.4f, two lumps %.4f", n, got, least, most, both/(heat/l.heat))
		}
		brake(t, l.s, period-stop, (period-stop)/38, baseK, even(0), nil)
	}
}
