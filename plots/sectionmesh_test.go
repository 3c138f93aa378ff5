package plots

import (
	"math"
	"testing"

	"rimheat/thermal"
)

// sumAreas is what loops enclose together, holes taken off, m2.
func sumAreas(m *sectionMesh, level float64) float64 {
	sum := 0.0
	for _, l := range m.above(level) {
		sum += loopArea(m.places(l, level))
	}
	return sum
}

// The mesh covers both halves once: its border encloses what the cells cover, with one
// hollow inside.
func TestSectionMeshIsTheWholeSection(t *testing.T) {
	for _, r := range assessedRide(t, "drag_hill.gpx", "carbon-deep", "alu-classic", "alu-box", "alu-track").Rims {
		cells := 0.0
		for i := range r.Field.Cells {
			pts := cornersOf(&r.Field.Cells[i], 1)
			cells += loopArea(pts[:])
		}
		m := newSectionMesh(r.Field.Cells)
		if got := sumAreas(m, math.Inf(-1)); math.Abs(got/(2*cells)-1) > 1e-9 {
			t.Errorf("%s: the section covers %g mm2, its cells %g on each side", r.ID, 1e6*got, 1e6*cells)
		}
		outer, holes := 0, 0
		for _, l := range m.above(math.Inf(-1)) {
			if loopArea(m.places(l, 0)) > 0 {
				outer++
			} else {
				holes++
			}
		}
		if outer != 1 || holes != 1 {
			t.Errorf("%s: %d parts with %d hollows, want one with one", r.ID, outer, holes)
		}
		lo, hi := m.bounds()
		coolest, hottest, _ := thermal.FieldBounds([]thermal.RimResult{r})
		if lo < coolest-1e-9 || hi > hottest+1e-9 || hi < hottest-0.2*(hottest-coolest)-1 {
			t.Errorf("%s: drawn from %.1f to %.1f °C, cells from %.1f to %.1f", r.ID, lo, hi, coolest, hottest)
		}
		before := sumAreas(m, lo-1)
		for k := range 20 {
			a := sumAreas(m, lo+(hi-lo)*float64(k+1)/20)
			if a > before+1e-15 || a < -1e-15 {
				t.Errorf("%s: what is above a higher level covers more: %g after %g mm2", r.ID, 1e6*a, 1e6*before)
			}
			before = a
		}
	}
}

// On a grid a temperature that rises straight is drawn straight, but for the half cells at
// the border: what is hotter than a level is what lies beyond its line.
func TestSectionMeshBetweenCells(t *testing.T) {
	const half, depth = 0.01, 0.02
	f := &thermal.Field{}
	ys := []float64{0, 0.001, 0.0015, 0.004, 0.005, 0.009, 0.0095, 0.013, 0.018, depth}
	for j := range ys[1:] {
		for i := range 4 {
			x0, x1 := half*float64(i)/4, half*float64(i+1)/4
			f.Cells = append(f.Cells, thermal.FieldCell{X: [4]float64{x0, x1, x1, x0}, Y: [4]float64{ys[j], ys[j], ys[j+1], ys[j+1]}, C: 100 - 2000*(ys[j]+ys[j+1])/2})
		}
	}
	m := newSectionMesh(f.Cells)
	for _, level := range []float64{98, 93, 88, 80, 77.77, 70} {
		want := 2 * half * (100 - level) / 2000
		if got := sumAreas(m, level); math.Abs(got/want-1) > 1e-9 {
			t.Errorf("hotter than %g °C: %g mm2, want %g", level, 1e6*got, 1e6*want)
		}
		lines := 0
		for _, l := range m.above(level) {
			for _, run := range isotherms(l) {
				lines++
				for _, p := range m.places(run, level) {
					if y := -(100 - level) / 2000; math.Abs(p.y-y) > 1e-12 {
						t.Errorf("the line of %g °C passes %g m, want %g", level, p.y, y)
					}
				}
			}
		}
		if lines != 1 {
			t.Errorf("%g °C has %d lines, want one across both halves", level, lines)
		}
	}
}

func TestPlainLines(t *testing.T) {
	run := []xy{{0, 0}, {1, 0.01}, {2, -0.01}, {3, 0}, {3, 1}, {3.02, 2}, {3, 3}}
	got := plain(run, 0.05)
	if want := []xy{{0, 0}, {3, 0}, {3, 3}}; len(got) != len(want) || got[0] != want[0] || got[1] != want[1] || got[2] != want[2] {
		t.Errorf("got %v, want %v", got, want)
	}
	for _, p := range run {
		off := math.Inf(1)
		for i := range got[1:] {
			off = min(off, offLine(p, got[i], got[i+1]))
		}
		if off > 0.05 {
			t.Errorf("%v lies %g off", p, off)
		}
	}
}
