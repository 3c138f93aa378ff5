package ride

import "math"

// steps are the lengths of a duty's steps, s. A step lasts at most brakeS while a
// brake works. Afterwards the rims only cool: the longer they have done so, the
// longer the steps, and longest where they are as good as cold.
type steps struct {
	brakeS float64
	// firstS is the first step where power has jumped by more than jumpW;
	// the next ones double.
	firstS float64
	// A run ends where the braking power leaves that of its start by surgePart
	// of it and surgeW: a step must not smear what the skin feels.
	surgePart, surgeW float64
	cool              [4]coolStep
}

type coolStep struct{ afterS, stepS float64 }

const jumpW = 400.0

// fineSteps are those of an assessment: the peaks of the demo rides lie within
// 0.7 K of those with steps of 0.1 to 0.5 s, in dragging within 0.2 K (derived).
func fineSteps() steps {
	return steps{brakeS: 2.5, firstS: 0.6, surgePart: 0.4, surgeW: 100, cool: [...]coolStep{{0, 2.5}, {12, 6}, {90, 20}, {900, 60}}}
}

// sampleSteps are those of one ride among thousands: less than half as many.
// Half of all peaks lie within 0.2 K of those of fineSteps, nine in ten within 1 K
// (TestSampleAgainstFull in thermal).
func sampleSteps() steps {
	return steps{brakeS: 8, firstS: 1, surgePart: 0.6, surgeW: 200, cool: [...]coolStep{{0, 5}, {12, 15}, {90, 60}, {900, 180}}}
}

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

func (d *Duty) clear() {
	for _, v := range []*[]float64{&d.DtS, &d.TimeS, &d.DistM, &d.RollMps, &d.StreamMps, &d.AirK, &d.PressurePa, &d.FrontW, &d.RearW} {
		*v = (*v)[:0]
	}
}

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
	pl.duty(d, standS, fineSteps())
	return d
}

// SampleDuty does the same with longer steps, in the memory of d.
func (pl *Plan) SampleDuty(d *Duty, standS float64) {
	d.clear()
	pl.duty(d, standS, sampleSteps())
}

func (pl *Plan) duty(d *Duty, standS float64, long steps) {
	n := len(pl.pedal)
	rest := 0.0 // short steps at first, so that a history begins at the start
	for i := 0; i < n; {
		if pl.standS != nil && pl.standS[i] > 0 {
			pl.stand(d, i, rest, pl.standS[i], long)
			rest += pl.standS[i]
		}
		front, rear := pl.front[i] > 0, pl.rear[i] > 0
		j := pl.run(i, long)
		t0, t1 := pl.leaveS(i), pl.TimeS[j]
		c := cursor{pl: pl, i: i}
		first := math.Inf(1) // no jump, no short steps
		if i == 0 || math.Abs(pl.power(i)-pl.power(i-1)) > jumpW {
			first = long.firstS
		}
		if front || rear {
			c.steps(d, t1, first, long.brakeS)
			rest = 0
		} else {
			for k, cool := range long.cool {
				until := math.Inf(1)
				if k+1 < len(long.cool) {
					until = long.cool[k+1].afterS
				}
				if rest < until {
					c.steps(d, min(t1, t0+until-rest), first, cool.stepS)
					first = math.Inf(1)
				}
			}
			rest += t1 - t0
		}
		i = j
	}
	pl.stand(d, n, 0, standS, long)
}

// power is what both brakes take on segment k, W.
func (pl *Plan) power(k int) float64 {
	return (pl.front[k] + pl.rear[k]) / (pl.TimeS[k+1] - pl.leaveS(k))
}

// run gives the end of the stretch from segment i in which both brakes stay
// taken or let go, with much the same power, and the rider does not stand.
func (pl *Plan) run(i int, long steps) int {
	first := pl.power(i)
	most := math.Max(long.surgeW, long.surgePart*first)
	j := i + 1
	for j < len(pl.pedal) && pl.leaveS(j) == pl.TimeS[j] && (pl.front[j] > 0) == (pl.front[i] > 0) && (pl.rear[j] > 0) == (pl.rear[i] > 0) &&
		math.Abs(pl.power(j)-first) <= most {
		j++
	}
	return j
}

// cursor walks along the plan in time.
type cursor struct {
	pl *Plan
	i  int     // segment that it stands in
	in float64 // part of that segment already passed, 0 to 1
}

// steps appends steps from where the cursor stands to time until, if that lies
// ahead: first ones that double from first, then equal ones no longer than
// most.
func (c *cursor) steps(d *Duty, until, first, most float64) {
	p := c.pl
	t := p.leaveS(c.i) + c.in*(p.TimeS[c.i+1]-p.leaveS(c.i))
	for dt := first; dt < most && until-t > 2*dt; dt *= 2 {
		c.step(d, dt, t+dt)
		t += dt
	}
	left := until - t
	if left <= 1e-9 {
		return
	}
	n := math.Ceil(left/most - 1e-9)
	for k := 1.0; k <= n; k++ {
		c.step(d, left/n, t+left*k/n)
	}
}

// step appends one step of dt seconds that ends at time end, and moves there.
func (c *cursor) step(d *Duty, dt, end float64) {
	p := c.pl
	var front, rear, run, head, airK, pa float64
	for {
		i := c.i
		t0, length := p.leaveS(i), p.TimeS[i+1]-p.leaveS(i)
		to := min((end-t0)/length, 1)
		// The last node of a run may miss its time by rounding.
		if to > 1-1e-9 {
			to = 1
		}
		part := to - c.in
		front += part * p.front[i]
		rear += part * p.rear[i]
		run += part * p.profile.SpacingM
		s := part * length / dt
		head += s * (p.HeadMps[i] + p.HeadMps[i+1]) / 2
		airK += s * (p.AirK[i] + p.AirK[i+1]) / 2
		pa += s * (p.PressurePa[i] + p.PressurePa[i+1]) / 2
		if to < 1 {
			c.in = to
			break
		}
		if i+2 == len(p.TimeS) {
			c.in = 1
			break
		}
		c.i, c.in = i+1, 0
		if end <= p.TimeS[c.i]+1e-9*length {
			break
		}
	}
	dist := p.profile.DistM[c.i] + c.in*p.profile.SpacingM
	roll := run / dt
	d.add(dt, end, dist, roll, roll+head, airK, pa, front/dt, rear/dt)
}

// stand appends standS seconds of standing, or rolling about, at node i, with rest seconds behind it
// since a brake last worked.
func (pl *Plan) stand(d *Duty, i int, rest, standS float64, long steps) {
	start, roll := pl.TimeS[i], pl.rollAt(i)
	for k, cool := range long.cool {
		from, to := math.Max(cool.afterS, rest), rest+standS
		if k+1 < len(long.cool) {
			to = math.Min(to, long.cool[k+1].afterS)
		}
		n := math.Ceil((to-from)/cool.stepS - 1e-9)
		for j := 1.0; j <= n; j++ {
			d.add((to-from)/n, start+from-rest+(to-from)*j/n, pl.profile.DistM[i], roll, roll, pl.AirK[i], pl.PressurePa[i], 0, 0)
		}
	}
}
