package rim

// A Pad is a brake pad compound and the block made of it.
type Pad struct {
	ID, Name string
	// ForComposite says whether the compound is meant for composite tracks.
	ForComposite bool
	// Conductivity W/(m K), Density kg/m3, SpecificHeat J/(kg K).
	Conductivity, Density, SpecificHeat Quantity
	// Length along the track, Height across it and Thickness from face to
	// holder of one block, metres.
	Length, Height, Thickness Quantity
}

// A ResinClass is a family of resins and the track temperature that a rim
// made with it is taken to bear when its maker gives no figure.
type ResinClass struct {
	ID, Name string
	// LimitC is the central limit of the brake track, LowC and HighC the
	// spread that it is later sampled over, °C.
	LimitC, LowC, HighC float64
	Source              string
	Basis               Basis
}

// A TyreSide is what the tyre side of the rim carries: tube, tape or cement,
// and the temperature that it bears at the rim.
type TyreSide struct {
	ID, Name string
	LimitC   float64
	Source   string
	Basis    Basis
}
