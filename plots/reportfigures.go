package plots

import (
	"fmt"
	"strings"

	"rimheat/thermal"
)

// A reportFigure is a picture on the handout, or why there is none.
type reportFigure struct {
	// id begins the picture's identifiers on a page.
	id             string
	sc             *scene
	title, caption string
	// about says what the picture says, in numbers.
	about string
	// missing says why it could not be drawn.
	missing string
}

// draw lays a figure out; one that cannot be drawn stays away with a word why.
func (r *reporter) draw(f reportFigure, bare bool, compose func(*thermal.Assessment, Options, *typeface) (*scene, error)) reportFigure {
	opt := r.opt.Options
	opt.bare = bare
	sc, err := compose(r.a, opt, r.tf)
	if err != nil {
		f.missing = f.title + ": left out, as " + clean(err.Error()) + "."
		return f
	}
	f.sc = sc
	return f
}

func (r *reporter) descentFigure(bare bool) reportFigure {
	return r.draw(reportFigure{
		id: "descents", title: "Temperature of the brake tracks along the route", about: r.aboutDescents(),
		caption: "How hot the brake tracks get along the route, hotter wheel of each pair, and the height of the road.",
	}, bare, compose)
}

func (r *reporter) sectionFigure(bare bool) reportFigure {
	return r.draw(reportFigure{
		id: "sections", title: "The rims cut through", about: r.aboutSections(),
		caption: "The rims cut through, each when its brake track is hottest.",
	}, bare, composeSections)
}

func (r *reporter) mapFigure(bare bool) reportFigure {
	return r.draw(reportFigure{
		id: "map", title: "The route from above", about: r.aboutMap(), caption: "The route from above.",
	}, bare, composeRouteMap)
}

// aboutDescents says what the figure along the route shows.
func (r *reporter) aboutDescents() string {
	d := r.a.Route
	parts := []string{fmt.Sprintf("Along %s with %s.", r.distance(d.DistanceM), counted(len(r.a.Descents), "descent", "descents"))}
	for i := range r.a.Rims {
		rim := &r.a.Rims[i]
		s := strings.TrimSpace(r.tag(i)+" "+r.names[i]) + ": "
		if finite(rim.PeakC) {
			s += "brake track at most " + r.temp(rim.PeakC)
			if finite(rim.PeakAtM) && !rim.PeakInStop {
				s += " at " + r.place(rim.PeakAtM)
			}
		}
		if finite(rim.LimitC) && finite(rim.MarginK) {
			s += "; " + r.limitPhrase(rim) + " " + r.reached(rim)
		}
		parts = append(parts, s+".")
	}
	if finite(d.LowestM) && finite(d.HighestM) {
		parts = append(parts, fmt.Sprintf("The road lies between %s and %s.", r.height(d.LowestM), r.height(d.HighestM)))
	}
	return strings.Join(parts, " ")
}

// reached says whether the central estimate reaches the deciding limit.
func (r *reporter) reached(rim *thermal.RimResult) string {
	if len(rim.Over) > 0 && finite(rim.Over[0].StartM) {
		return "is first reached at " + r.place(rim.Over[0].StartM) + ", " + spareText(rim.MarginK, r.u)
	}
	return "is not reached, " + spareText(rim.MarginK, r.u)
}

// aboutSections says what the cut rims show.
func (r *reporter) aboutSections() string {
	var parts []string
	for i := range r.a.Rims {
		f := r.a.Rims[i].Field
		if f == nil {
			continue
		}
		parts = append(parts, fmt.Sprintf("%s: brake track %s, rim bed %s, spoke bed %s, air %s.",
			strings.TrimSpace(r.tag(i)+" "+r.names[i]), r.temp(f.TrackC), r.temp(f.BedC), r.temp(f.SpokeBedC), r.temp(f.AirC)))
	}
	return strings.Join(parts, " ")
}

// aboutMap says what the map shows.
func (r *reporter) aboutMap() string {
	parts := []string{"A line of " + r.distance(r.a.Route.DistanceM) + " with " + counted(len(r.a.Descents), "descent", "descents") + "."}
	for i := range r.a.Rims {
		rim := &r.a.Rims[i]
		if !finite(rim.LimitC) {
			continue
		}
		s := capital(r.called(i)) + " is nowhere at or over " + r.limitPhrase(rim)
		if n := len(rim.Over); n > 0 && finite(rim.Over[0].StartM) && finite(rim.Over[n-1].EndM) {
			s = capital(r.called(i)) + " is at or over " + r.limitPhrase(rim) + " in " + counted(n, "stretch", "stretches") +
				" between " + r.place(rim.Over[0].StartM) + " and " + r.place(rim.Over[n-1].EndM)
		}
		parts = append(parts, s+".")
	}
	if n := len(r.a.Trace.Stands); n > 0 {
		parts = append(parts, counted(n, "rest", "rests")+" on the way.")
	}
	return strings.Join(parts, " ")
}
