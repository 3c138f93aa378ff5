package ride

// A Pause is a rest planned on the way, to let the rims cool.
type Pause struct {
	// AtM is where, m from the start, and S how long, s.
	AtM, S float64
	// RollMps is 0 where the rider stands. Otherwise they roll to and fro on the
	// level at this speed, m/s, with the brakes let go: moving air cools better
	// than calm air.
	RollMps float64
}

// Validate reports a pause that nobody makes.
func (p Pause) Validate() error {
	return firstOutside([]bound{
		{"place of a pause", p.AtM / 1000, 0, 2000, "km"},
		{"pause", p.S / 60, 0.5, 180, "min"},
		{"speed of rolling about", p.RollMps * 3.6, 0, 25, "km/h"},
	})
}

// pause puts the style's pauses on the nodes.
func (pl *Plan) pause() {
	if len(pl.style.Pauses) == 0 {
		pl.standS, pl.standRollMps = nil, nil
		return
	}
	n := len(pl.TimeS)
	if len(pl.standS) != n || len(pl.standRollMps) != n {
		pl.standS, pl.standRollMps = make([]float64, n), make([]float64, n)
	}
	clear(pl.standS)
	clear(pl.standRollMps)
	for _, p := range pl.style.Pauses {
		i := min(max(int(p.AtM/pl.profile.SpacingM+0.5), 1), n-2)
		pl.standS[i] += p.S
		pl.standRollMps[i] = p.RollMps
	}
}

// rollAt is how fast the rider rolls about at node i while pausing, m/s.
func (pl *Plan) rollAt(i int) float64 {
	if pl.standRollMps == nil {
		return 0
	}
	return pl.standRollMps[i]
}
