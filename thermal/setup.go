package thermal

import (
	"fmt"
	"math"

	"rimheat/route"
	"rimheat/thermal/air"
	"rimheat/thermal/ride"
	"rimheat/thermal/rim"
)

// A Wheel is one candidate: a rim, the pads that brake it, and the limits it
// is judged by. Front and rear wheel get the same rim.
type Wheel struct {
	Rim rim.Section
	Pad rim.Pad
	// TyreSide is what tyre, tape and tube bear.
	TyreSide rim.TyreSide
}

// A Setup is everything but the road: rider, bicycle, weather, technique and
// candidate wheels. SI units and kelvin throughout.
type Setup struct {
	Load       ride.Load
	Weather    ride.Weather
	Resistance ride.Resistance
	Style      ride.Style
	Tyres      Tyres
	Wheels     []Wheel
	// Sampling is how what is not known exactly is drawn; nothing is drawn by the
	// zero value.
	Sampling Sampling
	// Outlook asks for what would change the answer.
	Outlook bool
	// Readings are measured temperatures that the setup has been taught by, in the
	// order in which it was.
	Readings []Taught
	// Assumed names the inputs that nobody gave, in the words of the flags
	// without dashes ("rider-kg"), in the order of the flags.
	Assumed []string
}

// DefaultRims are the identifiers of the candidates when none is named.
func DefaultRims() []string { return []string{"carbon-deep", "alu-classic"} }

// DefaultStyle is the identifier of the style when none is named.
const DefaultStyle = "steady"

// DefaultSetup is a complete setup in which everything is assumed, except
// that Assumed is left to the caller, who knows what the user gave.
func DefaultSetup() Setup {
	s := Setup{
		Load: ride.Load{RiderKg: ride.DefaultRiderKg, BikeKg: ride.DefaultBikeKg, LuggageKg: ride.DefaultLuggageKg},
		Weather: ride.Weather{
			AirTempK: ride.DefaultAirTempC + air.ZeroCelsiusK, AtHeightM: math.NaN(),
			LapseKPerM: ride.StandardLapse, Humidity: ride.DefaultHumidity,
		},
		Resistance: ride.Resistance{CdAM2: ride.DefaultCdAM2, Crr: ride.DefaultCrr},
		Tyres:      Tyres{GaugePa: DefaultTyreGaugePa, MaxGaugePa: math.NaN()},
	}
	s.Style, _ = StyleByID(DefaultStyle)
	for _, id := range DefaultRims() {
		if sec, ok := RimByID(id); ok {
			s.Wheels = append(s.Wheels, NewWheel(sec))
		}
	}
	return s
}

// NewWheel fits a rim with the pads and tyre side that the trade would.
func NewWheel(sec rim.Section) Wheel {
	w := Wheel{Rim: sec}
	for _, t := range rim.TyreSides() {
		if t.Kind == sec.Kind {
			w.TyreSide = t
			break
		}
	}
	for _, p := range rim.Pads() {
		if p.ForComposite == sec.TrackMaterial().Composite {
			w.Pad = p
			break
		}
	}
	return w
}

// RimByID, PadByID, StyleByID and TyreSideByID look up a built-in part.
func RimByID(id string) (rim.Section, bool) {
	for _, s := range rim.Rims() {
		if s.ID == id {
			return s, true
		}
	}
	return rim.Section{}, false
}

// PadByID looks up a built-in pad compound.
func PadByID(id string) (rim.Pad, bool) {
	for _, p := range rim.Pads() {
		if p.ID == id {
			return p, true
		}
	}
	return rim.Pad{}, false
}

// StyleByID looks up a built-in riding style.
func StyleByID(id string) (ride.Style, bool) {
	for _, s := range ride.Styles() {
		if s.ID == id {
			return s, true
		}
	}
	return ride.Style{}, false
}

// TyreSideByID looks up a built-in tyre side.
func TyreSideByID(id string) (rim.TyreSide, bool) {
	for _, t := range rim.TyreSides() {
		if t.ID == id {
			return t, true
		}
	}
	return rim.TyreSide{}, false
}

// belongs reports a tyre side or a resin class that the rim cannot have.
func (w Wheel) belongs() error {
	if w.TyreSide.Kind != w.Rim.Kind {
		return fmt.Errorf("rim %s is a %s: a %s does not belong on it", w.Rim.ID, w.Rim.Kind, w.TyreSide.Name)
	}
	if _, ok := resinClass(w.Rim.ResinClass); w.Rim.HasResin() && !ok {
		return fmt.Errorf("rim %s: no resin class %q", w.Rim.ID, w.Rim.ResinClass)
	}
	return nil
}

// Validate reports the first input outside what bodies, bicycles and weather
// can be.
func (s Setup) Validate() error {
	for _, err := range []error{s.Load.Validate(), s.Weather.Validate(), s.Resistance.Validate(), s.Style.Validate(), s.Tyres.Validate(), s.Sampling.Validate()} {
		if err != nil {
			return err
		}
	}
	for _, k := range s.Readings {
		if err := k.Validate(); err != nil {
			return fmt.Errorf("reading %q: %w", k.Text, err)
		}
	}
	if len(s.Wheels) == 0 {
		return fmt.Errorf("no candidate rim")
	}
	seen := map[string]bool{}
	for _, w := range s.Wheels {
		for _, err := range []error{w.Rim.Validate(), w.Pad.Validate(), w.TyreSide.Validate()} {
			if err != nil {
				return err
			}
		}
		if err := w.belongs(); err != nil {
			return err
		}
		if seen[w.Rim.ID] {
			return fmt.Errorf("rim %s is named twice", w.Rim.ID)
		}
		seen[w.Rim.ID] = true
	}
	return nil
}

// fits reports a planned stop that the road has no place for.
func (s Setup) fits(p *route.Profile) error {
	if len(s.Style.Pauses) > 0 && p.Ride != nil {
		return fmt.Errorf("stops are planned, but a recorded ride has its own: leave them out, or plan the ride")
	}
	for _, k := range s.Style.Pauses {
		if last := p.DistM[len(p.DistM)-1]; k.AtM > last {
			return fmt.Errorf("a stop is planned at %.2f km, but the route ends at %.2f km", k.AtM/1000, last/1000)
		}
	}
	return nil
}
