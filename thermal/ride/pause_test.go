package ride

import (
	"math"
	"testing"
)

// A pause takes its time, leaves the energy balance closed, makes the brakes take
// the energy of motion there, and its steps stand still or roll.
func TestPause(t *testing.T) {
	p := rolling(t)
	w := Weather{AirTempK: 305, AtHeightM: math.NaN(), LapseKPerM: StandardLapse, Humidity: 0.4}
	load, res, st := Load{RiderKg: 75, BikeKg: 9}, Resistance{0.36, 0.005}, Styles()[1]
	plain, err := NewPlan(p, load, w, res, st)
	if err != nil {
		t.Fatal(err)
	}
	last := len(p.DistM) - 1
	for _, roll := range []float64{0, 3} {
		st.Pauses = []Pause{{AtM: 4500, S: 300, RollMps: roll}, {AtM: 5502, S: 120}}
		if err := st.Validate(); err != nil {
			t.Fatal(err)
		}
		pl, err := NewPlan(p, load, w, res, st)
		if err != nil {
			t.Fatal(err)
		}
		node := 900
		if pl.SpeedMps[node] != roll || pl.SpeedMps[1100] != 0 {
			t.Errorf("arrives at %g and %g m/s", pl.SpeedMps[node], pl.SpeedMps[1100])
		}
		if got := pl.MovingS(0, last) + 420; math.Abs(got-pl.TimeS[last]) > 1e-6 {
			t.Errorf("moving and pausing take %g s, the ride %g s", got, pl.TimeS[last])
		}
		if extra := pl.TimeS[last] - plain.TimeS[last]; extra < 420 || extra > 480 {
			t.Errorf("420 s of pauses make the ride %g s longer", extra)
		}
		e, before := pl.Ledger(0, last), plain.Ledger(0, last)
		if r := math.Abs(e.ResidualJ()); r > 1e-6*e.BrakesJ() {
			t.Errorf("the ledger is open by %g J", r)
		}
		if e.BrakesJ() <= before.BrakesJ() {
			t.Errorf("stopping twice takes %g J of the brakes, not stopping %g J", e.BrakesJ(), before.BrakesJ())
		}
		for name, d := range map[string]*Duty{"fine": pl.Duty(600), "sample": sampled(pl)} {
			var braked, paused, rolled float64
			for i := range d.DtS {
				braked += d.DtS[i] * (d.FrontW[i] + d.RearW[i])
				if math.Abs(d.DistM[i]-4500) < 1e-6 && d.FrontW[i] == 0 {
					paused += d.DtS[i]
					rolled = d.RollMps[i]
				}
			}
			if math.Abs(braked-e.BrakesJ()) > 1e-6*braked {
				t.Errorf("%s: the duty holds %g J, the ledger %g J", name, braked, e.BrakesJ())
			}
			if math.Abs(paused-300) > 1e-6 || rolled != roll {
				t.Errorf("%s: pauses %g s at %g m/s", name, paused, rolled)
			}
			if end := d.TimeS[d.Len()-1]; math.Abs(end-pl.TimeS[last]-600) > 1e-6 {
				t.Errorf("%s: ends at %g s, the ride and the standing at %g s", name, end, pl.TimeS[last]+600)
			}
		}
		// A planner does the same, before and after a ride without pauses.
		r, err := NewPlanner(p, w)
		if err != nil {
			t.Fatal(err)
		}
		without := st
		without.Pauses = nil
		for range 2 {
			if got := r.Ride(load, w, res, st); math.Abs(got.TimeS[last]-pl.TimeS[last]) > 1e-4*pl.TimeS[last] {
				t.Errorf("a planner takes %g s, planned by itself %g s", got.TimeS[last], pl.TimeS[last])
			}
			if got := r.Ride(load, w, res, without); math.Abs(got.TimeS[last]-plain.TimeS[last]) > 1e-4*plain.TimeS[last] {
				t.Errorf("without pauses a planner takes %g s, planned by itself %g s", got.TimeS[last], plain.TimeS[last])
			}
		}
	}
	for _, bad := range []Pause{{AtM: -5, S: 60}, {AtM: 5, S: 0}, {AtM: 5, S: 60, RollMps: 40}, {AtM: math.NaN(), S: 60}} {
		if bad.Validate() == nil {
			t.Errorf("%+v was taken", bad)
		}
	}
}

func sampled(pl *Plan) *Duty {
	d := &Duty{}
	pl.SampleDuty(d, 600)
	return d
}
