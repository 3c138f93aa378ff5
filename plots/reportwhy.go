package plots

import (
	"fmt"
	"math"
)

// why says in this ride's numbers where the heat comes from and where it stays.
func (r *reporter) why() []string {
	var out []string
	if s := r.sharePhrase(); s != "" {
		out = append(out, s)
	}
	first := true
	for i := range r.a.Rims {
		if s := r.spread(i, first); s != "" {
			out, first = append(out, s), false
		}
	}
	return out
}

// sharePhrase says what the brakes take on the hottest descent.
func (r *reporter) sharePhrase() string {
	k, ok := r.hottestDescent()
	if !ok {
		return ""
	}
	d := r.a.Descents[k]
	in := d.Energy.PotentialJ + d.Energy.PedalJ
	brakes := d.Energy.BrakesJ()
	if !finite(in) || !finite(brakes) || !(in > 0) || brakes > in {
		return ""
	}
	from := "the drop brings"
	if d.Energy.PedalJ > 0.005*in {
		from = "drop and pedals bring"
	}
	s := fmt.Sprintf("On descent %d, over a drop of %s, the brakes turn %s kJ into heat, %s %% of the energy that %s", k+1, r.height(d.DropM), cell(brakes/1000, 0), cell(100*brakes/in, 0), from)
	if air := d.Energy.AirJ / in; finite(air) && air > 0 {
		s += fmt.Sprintf("; air drag takes %s %%", cell(100*air, 0))
	}
	return s + "."
}

// hottestDescent is the one on which a rim gets hottest.
func (r *reporter) hottestDescent() (int, bool) {
	best, most := -1, math.Inf(-1)
	for k := range r.a.Descents {
		for i := range r.a.Rims {
			if p, _ := onDescent(&r.a.Rims[i], k); p > most {
				best, most = k, p
			}
		}
	}
	return best, best >= 0
}

// Parts of the track's rise that the spokes' side comes to, above and below
// which a sentence says that the heat spreads or stays; common practice, no source.
const spreadsFrom, staysBelow = 0.6, 0.3

// spread says how far the heat gets through rim i at its hottest moment. The first
// rim to be told of explains the places.
func (r *reporter) spread(i int, first bool) string {
	f := r.a.Rims[i].Field
	if f == nil || !finite(f.TrackC) || !finite(f.SpokeBedC) || !finite(f.AirC) {
		return ""
	}
	track, bed := r.temp(f.TrackC), r.temp(f.SpokeBedC)
	s := fmt.Sprintf("On %s it is %s and %s", r.called(i), track, bed)
	if first {
		s = fmt.Sprintf("When %s is hottest its brake track is at %s, and its spoke bed, where the spokes sit, at %s", r.called(i), track, bed)
	}
	switch rise := f.TrackC - f.AirC; {
	case !(rise > 10):
	case (f.SpokeBedC-f.AirC)/rise < staysBelow:
		s += ": the heat stays near the track"
	case (f.SpokeBedC-f.AirC)/rise > spreadsFrom:
		s += ": the heat spreads through the whole rim"
	default:
		s += ": part of the heat spreads through the rim"
	}
	return s + "."
}
