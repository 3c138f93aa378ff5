package rim

import (
	"fmt"
	"math"
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

// A Section is one rim as the heat model sees it: what it is made of, its
// cross-section, and what its maker says it bears.
type Section struct {
	ID, Name string
	// Kind is "clincher" or "tubular".
	Kind     string
	Material Material
	Geometry Geometry
	// MakerLimitK is the rim maker's own limit for the brake track, kelvin;
	// 0 when none is known.
	MakerLimitK float64
	// ResinClass names an entry of ResinClasses; "" for metal.
	ResinClass string
	// Source says where the geometry comes from.
	Source string
	Basis  Basis
}

// Validate reports the first value that makes the section impossible.
func (s Section) Validate() error {
	if err := s.Material.Validate(); err != nil {
		return fmt.Errorf("rim %s: %w", s.ID, err)
	}
	if err := s.Geometry.Validate(); err != nil {
		return fmt.Errorf("rim %s: %w", s.ID, err)
	}
	return nil
}
