package roads

import "slices"

// awkwardPositions are the pass with spoilt positions, and roads in odd places.
func awkwardPositions() []AwkwardFile {
	const farDeg = 0.045 // 5 km
	list := func(name string, pts []Point, road *Road) AwkwardFile {
		return AwkwardFile{name, GPX(AwkwardPass().Name, invented, pts), road}
	}
	pass := AwkwardPass()
	var twice []Point
	for _, p := range pass.Points {
		twice = append(twice, p, p)
	}
	back := slices.Clone(pass.Points)
	slices.Reverse(back)
	moved := func(lonDeg float64) []Point {
		pts := slices.Clone(pass.Points)
		for i := range pts {
			pts[i].LonDeg += lonDeg - pass.Road.LonDeg
			if pts[i].LonDeg >= 180 {
				pts[i].LonDeg -= 360
			}
		}
		return pts
	}
	west := moved(179.97)
	slices.Reverse(west)
	start := awkwardRoad([]Slope{{4000, -0.08}, {2000, 0}}, 640)
	end := awkwardRoad([]Slope{{2000, 0}, {4000, -0.08}}, 640)
	return []AwkwardFile{
		changed("a point 5 km off", func(pts []Point) { pts[600].LatDeg += farDeg }),
		changed("a lasting jump of 5 km", func(pts []Point) {
			for i := 600; i < len(pts); i++ {
				pts[i].LatDeg -= farDeg
			}
		}),
		list("a gap of 400 points", slices.Delete(slices.Clone(pass.Points), 600, 1000), pass.Road),
		list("every point twice", twice, pass.Road),
		list("out and back", append(slices.Clone(pass.Points), back[1:]...), nil),
		list("antimeridian eastwards", moved(179.97), pass.Road),
		list("antimeridian westwards", west, nil),
		list("a descent at the very start", start.Points, start.Road),
		list("a descent at the very end", end.Points, end.Road),
	}
}
