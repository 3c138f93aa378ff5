package rim

// Basis says how a number is known.
type Basis string

const (
	// Published: read in the source that Source names.
	Published Basis = "published"
	// FromMemory: believed to stand in the literature, not looked up again.
	FromMemory Basis = "from memory"
	// Derived: computed from other numbers in the way Source says.
	Derived Basis = "derived"
	// CommonPractice: what the trade does, with no source to cite.
	CommonPractice Basis = "common practice, no source"
	// Invented: a made-up part, chosen inside what the trade builds.
	Invented Basis = "invented for this project"
)

// A Quantity is a number that carries its unit, where it comes from, and how
// it is known, so that every list of values can show all of it.
type Quantity struct {
	Value  float64
	Unit   string
	Source string
	Basis  Basis
}
