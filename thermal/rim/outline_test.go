package rim

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// drawnArea is the area of a cell as drawn, m2, and how far its centre of area is below
// the edge, m: less than nothing if its corners go the other way round than the first's.
func drawnArea(o CellOutline) (area, below float64) {
	for k := range 4 {
		j := (k + 1) % 4
		c := o.X[k]*o.Y[j] - o.X[j]*o.Y[k]
		area += c / 2
		below += (o.Y[k] + o.Y[j]) * c / 6
	}
	return area, below / area
}

// drawnMassKg is the mass of a rim as it is drawn, by the rule of Pappus: each cell's area
// goes once round the wheel at the radius of its centre, on both sides.
func drawnMassKg(m *mesh, edgeM float64) float64 {
	sum := 0.0
	for i, o := range m.outline {
		a, below := drawnArea(o)
		sum += 2 * 2 * math.Pi * (edgeM - below) * math.Abs(a) * m.cells[i].of.Density.Value
	}
	return sum
}

// The drawing holds the solver's mass: exactly for a box; a tapered rim is drawn with
// its flank measured level and not across its lean (cos 12.4° is 0.977 at most) and with
// the ends of its spoke bed leaning.
func TestOutlineHoldsTheMass(t *testing.T) {
	const boxPart, taperPart = 1e-9, 0.012
	for _, sec := range Rims() {
		m := newMesh(sec, Resolution{})
		got := drawnMassKg(m, sec.Geometry.EdgeRadiusM())/m.massKg - 1
		tol := taperPart
		if sec.Geometry.Shape == Box {
			tol = boxPart
		}
		if math.Abs(got) > tol {
			t.Errorf("%s: drawn mass is off by %.3f %%, allowed %.3g %%", sec.ID, 100*got, 100*tol)
		}
	}
}

// checkTiles holds a drawing to being a plane map: all cells go round the same way,
// neighbours share whole edges and none other, all that is not shared is the border, and
// what the border encloses is what the cells cover. So cells neither overlap nor gape.
func checkTiles(t *testing.T, what string, m *mesh, g Geometry) {
	t.Helper()
	type point struct{ x, y float64 }
	type edge struct{ a, b point }
	sum := 0.0
	count := map[edge]int{}
	turn := 0.0
	for i, o := range m.outline {
		a, _ := drawnArea(o)
		if turn == 0 {
			turn = math.Copysign(1, a)
		}
		if !(a*turn > 0) {
			t.Fatalf("%s: cell %d of %d is turned over or has no area (%g mm2)", what, i, m.n, 1e6*a)
		}
		sum += a
		for k := range 4 {
			j := (k + 1) % 4
			p, q := point{o.X[k], o.Y[k]}, point{o.X[j], o.Y[j]}
			if p.x < 0 || p.x > g.OuterWidthM/2 || p.y < 0 || p.y > g.DepthM+1e-12 {
				t.Fatalf("%s: a corner at %v m, outside half the section", what, p)
			}
			count[edge{p, q}]++
		}
	}
	border, enclosed := 0, 0.0
	for e, n := range count {
		if n != 1 {
			t.Fatalf("%s: %d cells lie on one side of an edge", what, n)
		}
		if count[edge{e.b, e.a}] == 0 {
			border++
			enclosed += (e.a.x*e.b.y - e.b.x*e.a.y) / 2
		}
	}
	if math.Abs(enclosed/sum-1) > 1e-9 {
		t.Errorf("%s: the border encloses %g mm2, the cells cover %g mm2", what, 1e6*enclosed, 1e6*sum)
	}
	// Neighbours of the heat model are neighbours on the drawing.
	if inner := (len(count) - border) / 2; inner != len(m.links) {
		t.Errorf("%s: %d shared edges, but heat flows over %d", what, inner, len(m.links))
	}
}

func TestOutlineTiles(t *testing.T) {
	for _, sec := range Rims() {
		checkTiles(t, sec.ID, newMesh(sec, Resolution{}), sec.Geometry)
	}
	for k := range 40 {
		c := drawCase(k)
		checkTiles(t, c.sec.ID, newMesh(c.sec, Resolution{Factor: 1 + float64(k%3)}), c.sec.Geometry)
	}
}

// Whatever Validate lets through is drawn as a plane map, too: flanks as thick as half
// the rim on a spoke bed of 8 mm among them.
func TestOutlineOfExtremes(t *testing.T) {
	const seed, sections = 5, 3000
	rng := rand.New(rand.NewPCG(seed, 0))
	in := func(lo, hi float64) float64 { return lo + (hi-lo)*rng.Float64() }
	materials := []Material{Rims()[slices.IndexFunc(Rims(), func(s Section) bool { return s.ID == "alu-classic" })].Material,
		Rims()[slices.IndexFunc(Rims(), func(s Section) bool { return s.ID == "carbon-deep" })].Material}
	const mm = 1e-3
	thick, n := 0, 0
	for range sections {
		g := Geometry{
			Shape: []Shape{Box, Taper}[rng.IntN(2)], OuterWidthM: in(10, 60) * mm, TrackHeightM: in(3, 20) * mm, TrackBelowEdgeM: in(0, 5) * mm,
			BedBelowEdgeM: in(2, 15) * mm, BedM: in(0.3, 6) * mm, SpokeBedM: in(0.3, 12) * mm, DepthM: in(10, 120) * mm, BeadSeatDiameterM: in(0.3, 0.7),
		}
		g.InnerWidthM = in(5*mm, g.OuterWidthM-1*mm)
		g.FlankM = in(0.3*mm, g.OuterWidthM/2-0.5*mm)
		sec := Section{ID: "drawn", Kind: "clincher", Material: materials[rng.IntN(2)], Geometry: g}
		if sec.Validate() != nil {
			continue
		}
		n++
		if _, nose := g.plan(g.wallEndM()); g.FlankM > nose {
			thick++
		}
		checkTiles(t, fmt.Sprintf("%+v", g), newMesh(sec, Resolution{Factor: 0.5}), g)
		if t.Failed() {
			return
		}
	}
	if n < sections/4 || thick < 20 {
		t.Fatalf("%d sections of %d, %d with flanks thicker than half the spoke bed: too few to tell", n, sections, thick)
	}
}

// Places of the section lie where the geometry has them.
func TestOutlineKeepsThePlaces(t *testing.T) {
	for _, sec := range Rims() {
		g := sec.Geometry
		m := newMesh(sec, Resolution{})
		holds := func(what string, cells []weight, x0, x1, y0, y1 float64) {
			for _, w := range cells {
				o := m.outline[w.cell]
				const slack = 1e-9
				if slices.Min(o.X[:]) < x0-slack || slices.Max(o.X[:]) > x1+slack || slices.Min(o.Y[:]) < y0-slack || slices.Max(o.Y[:]) > y1+slack {
					t.Errorf("%s: a cell of the %s is drawn at x %v, y %v m", sec.ID, what, o.X, o.Y)
				}
			}
		}
		half := g.OuterWidthM / 2
		holds("track", m.track, half-g.WallM(), half, g.TrackBelowEdgeM, g.TrackBelowEdgeM+g.TrackHeightM)
		holds("wall", m.wall, g.InnerWidthM/2, half, g.TrackBelowEdgeM, g.TrackBelowEdgeM+g.TrackHeightM)
		holds("rim bed", m.bedCentre, 0, g.InnerWidthM/2, g.BedBelowEdgeM, g.BedBelowEdgeM+g.BedM)
		// A leaning spoke bed is drawn as thick as it is along the flank, or less.
		holds("spoke bed", m.spokeBed, 0, half, g.DepthM-g.SpokeBedM, g.DepthM)
		for _, w := range m.track {
			if slices.Max(m.outline[w.cell].X[:]) != half {
				t.Errorf("%s: a cell of the track does not reach the outer face", sec.ID)
			}
		}
		reach := 0.0
		for _, w := range m.spokeBed {
			reach = max(reach, slices.Max(m.outline[w.cell].Y[:]))
		}
		if math.Abs(reach-g.DepthM) > 1e-12 {
			t.Errorf("%s: the spoke bed ends at %g m, depth is %g m", sec.ID, reach, g.DepthM)
		}
	}
}

// Cells and their temperatures come in one order: a wheel braked from one side is hottest
// where the track is drawn.
func TestOutlineGoesWithTheCells(t *testing.T) {
	for _, sec := range Rims() {
		s, err := NewSolver(sec, Pads()[0], Options{})
		if err != nil {
			t.Fatal(err)
		}
		s.Reset(300)
		for range 20 {
			if err := s.Step(Drive{DtS: 1, PowerW: 1000, OnPart: 1, RollMps: 8, StreamMps: 8, AirK: 300, PressurePa: 95e3}); err != nil {
				t.Fatal(err)
			}
		}
		cells, o := s.AppendCells(nil), s.Outline()
		if len(cells) != len(o) || len(o) != s.Cells() {
			t.Fatalf("%s: %d temperatures, %d outlines, %d cells", sec.ID, len(cells), len(o), s.Cells())
		}
		hottest := 0
		for i := range cells {
			if cells[i] > cells[hottest] {
				hottest = i
			}
		}
		g := sec.Geometry
		if x, y := slices.Max(o[hottest].X[:]), o[hottest].Y; x != g.OuterWidthM/2 || slices.Max(y[:]) < g.TrackBelowEdgeM || slices.Min(y[:]) > g.TrackBelowEdgeM+g.TrackHeightM {
			t.Errorf("%s: the hottest cell is drawn at x %v, y %v m", sec.ID, o[hottest].X, y)
		}
	}
}
