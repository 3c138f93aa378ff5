package rim

import "slices"

// pickHottest picks some of the cells, so few that the hottest of them stands in for
// the hottest of all: while brakes are on and after they are let go, it is no
// more than nearPart of its rise cooler. Which cell is the hottest moves little,
// and its neighbours are much as hot.
func pickHottest(of []answers, cells []int) (picked []int) {
	const nearPart = 0.0005
	var states [][]float64
	for _, a := range of {
		for _, members := range a.braking {
			states = append(states, heatedAndLeft(members, cells)...)
		}
	}
	// What serves for most of the states that are left goes first.
	for len(states) > 0 {
		serves := make([]int, len(cells))
		for _, x := range states {
			near := (1 - nearPart) * slices.Max(x)
			for i, v := range x {
				if v >= near {
					serves[i]++
				}
			}
		}
		best := 0
		for i, n := range serves {
			if n > serves[best] {
				best = i
			}
		}
		picked = append(picked, best)
		states = slices.DeleteFunc(states, func(x []float64) bool { return x[best] >= (1-nearPart)*slices.Max(x) })
	}
	slices.Sort(picked)
	return picked
}

// heatedAndLeft gives the temperatures of the cells after braking for each time,
// and after braking and then none for each two: what braking for both together
// gives, less what braking for the second one does.
func heatedAndLeft(members [][]float64, cells []int) (states [][]float64) {
	for i, x := range members {
		for j := range i + 1 {
			state := make([]float64, len(cells))
			for k, c := range cells {
				state[k] = x[c]
				if j < i {
					state[k] -= members[j][c]
				}
			}
			if slices.Max(state) > 0 {
				states = append(states, state)
			}
		}
	}
	return states
}
