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
	t := &Track{File: s.file, Name: sec.name, IsRoute: sec.isRoute, Points: points[sec.first:sec.last:sec.last], badHeights: sec.badHeights}
	if filled > 1 {
		t.elsewhere = s.withHeights(points, order, pick)
	}
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
			plural(others, "other track or route", "other tracks or routes") + " in the file left out; --track chooses by name or number"})
	}
	if u := sec.badHeights; u.n > 0 {
		t.Repairs = append(t.Repairs, Repair{"height-unreadable", u.n,
			plural(u.n, "height", "heights") + " not a number, taken as lacking; the first, " + quoted(u.text) + ", in line " + strconv.Itoa(u.line)})
	}
	if u := sec.badTimes; u.n > 0 {
		t.Repairs = append(t.Repairs, Repair{"time-unreadable", u.n,
			plural(u.n, "time", "times") + " not readable, left out; the first, " + quoted(u.text) + ", in line " + strconv.Itoa(u.line)})
	}
	if s.mend != nil && s.mend.mended > 0 {
		t.Repairs = append(t.Repairs, Repair{"not-utf-8", s.mend.mended,
			plural(s.mend.mended, "byte", "bytes") + " that are not UTF-8 read as Western European letters (Windows-1252)"})
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
		if length := roughLengthM(points[sec.first:sec.last]); length > bestM {
			best, bestM, bestIsRoute = i, length, sec.isRoute
		}
	}
	return best
}

// withHeights says how to choose the longest section with heights other than
// the one picked, or "".
func (s *scanner) withHeights(points []Point, order []int, pick int) string {
	number, longestM := 0, 0.0
	for k, i := range order {
		pts := points[s.sections[i].first:s.sections[i].last]
		if i == pick || !mostlyHeights(pts) {
			continue
		}
		if length := roughLengthM(pts); length > longestM {
			number, longestM = k+1, length
		}
	}
	if number == 0 {
		return ""
	}
	sec := &s.sections[order[number-1]]
	kind := "track"
	if sec.isRoute {
		kind = "route"
	}
	return "the " + kind + " " + quoted(sec.name) + " of the file has heights: choose it with --track " + strconv.Itoa(number)
}

// mostlyHeights tells whether the points have heights enough for a profile.
func mostlyHeights(pts []Point) bool {
	lacking, zero := 0, 0
	for i := range pts {
		if !pts[i].HasHeight {
			lacking++
		} else if pts[i].HeightM == 0 {
			zero++
		}
	}
	return float64(lacking) <= maxLackShare*float64(len(pts)) && lacking+zero < len(pts)
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
