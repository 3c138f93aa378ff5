package thermal

// An Outlook is what a rider could change, and what that would do.
type Outlook struct {
	// Changes are tried one at a time, in the central estimate and with the reduced
	// model.
	Changes []Change `json:"changes"`
	// Rests are where to let the rims cool, one entry for each candidate that is not
	// within its limits and for which stops were found, in the order of the candidates.
	Rests []RestAdvice `json:"rests"`
}

// A Change is one thing done otherwise, and what the central estimate then says.
type Change struct {
	// ID is "lighter", "cooler", "earlier", "habit", "share", "slower" or "pads".
	ID string `json:"id"`
	// Text says what is changed: "10 kg less on the bicycle"; Imperial the same in
	// pounds, °F and miles an hour.
	Text     string `json:"text"`
	Imperial string `json:"-"`
	// Rims has one entry for each candidate, in their order.
	Rims []ChangedRim `json:"rims"`
}

// A ChangedRim is one candidate after a change.
type ChangedRim struct {
	RimID string `json:"rim"`
	// Applies is false where the change cannot be made, as of pads for another
	// material; the rest is then 0.
	Applies bool `json:"applies"`
	// CoolerK is by how much the place that the deciding limit is about peaks lower,
	// K; negative where it gets hotter. PeakC is that peak, MarginK what is left to the
	// limit with the least margin, whichever it then is.
	CoolerK float64 `json:"cooler_K"`
	PeakC   float64 `json:"peak_C"`
	MarginK float64 `json:"margin_K"`
}

// A RestAdvice is a set of stops for one candidate, found by a quick search: planning
// at length may find fewer or shorter ones.
type RestAdvice struct {
	RimID string     `json:"rim"`
	Stops []CoolStop `json:"stops"`
	// Chance is that of reaching a limit with these stops, by so many draws.
	Chance Chance `json:"chance"`
	Draws  int    `json:"draws"`
	// Serves says that fewer than MarginalChance of the draws do.
	Serves bool `json:"serves"`
}
