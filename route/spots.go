package route

import (
	"math"
	"slices"
	"strconv"
)

const (
	// maxSpots is how many spots a text names.
	maxSpots = 3
	// sameSpotM is how near to each other, metres, spots are one spot, and
	// doubtful stretches one stretch.
	sameSpotM = 200.0
)

// A spot is where something was mended and how bad it was there.
type spot struct {
	m    float64 // distance from the start, metres
	size float64 // larger is worse; any unit, but one for all spots compared
}

// near words where the worst spots are: "near km 12.3, 40.1 and 41.0", with
// "worst" before it if there are more than maxSpots.
func near(spots []spot) string {
	var named []float64
	for len(named) <= maxSpots {
		worst := -1
		for i, p := range spots {
			if (worst < 0 || p.size > spots[worst].size) && !holdsSpot(named, p.m) {
				worst = i
			}
		}
		if worst < 0 {
			return "near " + atKilometres(named...)
		}
		named = append(named, spots[worst].m)
	}
	return "worst near " + atKilometres(named[:maxSpots]...)
}

func holdsSpot(named []float64, m float64) bool {
	for _, v := range named {
		if math.Abs(v-m) < sameSpotM {
			return true
		}
	}
	return false
}

// atKilometres sorts distances in metres and words them: "km 1.0, 2.3 and 9.0".
func atKilometres(m ...float64) string {
	slices.Sort(m)
	s := "km "
	for i, v := range m {
		switch {
		case i > 0 && i == len(m)-1:
			s += " and "
		case i > 0:
			s += ", "
		}
		s += strconv.FormatFloat(v/1000, 'f', 1, 64)
	}
	return s
}
