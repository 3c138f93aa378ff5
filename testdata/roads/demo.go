package roads

import (
	"math"
	"math/rand/v2"
)

// A Demo is a road with the points that were sampled from it.
type Demo struct {
	// File is the base name of its GPX file, Name and Desc go into it.
	File, Name, Desc string
	Road             *Road
	Points           []Point
}

// GPX is the file's content.
func (d Demo) GPX() []byte { return GPX(d.Name, d.Desc, d.Points) }

// Committed are the demonstration roads kept as files.
func Committed() []Demo {
	return []Demo{TwoPassesHot(), LongRideMild(), DragHill(), FlatLoop()}
}

// Noise of the demonstration roads, standard deviations and correlation
// lengths in metres: barometric height noise is 0.1-0.5 m (from memory); the
// rest is a choice, no source.
const (
	heightNoiseM, heightNoiseLengthM     = 0.2, 400.0
	whiteHeightNoiseM                    = 0.1
	positionNoiseM, positionNoiseLengthM = 0.7, 80.0 // 1 m in the plane
)

// sampled takes noisy points at steps between two lengths, metres.
func sampled(d Demo, shortM, longM float64, rng *rand.Rand) Demo {
	d.Points = d.Road.Sample(shortM, longM, rng)
	AddCorrelatedHeight(d.Points, heightNoiseM, heightNoiseLengthM, rng)
	AddWhiteHeight(d.Points, whiteHeightNoiseM, rng)
	d.Road.AddPositionNoise(d.Points, positionNoiseM, positionNoiseLengthM, rng)
	return d
}

const invented = "Invented road on open ocean; it matches no real road, and its heights are made up."

// TwoPassesHot is a mountain day over two passes: the first descent 12 km at
// 7 to 8 % with hairpins, the second 9 km at 10 to 12 % with 800 m at 14 %.
func TwoPassesHot() Demo {
	rng := rand.New(rand.NewPCG(1, 1))
	slopes := []Slope{
		{2000, 0.015}, {1500, -0.02}, {2500, 0.02}, {2000, -0.015}, {2500, 0.01}, {1500, -0.01}, {3000, 0.003},
		{4000, 0.055}, {5000, 0.07}, {3000, 0.05}, {3000, 0.07}, {400, 0},
		{1500, -0.07}, {2500, -0.076}, {1500, -0.07}, {3000, -0.08}, {2000, -0.074}, {1500, -0.07},
		{3000, -0.005}, {3000, 0.004}, {3000, 0.006},
		{4000, 0.06}, {4000, 0.075}, {3000, 0.065}, {300, 0.005},
		{1000, -0.10}, {1500, -0.105}, {800, -0.142}, {1500, -0.105}, {1500, -0.115}, {1200, -0.10}, {1500, -0.11},
		{8000, -0.003}, {1000, 0},
	}
	b := NewBuilder(-0.4, -21.0, 420, slopes)
	b.at = 0.6
	b.Wind(15_000, Valley, rng)
	b.Wind(30_300, Winding, rng)
	b.Wind(42_300, Hairpins, rng)
	b.Wind(51_500, Valley, rng)
	b.Wind(62_700, Winding, rng)
	b.Wind(66_500, Hairpins, rng)
	b.Wind(71_500, Winding, rng)
	b.Wind(81_000, Valley, rng)
	return sampled(Demo{File: "two_passes_hot.gpx", Name: "Two hot passes (invented)", Desc: invented, Road: b.Road()}, 8, 25, rng)
}

// LongRideMild is 90 km over seven moderate climbs, 2,000 m of climbing in all.
func LongRideMild() Demo {
	rng := rand.New(rand.NewPCG(2, 1))
	slopes := []Slope{{3000, 0.002}}
	for _, grade := range [...]float64{0.055, 0.06, 0.065, 0.055, 0.07, 0.06, 0.05} {
		up := 283 / grade
		down := 281 / (grade + 0.002)
		slopes = append(slopes, Slope{up, grade}, Slope{300, 0}, Slope{down, -grade - 0.002}, Slope{1200, 0.002}, Slope{1300, -0.002})
	}
	total := 0.0
	for _, s := range slopes {
		total += s.LengthM
	}
	slopes = append(slopes, Slope{90_000 - total, -0.001})
	b := NewBuilder(0.3, -24.0, 140, slopes)
	b.at = 2.2
	for toM := 9_000.0; toM < 90_000; toM += 18_000 {
		b.Wind(toM, Valley, rng)
		b.Wind(toM+9_000, Winding, rng)
	}
	return sampled(Demo{File: "long_ride_mild.gpx", Name: "Long mild ride (invented)", Desc: invented, Road: b.Road()}, 8, 25, rng)
}

// DragHill is a short flat start and 12 km down at 11 to 12 % round bends.
func DragHill() Demo {
	rng := rand.New(rand.NewPCG(3, 1))
	b := NewBuilder(-0.2, -27.0, 1620, []Slope{{800, 0}, {3000, -0.115}, {2500, -0.12}, {3500, -0.11}, {3000, -0.118}, {400, 0}})
	b.at = 4.0
	b.Wind(800, Valley, rng)
	b.Wind(12_800, Winding, rng)
	return sampled(Demo{File: "drag_hill.gpx", Name: "Drag hill (invented)", Desc: invented, Road: b.Road()}, 8, 25, rng)
}

// FlatLoop is a closed loop of 30 km at 35 m above the sea with two bumps of
// 6 and 8 m.
func FlatLoop() Demo {
	rng := rand.New(rand.NewPCG(4, 1))
	const radius = 120.0
	corner := radius * math.Pi / 2
	long, short := 10_000-corner, 5_000-corner
	b := NewBuilder(0.1, -19.0, 35, []Slope{{7000, 0}, {300, 0.02}, {300, -0.02}, {13_000, 0}, {400, 0.02}, {400, -0.02}, {8600, 0}})
	for _, side := range [...]float64{long, short, long, short} {
		b.Straight(side)
		b.Arc(radius, math.Pi/2)
	}
	return sampled(Demo{File: "flat_loop.gpx", Name: "Flat loop (invented)", Desc: invented, Road: b.Road()}, 8, 25, rng)
}

// Mountain is a road of about lengthM metres that climbs and descends all
// along, a third of it round hairpins, sampled about every spacingM metres.
// It is never committed.
func Mountain(lengthM, spacingM float64, seed uint64) Demo {
	rng := rand.New(rand.NewPCG(seed, 5))
	var slopes []Slope
	b := 0.0
	for b < lengthM {
		drop := 500 + 500*rng.Float64()
		up, down := 0.05+0.03*rng.Float64(), 0.06+0.05*rng.Float64()
		for _, s := range [...]Slope{{drop / up, up}, {300, 0}, {drop / down, -down}, {2000, 0}} {
			s.LengthM = min(s.LengthM, lengthM-b)
			if s.LengthM > 0 {
				slopes = append(slopes, s)
			}
			b += s.LengthM
		}
	}
	build := NewBuilder(-0.5, -23.0, 300, slopes)
	for m := 0.0; m < lengthM; m += 9_000 {
		build.Wind(m+3_000, Hairpins, rng)
		build.Wind(m+6_000, Winding, rng)
		build.Wind(min(m+9_000, lengthM), Valley, rng)
	}
	d := Demo{File: "mountain.gpx", Name: "Mountain road (invented)", Desc: invented, Road: build.Road()}
	return sampled(d, 0.8*spacingM, 1.2*spacingM, rng)
}
