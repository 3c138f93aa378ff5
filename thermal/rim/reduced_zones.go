package rim

import (
	"cmp"
	"math"
	"slices"
)

// A reduction is what all projections of a wheel have in common: which cells and
// faces go together, and what does not hang on conductivities.
type reduction struct {
	id string // of the section
	// r is the number of patterns; the even one is 1 K everywhere at even.
	r    int
	even float64
	// mostRise is the largest rise of specific heat, as a part per kelvin.
	mostRise float64

	zones  []zone
	zoneOf []int // the zone of each outer face of the mesh
	// trackSkin is that of every zone of the track.
	trackSkin skin
	// track and tyreSide are which of the mesh's rows of the track and of its
	// cells at the tyre are asked for the hottest; joints how many pairs of
	// cells a fairing has at its bond.
	track, tyreSide []int
	joints          int

	trackAreaM2, sunAreaM2 float64 // one side
	massKg                 float64 // both sides
}

// A zone is a stretch of outer faces with one skin.
type zone struct {
	skin
	areaM2, perM2 float64 // perM2 is one over areaM2
	// variance is that of its temperature when long braked, as a part of
	// basisRiseK squared.
	variance float64
}

// skin is what makes outer faces alike.
type skin struct {
	track                    bool
	emissivity, absorptivity float64
}

// skinOf gives the skin of an outer face.
func skinOf(f *face) skin { return skin{f.kind == faceTrack, f.emissivity, f.absorptivity} }

const (
	// zoneSpreadK is how far temperatures lie apart within a zone, of a section
	// at basisRiseK.
	zoneSpreadK = 60.0
	// zoneHalfM2KPerW is how far the half-cell resistances behind its faces lie
	// apart: of a film's own, some hundredths.
	zoneHalfM2KPerW = 3e-4
)

// pairs is the size of a packed matrix.
func (p *reduction) pairs() int { return p.r * (p.r + 1) / 2 }

// newReduction makes that of s in r patterns; the answers tell where it gets hot.
func newReduction(s *Solver, r int, of []answers) (*reduction, error) {
	p := &reduction{
		id: s.sec.ID, r: r, joints: len(s.mesh.joint),
		trackAreaM2: s.mesh.trackAreaM, sunAreaM2: s.mesh.sunAreaM2, massKg: s.mesh.massKg,
	}
	var all float64
	for i, c := range s.c0 {
		all += c
		p.mostRise = max(p.mostRise, s.c1[i]/c)
	}
	p.even = math.Sqrt(all)
	var rows []int
	for _, w := range s.mesh.track {
		rows = append(rows, w.cell)
	}
	p.track, p.tyreSide = pickHottest(of, rows), pickHottest(of, s.mesh.tyreFaces)
	return p, p.cut(s)
}

// cut gathers the outer faces into zones: of one skin, with half cells about
// alike, and about alike in temperature if they radiate.
func (p *reduction) cut(s *Solver) error {
	level, err := s.longBraked()
	if err != nil {
		return err
	}
	faces := s.mesh.faces
	p.zoneOf = make([]int, len(faces))
	var left []int // of the outer faces, the hottest first
	for i := range faces {
		if faces[i].kind <= faceOuter {
			left = append(left, i)
		}
	}
	slices.SortStableFunc(left, func(i, j int) int { return cmp.Compare(level[faces[j].cell], level[faces[i].cell]) })
	for len(left) > 0 {
		first := &faces[left[0]]
		z := zone{skin: skinOf(first)}
		if z.track {
			p.trackSkin = z.skin
		}
		var sum, square float64
		left = slices.DeleteFunc(left, func(i int) bool {
			f := &faces[i]
			in := skinOf(f) == z.skin && math.Abs(f.half-first.half) <= zoneHalfM2KPerW &&
				(z.emissivity == 0 || level[first.cell]-level[f.cell] <= zoneSpreadK)
			if in {
				p.zoneOf[i] = len(p.zones)
				z.areaM2 += f.areaM
				sum += f.areaM * level[f.cell]
				square += f.areaM * level[f.cell] * level[f.cell]
			}
			return in
		})
		z.perM2 = 1 / z.areaM2
		z.variance = (square*z.perM2 - sum*sum*z.perM2*z.perM2) / (basisRiseK * basisRiseK)
		p.zones = append(p.zones, z)
	}
	return nil
}
