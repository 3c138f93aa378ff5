package route

import (
	"encoding/xml"
	"math"
	"strconv"
	"time"
)

// point reads one point whole and queues it as tokens for the library.
func (s *scanner) point(open xml.StartElement) error {
	sec := &s.sections[len(s.sections)-1]
	if s.points == s.caps.points {
		return s.fail("the file holds more than "+count(s.caps.points)+" points, the limit", "split the route or thin it out")
	}
	line := s.line
	hasLat, hasLon := false, false
	attrs := open.Attr[:0]
	for _, a := range open.Attr {
		if a.Name.Space != "" {
			continue
		}
		switch a.Name.Local {
		case "lat":
			hasLat = true
		case "lon":
			hasLon = true
		default:
			continue
		}
		attrs = append(attrs, a)
	}
	if !hasLat || !hasLon {
		return s.failAt(line, "point "+count(s.points-sec.first+1)+" has no latitude or no longitude", "export the route again")
	}
	s.eleText, s.timeText = s.eleText[:0], s.timeText[:0]
children:
	for {
		t, err := s.raw()
		if err != nil {
			return s.sourceError(err)
		}
		switch t := t.(type) {
		case xml.StartElement:
			switch {
			case t.Name.Space == s.prefix && t.Name.Local == "ele":
				s.eleText, err = s.text(s.eleText, maxLeafBytes, t.Name)
			case t.Name.Space == s.prefix && t.Name.Local == "time":
				s.timeText, err = s.text(s.timeText, maxLeafBytes, t.Name)
			default:
				err = s.skip(t.Name)
			}
			if err != nil {
				return err
			}
		case xml.EndElement:
			if err := s.matches(open.Name, t.Name); err != nil {
				return err
			}
			break children
		}
	}
	m := pointMeta{line: line, section: len(s.sections) - 1}
	s.at = xml.StartElement{Name: xml.Name{Local: "trkpt"}, Attr: attrs}
	s.queue = append(s.queue, s.at)
	if isNumber(s.eleText) {
		// The library takes an empty height for its parent's end and refuses
		// the whole document for one that is no number, so only numbers go on.
		s.queue = append(s.queue, s.tokens.eleStart, xml.CharData(s.eleText), s.tokens.eleEnd)
	} else if len(s.eleText) > 0 {
		sec.badHeights.add(line, s.eleText)
	}
	if len(s.timeText) > 0 {
		// The library loses zone offsets and fractions of a second; its own
		// reading of the time is not used.
		var ok bool
		if m.time, ok = parseTime(string(s.timeText)); !ok {
			sec.badTimes.add(line, s.timeText)
		}
		s.queue = append(s.queue, s.tokens.timeStart, xml.CharData(s.timeText), s.tokens.timeEnd)
	}
	s.queue = append(s.queue, s.tokens.pointEnd)
	s.meta = append(s.meta, m)
	s.points++
	sec.last = s.points
	return nil
}

// isNumber tells whether b is a finite number.
func isNumber(b []byte) bool {
	if len(b) == 0 {
		return false
	}
	v, err := strconv.ParseFloat(string(b), 64)
	return err == nil && !math.IsNaN(v) && !math.IsInf(v, 0)
}

// parseTime reads an xsd:dateTime; without a zone it is taken as UTC, which
// is what GPX prescribes.
func parseTime(s string) (time.Time, bool) {
	for _, layout := range [...]string{time.RFC3339, "2006-01-02T15:04:05", "2006-01-02T15:04:05Z0700", "2006-01-02 15:04:05Z07:00", "2006-01-02 15:04:05"} {
		if t, err := time.Parse(layout, s); err == nil {
			return t.UTC(), true
		}
	}
	return time.Time{}, false
}
