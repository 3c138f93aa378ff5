package plots

import (
	"bytes"
	"maps"
	"slices"
	"strings"
	"testing"
	"time"

	"rimheat/route"
	"rimheat/thermal"
)

// hostileNames try what a name from a file can do to a document.
func hostileTexts() []string {
	return append(slices.Sorted(maps.Values(hostileNames())), []string{
		"", `"/><evil a='&amp;'>]]>--><!-- <![CDATA[`, "\x00\x01\x1b[31mred\x7f", strings.Repeat("W", 10_000), strings.Repeat("over the hills ", 700),
		"\u202eroad\u2066\u200f", "הדרך אל ההר", "\xff\xfe\xc3(", "\ufffe\uffff\ufffd", "=cmd|' /C calc'!A0", "+1,\"2\"\n3\r4\t;5", "@sum", "-2", "a\u0301\u0301\u0301\u0301\u0301", "山の道 ‰ 🚲", "&#0;&#x1F;", "&lol;",
	}...)
}

func TestGPXHostileNames(t *testing.T) {
	for _, name := range hostileTexts() {
		checkHostileGPX(t, name)
	}
}

// checkHostileGPX puts a name everywhere and reads what comes out.
func checkHostileGPX(t *testing.T, name string) {
	t.Helper()
	a := roadOf("two descents")
	a.Route.Name, a.Rims[0].Name, a.Rims[1].Name, a.Rims[1].ID = name, name, "", name
	a.Rims[0].PeakWheel, a.Rims[0].LimitOn = name, thermal.OnTrack
	a.Outlook = inventedRests(a)
	track := &route.Track{Name: name, Points: []route.Point{{LatDeg: 1}, {LatDeg: 2}}}
	data := saveGPX(t, a, track, Options{})
	if len(data) > 40_000 {
		t.Errorf("%.40q makes %d bytes", name, len(data))
	}
	texts, err := checkGPX(data)
	if err != nil {
		t.Fatal(err)
	}
	for _, text := range texts {
		if bad := strings.IndexFunc(text, func(r rune) bool {
			return r < ' ' || r == 0x7f || r >= 0x80 && r < 0xa0 || r >= 0x202a && r <= 0x202e || r >= 0x2066 && r <= 0x2069 || r == '\ufffd'
		}); bad >= 0 {
			t.Errorf("%.40q: %.200q", name, text)
		}
	}
	got, err := route.Read(bytes.NewReader(data), "out", route.Options{})
	if err != nil || len(got.Points) != 2 {
		t.Errorf("%.40q: %v", name, err)
	}
}

func FuzzExportNames(f *testing.F) {
	for _, name := range hostileTexts() {
		f.Add(name)
	}
	f.Fuzz(func(t *testing.T, name string) {
		checkHostileGPX(t, name)
		checkHostileHistory(t, name)
	})
}

func BenchmarkSaveGPX(b *testing.B) {
	a := roadOf("very long")
	track := &route.Track{}
	for i := range 30_000 {
		track.Points = append(track.Points, route.Point{LatDeg: 46 + float64(i)/9e4, LonDeg: 7 + float64(i)/7e4, HeightM: float64(i) / 7, HasHeight: true, Time: time.Unix(int64(i), 0)})
	}
	var out bytes.Buffer
	for b.Loop() {
		out.Reset()
		if err := SaveGPX(&out, a, track, Options{}); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(out.Len()), "bytes")
}
