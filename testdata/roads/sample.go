package roads

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"math"
	"math/rand/v2"
)

// A Point is one sample of a road: true distance from the start, metres, and
// position and height, which may carry noise.
type Point struct {
	M              float64
	LatDeg, LonDeg float64
	HeightM        float64
}

// Sample takes points at steps drawn evenly between two lengths, metres; the
// last point is the end of the road.
func (r *Road) Sample(shortM, longM float64, rng *rand.Rand) []Point {
	var pts []Point
	end := r.LengthM()
	for m := 0.0; ; {
		lat, lon := r.PositionAt(m)
		pts = append(pts, Point{m, lat, lon, r.HeightAt(m)})
		if m == end {
			return pts
		}
		m += shortM + (longM-shortM)*rng.Float64()
		if m > end-shortM/2 {
			m = end
		}
	}
}

// AddWhiteHeight adds independent normal noise, standard deviation in metres.
func AddWhiteHeight(pts []Point, sdM float64, rng *rand.Rand) {
	for i := range pts {
		pts[i].HeightM += sdM * rng.NormFloat64()
	}
}

// AddCorrelatedHeight adds normal noise whose correlation falls with distance
// as exp(-d/lengthM); standard deviation and length in metres.
func AddCorrelatedHeight(pts []Point, sdM, lengthM float64, rng *rand.Rand) {
	correlated(pts, lengthM, rng, func(p *Point, v float64) { p.HeightM += sdM * v })
}

// AddPositionNoise moves the points by such noise, standard deviation sdM
// metres on each axis; lengthM = 0 makes it independent.
func (r *Road) AddPositionNoise(pts []Point, sdM, lengthM float64, rng *rand.Rand) {
	east := make([]float64, 0, len(pts))
	correlated(pts, lengthM, rng, func(_ *Point, v float64) { east = append(east, sdM*v) })
	i := 0
	correlated(pts, lengthM, rng, func(p *Point, v float64) {
		x, y := r.PlaneAt(p.M)
		p.LatDeg, p.LonDeg = r.toDegrees(x+east[i], y+sdM*v)
		i++
	})
}

// correlated runs a first-order Gauss-Markov process of unit variance.
func correlated(pts []Point, lengthM float64, rng *rand.Rand, use func(p *Point, v float64)) {
	v := rng.NormFloat64()
	for i := range pts {
		if i > 0 {
			rho := 0.0
			if lengthM > 0 {
				rho = math.Exp(-(pts[i].M - pts[i-1].M) / lengthM)
			}
			v = rho*v + math.Sqrt(1-rho*rho)*rng.NormFloat64()
		}
		use(&pts[i], v)
	}
}

// StairSteps rounds heights to multiples of stepM metres.
func StairSteps(pts []Point, stepM float64) {
	for i := range pts {
		pts[i].HeightM = stepM * math.Round(pts[i].HeightM/stepM)
	}
}

// Thin keeps points at least spacingM metres apart, and the last one.
func Thin(pts []Point, spacingM float64) []Point {
	var kept []Point
	for i, p := range pts {
		if n := len(kept); n == 0 || i == len(pts)-1 || p.M-kept[n-1].M >= spacingM {
			kept = append(kept, p)
		}
	}
	return kept
}

// GPX writes points as one GPX 1.1 track without times: positions to 7
// decimals (11 mm), heights to centimetres.
func GPX(name, desc string, pts []Point) []byte {
	return gpxOf(name, desc, pts, func(int) string { return "" })
}

// gpxOf writes such a track; more goes into point i behind its height.
func gpxOf(name, desc string, pts []Point, more func(i int) string) []byte {
	var b bytes.Buffer
	b.WriteString(xml.Header + `<gpx version="1.1" creator="testdata/roads" xmlns="http://www.topografix.com/GPX/1/1">` + "\n<trk>\n<name>")
	escape := func(s string) {
		// Writing to a bytes.Buffer does not fail.
		_ = xml.EscapeText(&b, []byte(s))
	}
	escape(name)
	b.WriteString("</name>\n<desc>")
	escape(desc)
	b.WriteString("</desc>\n<trkseg>\n")
	for i, p := range pts {
		fmt.Fprintf(&b, "<trkpt lat=\"%.7f\" lon=\"%.7f\"><ele>%.2f</ele>%s</trkpt>\n", p.LatDeg, p.LonDeg, p.HeightM, more(i))
	}
	b.WriteString("</trkseg>\n</trk>\n</gpx>\n")
	return b.Bytes()
}
