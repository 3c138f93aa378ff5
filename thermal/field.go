package thermal

import (
	"math"

	"rimheat/thermal/air"
	"rimheat/thermal/ride"
	"rimheat/thermal/rim"
)

// A snapshot keeps the section at the moment when the brake track, as it is judged,
// was hottest. The zero value has seen nothing.
type snapshot struct {
	seen    bool
	trackC  float64
	step    int
	state   rim.State
	cellsK  []float64
	outline rim.Outline
	// roadAirK is how much warmer the air over the road is.
	roadAirK float64
}

// look takes in the end of a step.
func (n *snapshot) look(s *rim.Solver, st rim.State, trackC float64, step int) {
	if n.seen && trackC <= n.trackC {
		return
	}
	n.seen, n.trackC, n.step, n.state = true, trackC, step, st
	n.cellsK = s.AppendCells(n.cellsK[:0])
}

// of gives a wheel's run: 0 for the front one.
func (c *candidateRuns) of(wheel int) *wheelRun {
	if wheel == 0 {
		return &c.front
	}
	return &c.rear
}

// fieldOf is the section of a wheel when its brake track is hottest.
func fieldOf(w Wheel, d *ride.Duty, r *wheelRun, wheel string) *Field {
	n, g := &r.hottest, w.Rim.Geometry
	c := func(k float64) float64 { return k - air.ZeroCelsiusK }
	f := &Field{
		Wheel: wheel, AtM: d.DistM[n.step], TimeS: d.TimeS[n.step],
		HalfWidthM: g.OuterWidthM / 2, DepthM: g.DepthM,
		TrackC: n.trackC, SurfaceC: c(n.state.SweptK), BedC: c(n.state.BedCentreK), TyreSideC: c(n.state.TyreSideK), SpokeBedC: c(n.state.SpokeBedK),
		AirC:       c(d.AirK[n.step] + n.roadAirK),
		TrackFromM: g.TrackBelowEdgeM, TrackToM: g.TrackBelowEdgeM + g.TrackHeightM, BedFromM: g.BedBelowEdgeM, BedToM: g.BedBelowEdgeM + g.BedM,
		Cells: make([]FieldCell, len(n.outline)),
	}
	for i, o := range n.outline {
		f.Cells[i] = FieldCell{X: o.X, Y: o.Y, C: c(n.cellsK[i])}
	}
	return f
}

// bounds are the coolest and the hottest cell, °C; +Inf and -Inf without any.
func (f *Field) bounds() (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for _, c := range f.Cells {
		lo, hi = min(lo, c.C), max(hi, c.C)
	}
	return lo, hi
}

// FieldBounds are the coolest and the hottest cell of all rims that have a field, °C,
// so that they can be drawn to one scale; ok is false if none has.
func FieldBounds(rims []RimResult) (lo, hi float64, ok bool) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for i := range rims {
		if f := rims[i].Field; f != nil {
			l, h := f.bounds()
			lo, hi = min(lo, l), max(hi, h)
		}
	}
	return lo, hi, lo <= hi
}

// A HeatHabit is what a rim does with the heat of its brake track.
type HeatHabit int

const (
	// NoHabit: neither, or the track is hardly warmer than the air.
	NoHabit HeatHabit = iota
	// KeepsAtTrack keeps it at the track, KeepsAbove in track and rim bed; SpreadsAll
	// spreads it through the whole section.
	KeepsAtTrack
	KeepsAbove
	SpreadsAll
)

// It is told by the part of the track's warmth over the air that is gone at the spoke
// bed: from keepsPart on the heat is kept above, up to spreadsPart it is spread. It is
// kept at the track alone where bedPart is gone at the rim bed already. Of a rim less than
// WarmK over the air, K, nothing is said. Common practice, no source.
const (
	keepsPart, spreadsPart = 0.6, 0.3
	bedPart                = 0.2
	WarmK                  = 15.0
)

// Habit says what the rim does with its heat at that moment.
func (f *Field) Habit() HeatHabit {
	warm, drop := f.TrackC-f.AirC, f.TrackC-f.SpokeBedC
	switch {
	case !(warm >= WarmK):
		return NoHabit
	case drop >= keepsPart*warm && f.TrackC-f.BedC >= bedPart*warm:
		return KeepsAtTrack
	case drop >= keepsPart*warm:
		return KeepsAbove
	case drop >= 0 && drop <= spreadsPart*warm:
		return SpreadsAll
	}
	return NoHabit
}
