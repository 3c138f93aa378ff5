package ride

import "testing"

// What comes in is the same on either side of the books: a tail wind and speed that is
// used up come in, a climb does not.
func TestEnergyIn(t *testing.T) {
	for _, c := range []struct {
		e    Energy
		want float64
	}{
		{Energy{PotentialJ: 100, AirJ: 30, RollingJ: 10, BrakeFrontJ: 40, BrakeRearJ: 15, KineticJ: 5}, 100},
		{Energy{PotentialJ: 100, PedalJ: 20, AirJ: -30, RollingJ: 10, BrakeFrontJ: 100, BrakeRearJ: 40}, 150},
		{Energy{PotentialJ: 100, AirJ: 50, RollingJ: 10, BrakeFrontJ: 60, KineticJ: -20}, 120},
		{Energy{PotentialJ: -80, PedalJ: 100, AirJ: 15, RollingJ: 5}, 100},
		{Energy{}, 0},
	} {
		if got := c.e.InJ(); got != c.want {
			t.Errorf("%+v: %g J come in, want %g J", c.e, got, c.want)
		}
		if c.e.ResidualJ() != 0 {
			t.Errorf("%+v does not close", c.e)
		}
	}
}
