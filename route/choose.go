package route

import (
	"strconv"
	"strings"
)

// choose picks one section and reports the others. Numbers count the tracks
// in file order and then the routes, empty ones included.
func (s *scanner) choose(points []Point, want string) (*Track, error) {
	order := make([]int, 0, len(s.sections))
	for _, routes := range [...]bool{false, true} {
		for i := range s.sections {
			if s.sections[i].isRoute == routes {
				order = append(order, i)
			}
		}
	}
	filled := 0
	for i := range s.sections {
		if s.sections[i].size() > 0 {
			filled++
		}
	}
	if filled == 0 {
		return nil, s.nothing()
	}
	pick := -1
	if want = strings.TrimSpace(want); want == "" {
		pick = s.longest(points, order)
	} else if pick = s.named(order, want); pick < 0 {
		return nil, &InputError{File: s.file, What: "no track or route is called " + quoted(want), Do: "choose from: " + s.list(order)}
	}
	sec := &s.sections[pick]
	if sec.size() == 0 {
		return nil, &InputError{File: s.file, What: "the track or route " + quoted(want) + " has no points", Do: "choose from: " + s.list(order)}
	}
	t := &Track{File: s.file, Name: sec.name, Points: points[sec.first:sec.last:sec.last]}
	if t.Name == "" {
		t.Name = s.fileName
	}
	for _, at := range sec.segmentStarts {
		if at < sec.last {
			t.SegmentStarts = append(t.SegmentStarts, at-sec.first)
		}
	}
	s.report(t, sec, filled)
	return t, nil
}

func (sec *section) size() int { return sec.last - sec.first }

func (s *scanner) report(t *Track, sec *section, filled int) {
	if others := filled - 1; others > 0 {
		t.Repairs = append(t.Repairs, Repair{"other-tracks", others,
			plural(others, "other track or route", "other tracks or routes") + " in the file left out; choose by name or number"})
	}
	if sec.badHeights > 0 {
		t.Repairs = append(t.Repairs, Repair{"height-unreadable", sec.badHeights,
			plural(sec.badHeights, "height", "heights") + " not a number, taken as lacking"})
	}
	if sec.badTimes > 0 {
		t.Repairs = append(t.Repairs, Repair{"time-unreadable", sec.badTimes,
			plural(sec.badTimes, "time", "times") + " not readable, left out"})
	}
	if s.trailing {
		t.Repairs = append(t.Repairs, Repair{"trailing-data", 1, "what follows the end of the GPX document was left out"})
	}
}

// longest takes the longest track in plan or, where no track has points, the
// longest route. A single point has length zero; ties go to the first.
func (s *scanner) longest(points []Point, order []int) int {
	best, bestM, bestIsRoute := -1, -1.0, false
	for _, i := range order {
		sec := &s.sections[i]
		if sec.size() == 0 || best >= 0 && sec.isRoute && !bestIsRoute {
			continue
		}
		length := 0.0
		for j := sec.first + 1; j < sec.last; j++ {
			length += roughDistanceM(points[j-1].LatDeg, points[j-1].LonDeg, points[j].LatDeg, points[j].LonDeg)
		}
		if length > bestM {
			best, bestM, bestIsRoute = i, length, sec.isRoute
		}
	}
	return best
}

// named finds a section by its name or, failing that, its number.
func (s *scanner) named(order []int, want string) int {
	for _, i := range order {
		if s.sections[i].name != "" && s.sections[i].name == cleanName(want) {
			return i
		}
	}
	if n, err := strconv.Atoi(want); err == nil && n >= 1 && n <= len(order) {
		return order[n-1]
	}
	return -1
}

// list names the first few sections for a message.
func (s *scanner) list(order []int) string {
	const most = 5
	var b []string
	for k, i := range order[:min(len(order), most)] {
		b = append(b, strconv.Itoa(k+1)+" "+quoted(s.sections[i].name)+" ("+plural(s.sections[i].size(), "point", "points")+")")
	}
	if len(order) > most {
		b = append(b, "... "+count(len(order))+" in all")
	}
	return strings.Join(b, ", ")
}

// nothing words a GPX document without a single track or route point.
func (s *scanner) nothing() error {
	e := &InputError{File: s.file, Do: "export a track or a planned route"}
	switch {
	case len(s.sections) > 0:
		e.What = plural(len(s.sections), "track or route", "tracks or routes") + " in the file, none with a point"
	case s.waypoints > 0:
		e.What = "only waypoints (" + count(s.waypoints) + "), no track and no route"
	default:
		e.What = "no track and no route in the file"
	}
	return e
}
