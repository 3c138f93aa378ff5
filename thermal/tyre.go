package thermal

import (
	"fmt"
	"math"

	"rimheat/thermal/air"
	"rimheat/thermal/rim"
)

// Tyres is how hard the tyres are pumped, pascal above the air's pressure.
type Tyres struct {
	// GaugePa is filled in at the start, with the tyre as warm as the air.
	GaugePa float64
	// MaxGaugePa is the highest that the tyre's maker allows; NaN if not given.
	MaxGaugePa float64
}

// Validate reports a pressure that no bicycle tyre has.
func (t Tyres) Validate() error {
	for _, p := range []struct {
		name string
		pa   float64
	}{{"tyre pressure", t.GaugePa}, {"highest pressure of the tyre", t.MaxGaugePa}} {
		if kPa := p.pa / 1e3; !(kPa >= leastTyreKPa && kPa <= mostTyreKPa) && !(math.IsNaN(kPa) && p.name != "tyre pressure") {
			return fmt.Errorf("%s is %g kPa, outside %g to %g kPa", p.name, kPa, float64(leastTyreKPa), float64(mostTyreKPa))
		}
	}
	return nil
}

const leastTyreKPa, mostTyreKPa = 50, 1500

// hotGaugePa is the pressure above the air's in a tyre that was filled to
// gaugePa above startPa at startK, when its air has come to hotK and the air
// outside to outsidePa: the tyre keeps its volume, so absolute pressure goes
// with absolute temperature.
func hotGaugePa(gaugePa, startPa, startK, hotK, outsidePa float64) float64 {
	return (gaugePa+startPa)*hotK/startK - outsidePa
}

// TyreHeat is what the tyre's air came to on the hotter wheel.
type TyreHeat struct {
	AirPeakC float64 `json:"air_peak_C"`
	// ColdKPa and HotKPa are above the air's pressure, at the start and at the
	// most.
	ColdKPa float64 `json:"cold_kPa"`
	HotKPa  float64 `json:"hot_kPa"`
	// MaxKPa is the lower one of the stated maxima of tyre and rim, MaxOf whose
	// it is; missing if none is stated.
	MaxKPa *float64 `json:"max_kPa,omitempty"`
	MaxOf  string   `json:"max_of,omitempty"`
	// Over says that the hot pressure passes it.
	Over bool `json:"over"`
}

// heldAgainst picks the maximum that binds.
func (t *TyreHeat) heldAgainst(tyres Tyres, rimMaxPa float64) {
	if !math.IsNaN(tyres.MaxGaugePa) {
		kPa := tyres.MaxGaugePa / 1e3
		t.MaxKPa, t.MaxOf = &kPa, "tyre"
	}
	if rimMaxPa > 0 && (t.MaxKPa == nil || rimMaxPa/1e3 < *t.MaxKPa) {
		kPa := rimMaxPa / 1e3
		t.MaxKPa, t.MaxOf = &kPa, "rim"
	}
	t.Over = t.MaxKPa != nil && t.HotKPa > *t.MaxKPa
}

// padHeat sums up pads that came to padK on a wheel that took brakedJ joules.
func padHeat(p rim.Pad, padK, brakedJ float64) PadHeat {
	return PadHeat{PeakC: padK - air.ZeroCelsiusK, FrictionCold: p.Friction.Value, FrictionHot: p.FrictionAt(padK), WearM: p.WearM(brakedJ)}
}

// PadHeat is what the pads went through on the wheel that braked more.
type PadHeat struct {
	// PeakC is the pad just behind its face.
	PeakC float64 `json:"peak_C"`
	// FrictionCold and FrictionHot are the friction coefficients of the dry
	// compound, cold and at that peak.
	FrictionCold float64 `json:"friction_cold"`
	FrictionHot  float64 `json:"friction_hot"`
	// WearM is how much thinner each block gets, m: an order of magnitude.
	WearM float64 `json:"wear_m"`
}
