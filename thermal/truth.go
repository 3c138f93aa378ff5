package thermal

import (
	"fmt"
	"math"
	"slices"

	"rimheat/thermal/ride"
	"rimheat/thermal/rim"
)

// Sampling says how the inputs that are not known exactly are drawn.
type Sampling struct {
	// Samples is how many possible truths are drawn, none for 0; it is rounded up
	// to tens.
	Samples int
	// Seed makes the draws: the same ones for the same seed.
	Seed uint64
	// Full runs the section solver for every draw in place of the reduced model.
	Full bool
	// Spread replaces figures of UncertainInputs, by identifier.
	Spread map[string]float64
}

const (
	// DefaultSamples is how many truths are drawn when nobody says: enough for a
	// chance of 5 % to be known to some 2 %.
	DefaultSamples = 500
	// LeastSamples is the least that means something, MostSamples bounds memory: the
	// fit behind the drivers takes some 40 kB a draw.
	LeastSamples, MostSamples = 100, 5000
)

// Validate reports the first setting that is out of bounds.
func (s Sampling) Validate() error {
	if n := s.Samples; n != 0 && (n < LeastSamples || n > MostSamples) {
		return fmt.Errorf("%d draws are outside %d to %d", n, LeastSamples, MostSamples)
	}
	for _, u := range uncertainTable() {
		if f, given := s.Spread[u.ID]; given {
			if err := u.check(f); err != nil {
				return err
			}
		}
	}
	for id := range s.Spread {
		if _, ok := uncertainByID(id); !ok {
			return fmt.Errorf("no uncertain input is called %q", id)
		}
	}
	return nil
}

// The numbers of a draw, each in (0,1) and by itself.
const (
	drawFilm = iota
	drawCdA
	drawCrr
	drawFront
	drawAir
	drawWindEast
	drawWindNorth
	drawMass
	drawAlong
	drawThrough
	drawPads
	drawCap
	drawBends
	drawLimit
	drawTyreLimit
	draws
)

// drawInputs names the input that each number of a draw belongs to.
func drawInputs() [draws]string {
	return [draws]string{
		"film", "cda", "crr", "front-share", "air-temp", "wind", "wind", "mass",
		"conductivity", "conductivity", "pads", "cap", "bends", "limit", "tyre-limit",
	}
}

// doubts are the spreads of a setup's inputs, and what readings have taught.
type doubts struct {
	setup  *Setup
	kind   [draws]SpreadKind
	figure [draws]float64
}

// newDoubts finds the spread of every input of a setup. Where a recording is
// replayed the planned technique does not count.
func newDoubts(s *Setup, replayed bool) *doubts {
	d := &doubts{setup: s}
	for i, id := range drawInputs() {
		u, _ := uncertainByID(id) // TestUncertainInputs holds both together
		d.kind[i], d.figure[i] = u.Kind, s.spreadOf(u)
		if replayed && (i == drawCap || i == drawBends) {
			d.figure[i] = 1
		}
	}
	return d
}

// spreadOf is the figure that counts for an input of this setup.
func (s *Setup) spreadOf(u Uncertain) float64 {
	if f, given := s.Sampling.Spread[u.ID]; given {
		return f
	}
	for _, k := range s.Readings {
		for _, f := range k.Figures {
			if f.Name == u.ID {
				return f.Value // what was learned is in its units
			}
		}
	}
	if s.assumed(u.ID) {
		return u.Assumed
	}
	return u.Given
}

// assumed says whether nobody gave what an uncertain input is about.
func (s *Setup) assumed(id string) bool {
	name := id
	switch id {
	case "mass":
		name = "rider-kg"
	case "cap", "bends":
		name = map[string]string{"cap": "cap-kmh", "bends": "corner-g"}[id]
	}
	return slices.Contains(s.Assumed, name)
}

// A truth is one possible world: what the setup may be in fact.
type truth struct {
	load       ride.Load
	weather    ride.Weather
	resistance ride.Resistance
	style      ride.Style
	// heat is what the candidates' wheels may be in fact, one entry each.
	heat []wheelTruth
	// Places in the ranges of the limits, -1 to 1 (rim.Quantity.At).
	limit, tyreLimit float64
}

// A wheelTruth is what one wheel may be in fact.
type wheelTruth struct {
	// film multiplies the film coefficient.
	film float64
	// Places in the ranges of the parts, -1 to 1 (rim.Quantity.At).
	along, through, pads float64
}

// sigmas95 is how many standard deviations hold nineteen in twenty.
const sigmas95 = 1.959964

// numbers is a draw.
type numbers [draws]float64

// truth turns the numbers of a draw, each in (0,1), into a possible world.
func (d *doubts) truth(u []float64) truth {
	var z numbers
	for i, v := range u {
		z[i] = math.Sqrt2 * math.Erfinv(2*v-1)
	}
	return d.world(z)
}

// central is the world in the middle of all draws: the setup, and what readings
// have taught of it.
func (d *doubts) central() truth { return d.world(numbers{}) }

// world turns standard normal numbers into a possible world. Readings on one rim
// say what its film, conduction and pads are, and nothing of those of another.
func (d *doubts) world(drawn numbers) truth {
	s := d.setup
	z := s.taught(drawn, "")
	t := truth{load: s.Load, weather: s.Weather, resistance: s.Resistance, style: s.Style}
	t.resistance.CdAM2 *= d.factor(&z, drawCdA)
	t.resistance.Crr *= d.factor(&z, drawCrr)
	t.style.FrontShare = min(max(t.style.FrontShare+d.offset(&z, drawFront), 0), 1)
	t.weather = warmer(*s, d.offset(&z, drawAir)).Weather
	t.weather.WindMps, t.weather.WindFromRad = addWind(s.Weather, d.offset(&z, drawWindEast), d.offset(&z, drawWindNorth))
	t.load.RiderKg = max(t.load.RiderKg+d.offset(&z, drawMass), leastDrawnKg)
	t.style.CapMps *= d.factor(&z, drawCap)
	bends := d.factor(&z, drawBends)
	t.style.CornerG = min(t.style.CornerG*bends, 1)
	t.style.BrakeG = min(t.style.BrakeG*bends, mostBrakeG)
	t.limit, t.tyreLimit = d.place(&z, drawLimit), d.place(&z, drawTyreLimit)
	t.heat = make([]wheelTruth, len(s.Wheels))
	for i, w := range s.Wheels {
		y := z
		if len(s.Readings) > 0 {
			y = s.taught(drawn, w.Rim.ID)
		}
		t.heat[i] = wheelTruth{d.factor(&y, drawFilm), d.place(&y, drawAlong), d.place(&y, drawThrough), d.place(&y, drawPads)}
	}
	return t
}

const (
	// leastDrawnKg keeps a light rider's doubt from making nobody of them, kg.
	leastDrawnKg = 20.0
	// mostBrakeG is the hardest braking that a style can plan, in g.
	mostBrakeG = 0.6
)

func (d *doubts) factor(z *numbers, i int) float64 {
	return math.Exp(z[i] * math.Log(d.figure[i]) / sigmas95)
}

func (d *doubts) offset(z *numbers, i int) float64 { return z[i] * d.figure[i] / sigmas95 }

// place is triangular over the part of the range, densest at its middle.
func (d *doubts) place(z *numbers, i int) float64 {
	below := 0.5 * math.Erfc(math.Abs(z[i])/math.Sqrt2) // in the tail beyond z
	return d.figure[i] * math.Copysign(1-math.Sqrt(2*below), z[i])
}

// value is number i of a draw as its spread is stated: a factor, an offset or a
// place.
func (d *doubts) value(z *numbers, i int) float64 {
	switch d.kind[i] {
	case ByFactor:
		return d.factor(z, i)
	case ByOffset:
		return d.offset(z, i)
	}
	return d.place(z, i)
}

// addWind adds a wind that blows towards east and north, m/s, to the weather's.
func addWind(w ride.Weather, east, north float64) (mps, fromRad float64) {
	if east == 0 && north == 0 {
		return w.WindMps, w.WindFromRad
	}
	// A wind from the north blows towards the south.
	sin, cos := math.Sincos(w.WindFromRad)
	e, n := east-w.WindMps*sin, north-w.WindMps*cos
	return math.Hypot(e, n), math.Atan2(-e, -n)
}

// as is the setup in a possible world. Only the film is left to rim.Options.
func (s Setup) as(t truth) Setup {
	s.Load, s.Weather, s.Resistance, s.Style = t.load, t.weather, t.resistance, t.style
	s.Wheels = slices.Clone(s.Wheels)
	for i := range s.Wheels {
		w := &s.Wheels[i]
		w.Rim, w.Pad = w.Rim.At(t.heat[i].along, t.heat[i].through), w.Pad.At(t.heat[i].pads)
	}
	return s
}

// limitIn is what a limit is in a possible world, °C.
func (t *truth) limitIn(l *LimitResult) float64 {
	place := t.limit
	if l.On == OnTyreSide {
		place = t.tyreLimit
	}
	return rim.Quantity{Value: l.LimitC, Low: l.LowC, High: l.HighC}.At(place)
}

// firstDrawOf is the first number of a draw that belongs to an input.
func firstDrawOf(id string) int {
	ids := drawInputs()
	return slices.Index(ids[:], id)
}
