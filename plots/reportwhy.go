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
	if checkSections(r.a) == nil {
		out = append(out, sectionWords(r.a.Rims, rimsWithField(r.a.Rims), r.u))
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
	in := d.Energy.InJ()
	brakes := d.Energy.BrakesJ()
	if !finite(in) || !finite(brakes) || !(in > 0) {
		return ""
	}
	from := "the drop brings"
	if in > 1.005*d.Energy.PotentialJ {
		from = "comes in"
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
