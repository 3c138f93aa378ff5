// Package air is what the bicycle moves through: the standard atmosphere,
// moist-air density, the transport properties of dry air, and the film
// coefficients of a rolling wheel rim. Temperatures are kelvin, pressures
// pascal.
package air

import "math"

// Constants of ISO 2533:1975 (the standard atmosphere; the ICAO atmosphere is
// the same below 32 km).
const (
	StandardTempK      = 288.15      // sea-level temperature, K, by definition
	StandardPressurePa = 101325.0    // sea-level pressure, Pa, by definition
	StandardLapseKPerM = 0.0065      // temperature lapse in the troposphere, K per geopotential metre
	StandardGravity    = 9.80665     // m/s2, by definition
	GasConstantAir     = 287.05287   // specific gas constant of dry air, J/(kg K)
	earthRadiusM       = 6356766.0   // nominal radius that relates geometric and geopotential height, m
	gasConstantVapour  = 461.495     // specific gas constant of water vapour, J/(kg K), from memory
	gasConstantDry     = 287.058     // of dry air as paired with the vapour's, J/(kg K), from memory
	ZeroCelsiusK       = 273.15      // K, by definition
	StefanBoltzmann    = 5.670374e-8 // W/(m2 K4), exact in the SI of 2019 to the digits shown
)

// Geopotential turns a geometric height in metres into a geopotential one.
func Geopotential(zM float64) float64 { return earthRadiusM * zM / (earthRadiusM + zM) }

// Standard gives temperature (K), pressure (Pa) and density (kg/m3) of the
// standard atmosphere at a geopotential height in metres. It holds from
// -2,000 to 11,000 m.
func Standard(hM float64) (tK, pPa, rho float64) {
	tK = StandardTempK - StandardLapseKPerM*hM
	pPa = StandardPressurePa * math.Pow(tK/StandardTempK, StandardGravity/(GasConstantAir*StandardLapseKPerM))
	return tK, pPa, pPa / (GasConstantAir * tK)
}

// PressureAt is the standard pressure, Pa, at a geometric height in metres.
// A day's weather moves it by some 2 %, which moves drag by as much.
func PressureAt(zM float64) float64 {
	_, p, _ := Standard(Geopotential(zM))
	return p
}

// SaturationPressure is the vapour pressure over water, Pa, at tK (A. L. Buck,
// J. Appl. Meteorol. 20 (1981) 1527; the enhanced form, from memory).
func SaturationPressure(tK float64) float64 {
	t := tK - ZeroCelsiusK
	return 611.21 * math.Exp((18.678-t/234.5)*t/(257.14+t))
}

// MoistDensity is the density of moist air, kg/m3, at temperature tK,
// pressure pPa and relative humidity rh from 0 to 1.
func MoistDensity(tK, pPa, rh float64) float64 {
	e := rh * SaturationPressure(tK)
	return (pPa-e)/(gasConstantDry*tK) + e/(gasConstantVapour*tK)
}
