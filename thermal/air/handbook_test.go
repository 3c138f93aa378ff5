package air

import (
	"math"
	"testing"
)

// Check 4 along the whole table. Source: dry air at 1 atm, Cengel, Heat
// Transfer, table A-15 (published): °C, W/(m K), 1e-6 m2/s, Prandtl number. The
// fits hold 2 % of conductivity and 1 % of viscosity, and 2 % of the Prandtl
// number but at 0 and 20 °C, where they are 2.2 and 2.1 % off; in a film that
// is 0.7 %.
func TestHandbookDryAir(t *testing.T) {
	for _, c := range []struct{ tC, k, nu, pr, prandtlTol float64 }{
		{0, 0.02364, 13.38, 0.7362, 0.023},
		{20, 0.02514, 15.16, 0.7309, 0.022},
		{40, 0.02662, 17.02, 0.7255, 0.02},
		{60, 0.02808, 18.96, 0.7202, 0.02},
		{80, 0.02953, 20.97, 0.7154, 0.02},
		{100, 0.03095, 23.06, 0.7111, 0.02},
		{120, 0.03235, 25.22, 0.7073, 0.02},
	} {
		p := PropertiesAt(c.tC+ZeroCelsiusK, StandardPressurePa)
		near(t, "k", p.Conductivity, c.k, 0.02)
		near(t, "nu", p.Viscosity, c.nu*1e-6, 0.01)
		near(t, "Pr", p.Prandtl, c.pr, c.prandtlTol)
	}
}

// Source: F. P. Incropera, D. P. DeWitt, Fundamentals of Heat and Mass
// Transfer, table A.4 (from memory), another family of tables: kelvin, W/(m K),
// 1e-6 m2/s, Prandtl number. The fits follow the first family; from this one
// they are up to 1.4 % off in viscosity at 350 K and 2.2 and 1.6 % in
// conductivity and viscosity at 400 K, warmer than nearly all films of a ride.
func TestHandbookDryAirOfAnotherBook(t *testing.T) {
	for _, c := range []struct{ tK, k, nu, pr, kTol, nuTol float64 }{
		{300, 0.0263, 15.89, 0.707, 0.02, 0.01},
		{350, 0.0300, 20.92, 0.700, 0.02, 0.014},
		{400, 0.0338, 26.41, 0.690, 0.022, 0.016},
	} {
		p := PropertiesAt(c.tK, StandardPressurePa)
		near(t, "k", p.Conductivity, c.k, c.kTol)
		near(t, "nu", p.Viscosity, c.nu*1e-6, c.nuTol)
		near(t, "Pr", p.Prandtl, c.pr, 0.02)
	}
}

// Source: kinematic viscosity and conductivity of the standard atmosphere, in
// a published table: m, 1e-5 m2/s, 1e-2 W/(m K). This is the only outside
// check of how viscosity follows pressure.
func TestHandbookAirAtHeight(t *testing.T) {
	for _, c := range []struct{ z, nu, k float64 }{
		{0, 1.461, 2.534}, {500, 1.520, 2.509}, {1000, 1.581, 2.483}, {1500, 1.646, 2.457},
		{2000, 1.715, 2.431}, {2500, 1.787, 2.405}, {3000, 1.863, 2.379},
	} {
		tK, pPa, _ := Standard(Geopotential(c.z))
		near(t, "PressureAt", PressureAt(c.z), pPa, 1e-12)
		p := PropertiesAt(tK, pPa)
		near(t, "nu", p.Viscosity, c.nu*1e-5, 0.01)
		near(t, "k", p.Conductivity, c.k*1e-2, 0.02)
	}
}

// Checks 26 and 27 over all speeds and lengths. Source: the plate laws of
// Incropera & DeWitt and the laws of a disc in still air, from memory, with
// air of 60 °C at 1.22 times the speed of the road; worked to whole W/(m2 K),
// the disc's to a tenth (derived).
func TestHandbookFilms(t *testing.T) {
	p := Properties{Conductivity: 0.02808, Viscosity: 1.896e-5, Prandtl: 0.720}
	lengths := [...]float64{0.02, 0.05, 0.10, 0.30}
	for _, c := range []struct {
		kmh       float64
		lam, turb [4]float64
		disc      float64
	}{
		{12.5, [4]float64{56, 35, 25, 14}, [4]float64{39, 32, 28, 23}, 8.1},
		{20, [4]float64{71, 45, 32, 18}, [4]float64{56, 47, 41, 33}, 11.8},
		{30, [4]float64{87, 55, 39, 22}, [4]float64{78, 65, 57, 45}, 16.3},
		{41, [4]float64{101, 64, 45, 26}, [4]float64{100, 83, 73, 58}, 20.9},
		{60, [4]float64{122, 77, 55, 32}, [4]float64{136, 113, 99, 79}, 28.4},
	} {
		v := c.kmh / 3.6
		for i, l := range lengths {
			// Half a unit of the printed number and its 1 %.
			if h := PlateLaminar(p, 1.22*v, l); math.Abs(h-c.lam[i]) > 0.5+0.01*c.lam[i] {
				t.Errorf("laminar, %g km/h, %g m: %.2f, want %g", c.kmh, l, h, c.lam[i])
			}
			if h := PlateTurbulent(p, 1.22*v, l); math.Abs(h-c.turb[i]) > 0.5+0.01*c.turb[i] {
				t.Errorf("turbulent, %g km/h, %g m: %.2f, want %g", c.kmh, l, h, c.turb[i])
			}
		}
		near(t, "disc in still air", DiscStill(p, v*0.31/0.336, 0.31), c.disc, 0.02)
	}
}

// Check 27, the laminar law: at 30 km/h it gives 11.6 W/(m2 K) at Re 1.26e5,
// where ours takes the turbulent one. As the root of the speed it gives a
// quarter at a sixteenth, where the laminar one is the larger.
func TestHandbookDiscLaminar(t *testing.T) {
	p := Properties{Conductivity: 0.02808, Viscosity: 1.896e-5, Prandtl: 0.720}
	near(t, "laminar", 4*DiscStill(p, 30/3.6*0.31/0.336/16, 0.31), 11.6, 0.02)
	// The Reynolds number that our turbulent film stands for.
	h := DiscStill(p, 30/3.6*0.31/0.336, 0.31)
	near(t, "Re", math.Pow(h*0.31/p.Conductivity/0.015, 1/0.8), 1.26e5, 0.02)
}

// Check 28. Source: speed of a point of the rim at 0.92 of the tyre's radius,
// over the road's: mean 1.2266, mean of the power 0.5 1.063 and 0.8 1.150, root
// of the mean square 1.359 (derived).
func TestHandbookRollingRim(t *testing.T) {
	near(t, "mean", MeanOverTurn(1, 0.92, 0.5), 1.2266, 1e-4)
	near(t, "power 0.5", MeanOverTurn(1, 0.92, 0.25), 1.063, 5e-4)
	near(t, "power 0.8", MeanOverTurn(1, 0.92, 0.4), 1.150, 5e-4)
	near(t, "root mean square", math.Sqrt(MeanOverTurn(1, 0.92, 1)), 1.359, 5e-4)
	near(t, "at the tyre's radius", MeanOverTurn(1, 1, 0.5), 4/math.Pi, 1e-4)
}

// Source: film of a solid brake rotor in the stream of a car, h = 0.04 (k/D)
// Re^0.8 (R. Limpert, Brake Design and Safety, from memory, medium
// confidence): 51 W/(m2 K) for a wheel of 0.62 m at 40 km/h (derived). Ours
// comes from a plate of another length; it must agree within the factor that
// the project says the film is known to.
func TestHandbookRotorFilm(t *testing.T) {
	const d = 0.62
	for _, kmh := range []float64{20, 30, 40, 60} {
		v := kmh / 3.6
		p := PropertiesAt(333.15, StandardPressurePa)
		rotor := 0.04 * p.Conductivity / d * math.Pow(v*d/p.Viscosity, 0.8)
		if kmh == 40 {
			near(t, "rotor", rotor, 51, 0.03)
		}
		ours := RimFilm(v, 0.92*v, d/2, 353.15, 313.15, StandardPressurePa)
		t.Logf("%g km/h: ours %.1f, rotor %.1f W/(m2 K), ratio %.2f", kmh, ours, rotor, ours/rotor)
		if r := ours / rotor; r > FilmSpread || r < 1/FilmSpread {
			t.Errorf("%g km/h: film %.2f times that of a rotor", kmh, r)
		}
	}
}

// Source: the plate laws with a published table's air at 2,000 m against sea
// level, 275.2 and 288.2 K: 0.84 of the turbulent film, 0.89 of the laminar
// one (derived).
func TestHandbookFilmAtHeight(t *testing.T) {
	at := func(z float64) Properties {
		tK, pPa, _ := Standard(Geopotential(z))
		return PropertiesAt(tK, pPa)
	}
	near(t, "turbulent", PlateTurbulent(at(2000), 8, 0.1)/PlateTurbulent(at(0), 8, 0.1), 0.84, 0.01)
	near(t, "laminar", PlateLaminar(at(2000), 8, 0.1)/PlateLaminar(at(0), 8, 0.1), 0.89, 0.01)
}

// Check 3, what it rests on. Source: 4,245 Pa over water at 30 °C by A. L.
// Buck, J. Appl. Meteorol. 20 (1981) 1527 (formula from memory; derived).
func TestHandbookSaturation(t *testing.T) {
	near(t, "saturation pressure", SaturationPressure(303.15), 4245, 3e-4)
}
