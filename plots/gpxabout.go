package plots

import (
	"fmt"
	"strings"

	"rimheat/thermal"
)

// routeTitle is the route's name in running text, "" if it has none.
func routeTitle(name string) string { return cutLetters(clean(name), 200) }

// gpxAbout is the caution at the head of the file, with what it was computed for and
// which rims the letters mean.
func gpxAbout(a *thermal.Assessment, u units) string {
	var b strings.Builder
	b.WriteString("An estimate of how hot rim brakes make these rims on this road; it can be wrong. The limits that the rim maker states and a qualified mechanic come first.")
	if s := &a.Setup; s.TotalKg > 0 {
		fmt.Fprintf(&b, " Computed for %s %s in all", number(u.mass(s.TotalKg), 0), u.massUnit())
		if d := s.DayAir; d != nil {
			fmt.Fprintf(&b, " and air of %s to %s on the way", number(u.temp(d.CoolestMetC), 0), u.tempText(d.WarmestMetC))
		} else if finite(s.AirTempC) && finite(s.AtHeightM) {
			fmt.Fprintf(&b, " and air of %s at %s %s", u.tempText(s.AirTempC), number(u.height(s.AtHeightM), 0), u.heightUnit())
		}
		if len(s.Assumed) > 0 {
			b.WriteString("; part of what is needed is assumed")
		}
		b.WriteString(".")
	}
	var rims []string
	for i := range a.Rims {
		r := &a.Rims[i]
		word := plainRim(r, i, listedLetters)
		if t := tagOf(i, len(a.Rims)); t != "" {
			word = t + " " + word
		}
		if finite(r.LimitC) {
			word += " is " + string(r.Verdict) + ", " + limitNoun(r.LimitAssumed) + " of its " + limitedPlace(r.LimitOn) + " " + u.tempText(r.LimitC)
		}
		rims = append(rims, word)
	}
	if len(rims) == 1 {
		b.WriteString(" Rim: ")
	} else {
		b.WriteString(" Rims: ")
	}
	b.WriteString(strings.Join(rims, "; ") + ".")
	if d := a.Sampling; d != nil {
		fmt.Fprintf(&b, " Draws are %s rides with other values of what is not known exactly.", number(float64(d.Samples), 0))
	}
	return b.String()
}

// limitedPlace names what a limit is about in a word or two.
func limitedPlace(on string) string {
	if !offTrack(on) {
		return "track"
	}
	return cutLetters(clean(on), listedLetters)
}
