package ride

import (
	"math"

	"rimheat/thermal/air"
)

const (
	// WheelInertia is the moment of inertia of both wheels, kg m2, on tyres
	// of radius inertiaRadiusM (J. C. Martin et al., J. Appl. Biomech. 14
	// (1998) 276, from memory).
	WheelInertia   = 0.14
	inertiaRadiusM = 0.311
	// drivetrain is the part of the pedal power that reaches the wheel
	// (Martin et al. 1998, from memory).
	drivetrain = 0.97698
)

// EffectiveMass is the mass that resists acceleration, kg: total mass plus
// the wheels' inertia.
func EffectiveMass(totalKg float64) float64 {
	return totalKg + WheelInertia/(inertiaRadiusM*inertiaRadiusM)
}

// AirForce is the drag, N, at road speed v and head wind (both m/s) in air of
// density rho, kg/m3; negative where a tail wind pushes.
func AirForce(rho, cdaM2, v, head float64) float64 {
	u := v + head
	return 0.5 * rho * cdaM2 * u * math.Abs(u)
}

// RollingForce is the tyres' resistance, N, on a road whose rise over run is
// grade.
func RollingForce(totalKg, crr, grade float64) float64 {
	return crr * totalKg * air.StandardGravity / math.Sqrt(1+grade*grade)
}

// Resistance of the wheel bearings, N and N s/m (Martin et al. 1998, from
// memory).
const (
	bearingAtRest   = 0.091
	bearingPerSpeed = 0.0087
)

// BearingForce is the resistance of the wheel bearings, N, at v m/s.
func BearingForce(v float64) float64 { return bearingAtRest + bearingPerSpeed*v }

// SlopeForce is gravity's pull along the road, N, positive downhill, for a
// rise over run of grade.
func SlopeForce(totalKg, grade float64) float64 {
	return -totalKg * air.StandardGravity * grade / math.Sqrt(1+grade*grade)
}

// TerminalSpeed is the speed, m/s, at which drag alone holds a coasting
// bicycle in still air on the given downhill grade (negative), 0 where it
// does not roll. The steady braking power on such a slope is largest at this
// speed over the square root of three (derived).
func TerminalSpeed(totalKg float64, r Resistance, rho, grade float64) float64 {
	f := SlopeForce(totalKg, grade) - RollingForce(totalKg, r.Crr, grade)
	if f <= 0 {
		return 0
	}
	return math.Sqrt(f / (0.5 * rho * r.CdAM2))
}

// SteadyBrakePower is the power, W, that both brakes must take to hold v m/s
// on a downhill grade in still air (bearings left out).
func SteadyBrakePower(totalKg float64, r Resistance, rho, grade, v float64) float64 {
	f := SlopeForce(totalKg, grade) - RollingForce(totalKg, r.Crr, grade) - AirForce(rho, r.CdAM2, v, 0)
	return math.Max(f, 0) * v
}

// TippingG is the deceleration, in units of gravity, at which the rear wheel
// leaves the ground: (b/h) cos - sin of the slope, with the centre of mass
// half as far behind the front wheel's contact as it is high (b/h = 0.5, a
// common textbook case; 0.55-0.67 is often found, from memory).
func TippingG(grade float64) float64 {
	const bOverH = 0.5
	c := 1 / math.Sqrt(1+grade*grade)
	return bOverH*c + grade*c
}
