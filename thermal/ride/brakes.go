package ride

// A Stand is one rest on the way; see Pause.
type Stand struct{ AtM, S, RollMps float64 }

// Stands lists the rests of the ride, planned or recorded, in order.
func (pl *Plan) Stands() []Stand {
	var out []Stand
	for i, s := range pl.standS {
		if s > 0 {
			out = append(out, Stand{AtM: pl.profile.DistM[i], S: s, RollMps: pl.rollAt(i)})
		}
	}
	return out
}

// BrakeW gives the mean power of both brakes on each segment while the bicycle moves, W:
// entry i is that between node i-1 and i, entry 0 is 0.
func (pl *Plan) BrakeW() (frontW, rearW []float64) {
	n := len(pl.TimeS)
	frontW, rearW = make([]float64, n), make([]float64, n)
	for i := 1; i < n; i++ {
		dt := pl.TimeS[i] - pl.leaveS(i-1)
		frontW[i], rearW[i] = pl.front[i-1]/dt, pl.rear[i-1]/dt
	}
	return frontW, rearW
}
