package route_test

import (
	"bytes"
	"fmt"
	"reflect"
	"testing"

	"rimheat/route"
	"rimheat/testdata/roads"
)

// TestProfileKeepsTheTrack: a profile gives the track that it was made from as the file
// has it, whatever was repaired on the way, replayed or not.
func TestProfileKeepsTheTrack(t *testing.T) {
	name, fixes := roads.RecordedHill()
	files := append(roads.AwkwardFiles(), roads.AwkwardFile{Name: name, Data: roads.TimedGPX(name, "", fixes)})
	kept := 0
	for _, f := range files {
		for _, replay := range []bool{false, true} {
			read := func() *route.Track {
				tr, err := route.Read(bytes.NewReader(f.Data), f.Name, route.Options{})
				if err != nil {
					return nil
				}
				return tr
			}
			tr := read()
			if tr == nil {
				continue
			}
			p, err := route.NewProfile(tr, route.Options{Replay: replay})
			if err != nil {
				continue
			}
			kept++
			if p.Track != tr || !reflect.DeepEqual(tr, read()) {
				t.Errorf("%s: the track was changed", f.Name)
			}
		}
	}
	if kept < 40 {
		t.Errorf("only %d files gave a profile", kept)
	}
}

// TestRoutesAreTold: a track knows whether the file has it as a route, and where its
// segments begin.
func TestRoutesAreTold(t *testing.T) {
	points := func(element string, from int) string {
		s := ""
		for i := range 3 {
			s += fmt.Sprintf(`<%s lat="0.%03d" lon="10"><ele>1</ele></%s>`, element, from+i, element)
		}
		return s
	}
	track := "<trk><trkseg>" + points("trkpt", 1) + "</trkseg><trkseg/><trkseg>" + points("trkpt", 4) + "</trkseg></trk>"
	way := "<rte>" + points("rtept", 1) + "</rte>"
	for _, c := range []struct {
		file, choice string
		isRoute      bool
		starts       []int
	}{
		{track, "", false, []int{0, 3}},
		{way, "", true, []int{0}},
		{way + track, "", false, []int{0, 3}},
		{way + track, "2", true, []int{0}},
	} {
		tr, err := route.Read(bytes.NewReader([]byte(`<gpx version="1.1">`+c.file+"</gpx>")), "r.gpx", route.Options{Track: c.choice})
		if err != nil {
			t.Fatal(err)
		}
		if tr.IsRoute != c.isRoute || !reflect.DeepEqual(tr.SegmentStarts, c.starts) {
			t.Errorf("%.40s, track %q: route %v, segments %v", c.file, c.choice, tr.IsRoute, tr.SegmentStarts)
		}
	}
}
