package plots

import (
	"bufio"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"time"

	"rimheat/route"
	"rimheat/thermal"
)

// SaveGPX writes the route as GPX 1.1 with waypoints where an assessment has something
// to say: where each rim first reaches its deciding limit, and another one that it
// passes; where it is hottest; where the ride stops, and where stops are advised; and
// where each descent begins. Names and sentences are in the units of opt.
//
// track is the road as the file gives it, Profile.Track. Its points are written as they
// are, in order and in their segments, before any repair, with position, height and time
// of the same value to the last bit. A route (rte) stays a route, and a track a track:
// devices navigate the two differently, and the rider chose one. Left out is what
// route.Read does not keep: the file's own waypoints, its other tracks, segments without
// a point, texts that are no height and no time, and what else a point has, as the name
// of a place or a heart rate. Three things GPX cannot say: a
// longitude of 180 degrees becomes the same meridian's -180, a time outside the years
// 1 to 9999 is left away, and of a time zone only the instant remains.
//
// Places of waypoints are to the centimetre along the profile, their heights those that
// the assessment stands on, which need not be the file's. Recorded stops of less than
// a minute get no waypoint.
//
// It is an error if the assessment has no positions along the road, no rim, or the track
// no points. Then nothing is written.
func SaveGPX(w io.Writer, a *thermal.Assessment, track *route.Track, opt Options) error {
	if a == nil {
		return errors.New("no assessment to mark the route with")
	}
	if track == nil || len(track.Points) == 0 {
		return errors.New("no points of a route to mark")
	}
	for i := range track.Points {
		if p := &track.Points[i]; !(math.Abs(p.LatDeg) <= 90 && math.Abs(p.LonDeg) <= 180) || p.HasHeight && !finite(p.HeightM) {
			return fmt.Errorf("point %d of the route has no position or height that GPX can hold", i+1)
		}
	}
	marks, err := waypointsOf(a, units{imperial: opt.Imperial})
	if err != nil {
		return err
	}
	// An Encoder hands on every element by itself.
	b := bufio.NewWriterSize(w, 1<<16)
	g := gpxWriter{enc: xml.NewEncoder(b)}
	g.document(gpxMetadata{Name: routeTitle(a.Route.Name), Desc: gpxAbout(a, units{imperial: opt.Imperial})}, marks, track)
	if g.err == nil {
		g.err = b.Flush()
	}
	if g.err != nil {
		return fmt.Errorf("write GPX: %w", g.err)
	}
	return nil
}

// A gpxWriter writes elements until the first error. The GPX library that reads routes
// is not used: it cuts positions at ten decimals and times at the second, and gives
// heights like 0.00001 an exponent, which the schema does not know.
type gpxWriter struct {
	enc *xml.Encoder
	err error
}

// gpxMetadata is a metadataType of GPX 1.1, gpxPoint a wptType: what of them is used, in
// the schema's order. What is "" is left out.
type (
	gpxMetadata struct {
		Name string `xml:"name,omitempty"`
		Desc string `xml:"desc,omitempty"`
	}
	gpxPoint struct {
		Lat  string `xml:"lat,attr"`
		Lon  string `xml:"lon,attr"`
		Ele  string `xml:"ele,omitempty"`
		Time string `xml:"time,omitempty"`
		Name string `xml:"name,omitempty"`
		Desc string `xml:"desc,omitempty"`
		Type string `xml:"type,omitempty"`
	}
)

func (g *gpxWriter) put(t xml.Token) {
	if g.err == nil {
		g.err = g.enc.EncodeToken(t)
	}
}

func (g *gpxWriter) line() { g.put(xml.CharData("\n")) }

func (g *gpxWriter) open(name string, attrs ...xml.Attr) {
	g.put(xml.StartElement{Name: xml.Name{Local: name}, Attr: attrs})
}

func (g *gpxWriter) close(name string) {
	g.put(xml.EndElement{Name: xml.Name{Local: name}})
	g.line()
}

// element writes v on a line of its own.
func (g *gpxWriter) element(name string, v any) {
	if g.err == nil {
		g.err = g.enc.EncodeElement(v, xml.StartElement{Name: xml.Name{Local: name}})
	}
	g.line()
}

func (g *gpxWriter) document(about gpxMetadata, marks []waypoint, track *route.Track) {
	const space = "http://www.topografix.com/GPX/1/1"
	attr := func(name, value string) xml.Attr { return xml.Attr{Name: xml.Name{Local: name}, Value: value} }
	g.put(xml.ProcInst{Target: "xml", Inst: []byte(`version="1.0" encoding="UTF-8"`)})
	g.line()
	g.open("gpx", attr("version", "1.1"), attr("creator", "rimheat"), attr("xmlns", space),
		attr("xmlns:xsi", "http://www.w3.org/2001/XMLSchema-instance"), attr("xsi:schemaLocation", space+" "+space+"/gpx.xsd"))
	g.line()
	g.element("metadata", about)
	for _, m := range marks {
		g.element("wpt", m.point())
	}
	if track.IsRoute {
		g.road(track, "rte", "rtept")
	} else {
		g.road(track, "trk", "trkpt")
	}
	g.close("gpx")
	if g.err == nil {
		g.err = g.enc.Flush()
	}
}

// road writes the points as a track or a route; only a track has segments.
func (g *gpxWriter) road(track *route.Track, kind, point string) {
	g.open(kind)
	g.line()
	if name := cutLetters(clean(track.Name), route.MaxNameRunes); name != "" {
		g.element("name", name)
	}
	starts := track.SegmentStarts
	if track.IsRoute {
		starts = nil
	} else {
		g.open("trkseg")
		g.line()
	}
	for i := range track.Points {
		begins := false
		for len(starts) > 0 && starts[0] <= i {
			begins = begins || i > 0 && starts[0] == i
			starts = starts[1:]
		}
		if begins {
			g.close("trkseg")
			g.open("trkseg")
			g.line()
		}
		g.element(point, pointOf(&track.Points[i]))
	}
	if !track.IsRoute {
		g.close("trkseg")
	}
	g.close(kind)
}

// pointOf is a point of the file, its numbers as the shortest decimals that read back as
// the same.
func pointOf(p *route.Point) gpxPoint {
	exact := func(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
	out := gpxPoint{Lat: exact(p.LatDeg), Lon: exact(p.LonDeg)}
	if p.LonDeg == 180 {
		out.Lon = "-180"
	}
	if p.HasHeight {
		out.Ele = exact(p.HeightM)
	}
	if t := p.Time.UTC(); !t.IsZero() && t.Year() >= 1 && t.Year() <= 9999 {
		out.Time = t.Format(time.RFC3339Nano)
	}
	return out
}

// point is a waypoint, its place to the centimetre and its height to the decimetre.
func (m *waypoint) point() gpxPoint {
	const degrees = 7
	p := gpxPoint{
		Lat: string(appendDecimal(nil, m.latDeg, degrees)), Lon: string(appendDecimal(nil, m.lonDeg, degrees)),
		Ele:  string(appendDecimal(nil, m.heightM, 1)),
		Name: m.name, Desc: m.desc, Type: m.kind,
	}
	if p.Lon == "180.0000000" {
		p.Lon = "-180.0000000"
	}
	return p
}
