package air

import "math"

// A rolling rim meets two winds: the stream of the ride, and its own turning.
// At the top of the wheel they add up, at the bottom they nearly cancel. For
// a rolling wheel in calm air the turning never exceeds the stream, and below
// a ratio of about 1.4 it is the stream that rules the heat transfer of a disc
// (S. aus der Wiesche, Int. J. Therm. Sci. 46 (2007) 745, abstract; the ratio
// from memory). So each element of the rim is taken as a plate in a stream of
// the speed that it meets, averaged over a turn: turbulent from its edge, as
// spokes, fork and brake disturb the air, and laminar only where that carries
// more heat, below some 9 km/h. Where a tail wind
// or a bench without a fan leaves less stream than turning, only as much of
// the turning counts as there is stream, and the law of a disc that spins in
// still air takes over.
const (
	// FilmLengthM is the length of the plate, metres: the arc of rim between
	// the disturbances of spokes, fork and brake, 0.1-0.3 m, and the rim's
	// depth, 0.025-0.06 m, are the candidates. Common practice, no source;
	// it is the main freedom of the film model.
	FilmLengthM = 0.1
	// NaturalLengthM is the height of the plate that the rim is at rest,
	// metres; common practice, no source.
	NaturalLengthM = 0.03
	// FilmSpread is the factor by which the true film coefficient may be
	// above or below, 95 %: no measurement on a bicycle rim is known.
	FilmSpread = 1.5

	turbulentExponent = 0.8
)

// regimes joins the laminar and the turbulent law of a shape: the larger one
// counts, rounded off where they cross, by 4.4 % at most, by their sixteenth
// powers; common practice, no source.
func regimes(laminar, turbulent float64) float64 {
	hi, lo := math.Max(laminar, turbulent), math.Min(laminar, turbulent)
	if hi <= 0 {
		return 0
	}
	r := lo / hi
	r *= r
	r *= r
	r *= r
	return hi * math.Sqrt(math.Sqrt(math.Sqrt(math.Sqrt(1+r*r))))
}

// PlateTurbulent is the mean film coefficient, W/(m2 K), of a plate of length
// l metres in a stream of u m/s that is turbulent from the leading edge:
// Nu = 0.037 Re^0.8 Pr^(1/3) (Incropera & DeWitt, eq. 7.38, from memory).
func PlateTurbulent(p Properties, u, l float64) float64 {
	if u <= 0 {
		return 0
	}
	return 0.037 * math.Pow(u*l/p.Viscosity, turbulentExponent) * math.Cbrt(p.Prandtl) * p.Conductivity / l
}

// PlateLaminar is the same for a laminar boundary layer,
// Nu = 0.664 Re^0.5 Pr^(1/3) (Incropera & DeWitt, eq. 7.30, from memory).
func PlateLaminar(p Properties, u, l float64) float64 {
	if u <= 0 {
		return 0
	}
	return 0.664 * math.Sqrt(u*l/p.Viscosity) * math.Cbrt(p.Prandtl) * p.Conductivity / l
}

// Natural is the film coefficient, W/(m2 K), of natural convection from a
// vertical plate of height l metres, dT kelvin warmer than the air around it
// (S. W. Churchill, H. H. S. Chu, 1975; Incropera & DeWitt eq. 9.27, from
// memory). p is taken at the film temperature filmK.
func Natural(p Properties, dT, filmK, l float64) float64 {
	ra := StandardGravity / filmK * math.Abs(dT) * l * l * l / (p.Viscosity * p.Viscosity) * p.Prandtl
	// (1+(0.492/Pr)^(9/16))^(4/9); Pr of air varies so little (0.70-0.74)
	// that the value at 0.71 serves to 0.2 %.
	const prandtlTerm = 1.30288
	nu := 0.68 + 0.670*math.Sqrt(math.Sqrt(ra))/prandtlTerm
	return nu * p.Conductivity / l
}

// MeanOverTurn is the mean over one turn of the wheel of the speed that a rim
// element meets, to the power 2q, where stream is the air speed of the ride
// and spin the rim's own speed about the hub, both m/s:
// mean of (stream^2 + spin^2 + 2 stream spin cos phi)^q.
// The mean is the hypergeometric series sum over k of (binom(q,k) x^k)^2 with
// x the smaller over the larger speed (derived); good to 3e-5.
func MeanOverTurn(stream, spin, q float64) float64 {
	hi, lo := math.Abs(stream), math.Abs(spin)
	if hi < lo {
		hi, lo = lo, hi
	}
	if hi == 0 {
		return 0
	}
	x2 := lo * lo / (hi * hi)
	sum, term := 1.0, 1.0
	// binom(q,k) falls like k^-(q+1): 60 terms leave some 2.5e-5 at x = 1
	// for q = 0.4, and the loop ends early for smaller x.
	for k := 1; k <= 60; k++ {
		b := (q - float64(k-1)) / float64(k)
		term *= b * b * x2
		sum += term
		if term < 1e-7 {
			break
		}
	}
	return math.Pow(hi, 2*q) * sum
}

// laminarTurn and turbulentTurn are MeanOverTurn(1, x, q) with q = 0.25 and 0.4,
// what the two plate laws ask for, as functions of x2 = x^2 from 0 to 1: rational
// functions with the least largest error, fitted to its sum of 60 terms and
// good to 2e-7 of it. A step of the heat model has no time for the sum.
func laminarTurn(x2 float64) float64 {
	over := 0.99999984970 + x2*(-1.73975476139+x2*(0.86184190367+x2*(-0.09265693607-0.00440981396*x2)))
	return over / (1 + x2*(-1.80226028005+x2*(0.96573288247-0.14027662911*x2)))
}

func turbulentTurn(x2 float64) float64 {
	over := 0.99999983705 + x2*(-1.57088919596+x2*(0.61138119105+x2*(0.00534242208-0.01122220858*x2)))
	return over / (1 + x2*(-1.73089591456+x2*(0.87397616782-0.11382436346*x2)))
}

// DiscStill is the mean film coefficient, W/(m2 K), of a disc of radius r
// metres whose rim moves at u m/s in still air: laminar Nu = 0.36 Re^0.5 or
// turbulent Nu = 0.015 Re^0.8 with Re = u r/nu, the larger one rounded off (review by
// S. Harmand, J. Pelle, S. Poncet, I. V. Shevchuk, Int. J. Therm. Sci. 67
// (2013) 1, from memory, medium confidence; 0.36 is the middle between uniform
// temperature, 0.33, and uniform flux, 0.40).
func DiscStill(p Properties, u, r float64) float64 {
	if u <= 0 {
		return 0
	}
	return regimes(discLaminar(p, u, r), discTurbulent(p, u, r))
}

// RimFilm is the film coefficient, W/(m2 K), of the outer faces of a rim of
// radius r metres: stream is the air speed that meets the bicycle along the
// road (m/s, either sign), spin the speed of the rim about its hub, surfaceK
// and airK the temperatures, pPa the pressure. It joins forced convection
// averaged over a turn, the spinning disc, and natural convection at rest by
// their third powers. Cross wind is left out, which is on the safe
// side.
func RimFilm(stream, spin, r, surfaceK, airK, pPa float64) float64 {
	film := (surfaceK + airK) / 2
	p := PropertiesAt(film, pPa)
	n := Natural(p, surfaceK-airK, film, NaturalLengthM)
	stream, spin = math.Abs(stream), math.Abs(spin)
	d := DiscStill(p, spin, r)
	f := 0.0
	if stream > 0 {
		// The plate laws with u^0.5 and u^0.8 averaged over the turn.
		x := math.Min(spin/stream, 1)
		re := stream * FilmLengthM / p.Viscosity
		at := math.Cbrt(p.Prandtl) * p.Conductivity / FilmLengthM
		f = regimes(0.664*math.Sqrt(re)*laminarTurn(x*x)*at, 0.037*turbulentPower(re)*turbulentTurn(x*x)*at)
	}
	return math.Cbrt(f*f*f + d*d*d + n*n*n)
}

// turbulentPower is x to the power turbulentExponent for x >= 0, in half the
// time that math.Pow takes for any two numbers.
func turbulentPower(x float64) float64 { return math.Exp(turbulentExponent * math.Log(x)) }
