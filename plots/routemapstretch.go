package plots

import (
	"cmp"
	"slices"
)

// A stretch is a piece of the route, metres.
type stretch struct{ fromM, toM float64 }

// atLeast gives the stretches where the series is at a level or above it, a single place
// among them.
func (s series) atLeast(level float64) []stretch {
	var out []stretch
	open := false
	for i, v := range s.v {
		d := s.distM[i]
		crossing := d
		if i > 0 && s.v[i-1] != v {
			crossing = s.distM[i-1] + (d-s.distM[i-1])*max(0, min(1, (level-s.v[i-1])/(v-s.v[i-1])))
		}
		switch {
		case v >= level && !open:
			out, open = append(out, stretch{crossing, d}), true
		case v >= level:
			out[len(out)-1].toM = d
		case open:
			out[len(out)-1].toM, open = crossing, false
		}
	}
	return out
}

// seen widens stretches that are too short to be seen about their middles, to at least
// leastM, and joins those that lie less than hairM apart.
func seen(all []stretch, leastM, hairM float64) []stretch {
	wide := slices.Clone(all)
	for i := range wide {
		s := &wide[i]
		if more := leastM - (s.toM - s.fromM); more > 0 {
			s.fromM, s.toM = s.fromM-more/2, s.toM+more/2
		}
	}
	slices.SortStableFunc(wide, func(a, b stretch) int { return cmp.Compare(a.fromM, b.fromM) })
	var out []stretch
	for _, s := range wide {
		if n := len(out); n > 0 && s.fromM <= out[n-1].toM+hairM {
			out[n-1].toM = max(out[n-1].toM, s.toM)
			continue
		}
		out = append(out, s)
	}
	return out
}

// outside is what of the stretches is left beside others, which are first made shorter by
// lapM at each end. Both lists rise and do not overlap in themselves.
func outside(all, others []stretch, lapM float64) []stretch {
	var out []stretch
	for _, s := range all {
		for len(others) > 0 && others[0].toM <= s.fromM {
			others = others[1:]
		}
		for _, o := range others {
			if o.fromM >= s.toM {
				break
			}
			o.fromM, o.toM = o.fromM+lapM, o.toM-lapM
			if o.toM <= o.fromM || o.toM <= s.fromM || o.fromM >= s.toM {
				continue
			}
			if o.fromM > s.fromM {
				out = append(out, stretch{s.fromM, o.fromM})
			}
			s.fromM = o.toM
		}
		if s.toM > s.fromM {
			out = append(out, s)
		}
	}
	return out
}
