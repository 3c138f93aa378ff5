package roads

import "math"

// footM is the international foot, metres, exact by definition.
const footM = 0.3048

// awkwardUnits are roads whose heights are in feet, or were.
func awkwardUnits() []AwkwardFile {
	inFeet := func(name string, heightM, climb, stepM, roundFt float64) AwkwardFile {
		d := awkwardRoad([]Slope{{1000, 0}, {5000, climb}, {400, 0}, {5000, -climb}, {1600, 0}}, heightM)
		if stepM > 0 {
			StairSteps(d.Points, stepM)
		}
		for i := range d.Points {
			d.Points[i].HeightM = d.Points[i].HeightM / footM
			if roundFt > 0 {
				d.Points[i].HeightM = roundFt * math.Round(d.Points[i].HeightM/roundFt)
			}
		}
		return AwkwardFile{Name: name, Data: d.GPX()} // no reader can know the road
	}
	return []AwkwardFile{
		inFeet("feet, steep", 640, 0.10, 0, 0),
		inFeet("feet, 7 %", 640, 0.07, 0, 0),
		inFeet("feet, mild", 240, 0.03, 0, 0),
		inFeet("feet, mild, from whole metres", 240, 0.03, 1, 0),
		inFeet("whole feet, mild, from whole metres", 240, 0.03, 1, 1),
		inFeet("feet, mild, high up", 1700, 0.03, 0, 0),
		changed("whole feet turned into metres", func(pts []Point) { StairSteps(pts, footM) }),
	}
}
