package ride

// Energy is the ledger of a stretch, joules:
// potential + pedal = air + rolling + brake_front + brake_rear + kinetic.
// Potential is the potential energy given up (negative when climbing),
// kinetic the kinetic energy gained, pedal the work that reaches the wheel.
// Negative air is a tail wind's push. Rolling includes the bearings.
type Energy struct {
	PotentialJ  float64 `json:"potential_J"`
	PedalJ      float64 `json:"pedal_J"`
	AirJ        float64 `json:"air_J"`
	RollingJ    float64 `json:"rolling_J"`
	BrakeFrontJ float64 `json:"brake_front_J"`
	BrakeRearJ  float64 `json:"brake_rear_J"`
	KineticJ    float64 `json:"kinetic_J"`
}

// BrakesJ is the energy into both brakes, joules.
func (e Energy) BrakesJ() float64 { return e.BrakeFrontJ + e.BrakeRearJ }

// InJ is all that comes in, joules: height given up and pedal work, and where they push or
// are used up, a tail wind and speed.
func (e Energy) InJ() float64 {
	sum := 0.0
	for _, j := range []float64{e.PotentialJ, e.PedalJ, -e.AirJ, -e.RollingJ, -e.BrakeFrontJ, -e.BrakeRearJ, -e.KineticJ} {
		sum += max(j, 0)
	}
	return sum
}

// ResidualJ is what the ledger fails to account for, joules.
func (e Energy) ResidualJ() float64 {
	return e.PotentialJ + e.PedalJ - e.AirJ - e.RollingJ - e.BrakeFrontJ - e.BrakeRearJ - e.KineticJ
}
