package route

import (
	"encoding/xml"
	"fmt"
	"io"
	"math"
	"strings"
	"time"

	"github.com/tkrajina/gpxgo/gpx"
)

// A Point is one point of a track as the file gives it.
type Point struct {
	// LatDeg and LonDeg are WGS84 degrees.
	LatDeg, LonDeg float64
	// HeightM is metres above sea level, meaningful only if HasHeight.
	HeightM float64
	// Time is UTC; the zero time where the file has none.
	Time time.Time
	// Line is the 1-based line of the file, 0 if unknown.
	Line      int
	HasHeight bool
}

// A Track is the one track or route chosen from a file, its segments joined
// in order.
type Track struct {
	// File is the name for messages, Name the track's own name or "".
	File, Name string
	// IsRoute says that it is a route of the file (rte) and no track (trk).
	IsRoute bool
	Points  []Point
	// SegmentStarts are the indices in Points at which segments begin.
	SegmentStarts []int
	// Repairs says what Read left out or could not use.
	Repairs []Repair

	badHeights unreadable
	// elsewhere says how to choose another track of the file that has heights,
	// or "".
	elsewhere string
}

// Read takes the track that opt.Track selects from GPX 1.0 or 1.1, plain or
// gzipped; name is for messages only. Tracks with points come before routes.
// Memory is bounded by the limits of this package. Errors are *InputError.
func Read(r io.Reader, name string, opt Options) (*Track, error) {
	return readWithin(r, name, opt, defaultCaps())
}

func readWithin(r io.Reader, name string, opt Options, limit caps) (*Track, error) {
	u, err := unpack(r, name)
	if err != nil {
		return nil, err
	}
	s := newScanner(u, name, limit)
	var points []Point
	for !s.done {
		s.startBatch()
		doc, err := gpx.ParseDecoder(xml.NewTokenDecoder(s), []byte(`<gpx version="1.1">`))
		if s.err != nil {
			return nil, s.err
		}
		if err != nil {
			return nil, s.conversionError()
		}
		if points, err = s.collect(points, doc); err != nil {
			return nil, err
		}
	}
	return s.choose(points, opt.Track)
}

// collect adds the points of one batch to dst.
func (s *scanner) collect(dst []Point, doc *gpx.GPX) ([]Point, error) {
	var got []gpx.GPXPoint
	if len(doc.Tracks) == 1 && len(doc.Tracks[0].Segments) == 1 {
		got = doc.Tracks[0].Segments[0].Points
	}
	if len(got) != len(s.meta) {
		return nil, s.fail(fmt.Sprintf("%d of %d points came back from the GPX library", len(got), len(s.meta)), "report this file")
	}
	for i := range got {
		p := Point{LatDeg: got[i].Latitude, LonDeg: got[i].Longitude, Time: s.meta[i].time, Line: s.meta[i].line}
		if e := &got[i].Elevation; e.NotNull() {
			p.HeightM, p.HasHeight = e.Value(), true
		}
		sec := &s.sections[s.meta[i].section]
		if what, do := positionFault(p.LatDeg, p.LonDeg); what != "" {
			return nil, s.failAt(p.Line, "point "+count(len(dst)-sec.first+1)+": "+what, do)
		}
		dst = append(dst, p)
	}
	return dst, nil
}

// conversionError words the library's refusal of the point handed on last.
func (s *scanner) conversionError() error {
	var m pointMeta
	number := 0
	if n := len(s.meta); n > 0 {
		m = s.meta[n-1]
		number = s.points - s.sections[m.section].first
	}
	what, do := "point "+count(number)+":", "correct or remove this point"
	for _, a := range s.at.Attr {
		what += " " + a.Name.Local + "=" + quoted(a.Value)
		if strings.Contains(a.Value, ",") {
			do = "write degrees with a decimal point, as in 12.5"
		}
	}
	return s.failAt(m.line, what+" is not a position in degrees", do)
}

// positionFault says what is wrong with a position, or "".
func positionFault(lat, lon float64) (what, do string) {
	if math.Abs(lat) <= 90 && math.Abs(lon) <= 180 {
		return "", ""
	}
	pair := "latitude " + degrees(lat) + ", longitude " + degrees(lon)
	switch {
	case math.IsNaN(lat), math.IsNaN(lon), math.IsInf(lat, 0), math.IsInf(lon, 0):
		return pair + " is not a position", "correct or remove this point"
	case math.Abs(lat) > 90 && math.Abs(lat) <= 180 && math.Abs(lon) <= 90:
		return pair + " is out of range and looks swapped", "exchange latitude and longitude"
	}
	return pair + " is out of range (90 and 180 degrees)", "correct or remove this point"
}
