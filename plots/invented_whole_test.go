package plots

import (
	"math"

	"rimheat/thermal"
)

// whole is the invented ride with all that the draws, the road in plan and the heat
// model add: what assess fills in.
func (in invented) whole() *thermal.Assessment {
	a := in.assessment()
	tr := &a.Trace
	lat, lon, heading := 46.1, 7.3, 0.4
	for i, m := range tr.DistM {
		step := 0.0
		if i > 0 {
			step = m - tr.DistM[i-1]
			// Bends on the way, hairpins on the descents.
			turn := 0.004 * math.Sin(m/900)
			if tr.Grade[i] < 0 {
				turn = 0
				if hairpin := math.Mod(m, 700); hairpin < 30 {
					turn = math.Pi / 30 * math.Pow(-1, math.Floor(m/700))
					if hairpin < step {
						tr.HairpinM = append(tr.HairpinM, m+15)
					}
				}
			}
			heading += turn * step
		}
		lat += step * math.Cos(heading) / 111_200
		lon += step * math.Sin(heading) / (111_200 * math.Cos(lat*math.Pi/180))
		tr.LatDeg, tr.LonDeg = append(tr.LatDeg, lat), append(tr.LonDeg, lon)
		tr.AirC = append(tr.AirC, inventedAirC-0.0065*(tr.HeightM[i]-640))
		power := max(0, -tr.Grade[i]*84*9.81*tr.SpeedMps[i]-150)
		tr.FrontBrakeW, tr.RearBrakeW = append(tr.FrontBrakeW, 0.65*power), append(tr.RearBrakeW, 0.35*power)
	}
	for k := range a.Descents {
		d := &a.Descents[k]
		e := &d.Energy
		e.PotentialJ = 84 * 9.81 * d.DropM
		e.AirJ, e.RollingJ, e.BrakeFrontJ, e.BrakeRearJ = 0.27*e.PotentialJ, 0.06*e.PotentialJ, 0.43*e.PotentialJ, 0.23*e.PotentialJ
		e.KineticJ = 0.01 * e.PotentialJ
		d.MeanGrade = -d.DropM / (d.EndM - d.StartM)
		d.SteepestGrade = 1.3 * d.MeanGrade
		d.DurationS = (d.EndM - d.StartM) / 11
	}
	a.Route.ClimbM, a.Route.DropM = 900, 950
	a.Setup.TotalKg, a.Setup.AirTempC = 84, inventedAirC
	if len(a.Descents) > 1 {
		at := a.Descents[len(a.Descents)-1].StartM
		tr.Stands = []thermal.Stand{{AtM: at, HeightM: 900, S: 600}}
	}
	a.Sampling = &thermal.SamplingSummary{Samples: 500, Seed: 1}
	for i := range a.Rims {
		in.drawn(a, i)
	}
	return a
}

// drawn adds what the draws say of one rim, and its section.
func (in invented) drawn(a *thermal.Assessment, i int) {
	r, tr := &a.Rims[i], a.Trace
	along := &thermal.Along{}
	n := min(400, len(tr.DistM)-1)
	end := tr.DistM[len(tr.DistM)-1]
	h := 0
	for k := range n {
		to, hot := end*float64(k+1)/float64(n), math.Inf(-1)
		for ; h < len(r.Front.DistM) && r.Front.DistM[h] <= to; h++ {
			hot = max(hot, r.Front.TrackC[h])
		}
		if math.IsInf(hot, -1) {
			hot = inventedAirC
		}
		rise := hot - inventedAirC
		along.DistM = append(along.DistM, end*(float64(k)+0.5)/float64(n))
		along.P05C, along.P50C, along.P95C = append(along.P05C, inventedAirC-4+0.75*rise), append(along.P50C, hot), append(along.P95C, inventedAirC+4+1.3*rise)
	}
	r.Along = along
	m := r.MarginK
	r.Risk = &thermal.Risk{
		Chance: thermal.Chance{P: 0.43, Low: 0.39, High: 0.47}, MarginK: thermal.Percentiles{P05: m - 30, P50: m, P95: m + 30},
		TrackC:  thermal.Percentiles{P05: r.PeakC - 25, P50: r.PeakC, P95: r.PeakC + 35},
		Drivers: inventedDrivers(), Explained: 0.99,
	}
	for k := range a.Descents {
		r.Risk.Descents = append(r.Risk.Descents, thermal.DescentRisk{Index: k, TrackC: r.Risk.TrackC, Chance: r.Risk.Chance})
		r.Descents = append(r.Descents, thermal.RimDescent{Index: k, FrontPeakC: r.PeakC, RearPeakC: 0.8 * r.PeakC})
	}
	r.Limits[0].LowC, r.Limits[0].HighC = r.LimitC-20, r.LimitC+25
	r.Composite = !in.rims[i].tyreSide
	r.Field = inventedField(r.PeakC, r.Composite)
	for k, m := range r.Front.DistM {
		if r.Front.TrackC[k] == r.PeakC {
			r.PeakAtM, r.Field.AtM, r.Field.TimeS = m, m, r.Front.TimeS[k]
			break
		}
	}
}

// inventedField is a made-up half section: a wall with a bed and a floor. A composite
// one is deep and keeps the heat in its wall.
func inventedField(peakC float64, composite bool) *thermal.Field {
	f := &thermal.Field{
		Wheel: "front", HalfWidthM: 0.010, DepthM: 0.022, TrackC: peakC, SurfaceC: peakC + 2, BedC: peakC - 2, TyreSideC: peakC - 1, SpokeBedC: peakC - 6, AirC: 30,
		TrackFromM: 0.001, TrackToM: 0.010, BedFromM: 0.006, BedToM: 0.0075,
	}
	fallM, wallM := 0.3, 0.0016
	if composite {
		f.HalfWidthM, f.DepthM, fallM, wallM = 0.0125, 0.050, 0.010, 0.0033
		f.BedC, f.SpokeBedC = 30+0.5*(peakC-30), 32
	}
	lean := f.HalfWidthM / 2
	cell := func(x0, x1, y0, y1, off float64) {
		below := max(0, (y0+y1)/2-f.TrackToM)
		inward := f.HalfWidthM - (x0+x1)/2
		c := 30 + (peakC-30)*math.Exp(-(below+inward)/fallM)
		f.Cells = append(f.Cells, thermal.FieldCell{X: [4]float64{x1 - off, x0 - off, x0 - off, x1 - off}, Y: [4]float64{y0, y0, y1, y1}, C: c})
	}
	const rows, across = 24, 4
	for j := range rows {
		y0, y1 := f.DepthM*float64(j)/rows, f.DepthM*float64(j+1)/rows
		off := 0.0
		if composite && y0 > f.TrackToM {
			off = lean * (y0 - f.TrackToM) / (f.DepthM - f.TrackToM)
		}
		for i := range across {
			outer := f.HalfWidthM - wallM*float64(i)/across
			cell(outer-wallM/across, outer, y0, y1, off)
		}
	}
	for _, y := range [][2]float64{{f.BedFromM, f.BedToM}, {f.DepthM - 0.002, f.DepthM}} {
		off := 0.0
		if composite && y[0] > f.TrackToM {
			off = lean
		}
		for i := range 10 {
			w := (f.HalfWidthM - wallM - off) / 10
			cell(w*float64(i), w*float64(i+1), y[0], y[1], 0)
		}
	}
	return f
}
