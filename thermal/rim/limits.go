package rim

import "fmt"

const (
	// operationalK is kept below the wet glass transition for long service:
	// material operational limit of epoxies, CMH-17 volume 1 section 2.2 (from
	// memory).
	operationalK = 28.0
	// alarmK is kept below the dry glass transition for minutes under a
	// tyre's pressure, where failure lies near it; common practice, no source.
	alarmK = 15.0
)

// A ResinClass is a family of resins and the track temperature that a rim
// made with it is taken to bear when its maker gives no figure. It has two
// bands: from LimitC caution, from AlarmC alarm.
type ResinClass struct {
	ID, Name string
	// LimitC is the central limit of the brake track, LowC and HighC the
	// range in which it lies, °C: the wet glass transition less 28 K where
	// one is known.
	LimitC, LowC, HighC float64
	// AlarmC is the dry glass transition less 15 K, AlarmLowC and AlarmHighC
	// its range, °C. All are 0 where no transition is known.
	AlarmC, AlarmLowC, AlarmHighC float64
	// WetC and DryC are the glass transitions, °C; without value if unknown.
	WetC, DryC Quantity
	Source     string
	Basis      Basis
}

// A TyreSide is what the tyre side of the rim carries: tube, tape or cement,
// and the temperature that it bears at the rim.
type TyreSide struct {
	ID, Name string
	// Kind is that of the rims that it is for: "clincher" or "tubular".
	Kind string
	// LimitC lies between LowC and HighC, °C.
	LimitC, LowC, HighC float64
	Source              string
	Basis               Basis
	// Caution is said with every result; "" for none.
	Caution string
}

// Validate reports a limit that nothing on a tyre's side has.
func (t TyreSide) Validate() error {
	if !(t.LimitC >= 40 && t.LimitC <= 400) {
		return fmt.Errorf("tyre side %s: limit is %g °C, outside 40 to 400 °C", t.ID, t.LimitC)
	}
	return nil
}
