package plots

import (
	"bytes"
	"errors"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"rimheat/route"
	"rimheat/testdata/roads"
	"rimheat/thermal"
)

// saveGPX writes a file that must keep the rules of GPX.
func saveGPX(t *testing.T, a *thermal.Assessment, track *route.Track, opt Options) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := SaveGPX(&b, a, track, opt); err != nil {
		t.Fatal(err)
	}
	if _, err := checkGPX(b.Bytes()); err != nil {
		t.Fatalf("%.300s ...: %v", b.Bytes(), err)
	}
	return b.Bytes()
}

// marked is an assessment of a profile with something to say everywhere, without the
// time that heating rims takes.
func marked(p *route.Profile) *thermal.Assessment {
	a := &thermal.Assessment{}
	a.Route.Name = p.Name
	a.Trace = thermal.Trace{DistM: p.DistM, HeightM: p.HeightM, LatDeg: p.LatDeg, LonDeg: p.LonDeg}
	end := p.DistanceM
	a.Trace.Stands = []thermal.Stand{{AtM: end / 3, S: 300}}
	for _, d := range p.Descents {
		a.Descents = append(a.Descents, thermal.Descent{StartM: d.StartM, EndM: d.EndM, DropM: d.DropM, MeanGrade: d.MeanGrade})
	}
	r := thermal.RimResult{ID: "rim", Name: "Invented rim", PeakC: 130, PeakAtM: end, LimitC: 120, LimitOn: thermal.OnTrack, LimitAssumed: true, JudgedPeakC: 130, MarginK: -10, Verdict: thermal.Over}
	r.Over = []thermal.OverSpan{{StartM: end / 2, EndM: end, DurationS: 60}}
	r.Limits = []thermal.LimitResult{{On: thermal.OnTrack, LimitC: 120, Assumed: true, Over: r.Over}}
	a.Rims = []thermal.RimResult{r}
	return a
}

// sharedRoutes are real routes beside the repository, none where there are none.
func sharedRoutes(t *testing.T) []string {
	t.Helper()
	files, err := filepath.Glob(filepath.Join("..", "..", "shared", "gpx", "*", "*.gpx"))
	if err != nil {
		t.Fatal(err)
	}
	return files
}

// roundTrip writes the annotated route and reads it back: the same points, and the same
// profile but for what reading itself said of the file.
func roundTrip(t *testing.T, name string, data []byte) (made bool) {
	t.Helper()
	read := func(data []byte) (*route.Track, *route.Profile, error) {
		tr, err := route.Read(bytes.NewReader(data), name, route.Options{})
		if err != nil {
			return nil, nil, err
		}
		p, err := route.NewProfile(tr, route.Options{})
		return tr, p, err
	}
	tr, p, err := read(data)
	if err != nil {
		return false
	}
	got, q, err := read(saveGPX(t, marked(p), p.Track, Options{}))
	if err != nil {
		t.Errorf("%s: %v", name, err)
		return true
	}
	samePoints(t, name, tr, got)
	if !slices.Equal(p.Repairs[len(tr.Repairs):], q.Repairs[len(got.Repairs):]) {
		t.Errorf("%s: repairs %v and %v", name, p.Repairs, q.Repairs)
	}
	p.Repairs, q.Repairs = nil, nil
	p.Track, q.Track = nil, nil
	p.Name, q.Name = clean(p.Name), clean(q.Name)
	if !reflect.DeepEqual(p, q) {
		t.Errorf("%s: another profile: %.3f and %.3f m long", name, p.DistanceM, q.DistanceM)
	}
	return true
}

// samePoints holds two tracks to the same numbers and instants.
func samePoints(t *testing.T, name string, want, got *route.Track) {
	t.Helper()
	if got.IsRoute != want.IsRoute || !slices.Equal(got.SegmentStarts, want.SegmentStarts) || len(got.Points) != len(want.Points) {
		t.Errorf("%s: route %v, segments %v, %d points; want %v, %v, %d", name, got.IsRoute, got.SegmentStarts, len(got.Points), want.IsRoute, want.SegmentStarts, len(want.Points))
		return
	}
	for i, p := range want.Points {
		q := got.Points[i]
		p.Line, q.Line = 0, 0
		if p != q {
			t.Errorf("%s: point %d is %+v, was %+v", name, i+1, q, p)
			return
		}
	}
}

func TestGPXKeepsTheRoute(t *testing.T) {
	t.Parallel()
	files, err := filepath.Glob(filepath.Join("..", "testdata", "*.gpx"))
	if err != nil || len(files) < 5 {
		t.Fatal(files, err)
	}
	for _, f := range files {
		data, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		if !roundTrip(t, f, data) {
			t.Errorf("%s: no profile", f)
		}
	}
	made := 0
	for _, f := range roads.AwkwardFiles() {
		if roundTrip(t, f.Name, f.Data) {
			made++
		}
	}
	if made < 40 {
		t.Errorf("only %d awkward files gave a profile", made)
	}
}

func TestGPXKeepsRealRoutes(t *testing.T) {
	t.Parallel()
	files := sharedRoutes(t)
	if len(files) == 0 {
		t.Skip("no folder of real routes")
	}
	made := 0
	for _, f := range files {
		data, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		if roundTrip(t, filepath.Base(f), data) {
			made++
		}
	}
	if made == 0 {
		t.Error("no file gave a profile")
	}
}

// roadOf is a whole assessment with a road, to write any track beside it.
func roadOf(name string) *thermal.Assessment { return cases()[name].whole() }

// TestGPXPointsAreExact: numbers that are easily spoilt come back as they were.
func TestGPXPointsAreExact(t *testing.T) {
	at := time.Date(2026, 7, 4, 7, 30, 0, 0, time.UTC)
	zone := time.FixedZone("", -7*3600-1800)
	tr := &route.Track{Points: []route.Point{
		{LatDeg: 1e-9, LonDeg: 179.99999999999997, HeightM: 1e-7, HasHeight: true, Time: at.Add(123456789)},
		{LatDeg: -90, LonDeg: -180, HeightM: -431.12345678901234, HasHeight: true, Time: at.Add(500 * time.Millisecond).In(zone)},
		{LatDeg: 90, LonDeg: 0.1 + 0.2, HeightM: 1e22, HasHeight: true},
		{LatDeg: 45.123456789012345, LonDeg: 7, Time: at},
		{LatDeg: math.Nextafter(1, 2), LonDeg: 5e-324, HeightM: 0, HasHeight: true},
	}, SegmentStarts: []int{0, 2, 3}}
	data := saveGPX(t, roadOf("two descents"), tr, Options{})
	got, err := route.Read(bytes.NewReader(data), "out", route.Options{})
	if err != nil {
		t.Fatal(err)
	}
	want := *tr
	want.Points = slices.Clone(tr.Points)
	want.Points[1].Time = want.Points[1].Time.UTC()
	samePoints(t, "out", &want, got)
	for _, part := range []string{`lon="179.99999999999997"><ele>0.0000001</ele><time>2026-07-04T07:30:00.123456789Z</time>`, `<time>2026-07-04T07:30:00.5Z</time>`, `lat="45.123456789012344" lon="7"><time>`} {
		if !bytes.Contains(data, []byte(part)) {
			t.Errorf("no %s in\n%s", part, data)
		}
	}
}

// What GPX cannot say is written as near to it as can be.
func TestGPXPointsBeyondTheSchema(t *testing.T) {
	for _, c := range []struct {
		p    route.Point
		want string
	}{
		{route.Point{LonDeg: 180}, `<trkpt lat="0" lon="-180"></trkpt>`},
		{route.Point{Time: time.Date(0, 12, 31, 0, 0, 0, 0, time.UTC)}, `<trkpt lat="0" lon="0"></trkpt>`},
		{route.Point{Time: time.Date(9999, 12, 31, 23, 0, 0, 0, time.FixedZone("", -7200))}, `<trkpt lat="0" lon="0"></trkpt>`},
		{route.Point{Time: time.Date(1, 1, 1, 0, 0, 1, 0, time.UTC)}, `<time>0001-01-01T00:00:01Z</time>`},
	} {
		data := saveGPX(t, roadOf("two descents"), &route.Track{Points: []route.Point{c.p}}, Options{})
		if !bytes.Contains(data, []byte(c.want)) {
			t.Errorf("%+v: no %s in\n%s", c.p, c.want, data)
		}
	}
}

// A route stays a route, without segments, and is found as one.
func TestGPXRouteStaysARoute(t *testing.T) {
	tr := &route.Track{Name: "way", IsRoute: true, Points: []route.Point{{LatDeg: 1}, {LatDeg: 2}}, SegmentStarts: []int{0}}
	data := saveGPX(t, roadOf("two descents"), tr, Options{})
	if bytes.Contains(data, []byte("<trk")) || bytes.Count(data, []byte("<rtept ")) != 2 {
		t.Errorf("%s", data)
	}
	got, err := route.Read(bytes.NewReader(data), "out", route.Options{})
	if err != nil {
		t.Fatal(err)
	}
	samePoints(t, "out", tr, got)
	if got.Name != "way" {
		t.Errorf("it is called %q", got.Name)
	}
}

// A fullAfter is a writer that takes so many bytes and then fails.
type fullAfter struct{ left int }

var errFull = errors.New("full")

func (w *fullAfter) Write(p []byte) (int, error) {
	if w.left -= len(p); w.left < 0 {
		return 0, errFull
	}
	return len(p), nil
}

func TestGPXErrors(t *testing.T) {
	a := roadOf("two descents")
	track := &route.Track{Points: make([]route.Point, 3000)}
	without := func(change func(*thermal.Assessment)) *thermal.Assessment {
		b := *a
		change(&b)
		return &b
	}
	for name, c := range map[string]struct {
		a     *thermal.Assessment
		track *route.Track
		says  string
	}{
		"no assessment": {nil, track, "no assessment"},
		"no track":      {a, nil, "no points"},
		"no points":     {a, &route.Track{}, "no points"},
		"no rims":       {without(func(b *thermal.Assessment) { b.Rims = nil }), track, "no rim"},
		"no positions":  {without(func(b *thermal.Assessment) { b.Trace.LatDeg = nil }), track, "no positions"},
		"no place":      {a, &route.Track{Points: []route.Point{{}, {LatDeg: math.NaN()}}}, "point 2"},
		"too far east":  {a, &route.Track{Points: []route.Point{{LonDeg: 180.1}}}, "point 1"},
		"no height":     {a, &route.Track{Points: []route.Point{{HasHeight: true, HeightM: math.Inf(1)}}}, "point 1"},
	} {
		var b bytes.Buffer
		if err := SaveGPX(&b, c.a, c.track, Options{}); err == nil || !strings.Contains(err.Error(), c.says) || b.Len() > 0 {
			t.Errorf("%s: %v, %d bytes", name, err, b.Len())
		}
	}
	for _, room := range []int{0, 70_000} {
		if err := SaveGPX(&fullAfter{room}, a, track, Options{}); !errors.Is(err, errFull) {
			t.Errorf("a disk of %d bytes: %v", room, err)
		}
	}
}

// numbersIn gives all values of an attribute, in order.
func numbersIn(t *testing.T, data []byte, start, end string) (v []float64) {
	t.Helper()
	for _, part := range strings.Split(string(data), start)[1:] {
		x, err := strconv.ParseFloat(part[:strings.Index(part, end)], 64)
		if err != nil {
			t.Fatal(err)
		}
		v = append(v, x)
	}
	return v
}
