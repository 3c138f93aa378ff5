package plots

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"
	"unicode/utf8"
)

const gpxSpace = "http://www.topografix.com/GPX/1/1"

// A gpxRule is what the GPX 1.1 schema says of an element: its children in order and
// those of them that may repeat, or what its text must be.
type gpxRule struct {
	attrs, children, many []string
	text                  func(string) bool
}

// gpxRules are the rules by element, as far as a file without links, bounds and
// extensions needs them.
func gpxRules() map[string]gpxRule {
	words := gpxRule{text: func(string) bool { return true }}
	point := gpxRule{
		attrs:    []string{"lat", "lon"},
		children: []string{"ele", "time", "magvar", "geoidheight", "name", "cmt", "desc", "src", "sym", "type", "fix", "sat", "hdop", "vdop", "pdop", "ageofdgpsdata", "dgpsid"},
	}
	head := []string{"name", "cmt", "desc", "src", "number", "type"}
	return map[string]gpxRule{
		"gpx":      {attrs: []string{"version", "creator"}, children: []string{"metadata", "wpt", "rte", "trk"}, many: []string{"wpt", "rte", "trk"}},
		"metadata": {children: []string{"name", "desc", "time", "keywords"}},
		"wpt":      point, "rtept": point, "trkpt": point,
		"rte":    {children: append(head, "rtept"), many: []string{"rtept"}},
		"trk":    {children: append(head, "trkseg"), many: []string{"trkseg"}},
		"trkseg": {children: []string{"trkpt"}, many: []string{"trkpt"}},
		"name":   words, "desc": words, "cmt": words, "src": words, "type": words, "sym": words,
		"ele":  {text: isXSDDecimal},
		"time": {text: isXSDDateTime},
	}
}

var (
	xsdDecimal  = regexp.MustCompile(`^[+-]?([0-9]+(\.[0-9]*)?|\.[0-9]+)$`)
	xsdDateTime = regexp.MustCompile(`^[0-9]{4}-[0-9]{2}-[0-9]{2}T[0-9]{2}:[0-9]{2}:[0-9]{2}(\.[0-9]+)?Z$`)
)

func isXSDDecimal(s string) bool { return xsdDecimal.MatchString(s) }

// isXSDDateTime takes UTC only, and no year 0, which XML Schema 1.0 does not have.
func isXSDDateTime(s string) bool {
	_, err := time.Parse(time.RFC3339Nano, s)
	return err == nil && xsdDateTime.MatchString(s) && !strings.HasPrefix(s, "0000")
}

// checkGPX holds a document against the rules of GPX 1.1 and gives all text in it.
func checkGPX(data []byte) (texts []string, err error) {
	if !utf8.Valid(data) {
		return nil, fmt.Errorf("not UTF-8")
	}
	rules := gpxRules()
	type level struct {
		name string
		last int // child in the rule's order that came last, -1 before any
		text strings.Builder
	}
	var stack []*level
	d := xml.NewDecoder(bytes.NewReader(data))
	for {
		tok, err := d.Token()
		if err == io.EOF {
			break
		}
		if err != nil {
			return nil, err
		}
		switch tok := tok.(type) {
		case xml.StartElement:
			name := tok.Name.Local
			rule, known := rules[name]
			if tok.Name.Space != gpxSpace || !known {
				return nil, fmt.Errorf("element %v", tok.Name)
			}
			if len(stack) == 0 && name != "gpx" {
				return nil, fmt.Errorf("the root is %s", name)
			}
			if len(stack) > 0 {
				up := stack[len(stack)-1]
				at := slices.Index(rules[up.name].children, name)
				if at < up.last || at < 0 || at == up.last && !slices.Contains(rules[up.name].many, name) {
					return nil, fmt.Errorf("%s in %s, out of order, twice or not allowed", name, up.name)
				}
				up.last = at
			}
			if err := checkGPXAttrs(name, rule, tok.Attr); err != nil {
				return nil, err
			}
			stack = append(stack, &level{name: name, last: -1})
		case xml.CharData:
			if len(stack) > 0 {
				stack[len(stack)-1].text.Write(tok)
			}
		case xml.EndElement:
			l := stack[len(stack)-1]
			stack = stack[:len(stack)-1]
			text := l.text.String()
			rule := rules[l.name]
			if rule.text == nil && strings.TrimSpace(text) != "" || rule.text != nil && !rule.text(text) {
				return nil, fmt.Errorf("%s holds %q", l.name, text)
			}
			if rule.text != nil {
				texts = append(texts, text)
			}
		}
	}
	return texts, nil
}

func checkGPXAttrs(name string, rule gpxRule, attrs []xml.Attr) error {
	var got []string
	for _, a := range attrs {
		ok := true
		switch a.Name.Local {
		case "lat", "lon":
			v, err := strconv.ParseFloat(a.Value, 64)
			ok = err == nil && isXSDDecimal(a.Value) && (a.Name.Local == "lat" && v >= -90 && v <= 90 || a.Name.Local == "lon" && v >= -180 && v < 180)
		case "version":
			ok = a.Value == "1.1"
		case "creator":
			ok = a.Value != ""
		}
		if !ok {
			return fmt.Errorf("%s has %s=%q", name, a.Name.Local, a.Value)
		}
		if a.Name.Space == "" && a.Name.Local != "xmlns" {
			got = append(got, a.Name.Local)
		}
	}
	if !slices.Equal(got, rule.attrs) {
		return fmt.Errorf("%s has the attributes %v, not %v", name, got, rule.attrs)
	}
	return nil
}

// The checker must find what it is for.
func TestGPXRulesFindMistakes(t *testing.T) {
	file := func(inner string) []byte {
		return []byte(`<gpx version="1.1" creator="x" xmlns="` + gpxSpace + `">` + inner + `</gpx>`)
	}
	point := func(attrs, inner string) []byte { return file(`<wpt ` + attrs + `>` + inner + `</wpt>`) }
	for _, good := range [][]byte{
		file(""), file("<metadata><name>a</name><desc/></metadata><wpt lat=\"90\" lon=\"-180\"/><rte/><trk><trkseg/><trkseg/></trk>"),
		point(`lat="-0" lon=".5"`, "<ele>-1.</ele><time>2026-02-28T00:00:00.125Z</time><name>a</name>"),
	} {
		if _, err := checkGPX(good); err != nil {
			t.Errorf("%s: %v", good, err)
		}
	}
	for _, bad := range [][]byte{
		[]byte(`<gpx version="1.1" creator="x"/>`), []byte(`<gpx version="1.0" creator="x" xmlns="` + gpxSpace + `"/>`), []byte(`<gpx version="1.1" xmlns="` + gpxSpace + `"/>`),
		file("<trk/><rte/>"), file("<trk/><wpt lat=\"0\" lon=\"0\"/>"), file("<wpt lat=\"0\" lon=\"0\"/><metadata/>"), file("<metadata/><metadata/>"), file("words"), file("<trk><trkseg><wpt/></trkseg></trk>"),
		file("<trk><trkseg/><name>a</name></trk>"), file("<what/>"), file("<trk>"),
		point(`lat="0" lon="180"`, ""), point(`lat="90.1" lon="0"`, ""), point(`lat="1e-5" lon="0"`, ""), point(`lat="NaN" lon="0"`, ""), point(`lat="0"`, ""),
		point(`lat="0" lon="0"`, "<ele/>"), point(`lat="0" lon="0"`, "<ele>1e-7</ele>"), point(`lat="0" lon="0"`, "<ele>Inf</ele>"),
		point(`lat="0" lon="0"`, "<time/>"), point(`lat="0" lon="0"`, "<time>2026-02-30T00:00:00Z</time>"), point(`lat="0" lon="0"`, "<time>0000-01-01T00:00:00Z</time>"), point(`lat="0" lon="0"`, "<time>2026-02-03T00:00:00+01:00</time>"),
		point(`lat="0" lon="0"`, "<name>a</name><ele>1</ele>"), point(`lat="0" lon="0"`, "<desc>a</desc><name>a</name>"), point(`lat="0" lon="0"`, "<type>a</type><sym>a</sym>"), point(`lat="0" lon="0"`, "<name>a</name><name>a</name>"),
		point(`lat="0" lon="0"`, "<name>\x01</name>"), point(`lat="0" lon="0"`, "<name>\xff</name>"),
	} {
		if _, err := checkGPX(bad); err == nil {
			t.Errorf("%s: no mistake found", bad)
		}
	}
}
