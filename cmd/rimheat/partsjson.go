package main

import "rimheat/thermal/rim"

// The JSON of parts: SI units except °C.

type partsJSON struct {
	Rims      []rimJSON      `json:"rims"`
	Materials []materialJSON `json:"materials"`
	Pads      []padJSON      `json:"pads"`
	TyreSides []limitJSON    `json:"tyre_sides"`
	Resins    []limitJSON    `json:"resin_classes"`
	Styles    []styleJSON    `json:"styles"`
}

type quantityJSON struct {
	Name  string  `json:"name"`
	Value float64 `json:"value"`
	Unit  string  `json:"unit"`
	// Low and High bound the range, where one is known.
	Low    *float64  `json:"low,omitempty"`
	High   *float64  `json:"high,omitempty"`
	Source string    `json:"source"`
	Basis  rim.Basis `json:"basis"`
}

type rimJSON struct {
	ID         string         `json:"id"`
	Name       string         `json:"name"`
	Kind       string         `json:"kind"`
	Material   string         `json:"material"`
	Shape      rim.Shape      `json:"shape"`
	ResinClass string         `json:"resin_class"`
	Surface    string         `json:"surface_material,omitempty"`
	Fairing    string         `json:"fairing_material,omitempty"`
	MaxKPa     float64        `json:"max_pressure_kPa,omitempty"`
	Lengths    []quantityJSON `json:"lengths"`
}

type materialJSON struct {
	ID         string         `json:"id"`
	Name       string         `json:"name"`
	Composite  bool           `json:"composite"`
	Quantities []quantityJSON `json:"quantities"`
}

type padJSON struct {
	ID           string         `json:"id"`
	Name         string         `json:"name"`
	ForComposite bool           `json:"for_composite"`
	Quantities   []quantityJSON `json:"quantities"`
}

type limitJSON struct {
	ID     string   `json:"id"`
	Name   string   `json:"name"`
	LimitC float64  `json:"limit_C"`
	LowC   *float64 `json:"low_C,omitempty"`
	HighC  *float64 `json:"high_C,omitempty"`
	// AlarmC, WetC and DryC are there where glass transitions are known.
	AlarmC *float64  `json:"alarm_C,omitempty"`
	WetC   *float64  `json:"wet_transition_C,omitempty"`
	DryC   *float64  `json:"dry_transition_C,omitempty"`
	Source string    `json:"source"`
	Basis  rim.Basis `json:"basis"`
}

type styleJSON struct {
	ID         string  `json:"id"`
	Name       string  `json:"name"`
	CapMps     float64 `json:"cap_mps"`
	CornerG    float64 `json:"corner_g"`
	BrakeG     float64 `json:"brake_g"`
	FrontShare float64 `json:"front_share"`
	Habit      string  `json:"brake_habit"`
	PedalW     float64 `json:"pedal_W"`
	Source     string  `json:"source"`
}

// forJSON gives the parts with names for machines and no null.
func (p parts) forJSON() partsJSON {
	j := partsJSON{
		Rims: []rimJSON{}, Materials: []materialJSON{}, Pads: []padJSON{},
		TyreSides: []limitJSON{}, Resins: []limitJSON{}, Styles: []styleJSON{},
	}
	for _, r := range p.rims {
		j.Rims = append(j.Rims, rimJSON{r.ID, r.Name, r.Kind, r.Material.ID, r.Geometry.Shape, r.ResinClass, r.Surface.Material.ID, r.Fairing.Material.ID, r.MaxGaugePa / 1e3, quantities(lengths(r))})
	}
	for _, m := range p.materials() {
		j.Materials = append(j.Materials, materialJSON{m.ID, m.Name, m.Composite, quantities(materialMeasures(m))})
	}
	for _, d := range p.pads {
		j.Pads = append(j.Pads, padJSON{d.ID, d.Name, d.ForComposite, quantities(padMeasures(d))})
	}
	for _, t := range p.sides {
		j.TyreSides = append(j.TyreSides, limitJSON{ID: t.ID, Name: t.Name, LimitC: t.LimitC, LowC: &t.LowC, HighC: &t.HighC, Source: t.Source, Basis: t.Basis})
	}
	for _, c := range p.classes {
		l := limitJSON{ID: c.ID, Name: c.Name, LimitC: c.LimitC, LowC: &c.LowC, HighC: &c.HighC, Source: c.Source, Basis: c.Basis}
		if c.AlarmC > 0 {
			l.AlarmC, l.WetC, l.DryC = &c.AlarmC, &c.WetC.Value, &c.DryC.Value
		}
		j.Resins = append(j.Resins, l)
	}
	for _, s := range p.styles {
		j.Styles = append(j.Styles, styleJSON{s.ID, s.Name, s.CapMps, s.CornerG, s.BrakeG, s.FrontShare, string(s.Habit), s.PedalW, s.Source})
	}
	return j
}

func quantities(ms []measure) []quantityJSON {
	out := []quantityJSON{}
	for _, m := range ms {
		j := quantityJSON{Name: m.name, Value: m.Value, Unit: m.Unit, Source: m.Source, Basis: m.Basis}
		if m.Low != 0 || m.High != 0 {
			j.Low, j.High = &m.Low, &m.High
		}
		out = append(out, j)
	}
	return out
}
