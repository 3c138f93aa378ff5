package plots

import (
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"rimheat/thermal"
)

func energyScene(t *testing.T, a *thermal.Assessment, opt Options, viewerFonts bool) *scene {
	t.Helper()
	tf, err := newTypeface(viewerFonts)
	if err != nil {
		t.Fatal(err)
	}
	sc, err := composeEnergy(a, opt, tf)
	if err != nil {
		t.Fatal(err)
	}
	return sc
}

func checkEnergySheet(t *testing.T, sc *scene) {
	t.Helper()
	// Words stand on their own part of a bar, and no line of its pattern runs through
	// them.
	checkNarrow(t, sc, rolePattern, roleTick)
	for _, l := range sc.labels {
		if strings.ContainsAny(l.text, "\x1b\x00\u202e\xff") || strings.Contains(l.text, "NaN") || strings.Contains(l.text, "Inf") || strings.Contains(l.text, "−") {
			t.Errorf("label %q", l.text)
		}
		if l.role != roleBar {
			continue
		}
		if !slices.ContainsFunc(sc.boxes(roleBar), func(b rect) bool { return inside(l.box, b) }) {
			t.Errorf("%q stands on no part of a bar alone", l.text)
		}
	}
}

// closed makes a ledger add up by the air's part.
func closed(e thermal.Energy) thermal.Energy {
	e.AirJ += e.ResidualJ()
	return e
}

// contrary are ledgers in which parts go the other way than on a common descent.
func contrary() *thermal.Assessment {
	a := cases()["two descents"].whole()
	a.Descents = nil
	for k, e := range []thermal.Energy{
		{PotentialJ: 5e5, RollingJ: 4e4, BrakeFrontJ: 3e5, BrakeRearJ: 2e5, KineticJ: 6e3},                 // a tail wind pushes
		{PotentialJ: 4e5, RollingJ: 3e4, BrakeFrontJ: 2e5, BrakeRearJ: 1e5, KineticJ: -5e3},                // entered fast
		{PotentialJ: 3e5, PedalJ: 5e4, RollingJ: 3e4, KineticJ: 9e3},                                       // pedalled down, no brake
		{PotentialJ: -1e4, PedalJ: 8e4, RollingJ: 3e4, BrakeFrontJ: 1e3, BrakeRearJ: 1e3, KineticJ: -2e4},  // it climbs more than it falls
		{PotentialJ: 2e5, PedalJ: 1e4, RollingJ: 1e4, BrakeFrontJ: 2.5e5, BrakeRearJ: 1e5, KineticJ: -3e4}, // all of it
		{}, // nothing at all
	} {
		a.Descents = append(a.Descents, thermal.Descent{StartM: 100 * float64(k), EndM: 100 * float64(k+1), DropM: 40, Energy: closed(e)})
	}
	for i := range a.Rims {
		a.Rims[i].RimShare = []float64{0.934, 0.998}[i]
	}
	return a
}

func TestEnergyLayout(t *testing.T) {
	all := cases()
	check := func(name string, a *thermal.Assessment) {
		for k := range 8 {
			opt := Options{Imperial: k&1 > 0, bare: k&4 > 0}
			t.Run(fmt.Sprintf("%s, %+v, viewer's fonts %t", name, opt, k&2 > 0), func(t *testing.T) {
				sc := energyScene(t, a, opt, k&2 > 0)
				checkEnergySheet(t, sc)
				for _, l := range sc.labels {
					if opt.bare && (l.role == roleTitle || l.role == roleFooter) {
						t.Errorf("a part of the page says %q", l.text)
					}
					if !strings.Contains(name, "long") && name != "hostile names" && name != "missing glyphs" && strings.Contains(l.text, "…") {
						t.Errorf("%q is cut", l.text)
					}
				}
			})
		}
	}
	for _, name := range sorted() {
		a := all[name].whole()
		for i := range a.Rims {
			a.Rims[i].RimShare = 0.97 - 0.1*float64(i%5)
		}
		check(name, a)
	}
	check("contrary", contrary())
}

func TestEnergyLayoutOfRandomRides(t *testing.T) {
	const seed, rides = 17, 300
	for k := range rides {
		rng := rand.New(rand.NewPCG(seed, uint64(k)))
		a := cases()["one descent"].whole()
		a.Descents = nil
		for range rng.IntN(20) {
			j := func(p float64) float64 {
				if rng.Float64() > p {
					return 0
				}
				return 1e3 * math.Exp(9*rng.Float64())
			}
			e := closed(thermal.Energy{PotentialJ: j(0.95), PedalJ: j(0.3), RollingJ: j(0.9), BrakeFrontJ: j(0.8), BrakeRearJ: j(0.8), KineticJ: j(0.8) - j(0.5)})
			a.Descents = append(a.Descents, thermal.Descent{DropM: 3000 * rng.Float64(), Energy: e})
		}
		checkEnergySheet(t, energyScene(t, a, Options{Imperial: k&1 > 0, bare: k&4 > 0}, k&2 > 0))
		if t.Failed() {
			t.Fatalf("ride %d: %+v", k, a.Descents)
		}
	}
}

func TestEnergyGoldenOutlines(t *testing.T) {
	holdGolden(t, "two passes", "energy", outline(energyScene(t, assessedRide(t, "two_passes_hot.gpx", "carbon-deep", "alu-classic"), Options{}, false)))
	holdGolden(t, "contrary", "energy_contrary", outline(energyScene(t, contrary(), Options{Imperial: true}, false)))
	holdGolden(t, "no descents", "energy_flat", outline(energyScene(t, assessedRide(t, "flat_loop.gpx", "carbon-deep"), Options{}, false)))
}

// bars gives, row by row from the top, the boxes of what came in and of what went out.
func bars(sc *scene) (in, out [][]rect) {
	rows := func(r role) [][]rect {
		var rows [][]rect
		for _, b := range sc.boxes(r) {
			if n := len(rows); n > 0 && math.Abs(rows[n-1][0].y0-b.y0) < 1e-6 {
				rows[n-1] = append(rows[n-1], b)
				continue
			}
			rows = append(rows, []rect{b})
		}
		return rows
	}
	return rows(roleIn), rows(roleBar)
}

// energyPerPoint reads the axis, joules per point, and where it begins.
func energyPerPoint(t *testing.T, sc *scene) (jPerPt, x0 float64) {
	t.Helper()
	var marks []xy
	for _, s := range sc.shapes {
		if s.role == roleTick {
			marks = append(marks, s.pts[0])
		}
	}
	var last float64
	for _, l := range sc.labels {
		if l.role == roleTick {
			fmt.Sscan(strings.ReplaceAll(l.text, ",", ""), &last)
		}
	}
	if len(marks) < 2 {
		t.Fatal("the axis has no marks")
	}
	return 1000 * last / (marks[len(marks)-1].x - marks[0].x), marks[0].x
}

// Every part of every ledger is as long as it is great, on the side where it belongs, in
// one row without gaps, all rows on one axis; the two sides of a row are as long as each
// other.
func TestEnergyBarsAreTheLedger(t *testing.T) {
	for name, a := range map[string]*thermal.Assessment{
		"real": assessedRide(t, "two_passes_hot.gpx", "alu-classic"), "mild": assessedRide(t, "long_ride_mild.gpx", "alu-classic"), "contrary": contrary(),
	} {
		sc := energyScene(t, a, Options{}, false)
		jPerPt, x0 := energyPerPoint(t, sc)
		in, out := bars(sc)
		k := 0
		for i := range a.Descents {
			e := a.Descents[i].Energy
			if e == (thermal.Energy{}) {
				continue
			}
			var wantIn, wantOut []float64
			for _, p := range []struct {
				j  float64
				in bool
			}{{e.BrakeFrontJ, false}, {e.BrakeRearJ, false}, {e.AirJ, false}, {e.RollingJ, false}, {e.KineticJ, false}, {-e.PotentialJ, false}, {e.PotentialJ, true}, {e.PedalJ, true}, {-e.KineticJ, true}, {-e.AirJ, true}} {
				switch {
				case p.j <= 0:
				case p.in:
					wantIn = append(wantIn, p.j)
				default:
					wantOut = append(wantOut, p.j)
				}
			}
			for side, c := range map[string]struct {
				got  []rect
				want []float64
			}{"in": {in[k], wantIn}, "out": {out[k], wantOut}} {
				at := x0
				if len(c.got) != len(c.want) {
					t.Errorf("%s, descent %d: %d parts %s, want %d", name, i+1, len(c.got), side, len(c.want))
					continue
				}
				for n, b := range c.got {
					if math.Abs(b.x0-at) > 1e-6 || math.Abs((b.x1-b.x0)*jPerPt-c.want[n]) > 1e-6*c.want[n]+1 {
						t.Errorf("%s, descent %d, part %d %s: from %.2f to %.2f points, %.0f J; want from %.2f, %.0f J", name, i+1, n, side, b.x0, b.x1, (b.x1-b.x0)*jPerPt, at, c.want[n])
					}
					at = b.x1
				}
			}
			endIn, endOut := in[k][len(in[k])-1].x1, out[k][len(out[k])-1].x1
			if math.Abs(endIn-endOut) > 0.02 {
				t.Errorf("%s, descent %d: what came in ends at %.2f, what went out at %.2f", name, i+1, endIn, endOut)
			}
			k++
		}
		if k != len(in) || k != len(out) || k == 0 {
			t.Errorf("%s: %d and %d rows, want %d", name, len(in), len(out), k)
		}
	}
}

// A share of the brakes is of all that came in, a tail wind included, and the words stand
// beside their own bar.
func TestEnergyWords(t *testing.T) {
	sc := energyScene(t, contrary(), Options{}, false)
	var got []string
	for _, l := range sc.labels {
		if l.role == roleDescent {
			got = append(got, l.text)
		}
	}
	want := []string{
		"1", "40 m down, 546 kJ", "brakes 500 kJ, 92 %", // air -46 kJ
		"2", "40 m down, 405 kJ", "brakes 300 kJ, 74 %",
		"3", "40 m down, 350 kJ", "brakes 0 kJ, 0 %",
		"4", "40 m down, 100 kJ", "brakes 2 kJ, 2 %",
		"5", "40 m down, 360 kJ", "brakes 350 kJ, 97 %", // air -120 kJ
		"6", "40 m down, 0 kJ", "brakes 0 kJ",
	}
	if !slices.Equal(got, want) {
		t.Errorf("got  %q\nwant %q", got, want)
	}
	if keys := textOf(sc, roleKey); keys != "thin bar, in: height pedals speed lost tail wind thick bar, out: front brake rear brake air rolling speed gained height gained" {
		t.Errorf("key: %s", keys)
	}
	says := textOf(sc, roleVerdict)
	for _, want := range []string{"93 % into the rim, 7 % into the pads", "over 99 % into the rim, under 1 % into the pads", "On each descent the two sides differ by less than 0.01 % of what comes in."} {
		if !strings.Contains(says, want) {
			t.Errorf("%q lacks %q", says, want)
		}
	}
}

func TestEnergyClosure(t *testing.T) {
	for _, c := range []struct {
		missingJ float64
		want     string
	}{
		{0, "On each descent the two sides differ by less than 0.01 % of what comes in."},
		{9, "On each descent the two sides differ by less than 0.01 % of what comes in."},
		{-1201, "On each descent the two sides differ by up to 1.21 % of what comes in."},
		{30e3, "On each descent the two sides differ by up to 30.00 % of what comes in."},
	} {
		a := cases()["two descents"].whole()
		a.Descents = a.Descents[:1]
		a.Descents[0].Energy = thermal.Energy{PotentialJ: 100e3, AirJ: 60e3 - c.missingJ, RollingJ: 10e3, BrakeFrontJ: 20e3, BrakeRearJ: 10e3}
		if says := textOf(energyScene(t, a, Options{}, false), roleVerdict); !strings.Contains(says, c.want) {
			t.Errorf("%g J missing: %s", c.missingJ, says)
		}
	}
}

// Of many descents the twelve with the most braking have a bar, in the order of the road;
// the rest is summed up.
func TestEnergyOfManyDescents(t *testing.T) {
	a := cases()["sixty descents"].whole()
	for i := range a.Descents {
		// Later ones brake more, but the last twenty hardly at all.
		e := &a.Descents[i].Energy
		*e = thermal.Energy{PotentialJ: 200e3, BrakeFrontJ: 1e3 * float64(i), BrakeRearJ: 500 * float64(i)}
		if i >= 40 {
			e.BrakeFrontJ, e.BrakeRearJ = 10, 10
		}
		*e = closed(*e)
	}
	sc := energyScene(t, a, Options{}, false)
	var nos []string
	for _, l := range sc.labels {
		if l.role == roleDescent && l.bold && l.size == filmText {
			nos = append(nos, l.text)
		}
	}
	if want := []string{"29", "30", "31", "32", "33", "34", "35", "36", "37", "38", "39", "40"}; !slices.Equal(nos, want) {
		t.Errorf("bars of %q, want %q", nos, want)
	}
	// 48 of 200 kJ; 1.5 kJ times 0 to 27, and 20 of 0.02 kJ.
	if says := textOf(sc, roleVerdict); !strings.Contains(says, "48 more, together: 9,600 kJ in, 567 kJ of it into the brakes, 6 %.") {
		t.Errorf("%s", says)
	}
}

func TestEnergyWithoutDescents(t *testing.T) {
	a := cases()["no descents"].whole()
	a.Energy = closed(thermal.Energy{PotentialJ: 1e3, PedalJ: 999e3, RollingJ: 200e3, BrakeFrontJ: 2e3, BrakeRearJ: 1e3})
	a.Rims[0].RimShare, a.Rims[1].RimShare = 0.9, math.NaN()
	sc := energyScene(t, a, Options{}, false)
	says := textOf(sc, roleVerdict)
	for _, want := range []string{"No descent was found on this route", "On the whole route the brakes took 3 kJ, under 1 %.", "On the whole route the two sides differ by less than 0.01 %", "90 % into the rim, 10 % into the pads"} {
		if !strings.Contains(says, want) {
			t.Errorf("%q lacks %q", says, want)
		}
	}
	if len(sc.boxes(roleBar)) > 0 || strings.Contains(says, "NaN") {
		t.Error("a bar is drawn, or a share that is none told")
	}
}

func TestSaveEnergy(t *testing.T) {
	good := contrary()
	for _, format := range Formats() {
		var a, b bytes.Buffer
		if err := SaveEnergy(&a, format, good, Options{}); err != nil {
			t.Fatal(err)
		}
		if err := SaveEnergy(&b, format, good, Options{}); err != nil {
			t.Fatal(err)
		}
		if a.Len() == 0 || !bytes.Equal(a.Bytes(), b.Bytes()) {
			t.Errorf("%s: nothing, or two figures differ", format)
		}
		if format == "svg" {
			checkSVG(t, "energy", a.Bytes())
		}
	}
	for _, name := range []string{"hostile names", "long word", "right to left", "only missing"} {
		a := cases()[name].whole()
		a.Rims[0].Name, a.Rims[0].RimShare = a.Route.Name, 0.9
		for _, viewers := range []bool{false, true} {
			checkEnergySheet(t, energyScene(t, a, Options{}, viewers))
		}
		var b bytes.Buffer
		if err := SaveEnergy(&b, "svg", a, Options{}); err != nil {
			t.Fatal(err)
		}
		checkSVG(t, name, b.Bytes())
	}
	spoilt := func(spoil func(a *thermal.Assessment)) *thermal.Assessment {
		a := cases()["two descents"].whole()
		spoil(a)
		return a
	}
	checkRefusals(t, SaveEnergy, []refusal{
		{"gif", good, `figure format "gif" is none of png, svg, pdf`},
		{"png", nil, "no assessment to draw a figure of"},
		{"svg", spoilt(func(a *thermal.Assessment) { a.Descents[1].Energy.AirJ = math.NaN() }), "the energy of descent 2 holds a number that is none"},
		{"svg", spoilt(func(a *thermal.Assessment) { a.Descents[1].DropM = math.Inf(1) }), "the energy of descent 2 holds a number that is none"},
		{"svg", spoilt(func(a *thermal.Assessment) { a.Energy.PedalJ = math.Inf(1) }), "the energy of the ride holds a number that is none"},
		{"svg", spoilt(func(a *thermal.Assessment) { a.Descents[0].Energy.BrakeRearJ = -50 }), "the energy of descent 1 has brakes, tyres or pedals that work backwards"},
	})
}
