package ride

const (
	// While a brake works, and for restS after, a step of the duty lasts at
	// most brakeStepS; later the rims only cool, and steps may grow.
	brakeStepS = 2.0
	restS      = 12.0
	coolStepS  = 6.0
	longRestS  = 90.0
	idleStepS  = 20.0
)

// A Duty is what the brakes of both wheels do over time, and the air that
// cools them: one entry per step. Steps end where a brake is taken or let go.
type Duty struct {
	// DtS is the step's length, TimeS and DistM time and distance at its end.
	DtS, TimeS, DistM []float64
	// RollMps is the mean road speed, StreamMps the mean air speed along the
	// road.
	RollMps, StreamMps []float64
	AirK, PressurePa   []float64
	// FrontW and RearW are braking power at each wheel, mean over the step.
	FrontW, RearW []float64
}

// Len is the number of steps.
func (d *Duty) Len() int { return len(d.DtS) }

func (d *Duty) add(dt, t, dist, roll, stream, airK, pa, front, rear float64) {
	d.DtS = append(d.DtS, dt)
	d.TimeS = append(d.TimeS, t)
	d.DistM = append(d.DistM, dist)
	d.RollMps = append(d.RollMps, roll)
	d.StreamMps = append(d.StreamMps, stream)
	d.AirK = append(d.AirK, airK)
	d.PressurePa = append(d.PressurePa, pa)
	d.FrontW = append(d.FrontW, front)
	d.RearW = append(d.RearW, rear)
}

// Duty turns the plan into steps of time. Braking energy is kept to rounding.
// After the end of the ride the bicycle stands for standS seconds, without
// wind, while the heat left in the rims spreads.
func (pl *Plan) Duty(standS float64) *Duty {
	d := &Duty{}
	rest := longRestS
	for i := 0; i < len(pl.pedal); {
		front, rear := pl.front[i] > 0, pl.rear[i] > 0
		braking := front || rear
		most := brakeStepS
		if !braking {
			if rest >= longRestS {
				most = idleStepS
			} else if rest >= restS {
				most = coolStepS
			}
		}
		// Take in segments while they brake alike and fit.
		j := i + 1
		for j < len(pl.pedal) && pl.front[j] > 0 == front && pl.rear[j] > 0 == rear &&
			pl.TimeS[j+1]-pl.TimeS[i] <= most {
			j++
		}
		pl.steps(d, i, j, most)
		if braking {
			rest = 0
		} else {
			rest += pl.TimeS[j] - pl.TimeS[i]
		}
		i = j
	}
	pl.stand(d, standS)
	return d
}

// steps appends nodes a to b as one step, or as several equal ones where one
// slow segment lasts longer than most.
func (pl *Plan) steps(d *Duty, a, b int, most float64) {
	dt := pl.TimeS[b] - pl.TimeS[a]
	var front, rear, head, airK, pa float64
	for i := a; i < b; i++ {
		front += pl.front[i]
		rear += pl.rear[i]
		head += (pl.HeadMps[i] + pl.HeadMps[i+1]) / 2
		airK += (pl.AirK[i] + pl.AirK[i+1]) / 2
		pa += (pl.PressurePa[i] + pl.PressurePa[i+1]) / 2
	}
	n := float64(b - a)
	p := pl.profile
	run := p.DistM[b] - p.DistM[a]
	roll := run / dt
	parts := 1
	for dt/float64(parts) > 1.5*most {
		parts++
	}
	step := dt / float64(parts)
	for k := 1; k <= parts; k++ {
		part := float64(k) / float64(parts)
		d.add(step, pl.TimeS[a]+part*dt, p.DistM[a]+part*run, roll, roll+head/n, airK/n, pa/n, front/dt, rear/dt)
	}
}

func (pl *Plan) stand(d *Duty, standS float64) {
	last := len(pl.TimeS) - 1
	t, end := pl.TimeS[last], pl.TimeS[last]+standS
	for t < end-1e-9 {
		dt := brakeStepS
		if t-pl.TimeS[last] >= longRestS {
			dt = 2 * coolStepS
		}
		dt = min(dt, end-t)
		t += dt
		d.add(dt, t, pl.profile.DistM[last], 0, 0, pl.AirK[last], pl.PressurePa[last], 0, 0)
	}
}
