package thermal

import (
	"cmp"
	"context"
	"math"
	"slices"

	"rimheat/route"
	"rimheat/thermal/ride"
	"rimheat/thermal/rim"
	"rimheat/thermal/risk"
)

// A RestAdvice is a set of stops for one candidate, found by a quick search: planning
// at length may find fewer or shorter ones.
type RestAdvice struct {
	RimID string `json:"rim"`
	// Stops is empty where the search found none that do; Chance is then 0.
	Stops []CoolStop `json:"stops"`
	// Chance is that of reaching a limit with these stops, by so many draws.
	Chance Chance `json:"chance"`
	Draws  int    `json:"draws"`
	// Serves says that fewer than MarginalChance of the draws do.
	Serves bool `json:"serves"`
}

const (
	// A quick search asks hardSet draws instead of all: those that decide whether
	// fewer than MarginalChance of all are over. checkBlocks blocks of the design
	// check what it finds; one that the check refutes is made again, with the draws
	// that then decide, as long as fewer than restsAsked sets have been tried. Of those
	// restsPolished may be for making stops shorter, each time.
	hardSet, checkBlocks      = 2, 4
	restsAsked, restsPolished = 140, 50
	// restsFarthest is how many places before a crossing are looked at.
	restsFarthest = 10
)

// drawn is what is left of drawing for further questions.
type drawn struct {
	design   *risk.Design
	families []*rim.Family
	// leastK is the least margin of [candidate][draw] on the whole ride, K.
	leastK [][]float64
}

// rests looks for stops for one candidate; the advice has none if it finds none.
func (d *drawn) rests(ctx context.Context, p *route.Profile, s Setup, candidate int) (*RestAdvice, error) {
	w := s.Wheels[candidate]
	s.Wheels, s.Style.Pauses = []Wheel{w}, slices.Clone(s.Style.Pauses)
	q := &inquiry{profile: p, setup: s, limits: limitsOf(w), design: d.design.FirstBlocks(checkBlocks)}
	if d.families != nil {
		q.families = d.families[candidate : candidate+1]
	}
	best := &RestAdvice{RimID: w.Rim.ID, Stops: []CoolStop{}, Chance: Chance{P: 2}, Draws: q.design.Len()}
	hard := *q
	hard.design = decisive(d.design, d.leastK[candidate])
	left := restsAsked
	if asked, err := q.replyTo(d.leastK[candidate][:q.design.Len()]); err == nil && asked.Chance.P >= OverChance {
		left /= 4 // stops hardly ever serve there
	}
	for left > 0 {
		z := hard.stopper(s, left, restsPolished)
		z.farthest, z.near = restsFarthest, true
		// Straight for as many stops as it takes.
		pauses, err := z.search(ctx, nil, 0, mostStops)
		if err != nil {
			return nil, err
		}
		if pauses == nil {
			break
		}
		if pauses, err = z.shorten(ctx, pauses); err != nil {
			return nil, err
		}
		left -= z.asked
		leastK, err := q.leastMargins(ctx, z.with(pauses))
		if err != nil {
			return nil, err
		}
		reply, err := q.replyTo(leastK)
		if err != nil {
			return nil, err
		}
		if reply.Chance.P < best.Chance.P {
			best.Stops, best.Chance, best.Serves = coolStops(p, pauses), reply.Chance, reply.Within()
		}
		if best.Serves {
			break
		}
		// With these stops others decide.
		hard.design = decisive(q.design, leastK)
	}
	if len(best.Stops) == 0 {
		best.Chance = Chance{}
	}
	return best, nil
}

// decisive are the draws that decide whether fewer than MarginalChance of a design are
// over: as few as that may be.
func decisive(d *risk.Design, leastK []float64) *risk.Design {
	order := make([]int, d.Len())
	for k := range order {
		order[k] = k
	}
	// The hardest first.
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(leastK[a], leastK[b]) })
	from := int(math.Ceil(MarginalChance*float64(len(order)))) - 1
	return d.Only(order[from:min(from+hardSet, len(order))])
}

// coolStops tells where pauses are.
func coolStops(p *route.Profile, pauses []ride.Pause) []CoolStop {
	out := []CoolStop{}
	for _, k := range pauses {
		out = append(out, CoolStop{AtM: k.AtM, HeightM: heightAt(p, k.AtM), Grade: gradeAt(p, k.AtM), S: k.S, RollMps: k.RollMps})
	}
	return out
}
