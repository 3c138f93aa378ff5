package route

import (
	"compress/gzip"
	"io"
	"runtime"
	"strings"
	"testing"
)

// An endless reader gives head once and then body for ever.
type endless struct {
	head, body string
	at         int
}

func (e *endless) Read(p []byte) (int, error) {
	n := 0
	for n < len(p) {
		s := e.head
		at := e.at
		if at >= len(e.head) {
			s, at = e.body, (at-len(e.head))%len(e.body)
		}
		k := copy(p[n:], s[at:])
		n += k
		e.at += k
	}
	return n, nil
}

const head = "<gpx>"

// TestEndlessFilesAreRefused feeds files of no end. The limits on bytes,
// points and tracks are lowered to keep the test short; the limit on a token
// is the real one.
func TestEndlessFilesAreRefused(t *testing.T) {
	const mib = 1 << 20
	limit := caps{bytes: 6 * mib, token: MaxTokenBytes, points: 50_000, tracks: 100}
	point := `<trkpt lat="0.5" lon="1.25"><ele>1</ele></trkpt>`
	for name, c := range map[string]struct {
		head, body, what string
		mostMiB          int
	}{
		"one text":      {head + "<trk><name>", "x", "longer than 4 MiB", 48},
		"one tag":       {head + "<trk ", `a="" `, "longer than 4 MiB", 400},
		"one comment":   {head + "<!-- ", "x", "longer than 4 MiB", 48},
		"doctype":       {"<!DOCTYPE gpx [", "<!ENTITY a 'b'>", "longer than 4 MiB", 48},
		"nesting":       {head + "<extensions>", "<a>", "larger than 6 MiB", 48},
		"texts":         {head + "<trk><name>", "x<a/>", "larger than 6 MiB", 48},
		"nested points": {head + "<trk><trkseg><trkpt lat='1' lon='1'>", "<trkpt>", "larger than 6 MiB", 48},
		"tracks":        {head, "<trk></trk>", "100 tracks", 48},
		"points":        {head + "<trk><trkseg>", point, "50,000 points", 96},
	} {
		t.Run(name, func(t *testing.T) {
			var before, after runtime.MemStats
			runtime.GC()
			runtime.ReadMemStats(&before)
			_, err := readWithin(&endless{head: c.head, body: c.body}, "r.gpx", Options{}, limit)
			runtime.ReadMemStats(&after)
			if err == nil || !strings.Contains(err.Error(), c.what) || !strings.Contains(err.Error(), "the limit") {
				t.Errorf("refused with %v, want %q", err, c.what)
			}
			if grown := int(after.HeapSys>>20) - int(before.HeapSys>>20); grown > c.mostMiB {
				t.Errorf("the heap grew by %d MiB, want at most %d", grown, c.mostMiB)
			}
		})
	}
}

func TestGzipBombIsRefused(t *testing.T) {
	r, w := io.Pipe()
	go func() {
		z := gzip.NewWriter(w)
		_, err := io.Copy(z, &endless{head: head, body: strings.Repeat("<a/>", 1<<12)})
		w.CloseWithError(err)
	}()
	limit := defaultCaps()
	limit.bytes = 8 << 20
	_, err := readWithin(r, "r.gpx", Options{}, limit)
	r.CloseWithError(io.ErrClosedPipe)
	if err == nil || !strings.Contains(err.Error(), "larger than 8 MiB") {
		t.Fatal(err)
	}
}
