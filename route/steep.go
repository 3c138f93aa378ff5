package route

import "math"

// Limits on heights steeper than MaxGrade, both choices with no source: up to
// this share of all rise and fall, or up to this many metres, the grade is
// capped; beyond both the heights are refused.
const (
	maxSteepShare = 0.10
	maxSteepM     = 20.0
)

// grades fills p.Grade by centred differences, one-sided at the ends, and
// tells at which nodes it had to be capped. Heights of which too much is too steep
// are refused if refuse says so.
func (c *course) grades(p *Profile, refuse bool) (capped []bool, err error) {
	if err := c.capSteps(p, refuse); err != nil {
		return nil, err
	}
	n, h := len(p.HeightM), p.HeightM
	p.Grade = make([]float64, n)
	capped = make([]bool, n)
	for i := range p.Grade {
		a, b := max(i-1, 0), min(i+1, n-1)
		g := (h[b] - h[a]) / (float64(b-a) * p.SpacingM)
		if math.Abs(g) > MaxGrade {
			g = math.Copysign(MaxGrade, g)
			capped[i] = true
		}
		p.Grade[i] = g
	}
	return capped, nil
}

// capSteps reports the grid steps steeper than MaxGrade and how much height
// the cap leaves out, or refuses the heights. A node is capped only beside
// such a step, its grade being the mean of two.
func (c *course) capSteps(p *Profile, refuse bool) error {
	most := MaxGrade * p.SpacingM
	steps, steepM, leftM := 0, 0.0, 0.0
	var runs []spot
	end := -1 // node at the end of the latest steep step
	for i := 1; i < len(p.HeightM); i++ {
		d := math.Abs(p.HeightM[i] - p.HeightM[i-1])
		if d <= most {
			continue
		}
		steps++
		steepM += d
		leftM += d - most
		if end != i-1 {
			runs = append(runs, spot{})
			c.doubts = append(c.doubts, doubt{startM: p.DistM[i-1], capped: true})
		}
		run, span := &runs[len(runs)-1], &c.doubts[len(c.doubts)-1]
		span.endM = p.DistM[i]
		run.m = (span.startM + span.endM) / 2
		run.size += d - most
		end = i
	}
	// Smoothing may hide a step of the heights, which is no road for that.
	stepped := 0.0
	for _, i := range c.heightSteps() {
		stepped += math.Abs(c.h[i+1] - c.h[i])
	}
	steepM = max(steepM, stepped)
	if all := p.ClimbM + p.DropM; refuse && steepM > maxSteepM && steepM > maxSteepShare*all {
		return c.tooSteep(p, steepM)
	}
	if steps > 0 {
		c.note("too-steep", steps, "grade capped at "+percent(MaxGrade)+" on "+metres(float64(steps)*p.SpacingM)+" of road, "+near(runs)+
			"; "+atLeastOne(leftM)+" of climb and drop left out")
	}
	return nil
}

// tooSteep words the refusal of a profile of which steepM metres of climb and
// drop are steeper than MaxGrade.
func (c *course) tooSteep(p *Profile, steepM float64) error {
	worst, excess := 0, math.Inf(-1)
	for i := 0; i+1 < len(c.h); i++ {
		if e := math.Abs(c.h[i+1]-c.h[i]) - MaxGrade*(c.dist[i+1]-c.dist[i]); e > excess {
			worst, excess = i, e
		}
	}
	return c.fail(c.line[worst], metres(steepM)+" of "+metres(p.ClimbM+p.DropM)+" of climb and drop over "+kilometres(p.DistanceM)+
		" are steeper than "+percent(MaxGrade)+", so the heights are wrong; the worst step, from "+metres(c.h[worst])+" to "+metres(c.h[worst+1])+
		" of height within "+atLeastOne(c.dist[worst+1]-c.dist[worst])+", is after point "+count(c.number[worst])+" near "+atKilometres(c.dist[worst]),
		"heights in feet or a wrong step are the usual causes; correct them, or take the heights from a map or another recording")
}

// atLeastOne words a length of any size above zero in metres.
func atLeastOne(m float64) string {
	if m < 1 {
		return "less than 1 m"
	}
	return metres(m)
}
