package route

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"strconv"
	"time"
)

// place is where in the document the scanner stands.
type place int

const (
	outside place = iota
	inGPX
	inMetadata
	inTrack
	inSegment
	inRoute
	after
)

var placeNames = [...]string{inGPX: "gpx", inMetadata: "metadata", inTrack: "trk", inSegment: "trkseg", inRoute: "rte"}

// A section is one track or route of the file; its points are a stretch of
// document.points.
type section struct {
	name          string
	isRoute       bool
	first, last   int // points[first:last]
	segmentStarts []int
	// badHeights and badTimes count texts that are not a number or a time.
	badHeights, badTimes int
}

// pointMeta is what the scanner knows of a point and the library does not.
type pointMeta struct {
	time      time.Time
	line      int
	section   int
	hasHeight bool // a text was there, readable or not
}

// A scanner walks the raw XML, lets through only the elements that make a
// road, and hands their points to the GPX library, as its xml.TokenReader, in
// small documents of at most batchPoints points. Nesting and foreign elements
// cost a counter, not memory.
type scanner struct {
	dec  *xml.Decoder
	src  *meter
	file string
	caps caps

	where     place
	prefix    string // namespace prefix of <gpx>
	err       error  // first failure of the source
	done      bool
	fileName  string // <gpx><name> or <metadata><name>
	waypoints int
	trailing  bool
	sections  []section
	points    int // handed on so far

	// One batch: the meta data of its points and the tokens due next.
	meta  []pointMeta
	queue []xml.Token
	head  int
	state int
	at    xml.StartElement // the point handed on last
	line  int

	eleText, timeText []byte
	tokens            syntheticTokens
}

// syntheticTokens are the fixed tokens of the small documents, boxed once.
type syntheticTokens struct {
	open, close                          []xml.Token
	pointEnd                             xml.Token
	eleStart, eleEnd, timeStart, timeEnd xml.Token
}

func newSyntheticTokens() syntheticTokens {
	start := func(s string) xml.Token { return xml.StartElement{Name: xml.Name{Local: s}} }
	end := func(s string) xml.Token { return xml.EndElement{Name: xml.Name{Local: s}} }
	return syntheticTokens{
		open:     []xml.Token{start("gpx"), start("trk"), start("trkseg")},
		close:    []xml.Token{end("trkseg"), end("trk"), end("gpx")},
		pointEnd: end("trkpt"),
		eleStart: start("ele"), eleEnd: end("ele"),
		timeStart: start("time"), timeEnd: end("time"),
	}
}

func newScanner(r io.Reader, file string, limit caps) *scanner {
	m := &meter{r: r, caps: limit}
	d := xml.NewDecoder(m)
	d.CharsetReader = charsetReader
	return &scanner{dec: d, src: m, file: file, caps: limit, tokens: newSyntheticTokens(),
		queue: make([]xml.Token, 0, 8), meta: make([]pointMeta, 0, batchPoints)}
}

const (
	batchOpen = iota
	batchPointsDue
	batchClosed
)

// startBatch makes the scanner ready to be read as one more small document.
func (s *scanner) startBatch() {
	s.meta = s.meta[:0]
	s.queue = append(s.queue[:0], s.tokens.open...)
	s.head = 0
	s.state = batchPointsDue
}

// Token gives the next token of the current small document.
func (s *scanner) Token() (xml.Token, error) {
	for s.head == len(s.queue) {
		if s.state == batchClosed {
			return nil, io.EOF
		}
		s.queue, s.head = s.queue[:0], 0
		more := false
		if len(s.meta) < batchPoints {
			var err error
			if more, err = s.next(); err != nil {
				s.err = err
				return nil, err
			}
		}
		if !more {
			s.queue = append(s.queue, s.tokens.close...)
			s.state = batchClosed
		}
	}
	t := s.queue[s.head]
	s.head++
	return t, nil
}

// raw is the next token of the file. The line is where the token starts.
func (s *scanner) raw() (xml.Token, error) {
	s.line, _ = s.dec.InputPos()
	t, err := s.dec.RawToken()
	s.src.token = 0
	return t, err
}

// next walks to the next point and queues it; false means the document ended.
func (s *scanner) next() (bool, error) {
	for !s.done {
		t, err := s.raw()
		if err != nil {
			return false, s.sourceError(err)
		}
		switch t := t.(type) {
		case xml.StartElement:
			isPoint, err := s.start(t)
			if err != nil || isPoint {
				return isPoint, err
			}
		case xml.EndElement:
			if err := s.end(t); err != nil {
				return false, err
			}
		}
	}
	return false, nil
}

func (s *scanner) start(t xml.StartElement) (isPoint bool, err error) {
	name := t.Name.Local
	if s.where != outside && t.Name.Space != s.prefix {
		return false, s.skip(t.Name)
	}
	switch {
	case s.where == outside:
		if name != "gpx" {
			return false, s.fail("XML, but not GPX: its root element is "+quoted(name), "export the route as GPX")
		}
		s.where, s.prefix = inGPX, t.Name.Space
	case s.where == inGPX && name == "metadata":
		s.where = inMetadata
	case s.where == inGPX && (name == "trk" || name == "rte"):
		return false, s.startSection(name == "rte")
	case s.where == inTrack && name == "trkseg":
		s.where = inSegment
		sec := &s.sections[len(s.sections)-1]
		if n := len(sec.segmentStarts); n == 0 || sec.segmentStarts[n-1] != s.points {
			sec.segmentStarts = append(sec.segmentStarts, s.points)
		}
	case s.where == inSegment && name == "trkpt", s.where == inRoute && name == "rtept":
		return true, s.point(t)
	case name == "name" && s.where != inSegment:
		return false, s.name(t.Name)
	default:
		if name == "wpt" && s.where == inGPX {
			s.waypoints++
		}
		return false, s.skip(t.Name)
	}
	return false, nil
}

func (s *scanner) startSection(isRoute bool) error {
	if len(s.sections) == s.caps.tracks {
		return s.fail("the file holds more than "+count(s.caps.tracks)+" tracks and routes, the limit", "keep only the one to be judged")
	}
	sec := section{isRoute: isRoute, first: s.points, last: s.points}
	s.where = inTrack
	if isRoute {
		s.where = inRoute
		sec.segmentStarts = []int{s.points}
	}
	s.sections = append(s.sections, sec)
	return nil
}

func (s *scanner) end(t xml.EndElement) error {
	if s.where == outside || t.Name.Local != placeNames[s.where] || t.Name.Space != s.prefix {
		return s.fail("not well-formed XML: unexpected closing tag "+quoted(t.Name.Local), "export the route again")
	}
	switch s.where {
	case inMetadata, inTrack, inRoute:
		s.where = inGPX
	case inSegment:
		s.where = inTrack
	case inGPX:
		s.where = after
		s.done = true
		s.trailing = s.hasTrailing()
	}
	return nil
}

// hasTrailing tells whether anything but white space and comments follows.
func (s *scanner) hasTrailing() bool {
	for {
		t, err := s.raw()
		if err != nil {
			return err != io.EOF
		}
		switch t := t.(type) {
		case xml.CharData:
			if len(bytes.TrimSpace(t)) > 0 {
				return true
			}
		case xml.StartElement, xml.EndElement:
			return true
		}
	}
}

// skip passes over the rest of an element whatever it holds.
func (s *scanner) skip(name xml.Name) error {
	for depth := 1; ; {
		t, err := s.raw()
		if err != nil {
			return s.sourceError(err)
		}
		switch t := t.(type) {
		case xml.StartElement:
			depth++
		case xml.EndElement:
			if depth--; depth == 0 {
				return s.matches(name, t.Name)
			}
		}
	}
}

func (s *scanner) matches(open, close xml.Name) error {
	if open == close {
		return nil
	}
	return s.fail("not well-formed XML: <"+open.Local+"> is closed by "+quoted(close.Local), "export the route again")
}

// text gathers the character data of an element into dst, at most limit
// bytes of it, without the white space round it.
func (s *scanner) text(dst []byte, limit int, name xml.Name) ([]byte, error) {
	dst = dst[:0]
	for {
		t, err := s.raw()
		if err != nil {
			return dst, s.sourceError(err)
		}
		switch t := t.(type) {
		case xml.CharData:
			if len(dst) == 0 {
				t = bytes.TrimLeft(t, " \t\r\n")
			}
			dst = append(dst, t[:min(len(t), limit-len(dst))]...)
		case xml.StartElement:
			if err := s.skip(t.Name); err != nil {
				return dst, err
			}
		case xml.EndElement:
			return bytes.TrimSpace(dst), s.matches(name, t.Name)
		}
	}
}

func (s *scanner) name(open xml.Name) error {
	b, err := s.text(nil, maxNameBytes, open)
	if err != nil {
		return err
	}
	name := cleanName(string(b))
	if s.where == inTrack || s.where == inRoute {
		s.sections[len(s.sections)-1].name = name
	} else if s.fileName == "" {
		s.fileName = name
	}
	return nil
}

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
	m := pointMeta{line: line, section: len(s.sections) - 1, hasHeight: len(s.eleText) > 0}
	s.at = xml.StartElement{Name: xml.Name{Local: "trkpt"}, Attr: attrs}
	s.queue = append(s.queue, s.at)
	if isNumber(s.eleText) {
		// The library takes an empty height for its parent's end and refuses
		// the whole document for one that is no number, so only numbers go on.
		s.queue = append(s.queue, s.tokens.eleStart, xml.CharData(s.eleText), s.tokens.eleEnd)
	}
	if len(s.timeText) > 0 {
		// The library loses zone offsets and fractions of a second; its own
		// reading of the time is not used.
		var ok bool
		if m.time, ok = parseTime(string(s.timeText)); !ok {
			sec.badTimes++
		}
		s.queue = append(s.queue, s.tokens.timeStart, xml.CharData(s.timeText), s.tokens.timeEnd)
	}
	s.queue = append(s.queue, s.tokens.pointEnd)
	s.meta = append(s.meta, m)
	s.points++
	sec.last = s.points
	return nil
}

func isNumber(b []byte) bool {
	if len(b) == 0 {
		return false
	}
	_, err := strconv.ParseFloat(string(b), 64)
	return err == nil
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

func (s *scanner) fail(what, do string) error { return s.failAt(s.line, what, do) }

func (s *scanner) failAt(line int, what, do string) error {
	return &InputError{File: s.file, Line: line, What: what, Do: do}
}

// sourceError words a failure of the XML reader or of what feeds it.
func (s *scanner) sourceError(err error) error {
	line, _ := s.dec.InputPos()
	var syntax *xml.SyntaxError
	isSyntax := errors.As(err, &syntax)
	switch {
	case errors.Is(err, errTooLarge):
		return s.failAt(line, "the file is larger than "+count(int(s.caps.bytes>>20))+" MiB, the limit", "keep only the track to be judged")
	case errors.Is(err, errTooLong):
		return s.failAt(line, "a single tag or text is longer than "+count(int(s.caps.token>>20))+" MiB, the limit", "export the route again")
	case err == io.EOF && s.where == outside:
		return &InputError{File: s.file, What: "not XML: no tag found", Do: "export the route as GPX"}
	case err == io.EOF, errors.Is(err, io.ErrUnexpectedEOF), isSyntax && syntax.Msg == "unexpected EOF":
		what := "the file is cut short"
		if n := len(s.sections); n > 0 && s.sections[n-1].last > s.sections[n-1].first {
			what += " after point " + count(s.sections[n-1].last-s.sections[n-1].first)
		}
		return s.failAt(line, what, "copy or export it again")
	case isSyntax && s.where == outside && s.points == 0:
		return s.failAt(syntax.Line, "not XML, or damaged at its start: "+cleanName(syntax.Msg), "export the route as GPX")
	case isSyntax:
		return s.failAt(syntax.Line, "not well-formed XML: "+cleanName(syntax.Msg), "export the route again")
	}
	return s.failAt(line, "cannot be read: "+cleanName(err.Error()), "copy or export the file again")
}
