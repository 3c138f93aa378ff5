package roads

import (
	"math"
	"math/rand/v2"
	"strings"
)

// An AwkwardFile is a file as careless programs, worn devices or ill will
// write it. All of them hold, or held before they were spoilt, one of the
// invented roads of this package.
type AwkwardFile struct {
	// Name is a short word for it, unique.
	Name string
	Data []byte
	// Road is what a reader should find, nil where only a refusal is right or
	// nothing can be found.
	Road *Road
}

// AwkwardFiles are all awkward files of moderate size, always the same bytes.
func AwkwardFiles() []AwkwardFile {
	var all []AwkwardFile
	for _, files := range [...][]AwkwardFile{
		awkwardTexts(), awkwardMarkup(), awkwardHeights(), awkwardUnits(), awkwardGround(), awkwardPositions(), awkwardParts(), awkwardClocks(),
	} {
		all = append(all, files...)
	}
	return all
}

// AwkwardPass is the road of most awkward files: 3.6 km up at 6 %, 4.4 km down
// at 7 % and level ends, in wide bends, of which a point every 10 m shows all.
func AwkwardPass() Demo {
	return awkwardRoad([]Slope{{2000, 0}, {3600, 0.06}, {400, 0}, {4400, -0.07}, {1600, 0}}, 640)
}

// awkwardRoad is a road of wide bends without noise.
func awkwardRoad(slopes []Slope, heightM float64) Demo {
	b := NewBuilder(-0.1, -25.0, heightM, slopes)
	b.at = 0.8
	b.Wind(b.road.LengthM()-1000, Style{StraightM: [2]float64{200, 500}, RadiusM: [2]float64{150, 400}, TurnDeg: [2]float64{8, 35}}, rand.New(rand.NewPCG(6, 1)))
	r := b.Road()
	return Demo{Name: "Awkward pass (invented)", Desc: invented, Road: r, Points: r.every(10)}
}

// every takes a point each spacingM metres and at the end of the road.
func (r *Road) every(spacingM float64) []Point {
	n := int(math.Round(r.LengthM() / spacingM))
	pts := make([]Point, n+1)
	for i := range pts {
		m := r.LengthM() * float64(i) / float64(n)
		lat, lon := r.PositionAt(m)
		pts[i] = Point{m, lat, lon, r.HeightAt(m)}
	}
	return pts
}

// spoilt is the pass with the text of its file changed by pairs of old and new
// text, each old one wherever it stands.
func spoilt(name string, pairs ...string) AwkwardFile {
	d := AwkwardPass()
	return AwkwardFile{name, []byte(strings.NewReplacer(pairs...).Replace(string(d.GPX()))), d.Road}
}

// refused marks a file in which there is no road to be found.
func refused(f AwkwardFile) AwkwardFile {
	f.Road = nil
	return f
}

// changed is the pass with its points changed.
func changed(name string, change func(pts []Point)) AwkwardFile {
	d := AwkwardPass()
	change(d.Points)
	return AwkwardFile{name, d.GPX(), d.Road}
}
