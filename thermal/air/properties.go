package air

import "math"

// Properties are those of dry air that convection needs.
type Properties struct {
	Conductivity float64 // W/(m K)
	Viscosity    float64 // kinematic, m2/s
	Prandtl      float64 // dimensionless
}

// PropertiesAt gives dry air at temperature tK (200-400 K) and pressure pPa.
// The fits to tabulated air at one atmosphere are from an engineering
// calculator's published formulas; at 60 °C they lie within 2 % of Cengel,
// Heat Transfer, table A-15 (conductivity 1.6 % above it). Conductivity and
// dynamic viscosity do not depend on pressure here.
func PropertiesAt(tK, pPa float64) Properties {
	t15 := tK * math.Sqrt(tK)
	mu := 1.4592e-6 * t15 / (109.10 + tK)       // Pa s
	k := 2.334e-3 * t15 / (164.54 + tK)         // W/(m K)
	cp := 1030.5 - 0.19975*tK + 3.9734e-4*tK*tK // J/(kg K)
	rho := (351.99/tK + 344.88/(tK*tK)) * pPa / StandardPressurePa
	return Properties{Conductivity: k, Viscosity: mu / rho, Prandtl: cp * mu / k}
}
