package rim

import (
	"slices"
)

// A rimNumber is a numeric key of a rim file.
type rimNumber struct {
	key, unit string
	// lo and hi bound the value in unit, as Section.Validate does.
	lo, hi float64
	at     func(*Section) *float64
}

// rimLengths lists the lengths, millimetres in the file; all must be there.
func rimLengths() []rimNumber {
	return []rimNumber{
		{"outer_width_mm", "mm", 10, 60, func(s *Section) *float64 { return &s.Geometry.OuterWidthM }},
		{"inner_width_mm", "mm", 5, 59, func(s *Section) *float64 { return &s.Geometry.InnerWidthM }},
		{"depth_mm", "mm", 5, 120, func(s *Section) *float64 { return &s.Geometry.DepthM }},
		{"track_height_mm", "mm", 3, 20, func(s *Section) *float64 { return &s.Geometry.TrackHeightM }},
		{"track_below_edge_mm", "mm", 0, 5, func(s *Section) *float64 { return &s.Geometry.TrackBelowEdgeM }},
		{"bed_below_edge_mm", "mm", 2, 15, func(s *Section) *float64 { return &s.Geometry.BedBelowEdgeM }},
		{"bed_mm", "mm", 0.3, 6, func(s *Section) *float64 { return &s.Geometry.BedM }},
		{"flank_mm", "mm", 0.3, 29.5, func(s *Section) *float64 { return &s.Geometry.FlankM }},
		{"spoke_bed_mm", "mm", 0.3, 12, func(s *Section) *float64 { return &s.Geometry.SpokeBedM }},
		{"bead_seat_diameter_mm", "mm", 200, 700, func(s *Section) *float64 { return &s.Geometry.BeadSeatDiameterM }},
	}
}

// rimProperties lists what a material of one's own is made of; the first four
// must be there.
func rimProperties() []rimNumber {
	return []rimNumber{
		{"k_in_plane", "W/(m K)", 0.1, 450, func(s *Section) *float64 { return &s.Material.ConductivityAlong.Value }},
		{"k_through", "W/(m K)", 0.1, 450, func(s *Section) *float64 { return &s.Material.ConductivityThrough.Value }},
		{"density", "kg/m3", 400, 9000, func(s *Section) *float64 { return &s.Material.Density.Value }},
		{"specific_heat", "J/(kg K)", 300, 2500, func(s *Section) *float64 { return &s.Material.SpecificHeat.Value }},
		{"specific_heat_rise", "J/(kg K2)", 0, 6, func(s *Section) *float64 { return &s.Material.SpecificHeatRise.Value }},
		{"emissivity_track", "", 0, 1, func(s *Section) *float64 { return &s.Material.EmissivityTrack.Value }},
		{"emissivity_body", "", 0, 1, func(s *Section) *float64 { return &s.Material.EmissivityBody.Value }},
		{"absorptivity_track", "", 0, 1, func(s *Section) *float64 { return &s.Material.AbsorptivityTrack.Value }},
		{"absorptivity_body", "", 0, 1, func(s *Section) *float64 { return &s.Material.AbsorptivityBody.Value }},
	}
}

const mustHave = 4 // of rimProperties

// rimTexts lists the keys that are words.
func rimTexts() []string {
	return []string{"name", "kind", "shape", "material", "resin_class", "surface_material", "fairing_material", "source", "known"}
}

// rimExtras lists the numbers that may be left out. Values of a part that the
// rim does not have are refused.
func rimExtras() []rimNumber {
	return []rimNumber{
		{"surface_mm", "mm", leastLayerM * 1e3, 20, func(s *Section) *float64 { return &s.Surface.ThicknessM }},
		{"surface_bond_m2K_per_W", "m2 K/W", 0, mostBond, func(s *Section) *float64 { return &s.Surface.BondM2KPerW }},
		{"fairing_below_edge_mm", "mm", 5, 119, func(s *Section) *float64 { return &s.Fairing.BelowEdgeM }},
		{"fairing_bond_m2K_per_W", "m2 K/W", 0, mostBond, func(s *Section) *float64 { return &s.Fairing.BondM2KPerW }},
		{"max_pressure_kPa", "kPa", leastGaugePa / 1e3, mostGaugePa / 1e3, func(s *Section) *float64 { return &s.MaxGaugePa }},
		{"limit_C", "°C", LeastLimitC, MostLimitC, func(s *Section) *float64 { return &s.MakerLimitK }},
	}
}

// FileKeys lists every key of a rim file in the order of FileText.
func FileKeys() []string {
	keys := rimTexts()
	for _, n := range slices.Concat(rimProperties(), rimLengths(), rimExtras()) {
		keys = append(keys, n.key)
	}
	return keys
}
