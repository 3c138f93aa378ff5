package route

import (
	"bytes"
	"encoding/xml"
	"io"
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
// all points read so far.
type section struct {
	name          string
	isRoute       bool
	first, last   int // points[first:last]
	segmentStarts []int
	// badHeights and badTimes are texts that are not a number or a time.
	badHeights, badTimes unreadable
}

// unreadable are texts of one kind that cannot be read: how many, and the
// first of them with its point's line.
type unreadable struct {
	n, line int
	text    string
}

func (u *unreadable) add(line int, text []byte) {
	if u.n++; u.n == 1 {
		u.line, u.text = line, string(text)
	}
}

// pointMeta is what the scanner knows of a point and the library does not.
type pointMeta struct {
	time    time.Time
	line    int
	section int
}

// A scanner walks the raw XML, lets through only the elements that make a
// road, and hands their points to the GPX library, as its xml.TokenReader, in
// small documents of at most batchPoints points. Nesting and foreign elements
// cost a counter, not memory.
type scanner struct {
	dec  *xml.Decoder
	src  *meter
	mend *utf8Mender // nil if the file declares another encoding
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
	meta   []pointMeta
	queue  []xml.Token
	head   int
	closed bool
	at     xml.StartElement // the point handed on last
	line   int

	eleText, timeText []byte
	tokens            syntheticTokens
}

func newScanner(r io.Reader, file string, limit caps) *scanner {
	m := &meter{r: r, caps: limit}
	mend, _ := r.(*utf8Mender)
	d := xml.NewDecoder(m)
	d.CharsetReader = charsetReader
	return &scanner{dec: d, src: m, mend: mend, file: file, caps: limit, tokens: newSyntheticTokens(),
		queue: make([]xml.Token, 0, 8), meta: make([]pointMeta, 0, batchPoints)}
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
