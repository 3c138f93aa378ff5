package thermal

// A BenchProgramme is a known bench programme and what it does.
type BenchProgramme struct {
	BenchPreset
	Spans []BenchSpan
}

// BenchProgrammes lists the programmes. Watts of the first are force times
// speed.
func BenchProgrammes() []BenchProgramme {
	const (
		hillKmH  = 41.0
		heatKmH  = 12.5
		drumKmH  = 32.0
		hillMps  = hillKmH / 3.6
		heatMps  = heatKmH / 3.6
		drumMps  = drumKmH / 3.6
		softN    = 150.0
		firmN    = 210.0
		hardN    = 400.0
		softRuns = 5
		firmRuns = 6
	)
	hill := func(newton float64) BenchSpan {
		return BenchSpan{PowerW: newton * hillMps, RollMps: hillMps, AirMps: hillMps}
	}
	last := hill(hardN)
	last.Seconds = 4
	var magazine []BenchSpan
	magazine = append(magazine, Pulses(hill(softN), 5, 10, softRuns*15)...)
	magazine = append(magazine, Pulses(hill(firmN), 7, 7, firmRuns*14)...)
	return []BenchProgramme{
		{
			BenchPreset{
				Name:   "magazine-hill",
				Text:   "a steep hill at 41 km/h, front wheel: five brakings of 5 s with 150 N, 10 s apart; six of 7 s with 210 N, 7 s apart; then 400 N for 4 s; air as fast as the wheel",
				Source: "published: a cycling magazine's brake test programme, April 2018; that the second part has six brakings is derived, from the length of the descent that it stands for (the same magazine, July 2017)",
			},
			append(magazine, last),
		},
		{
			BenchPreset{
				Name:   "standard-heat",
				Text:   "300 W at 12.5 km/h for 15 min, 75 Wh in all; cooling air of 12.5 km/h",
				Source: "from memory: heat-resistance test of ISO 4210-4, Cycles - Safety requirements for bicycles - Braking test methods, 2014, one of its two cycles; 300 W is derived, 75 Wh in 15 min",
			},
			[]BenchSpan{{Seconds: 900, PowerW: 300, RollMps: heatMps, AirMps: heatMps}},
		},
		{
			BenchPreset{
				Name:   "drum-no-fan",
				Text:   "1,200 W at 32 km/h for 20 min, without cooling air",
				Source: "published: reports in the cycling press of a destructive drum test of nine deep carbon clinchers, December 2017, made by the maker of one of them; its speed is an analyst's assumption",
			},
			[]BenchSpan{{Seconds: 1200, PowerW: 1200, RollMps: drumMps}},
		},
	}
}

// Pulses repeats the span for onS seconds and without its braking for offS
// seconds until lengthS is full.
func Pulses(b BenchSpan, onS, offS, lengthS float64) []BenchSpan {
	rest := b
	rest.PowerW, rest.FluxWPerM2 = 0, 0
	const least = 1e-3 // s, below which a stretch is rounding
	var out []BenchSpan
	for k := 0; ; k++ {
		left := lengthS - float64(k)*(onS+offS)
		if left < least {
			return out
		}
		b.Seconds = min(onS, left)
		out = append(out, b)
		if rest.Seconds = min(offS, left-onS); rest.Seconds >= least {
			out = append(out, rest)
		}
	}
}
