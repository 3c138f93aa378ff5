package plots

import (
	"fmt"
	"math"
	"slices"

	"rimheat/thermal"
)

// invented describes a made-up ride with curves of plausible shape: rims warm
// up towards a plateau on the descents and cool towards the air elsewhere.
type invented struct {
	name     string
	lengthM  float64
	descents int
	rims     []inventedRim
	flat     bool
	// pulse makes the temperature saw, as brakes on and off do.
	pulse bool
	// stop adds a hard stop at the end, in which the rims get hottest.
	stop bool
}

// inventedRim says how far a rim rises on the hardest descent, and by what it
// is judged.
type inventedRim struct {
	name     string
	riseK    float64
	lagM     float64
	limitC   float64
	tyreSide bool
	// trackLimitC is a limit of the track beside that of the tyre side.
	trackLimitC float64
	assumed     bool
}

func deepCarbon(riseK float64) inventedRim {
	return inventedRim{name: "Deep carbon clincher, 50 mm", riseK: riseK, lagM: 900, limitC: 120, assumed: true}
}

func classicAlu(riseK float64) inventedRim {
	return inventedRim{name: "Classic aluminium clincher", riseK: riseK, lagM: 1500, limitC: 130, tyreSide: true, assumed: true}
}

// fiveRims are told apart by rise, lag and limit; three of them pass it.
func fiveRims() []inventedRim {
	return []inventedRim{
		deepCarbon(112),
		classicAlu(60),
		{name: "Shallow carbon tubular, 24 mm", riseK: 125, lagM: 700, limitC: 140},
		{name: "Wide aluminium, heavy", riseK: 48, lagM: 2100, limitC: 130, tyreSide: true, assumed: true},
		{name: "Carbon with a hot-set resin, 35 mm", riseK: 118, lagM: 800, limitC: 160},
	}
}

// lateRims warm up so slowly that they pass their limits close to the end.
func lateRims() []inventedRim {
	rims := fiveRims()
	for i := range rims {
		rims[i].lagM = 14000
		rims[i].riseK = 320
		rims[i].limitC = 98 + 1.5*float64(i)
		rims[i].tyreSide = false
	}
	return rims
}

const inventedAirC = 34.0

func (in invented) assessment() *thermal.Assessment {
	a := &thermal.Assessment{}
	a.Route.Name = in.name
	const stepM = 10.0
	n := int(in.lengthM/stepM) + 1
	for k := range in.descents {
		part := in.lengthM / float64(in.descents)
		d := thermal.Descent{StartM: part * (float64(k) + 0.45), EndM: part * (float64(k) + 0.9)}
		d.DropM = (d.EndM - d.StartM) * 0.08 * (1 - 0.5*math.Abs(float64(k)-1)/float64(in.descents))
		a.Descents = append(a.Descents, d)
	}
	height, now := 640.0, 0.0
	for i := range n {
		m := float64(i) * stepM
		grade, v := 0.0, 8.0
		if !in.flat {
			grade, v = 0.03+0.02*math.Sin(m/700), 5.0
		}
		for _, d := range a.Descents {
			if m >= d.StartM && m < d.EndM {
				grade, v = -d.DropM/(d.EndM-d.StartM)*(1+0.3*math.Sin(m/430)), 11
			}
		}
		a.Trace.DistM = append(a.Trace.DistM, m)
		a.Trace.HeightM = append(a.Trace.HeightM, height)
		a.Trace.TimeS = append(a.Trace.TimeS, now)
		a.Trace.Grade = append(a.Trace.Grade, grade)
		a.Trace.SpeedMps = append(a.Trace.SpeedMps, v)
		height += grade * stepM
		now += stepM / v
	}
	a.Route.DistanceM = float64(n-1) * stepM
	for i, r := range in.rims {
		a.Rims = append(a.Rims, in.rim(a, r, fmt.Sprintf("rim-%d", i+1)))
	}
	return a
}

// rim rides the invented road with one invented rim.
func (in invented) rim(a *thermal.Assessment, r inventedRim, id string) thermal.RimResult {
	out := thermal.RimResult{
		ID: id, Name: r.name, LimitC: r.limitC, LimitAssumed: r.assumed, LimitOn: "track",
		PeakC: math.Inf(-1), JudgedPeakC: math.Inf(-1), PeakWheel: "front",
	}
	if r.tyreSide {
		out.LimitOn = thermal.OnTyreSide
	}
	track, side := inventedAirC, inventedAirC
	tr := a.Trace
	for i := range tr.DistM {
		goal := inventedAirC
		if tr.Grade[i] < 0 {
			goal += r.riseK * -tr.Grade[i] / 0.09
		}
		if i > 0 {
			track += (goal - track) * (tr.DistM[i] - tr.DistM[i-1]) / r.lagM
			side += (track - side) * (tr.DistM[i] - tr.DistM[i-1]) / 1200
		}
		front := track
		if in.pulse && tr.Grade[i] < 0 {
			front += 9 * math.Abs(math.Mod(tr.DistM[i], 120)/60-1)
		}
		for _, w := range []struct {
			h     *thermal.History
			share float64
		}{{&out.Front, 1}, {&out.Rear, 0.7}} {
			w.h.DistM = append(w.h.DistM, tr.DistM[i])
			w.h.TimeS = append(w.h.TimeS, tr.TimeS[i])
			w.h.TrackC = append(w.h.TrackC, inventedAirC+w.share*(front-inventedAirC))
			w.h.TyreSideC = append(w.h.TyreSideC, inventedAirC+w.share*(side-inventedAirC))
		}
		judged := front
		if r.tyreSide {
			judged = side
		}
		out.PeakC, out.JudgedPeakC = max(out.PeakC, front), max(out.JudgedPeakC, judged)
		if judged >= r.limitC {
			if k := len(out.Over); k > 0 && tr.DistM[i]-out.Over[k-1].EndM < 15 {
				out.Over[k-1].EndM, out.Over[k-1].DurationS = tr.DistM[i], tr.TimeS[i]-out.Over[k-1].StartS
			} else {
				out.Over = append(out.Over, thermal.OverSpan{StartM: tr.DistM[i], EndM: tr.DistM[i], StartS: tr.TimeS[i], HeightM: tr.HeightM[i]})
			}
		}
	}
	if in.stop {
		end := len(tr.DistM) - 1
		for k := range 40 {
			up := math.Sin(float64(k) / 20) // up to the 31st step, then down
			for w, h := range []*thermal.History{&out.Front, &out.Rear} {
				share := 1 - 0.3*float64(w)
				h.DistM = append(h.DistM, tr.DistM[end])
				h.TimeS = append(h.TimeS, tr.TimeS[end]+float64(k))
				h.TrackC = append(h.TrackC, share*(out.PeakC+12*up))
				h.TyreSideC = append(h.TyreSideC, h.TyreSideC[end])
			}
		}
		out.PeakInStop = true
		out.PeakC = slices.Max(out.Front.TrackC)
		if !r.tyreSide {
			out.JudgedPeakC = out.PeakC
		}
	}
	out.MarginK = r.limitC - out.JudgedPeakC
	switch {
	case out.MarginK <= 0:
		out.Verdict = thermal.Over
	case out.MarginK < thermal.MarginalK:
		out.Verdict = thermal.Marginal
	default:
		out.Verdict = thermal.Within
	}
	out.Limits = []thermal.LimitResult{{On: out.LimitOn, LimitC: out.LimitC, Assumed: out.LimitAssumed, PeakC: out.JudgedPeakC, MarginK: out.MarginK}}
	if r.trackLimitC > 0 {
		out.Limits = append(out.Limits, thermal.LimitResult{On: thermal.OnTrack, LimitC: r.trackLimitC, PeakC: out.PeakC, MarginK: r.trackLimitC - out.PeakC})
	}
	return out
}
