package thermal

import (
	"cmp"
	"context"
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
	// Chance is that of reaching a limit with these stops, besides those that are planned,
	// by so many draws that the search has not seen.
	Chance Chance `json:"chance"`
	Draws  int    `json:"draws"`
	// Serves says that so few of them do that the rim may be called within.
	Serves bool `json:"serves"`
}

const (
	// A quick search asks a few draws instead of all: hardPart of them, leastHard at
	// least, those that decide whether fewer than aimedChance of all are over. What it
	// finds is checked with checkDraws that it has not seen. One that the check refutes
	// is made again, with the draws that then decide, as long as fewer than restsAsked
	// sets have been tried; of those restsPolished may be for making stops shorter, each
	// time.
	hardPart, leastHard       = 1.0 / 250, 2
	checkDraws                = 200
	restsAsked, restsPolished = 140, 50
	// aimedChance is less than MarginalChance: stops are chosen by a few draws, and a
	// chance that is read off others must not be all but MarginalChance to be called less.
	aimedChance = 0.7 * MarginalChance
	// restsFarthest is how many places before a crossing are looked at.
	restsFarthest = 10
	// checkSeed tells the seed of the check from that of the draws.
	checkSeed = 0x5c0e1e55
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
	q := &inquiry{profile: p, setup: s, limits: limitsOf(w)}
	if d.families != nil {
		q.families = d.families[candidate : candidate+1]
	}
	best := &RestAdvice{RimID: w.Rim.ID, Stops: []CoolStop{}, Chance: Chance{P: 2}, Draws: checkDraws}
	hard := *q
	hard.design = decisive(d.design, d.leastK[candidate])
	left, seed := restsAsked, s.Sampling.Seed^checkSeed
	over := 0
	for _, k := range d.leastK[candidate] {
		if k <= 0 {
			over++
		}
	}
	if float64(over) >= OverChance*float64(len(d.leastK[candidate])) {
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
		// Each time others, which the search has not seen.
		seed++
		if q.design, err = design(Sampling{Samples: checkDraws, Seed: seed}); err != nil {
			return nil, err
		}
		leastK, err := q.leastMargins(ctx, z.with(pauses))
		if err != nil {
			return nil, err
		}
		reply, err := q.replyTo(leastK)
		if err != nil {
			return nil, err
		}
		if reply.Chance.P < best.Chance.P {
			best.Stops, best.Chance, best.Serves = coolStops(p, pauses), reply.Chance, reply.Chance.P <= aimedChance
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

// decisive are the draws that decide whether fewer than aimedChance of a design are over.
func decisive(d *risk.Design, leastK []float64) *risk.Design {
	order := make([]int, d.Len())
	for k := range order {
		order[k] = k
	}
	// The hardest first.
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(leastK[a], leastK[b]) })
	from := int(aimedChance * float64(len(order)))
	hard := max(leastHard, int(hardPart*float64(len(order))))
	return d.Only(order[from:min(from+hard, len(order))])
}

// coolStops tells where pauses are.
func coolStops(p *route.Profile, pauses []ride.Pause) []CoolStop {
	out := []CoolStop{}
	for _, k := range pauses {
		out = append(out, CoolStop{AtM: k.AtM, HeightM: heightAt(p, k.AtM), Grade: gradeAt(p, k.AtM), S: k.S, RollMps: k.RollMps})
	}
	return out
}
