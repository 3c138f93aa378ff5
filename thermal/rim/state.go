package rim

// Drive is what happens to one wheel during one step.
type Drive struct {
	DtS float64
	// PowerW is the braking power at this wheel, mean over the step.
	PowerW float64
	// OnPart is the part of the step in which the pads touch, 0 to 1.
	OnPart float64
	// RollMps is the road speed, StreamMps the air speed along the road
	// (road speed plus head wind).
	RollMps, StreamMps float64
	AirK, PressurePa   float64
	// SunWPerM2 is the sunshine that falls on the outer faces of either side.
	SunWPerM2 float64
}

// State is what is told of one wheel at the end of a step, kelvin.
type State struct {
	// WallK is the wall behind the swept band, mean through its thickness and
	// over the band's height: what carries the tyre's pressure.
	WallK float64
	// SweptK is the surface of the swept band, mean over its height;
	// HottestK its hottest row.
	SweptK, HottestK float64
	// ContactK is the skin under the pad's trailing edge, SweptK when the
	// pads are off.
	ContactK float64
	// MidWallK and InnerWallK are the middle and the inner face of the wall
	// behind the track.
	MidWallK, InnerWallK float64
	// TyreSideK is the hottest place that tyre, tape or tube touch.
	TyreSideK float64
	// FairingK is the bond of a fairing, hottest row, on its hotter side. While
	// the brakes heat the rim no part of the fairing is hotter; in the sun alone
	// parts may be. 0 K without one.
	FairingK              float64
	BedCentreK, SpokeBedK float64
	TyreAirK              float64
	// PadK is the first cell behind the pad's face.
	PadK float64
}

// Judged are the temperatures of State that limits are held against, kelvin.
type Judged struct{ WallK, SweptK, TyreSideK, FairingK float64 }

// judged gives that part.
func (s State) judged() Judged { return Judged{s.WallK, s.SweptK, s.TyreSideK, s.FairingK} }

// Balance is the energy ledger of one wheel since Reset, joules. Braked is
// the braking energy, Pads what the pads took, Sun what sunshine brought. For
// the rim with its hollow and its tyre node, In = Braked - Pads + Sun = Stored
// + Lost.
type Balance struct {
	Braked, Pads, Sun, In, Stored, Lost float64
}
