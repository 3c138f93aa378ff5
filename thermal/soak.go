package thermal

import (
	"rimheat/thermal/air"
	"rimheat/thermal/rim"
)

// A stop cools a hot wheel several times worse than riding, while the heat in
// the track spreads: what lies inside it goes on warming.

// SoakPlace is one place of a wheel after the brakes were last let go, °C.
type SoakPlace struct {
	// Place is "rim bed", "tyre side" (what tape, tube or cement touch), "spoke
	// bed" or "tyre air".
	Place string `json:"place"`
	// ThenC is its temperature when the wait began, PeakC the highest after it,
	// AfterS when that came, seconds after the beginning.
	ThenC  float64 `json:"then_C"`
	PeakC  float64 `json:"peak_C"`
	AfterS float64 `json:"after_s"`
}

// soakPlaces are the places that warm up late, and how to read them.
var soakPlaces = [...]struct {
	name string
	of   func(rim.State) float64
}{
	{"rim bed", func(s rim.State) float64 { return s.BedCentreK }},
	{"tyre side", func(s rim.State) float64 { return s.TyreSideK }},
	{"spoke bed", func(s rim.State) float64 { return s.SpokeBedK }},
	{"tyre air", func(s rim.State) float64 { return s.TyreAirK }},
}

// A soak follows those places of one wheel from begin on.
type soak struct {
	begun  bool
	beganS float64
	then   [len(soakPlaces)]float64
	peak   [len(soakPlaces)]float64
	after  [len(soakPlaces)]float64
}

// begin starts the wait anew, at t seconds.
func (k *soak) begin(t float64, st rim.State) {
	k.begun, k.beganS = true, t
	for i, p := range soakPlaces {
		k.then[i] = p.of(st)
		k.peak[i], k.after[i] = k.then[i], 0
	}
}

// step takes in the state at t seconds.
func (k *soak) step(t float64, st rim.State) {
	if !k.begun {
		return
	}
	for i, p := range soakPlaces {
		if v := p.of(st); v > k.peak[i] {
			k.peak[i], k.after[i] = v, t-k.beganS
		}
	}
}

// places tells what came of it; empty if there was no wait.
func (k *soak) places() []SoakPlace {
	out := []SoakPlace{}
	if !k.begun {
		return out
	}
	for i, p := range soakPlaces {
		out = append(out, SoakPlace{p.name, k.then[i] - air.ZeroCelsiusK, k.peak[i] - air.ZeroCelsiusK, k.after[i]})
	}
	return out
}
