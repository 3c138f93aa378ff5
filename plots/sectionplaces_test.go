package plots

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"rimheat/thermal"
)

// The numbers are the field's, each at the end of a line from its own place.
func TestSectionNumbersAndTheirPlaces(t *testing.T) {
	a := assessedRide(t, "two_passes_hot.gpx", "carbon-deep", "alu-classic", "alu-box")
	for _, opt := range []Options{{}, {Imperial: true}} {
		sc := sectionScene(t, a, opt, false)
		u := units{imperial: opt.Imperial}
		for i := range a.Rims {
			f := a.Rims[i].Field
			g := frameOf(t, sc, i, f)
			for _, c := range []struct {
				what   string
				c      float64
				x0, x1 float64
				y0, y1 float64
			}{
				{"brake track", f.TrackC, f.HalfWidthM, f.HalfWidthM, f.TrackFromM, f.TrackToM},
				{"rim bed", f.BedC, 0, 0, f.BedFromM, f.BedToM},
				{"spoke bed", f.SpokeBedC, 0, 0, f.BedToM + 0.5*(f.DepthM-f.BedToM), f.DepthM},
				{"tyre side", f.TyreSideC, 0, f.HalfWidthM - 0.001, 0, f.BedToM},
			} {
				k := slices.IndexFunc(sc.labels, func(l label) bool { return l.rim == i && l.role == roleTrack && l.text == c.what })
				if k < 1 {
					t.Fatalf("rim %d: no label %q", i, c.what)
				}
				if got := sc.labels[k-1].text; got != u.tempText(c.c) {
					t.Errorf("rim %d, %s: %q, want %q", i, c.what, got, u.tempText(c.c))
				}
				from, found := leaderTo(sc, i, sc.labels[k-1].box, sc.labels[k].box)
				if !found {
					t.Fatalf("rim %d: no line to %q", i, c.what)
				}
				x, y := (from.x-g.mid)/g.perM, (g.edge-from.y)/g.perM
				const slack = 1e-6
				if x < c.x0-slack || x > c.x1+slack || y < c.y0-slack || y > c.y1+slack {
					t.Errorf("rim %d: the line of %q begins %.4f m from the plane of the wheel and %.4f m below the edge", i, c.what, x, y)
				}
			}
		}
	}
}

// leaderTo finds where the line to a pair of labels begins.
func leaderTo(sc *scene, rim int, above, below rect) (from xy, found bool) {
	both := rect{min(above.x0, below.x0) - 8, below.y0, max(above.x1, below.x1), above.y1}
	for _, s := range sc.shapes {
		if end := s.pts[len(s.pts)-1]; s.role == roleLeader && s.rim == rim && end.x > both.x0 && end.x < both.x1 && end.y > both.y0 && end.y < both.y1 {
			return s.pts[0], true
		}
	}
	return xy{}, false
}

// frameOf finds a section's scale by its outline, the largest of its shapes of colour.
func frameOf(t *testing.T, sc *scene, rim int, f *thermal.Field) sectionFrame {
	t.Helper()
	for _, s := range sc.shapes {
		if s.role != roleField || s.rim != rim {
			continue
		}
		b := rect{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
		for _, p := range s.pts {
			b = rect{min(b.x0, p.x), min(b.y0, p.y), max(b.x1, p.x), max(b.y1, p.y)}
		}
		g := sectionFrame{mid: (b.x0 + b.x1) / 2, edge: b.y1, perM: (b.x1 - b.x0) / (2 * f.HalfWidthM)}
		if high := (b.y1 - b.y0) / f.DepthM; math.Abs(high/g.perM-1) > 1e-6 {
			t.Errorf("rim %d: %g points per metre across, %g upright", rim, g.perM, high)
		}
		return g
	}
	t.Fatalf("rim %d is not drawn", rim)
	return sectionFrame{}
}

// All sections have one scale, the one that the bar of ten millimetres says.
func TestSectionsHaveOneScale(t *testing.T) {
	a := assessedRide(t, "drag_hill.gpx", "alu-box", "carbon-deep", "alu-track", "carbon-650b")
	for _, bare := range []bool{false, true} {
		sc := sectionScene(t, a, Options{bare: bare}, false)
		bar := sc.curve(roleScale, noRim)
		perM := (bar[2].x - bar[1].x) / 10e-3
		drawn := 0
		for i := range a.Rims {
			if len(sc.curve(roleField, i)) == 0 {
				continue
			}
			drawn++
			if g := frameOf(t, sc, i, a.Rims[i].Field); math.Abs(g.perM/perM-1) > 1e-6 {
				t.Errorf("rim %d has %g points per metre, the bar says %g", i, g.perM, perM)
			}
		}
		if want := map[bool]int{false: 4, true: 2}[bare]; drawn != want {
			t.Errorf("%d sections, want %d", drawn, want)
		}
	}
}

// encloses tells whether a closed run of points goes round a place.
func encloses(pts []xy, at xy) bool {
	in := false
	for i, p := range pts {
		q := pts[(i+1)%len(pts)]
		if (p.y > at.y) != (q.y > at.y) && at.x < p.x+(at.y-p.y)/(q.y-p.y)*(q.x-p.x) {
			in = !in
		}
	}
	return in
}

// What is painted last over a cell's middle is the colour of its temperature, to what a
// straight line to its neighbours may differ by; over the hollow it is paper.
func TestSectionColoursAreTheTemperatures(t *testing.T) {
	a := assessedRide(t, "two_passes_hot.gpx", "carbon-deep", "alu-classic", "carbon-basalt")
	a.Rims[1].Field = gridded(0.011, 0.03, 0.003, func(x, y float64) float64 { return 140 - 2000*y + 1500*x })
	tf, err := newTypeface(false)
	if err != nil {
		t.Fatal(err)
	}
	s := newSectionSheet(a, []int{0, 1, 2}, Options{}, tf)
	s.layOut()
	for i := range a.Rims {
		f := a.Rims[i].Field
		g := frameOf(t, s.sc, i, f)
		paint := func(x, y float64) (c [3]int, painted bool) {
			for _, sh := range s.sc.shapes {
				if sh.rim == i && (sh.role == roleField || sh.role == roleSection) && sh.fill.A > 0 && encloses(sh.pts, xy{g.mid + x*g.perM, g.edge - y*g.perM}) {
					c, painted = [3]int{int(sh.fill.R), int(sh.fill.G), int(sh.fill.B)}, true
				}
			}
			return c, painted
		}
		m := newSectionMesh(f.Cells)
		for k := range f.Cells {
			x, y, near := 0.0, 0.0, [2]float64{math.Inf(1), math.Inf(-1)}
			for n := range 4 {
				x, y = x+f.Cells[k].X[n]/4, y+f.Cells[k].Y[n]/4
				// A corner's value lies between those of its cells.
				at := slices.Index(m.at, xy{f.Cells[k].X[n], -f.Cells[k].Y[n]})
				near = [2]float64{min(near[0], m.c[at]), max(near[1], m.c[at])}
			}
			for _, side := range []float64{1, -1} {
				got, ok := paint(side*x, y)
				if !ok {
					t.Fatalf("rim %d: nothing is painted over a cell at %g, %g m", i, side*x, y)
				}
				match := matches(s.scale, got, near[0]-0.51*s.stepC, near[1]+0.51*s.stepC)
				if !match {
					t.Errorf("rim %d: the cell of %.1f °C at %g, %g m is painted %v", i, f.Cells[k].C, side*x, y, got)
				}
			}
		}
		if c, _ := paint(0, (f.BedToM+f.DepthM)/2); c != [3]int{255, 255, 255} {
			t.Errorf("rim %d: the hollow is painted %v", i, c)
		}
		if _, painted := paint(0, f.BedFromM/2); painted {
			t.Errorf("rim %d: the tyre's room is painted", i)
		}
	}
}

// luma is how light a colour is in grey, 0 to 255.
func luma(s shape) float64 {
	return 0.3*float64(s.fill.R) + 0.59*float64(s.fill.G) + 0.11*float64(s.fill.B)
}

// matches tells whether a colour is that of a temperature in a range.
func matches(scale *heatScale, got [3]int, loC, hiC float64) bool {
	const apart = 3
	for k := range 200 {
		c := scale.at(loC + (hiC-loC)*float64(k)/199)
		if max(c.R, uint8(got[0]))-min(c.R, uint8(got[0])) <= apart && max(c.G, uint8(got[1]))-min(c.G, uint8(got[1])) <= apart && max(c.B, uint8(got[2]))-min(c.B, uint8(got[2])) <= apart {
			return true
		}
	}
	return false
}

// The bar of the key has each temperature's colour over its mark.
func TestSectionKeyHasTheColours(t *testing.T) {
	for _, imperial := range []bool{false, true} {
		tf, err := newTypeface(false)
		if err != nil {
			t.Fatal(err)
		}
		s := newSectionSheet(assessedRide(t, "two_passes_hot.gpx", "carbon-deep", "alu-classic"), []int{0, 1}, Options{Imperial: imperial}, tf)
		s.layOut()
		marks := 0
		for _, l := range s.sc.labels {
			var v float64
			if n, _ := fmt.Sscan(l.text, &v); n == 0 || l.role != roleTick {
				continue
			}
			c := v
			if imperial {
				c = (v - 32) * 5 / 9
			}
			// A little to the right of the mark begins the band above it.
			x := (l.box.x0+l.box.x1)/2 + 0.3
			var got [3]int
			for _, sh := range s.sc.shapes {
				if b := sh.pts; sh.role == roleKey && sh.fill.A > 0 && b[0].x < x && b[1].x > x {
					got = [3]int{int(sh.fill.R), int(sh.fill.G), int(sh.fill.B)}
				}
			}
			marks++
			if !matches(s.scale, got, c-0.01*s.stepC, c+1.01*s.stepC) {
				t.Errorf("over the mark of %s the bar is %v", l.text, got)
			}
		}
		if marks < 4 {
			t.Errorf("%d marks", marks)
		}
	}
}

// A line of equal temperature stands out in grey on the colour that it runs through.
func TestSectionIsothermsAreSeen(t *testing.T) {
	s := &sectionSheet{narrowSheet: &narrowSheet{pal: colours()}, scale: newHeatScale(30, 160)}
	for c := 30.0; c <= 160; c++ {
		line, ground := luma(shape{fill: s.isotherm(c).ink}), luma(shape{fill: s.scale.at(c)})
		if math.Abs(line-ground) < 60 {
			t.Errorf("%g °C: a line of lightness %.0f on %.0f of 255", c, line, ground)
		}
	}
}
