package roads

import "math"

// awkwardGround are roads with the heights of the ground over a tunnel or under
// a bridge, and steep roads that look a little like it.
func awkwardGround() []AwkwardFile {
	// ground adds to the heights between two distances a hump of a height,
	// metres, or a hollow if it is negative, of a shape from 0 over 1 to 0.
	ground := func(name string, d Demo, fromM, toM, heightM float64, shape func(f float64) float64) AwkwardFile {
		for i := range d.Points {
			if p := &d.Points[i]; p.M > fromM && p.M < toM {
				p.HeightM += heightM * shape((p.M-fromM)/(toM-fromM))
			}
		}
		return AwkwardFile{name, d.GPX(), d.Road}
	}
	rounded := func(f float64) float64 { return math.Pow(math.Sin(math.Pi*f), 2) }
	table := func(f float64) float64 { return min(1, 2.5*min(f, 1-f)) } // flat-topped
	twin := func(saddle float64) func(f float64) float64 {              // two tops, the saddle this part of the height
		return func(f float64) float64 { return rounded(f) * (1 - (1-saddle)*math.Exp(-math.Pow((f-0.5)/0.1, 2))) }
	}
	level := func() Demo { return awkwardRoad([]Slope{{9000, -0.01}, {400, 0}, {4400, -0.07}, {1600, 0}}, 740) }
	hill := func(grade float64) Demo {
		return awkwardRoad([]Slope{{3000, 0}, {400, grade}, {100, 0}, {400, -grade}, {3000, 0}, {2000, -0.06}, {1000, 0}}, 440)
	}
	plain := func(name string, d Demo) AwkwardFile { return AwkwardFile{name, d.GPX(), d.Road} }
	return []AwkwardFile{
		ground("tunnel under a rounded ridge", level(), 4000, 5500, 300, rounded),
		ground("tunnel under a flat-topped ridge", level(), 4000, 5500, 300, table),
		ground("tunnel under a ridge with two tops", level(), 4000, 5500, 300, twin(0.6)),
		ground("tunnel under two ridges", level(), 4000, 5500, 300, twin(0.2)),
		ground("tunnel on a descent", AwkwardPass(), 7000, 8500, 300, rounded),
		ground("bridge over a gorge", level(), 4000, 4150, -120, rounded),
		ground("bridge on a descent", AwkwardPass(), 7500, 7650, -120, rounded),
		ground("bridge over a flat-bottomed valley", level(), 4000, 4600, -80, table),
		plain("a real hill of 25 %", hill(0.25)),
		plain("a real hill of 15 %", hill(0.15)),
	}
}
