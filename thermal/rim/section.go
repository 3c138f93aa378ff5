package rim

import (
	"fmt"
	"math"

	"rimheat/thermal/air"
)

// Shape says how the flanks run from the brake track to the spoke bed.
type Shape string

const (
	// Box has vertical flanks and a flat spoke bed as wide as the rim.
	Box Shape = "box"
	// Taper has flanks that lean in to a narrow rounded spoke bed.
	Taper Shape = "taper"
)

// Geometry is a rim's cross-section, all lengths in metres. "Edge" is the
// outermost circle of the rim wall, where it meets the tyre.
//
// The brake-track wall has the thickness WallM from the edge down to the
// lower one of the track's lower border and the underside of the rim bed;
// below that the flank continues with FlankM.
type Geometry struct {
	Shape Shape
	// OuterWidthM is measured over the brake tracks, InnerWidthM between
	// the walls where the tyre bead sits.
	OuterWidthM, InnerWidthM float64
	// DepthM is radial, from the edge to the inner side of the spoke bed.
	DepthM float64
	// TrackHeightM is the radial height of the brake track, TrackBelowEdgeM
	// the distance of its upper border from the edge.
	TrackHeightM, TrackBelowEdgeM float64
	// BedBelowEdgeM is the distance of the rim bed's tyre side from the edge.
	BedBelowEdgeM float64
	// BedM, FlankM and SpokeBedM are wall thicknesses.
	BedM, FlankM, SpokeBedM float64
	// BeadSeatDiameterM is the nominal bead seat diameter (ISO 5775-1), for
	// example 0.622.
	BeadSeatDiameterM float64
}

// WallM is the thickness of one brake-track wall, metres.
func (g Geometry) WallM() float64 { return (g.OuterWidthM - g.InnerWidthM) / 2 }

// EdgeRadiusM is the radius of the rim's outer edge, metres.
func (g Geometry) EdgeRadiusM() float64 { return g.BeadSeatDiameterM/2 + g.BedBelowEdgeM }

// TrackRadiusM is the radius at the middle of the brake track, metres.
func (g Geometry) TrackRadiusM() float64 {
	return g.EdgeRadiusM() - g.TrackBelowEdgeM - g.TrackHeightM/2
}

// LeastInnerRadiusM is what a rim leaves for hub and spokes, m: the smallest
// wheels have far more; common practice, no source.
const LeastInnerRadiusM = 0.03

// Validate reports the first length that no rim can have.
func (g Geometry) Validate() error {
	in := func(name string, v, lo, hi float64) error {
		if math.IsNaN(v) || v < lo || v > hi {
			return fmt.Errorf("%s is %.4g mm, outside %.4g to %.4g mm", name, v*1e3, lo*1e3, hi*1e3)
		}
		return nil
	}
	wallEnd := max(g.TrackBelowEdgeM+g.TrackHeightM, g.BedBelowEdgeM+g.BedM)
	for _, err := range []error{
		in("outer width", g.OuterWidthM, 10e-3, 60e-3),
		in("inner width", g.InnerWidthM, 5e-3, g.OuterWidthM-1e-3),
		in("track height", g.TrackHeightM, 3e-3, 20e-3),
		in("distance of track from edge", g.TrackBelowEdgeM, 0, 5e-3),
		in("distance of rim bed from edge", g.BedBelowEdgeM, 2e-3, 15e-3),
		in("rim bed", g.BedM, 0.3e-3, 6e-3),
		in("flank", g.FlankM, 0.3e-3, g.OuterWidthM/2-0.5e-3),
		in("spoke bed", g.SpokeBedM, 0.3e-3, 12e-3),
		in("depth", g.DepthM, wallEnd+g.SpokeBedM+1e-3, 120e-3),
		in("bead seat diameter", g.BeadSeatDiameterM, 0.2, 0.7),
	} {
		if err != nil {
			return err
		}
	}
	if g.DepthM > g.EdgeRadiusM()-LeastInnerRadiusM {
		return fmt.Errorf("depth %.4g mm reaches too near the hub of a wheel of %.4g mm", g.DepthM*1e3, g.BeadSeatDiameterM*1e3)
	}
	if g.Shape != Box && g.Shape != Taper {
		return fmt.Errorf("shape %q is neither %q nor %q", g.Shape, Box, Taper)
	}
	return nil
}

// A Layer is a skin on the outer side of the brake-track wall, from the edge
// down to the end of the thick wall. It takes the place of so much of the wall.
type Layer struct {
	Material Material
	// ThicknessM is 0 for no layer.
	ThicknessM float64
	// BondM2KPerW is the resistance of what holds it to the wall, m2 K/W.
	BondM2KPerW float64
}

// A Fairing is the lower part of the flank with the spoke bed, of another
// material than the track and the rim bed above it and bonded to them.
type Fairing struct {
	// Material has no ID for no fairing.
	Material Material
	// BelowEdgeM is where it begins, metres along the wall from the edge.
	BelowEdgeM float64
	// BondM2KPerW is the resistance of the joint, m2 K/W.
	BondM2KPerW float64
}

// A Section is one rim as the heat model sees it: what it is made of, its
// cross-section, and what its maker says it bears.
type Section struct {
	ID, Name string
	// Kind is "clincher" or "tubular".
	Kind string
	// Material is that of all that Surface and Fairing do not replace.
	Material Material
	Surface  Layer
	Fairing  Fairing
	Geometry Geometry
	// MakerLimitK is the rim maker's own limit for the brake track, kelvin;
	// 0 when none is known.
	MakerLimitK float64
	// MaxGaugePa is the highest tyre pressure above the air's that the maker
	// allows, Pa; 0 when none is known.
	MaxGaugePa float64
	// ResinClass names an entry of ResinClasses; "" for metal throughout.
	ResinClass string
	// Source says where the geometry comes from.
	Source string
	Basis  Basis
}

// TrackMaterial is what the pads rub on.
func (s Section) TrackMaterial() Material {
	if s.Surface.ThicknessM > 0 {
		return s.Surface.Material
	}
	return s.Material
}

// HasResin says whether any part of the section is a composite.
func (s Section) HasResin() bool {
	return s.ResinInTrack() || s.Fairing.Material.Composite
}

// MassKg is the mass that geometry and densities give. The section must be
// valid.
func (s Section) MassKg() float64 { return newMesh(s, Resolution{}).massKg }

// ResinInTrack says whether the track's wall or its skin is a composite.
func (s Section) ResinInTrack() bool { return s.Material.Composite || s.TrackMaterial().Composite }

// HasFairing says whether flank and spoke bed are of another material.
func (s Section) HasFairing() bool { return s.Fairing.Material.ID != "" }

// At is the section with the conductivities of all its materials, along their
// walls and through them, at two places of their ranges, -1 to 1 (see
// Quantity.At); it has no ranges of them any more. A material that is no
// composite, whose one conductivity stands in both, has it at through.
func (s Section) At(along, through float64) Section {
	s.Material = s.Material.at(along, through)
	s.Surface.Material = s.Surface.Material.at(along, through)
	s.Fairing.Material = s.Fairing.Material.at(along, through)
	return s
}

// MaterialNames tells what the section is made of, outermost first.
func (s Section) MaterialNames() string {
	name := s.Material.Name
	if s.Surface.ThicknessM > 0 {
		name = fmt.Sprintf("%s under %.2g mm of %s", name, s.Surface.ThicknessM*1e3, s.Surface.Material.Name)
	}
	if s.HasFairing() {
		name += " with a fairing of " + s.Fairing.Material.Name
	}
	return name
}

// fairingFrom gives the first and the last place at which a fairing can begin,
// metres along the wall from the edge: below track and bed, above the spoke bed.
func (g Geometry) fairingFrom() (first, last float64) {
	wallEnd := g.wallEndM()
	pathEnd, _ := g.plan(wallEnd)
	return wallEnd, pathEnd - g.SpokeBedM - 0.5e-3
}

const (
	// A layer is no thinner than leastLayerM and leaves leastWallM of wall
	// under it, and of the flank, which hangs on the wall below the layer, m; a
	// joint resists no more than mostBond, m2 K/W (derived: 2 mm
	// of adhesive at 0.2 W/(m K)); common practice, no source.
	leastLayerM, leastWallM = 0.05e-3, 0.3e-3
	mostBond                = 0.01
)

// Validate reports the first value that makes the section impossible.
func (s Section) Validate() error {
	of := func(err error) error { return fmt.Errorf("rim %s: %w", s.ID, err) }
	if err := s.Material.Validate(); err != nil {
		return of(err)
	}
	if err := s.Geometry.Validate(); err != nil {
		return of(err)
	}
	if s.Kind != "clincher" && s.Kind != "tubular" {
		return of(fmt.Errorf("kind %q is neither clincher nor tubular", s.Kind))
	}
	if l := s.MakerLimitK; l != 0 && !(l >= air.ZeroCelsiusK+LeastLimitC && l <= air.ZeroCelsiusK+MostLimitC) {
		return of(fmt.Errorf("maker's limit is %.0f °C, outside %d to %d °C", l-air.ZeroCelsiusK, LeastLimitC, MostLimitC))
	}
	bond := func(r float64) bool { return r >= 0 && r <= mostBond }
	if l := s.Surface; l.ThicknessM != 0 {
		if err := l.Material.Validate(); err != nil {
			return of(err)
		}
		if most := math.Min(s.Geometry.WallM(), s.Geometry.FlankM) - leastWallM; !(l.ThicknessM >= leastLayerM && l.ThicknessM <= most+1e-9) {
			return of(fmt.Errorf("surface layer is %.3g mm, outside %g to %.3g mm", l.ThicknessM*1e3, leastLayerM*1e3, most*1e3))
		}
		if !bond(l.BondM2KPerW) {
			return of(fmt.Errorf("bond of the surface layer is %g m2 K/W, outside 0 to %g m2 K/W", l.BondM2KPerW, mostBond))
		}
	}
	if s.HasFairing() {
		if err := s.Fairing.Material.Validate(); err != nil {
			return of(err)
		}
		from, to := s.Geometry.fairingFrom()
		if b := s.Fairing.BelowEdgeM; !(b >= from-1e-9 && b <= to+1e-9) {
			return of(fmt.Errorf("fairing begins %.3g mm below the edge, outside %.3g to %.3g mm", b*1e3, from*1e3, to*1e3))
		}
		if !bond(s.Fairing.BondM2KPerW) {
			return of(fmt.Errorf("bond of the fairing is %g m2 K/W, outside 0 to %g m2 K/W", s.Fairing.BondM2KPerW, mostBond))
		}
	}
	if s.MaxGaugePa != 0 && !(s.MaxGaugePa >= leastGaugePa && s.MaxGaugePa <= mostGaugePa) {
		return of(fmt.Errorf("highest tyre pressure is %g kPa, outside %g to %g kPa", s.MaxGaugePa/1e3, leastGaugePa/1e3, mostGaugePa/1e3))
	}
	return nil
}

// LeastLimitC and MostLimitC bound a maker's limit, °C; common practice, no
// source.
const LeastLimitC, MostLimitC = 40, 400

// leastGaugePa and mostGaugePa bound what a maker may allow, Pa; common
// practice, no source.
const leastGaugePa, mostGaugePa = 100e3, 1500e3
