package roads

import (
	"strings"
)

// awkwardParts are the pass cut into parts, or beside others.
func awkwardParts() []AwkwardFile {
	d := AwkwardPass()
	plain := string(d.GPX())
	lines := strings.SplitAfter(plain, "\n")
	first := 0
	for !strings.HasPrefix(lines[first], "<trkpt") {
		first++
	}
	n := len(d.Points)
	body := lines[first : first+n]
	with := func(name string, segments ...string) AwkwardFile {
		return AwkwardFile{name, []byte(strings.Join(lines[:first-1], "") + strings.Join(segments, "") + "</trk>\n</gpx>\n"), d.Road}
	}
	segment := func(lines ...string) string { return "<trkseg>\n" + strings.Join(lines, "") + "</trkseg>\n" }
	single := make([]string, n)
	for i, line := range body {
		single[i] = segment(line)
	}
	asRoute := strings.NewReplacer("trkpt", "rtept", "<trkseg>\n", "", "</trkseg>\n", "", "trk>", "rte>")
	track := plain[strings.Index(plain, "<trk>") : strings.Index(plain, "</trk>")+len("</trk>\n")]
	route := asRoute.Replace(track)
	return []AwkwardFile{
		with("two segments and an empty one between", segment(body[:700]...), "<trkseg/>\n<trkseg>\n</trkseg>\n", segment(body[700:]...)),
		with("segments of one point", single...),
		with("a segment without length between", segment(body[:700]...), segment(body[699], body[699]), segment(body[699:]...)),
		spoilt("a track and a route of the same road", "</gpx>", route+"</gpx>"),
		spoilt("a route before its track", "<trk>", route+"<trk>"),
		{"a route alone", []byte(strings.Replace(plain, track, route, 1)), d.Road},
		spoilt("the track twice", "</gpx>", track+"</gpx>"),
	}
}
