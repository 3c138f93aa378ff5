package route_test

import (
	"bytes"
	"compress/gzip"
	"errors"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"
	"unicode/utf16"

	"rimheat/route"
)

// body is a track of four points on open ocean, 111 m apart, 5 m down each.
const body = `<trk><name>invented</name><trkseg>
<trkpt lat="0.000" lon="-20"><ele>115</ele></trkpt>
<trkpt lat="0.001" lon="-20"><ele>110</ele></trkpt>
<trkpt lat="0.002" lon="-20"><ele>105</ele></trkpt>
<trkpt lat="0.003" lon="-20"><ele>100</ele></trkpt>
</trkseg></trk>`

const open11 = `<gpx version="1.1" xmlns="http://www.topografix.com/GPX/1/1">`

func doc(inner string) string { return open11 + inner + "</gpx>" }

func read(s string) (*route.Track, error) {
	return route.Read(strings.NewReader(s), "r.gpx", route.Options{})
}

func utf16Bytes(s string, mark bool) string {
	var b bytes.Buffer
	if mark {
		b.Write([]byte{0xff, 0xfe})
	}
	for _, u := range utf16.Encode([]rune(s)) {
		b.Write([]byte{byte(u), byte(u >> 8)})
	}
	return b.String()
}

func gzipped(t *testing.T, s string) string {
	t.Helper()
	var b bytes.Buffer
	z := gzip.NewWriter(&b)
	if _, err := z.Write([]byte(s)); err != nil {
		t.Fatal(err)
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func TestReadAccepts(t *testing.T) {
	prefixed := strings.NewReplacer("<gpx", "<g:gpx", "</gpx", "</g:gpx", "<trk", "<g:trk", "</trk", "</g:trk", "<ele", "<g:ele", "</ele", "</g:ele",
		"<name", "<g:name", "</name", "</g:name", "xmlns=", "xmlns:g=").Replace(doc(body))
	for name, in := range map[string]string{
		"GPX 1.1":              doc(body),
		"GPX 1.0":              `<gpx version="1.0" xmlns="http://www.topografix.com/GPX/1/0">` + body + `</gpx>`,
		"no version":           `<gpx>` + body + `</gpx>`,
		"odd version":          `<gpx version="7.7-beta">` + body + `</gpx>`,
		"declaration":          `<?xml version="1.0" encoding="UTF-8"?>` + "\n" + doc(body),
		"byte-order mark":      "\ufeff" + doc(body),
		"UTF-16":               utf16Bytes(`<?xml version="1.0" encoding="UTF-16"?>`+doc(body), true),
		"UTF-16 without mark":  utf16Bytes(`<?xml version="1.0" encoding="UTF-16"?>`+doc(body), false),
		"UTF-16 only declared": `<?xml version="1.0" encoding="utf-16"?>` + doc(body),
		"gzip":                 gzipped(t, doc(body)),
		"namespace prefix":     prefixed,
		"route":                doc(strings.NewReplacer("<trkseg>", "", "</trkseg>", "", "trkpt", "rtept", "trk", "rte").Replace(body)),
		"two segments":         doc(strings.Replace(body, `<trkpt lat="0.002"`, `</trkseg><trkseg/><trkseg><trkpt lat="0.002"`, 1)),
		"empty route first":    doc(`<rte></rte>` + body),
		"extensions":           doc(strings.ReplaceAll(body, `<ele>`, `<extensions><a><ele>9</ele><trkpt/></a></extensions><ele>`)),
		"foreign height":       doc(strings.ReplaceAll(body, `<ele>`, `<x:ele>9999</x:ele><ele>`)),
		"white space":          doc(strings.NewReplacer("<ele>", "<ele>\n\t ", "</ele>", " \r\n</ele>").Replace(body)),
		"comment in a height":  doc(strings.ReplaceAll(body, `<ele>1`, `<ele><!-- x -->1<!-- y -->`)),
		"CDATA height":         doc(strings.NewReplacer("<ele>", "<ele><![CDATA[", "</ele>", "]]></ele>").Replace(body)),
		"exponent and plus":    doc(strings.NewReplacer(`"0.002"`, `"+2e-3"`, ">105<", ">+1.05E2<").Replace(body)),
	} {
		t.Run(name, func(t *testing.T) {
			tr, err := read(in)
			if err != nil {
				t.Fatal(err)
			}
			if tr.Name != "invented" || len(tr.Points) != 4 || len(tr.Repairs) != 0 {
				t.Fatalf("name %q, %d points, repairs %v", tr.Name, len(tr.Points), tr.Repairs)
			}
			for i, p := range tr.Points {
				if want := (route.Point{LatDeg: []float64{0, 0.001, 0.002, 0.003}[i], LonDeg: -20, HeightM: 115 - 5*float64(i), HasHeight: true, Line: p.Line}); p != want {
					t.Errorf("point %d is %+v, want %+v", i+1, p, want)
				}
			}
			p, err := route.NewProfile(tr, route.Options{})
			if err != nil {
				t.Fatal(err)
			}
			if d := p.HeightM[0] - p.HeightM[len(p.HeightM)-1]; math.Abs(d-15) > 1e-9 {
				t.Errorf("end to end drop %v m, want 15", d)
			}
		})
	}
}

func TestReadDetails(t *testing.T) {
	tr, err := read(doc("\n" + `<trk><trkseg><trkpt lat="1" lon="2"><ele></ele><time>2030-05-01T02:00:00.25+02:00</time></trkpt>
<trkpt
 lat="1.1" lon="2"><ele>12,5</ele><time>yesterday</time></trkpt></trkseg><trkseg><trkpt lon="3" lat="1"/></trkseg></trk>
<metadata><name>file</name></metadata>`))
	if err != nil {
		t.Fatal(err)
	}
	if want := time.Date(2030, 5, 1, 0, 0, 0, 250e6, time.UTC); tr.Points[0].Time != want {
		t.Errorf("time %v, want %v", tr.Points[0].Time, want)
	}
	if got := []int{tr.Points[0].Line, tr.Points[1].Line, tr.Points[2].Line}; !slices.Equal(got, []int{2, 3, 4}) {
		t.Errorf("lines %v, want 2 3 4", got)
	}
	for i, p := range tr.Points {
		if p.HasHeight {
			t.Errorf("point %d has a height", i+1)
		}
	}
	if !slices.Equal(tr.SegmentStarts, []int{0, 2}) {
		t.Errorf("segments start at %v", tr.SegmentStarts)
	}
	if tr.Name != "file" {
		t.Errorf("name %q, want that of the file", tr.Name)
	}
	if repaired(tr.Repairs, "height-unreadable") != 1 || repaired(tr.Repairs, "time-unreadable") != 1 {
		t.Errorf("repairs %v", tr.Repairs)
	}
}

func TestReadLatin1Name(t *testing.T) {
	tr, err := read(`<?xml version="1.0" encoding="ISO-8859-1"?>` + doc(strings.Replace(body, "invented", "erfunden: H\xf6he", 1)))
	if err != nil || tr.Name != "erfunden: Höhe" {
		t.Fatalf("%v, %v", tr, err)
	}
}

func TestNameIsSafeToPrint(t *testing.T) {
	tr := &route.Track{Name: " a\x1b[31mred\x1b[0m\u009b2Jb\x07\u202e  c\n\td\x1b" + strings.Repeat("é", 300)}
	for i := range 2 {
		tr.Points = append(tr.Points, route.Point{LatDeg: float64(i) / 1000, HeightM: 5, HasHeight: true})
	}
	p, err := route.NewProfile(tr, route.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if want := "aredb c d"; !strings.HasPrefix(p.Name, want+"é") {
		t.Errorf("name %q, want %q first", p.Name, want)
	}
	if n := len([]rune(p.Name)); n != route.MaxNameRunes {
		t.Errorf("name of %d runes, want %d", n, route.MaxNameRunes)
	}
}

func repaired(rs []route.Repair, kind string) int {
	n := 0
	for _, r := range rs {
		if r.Kind == kind {
			n += r.Count
		}
	}
	return n
}

func TestChoosingATrack(t *testing.T) {
	second := strings.NewReplacer("invented", "longer", `"0.003"`, `"0.005"`).Replace(body)
	in := doc(`<rte><name>planned</name><rtept lat="5" lon="5"/><rtept lat="9" lon="5"/></rte>` + body + second + `<trk><name>empty</name></trk>`)
	for _, c := range []struct{ want, name, err string }{
		{"", "longer", ""},
		{"invented", "invented", ""},
		{"1", "invented", ""},
		{" 2 ", "longer", ""},
		{"4", "planned", ""},
		{"planned", "planned", ""},
		{"empty", "", "no points"},
		{"5", "", `no track or route is called "5"; choose from: 1 "invented" (4 points), 2 "longer" (4 points), 3 "empty" (0 points), 4 "planned" (2 points)`},
		{"0", "", "no track"},
	} {
		tr, err := route.Read(strings.NewReader(in), "r.gpx", route.Options{Track: c.want})
		switch {
		case c.err != "":
			if err == nil || !strings.Contains(err.Error(), c.err) {
				t.Errorf("%q: error %v, want %q", c.want, err, c.err)
			}
		case err != nil:
			t.Errorf("%q: %v", c.want, err)
		case tr.Name != c.name || repaired(tr.Repairs, "other-tracks") != 2:
			t.Errorf("%q: got %q, repairs %v", c.want, tr.Name, tr.Repairs)
		}
	}
}

// loadError is the *InputError that a document gives, or nil.
func loadError(t *testing.T, in string) *route.InputError {
	t.Helper()
	p, err := route.Load("-", strings.NewReader(in), route.Options{})
	if err == nil {
		t.Fatalf("accepted, with repairs %v", p.Repairs)
	}
	var e *route.InputError
	if !errors.As(err, &e) {
		t.Fatalf("error %v is a %T, not an *InputError", err, err)
	}
	if e.File != "-" || e.Do == "" {
		t.Errorf("error without file or advice: %+v", e)
	}
	return e
}

func TestErrors(t *testing.T) {
	point := func(attrs string) string { return doc("\n<trk><trkseg>\n<trkpt " + attrs + "/></trkseg></trk>") }
	for name, c := range map[string]struct {
		in, what string
		line     int
	}{
		"zero bytes":       {"", "empty (0 bytes)", 0},
		"empty gzip":       {gzipped(t, ""), "empty once unpacked", 0},
		"damaged gzip":     {"\x1f\x8bxx", "damaged gzip", 0},
		"truncated gzip":   {gzipped(t, doc(body))[:60], "cut short", 1},
		"ZIP":              {"PK\x03\x04abc", "ZIP", 0},
		"text":             {"just words\n", "not XML", 0},
		"binary":           {"\x00\x01\x02\x03", "not XML", 1},
		"JSON":             {`{"type":"x"}`, "not XML", 0},
		"other XML":        {"<html></html>", `root element is "html"`, 1},
		"truncated":        {doc(body)[:260], "cut short after point 3", 5},
		"truncated tag":    {doc(body)[:90], "cut short", 1},
		"wrong nesting":    {open11 + "<trk></trkseg></trk></gpx>", "unexpected closing tag", 1},
		"wrong skipping":   {open11 + "<wpt></b></gpx>", "closed by", 1},
		"undefined entity": {doc("<trk><name>&x;</name></trk>"), "entity &x;", 1},
		"unknown charset":  {`<?xml version="1.0" encoding="x-unknown"?><gpx/>`, "unknown character encoding", 1},
		"waypoints only":   {doc(`<wpt lat="1" lon="1"/><wpt lat="2" lon="1"/>`), "only waypoints (2)", 0},
		"nothing":          {doc(""), "no track and no route", 0},
		"empty route":      {doc("<rte/>"), "none with a point", 0},
		"one point":        {point(`lat="1" lon="1"`), "only one point", 3},
		"lat unreadable":   {point(`lat="north" lon="1"`), `point 1: lat="north"`, 3},
		"lat missing":      {point(`lon="1"`), "point 1 has no latitude", 3},
		"lat NaN":          {point(`lat="NaN" lon="1"`), "not a position", 3},
		"lat Inf":          {point(`lat="1" lon="-Inf"`), "not a position", 3},
		"swapped":          {point(`lat="112.5" lon="33"`), "looks swapped", 3},
		"lat out of range": {point(`lat="95" lon="133"`), "out of range", 3},
		"lon out of range": {point(`lat="12" lon="180.88"`), "out of range", 3},
		"all equal":        {doc(strings.NewReplacer("0.001", "0.000", "0.002", "0.000", "0.003", "0.000").Replace(body)), "all 4 points are at the same place", 2},
		"no heights":       {doc(strings.NewReplacer("<ele>", "<x>", "</ele>", "</x>").Replace(body)), "none of the 4 points has a height", 0},
		"zero heights":     {doc(strings.NewReplacer(">115<", ">0<", ">110<", ">-0<", ">105<", ">.0<", ">100<", ">0.00<").Replace(body)), "all 4 heights are zero", 0},
		"NaN heights":      {doc(strings.NewReplacer(">1", ">NaN1").Replace(body)), `none of the 4 heights can be read as a number (for example "NaN115")`, 2},
		"half lacking":     {doc(strings.NewReplacer(">110<", "><", ">105<", "><").Replace(body)), "2 of 4 points have no height", 0},
	} {
		t.Run(name, func(t *testing.T) {
			e := loadError(t, c.in)
			if !strings.Contains(e.What, c.what) || e.Line != c.line {
				t.Errorf("line %d: %s; want line %d: ...%s...", e.Line, e.What, c.line, c.what)
			}
		})
	}
}

func TestLoadFiles(t *testing.T) {
	dir := t.TempDir()
	gz := filepath.Join(dir, "not-named-gz.gpx")
	if err := os.WriteFile(gz, []byte(gzipped(t, doc(body))), 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := route.Load(gz, nil, route.Options{}); err != nil {
		t.Error(err)
	}
	huge := filepath.Join(dir, "huge.gpx")
	if err := os.WriteFile(huge, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	if err := os.Truncate(huge, 2<<30); err != nil {
		t.Fatal(err)
	}
	for path, what := range map[string]string{huge: "larger than 256 MiB", filepath.Join(dir, "absent"): "no such file", dir: "is a folder", "-": "standard input"} {
		_, err := route.Load(path, nil, route.Options{})
		var e *route.InputError
		if !errors.As(err, &e) || !strings.Contains(e.What, what) {
			t.Errorf("%s: %v, want %q", path, err, what)
		}
	}
	for _, step := range []float64{-1, 0.1, 1e9} {
		if _, err := route.Load(gz, nil, route.Options{SpacingM: step}); err == nil || !strings.Contains(err.Error(), "grid step") {
			t.Errorf("grid step %v: %v", step, err)
		}
	}
}

func TestTrailingDataIsReported(t *testing.T) {
	for in, want := range map[string]int{"": 0, "\n<!-- end -->\n": 0, "rest": 1, "<gpx/>": 1} {
		tr, err := read(doc(body) + in)
		if err != nil {
			t.Fatal(err)
		}
		if n := repaired(tr.Repairs, "trailing-data"); n != want {
			t.Errorf("%q: %d, want %d", in, n, want)
		}
	}
}
