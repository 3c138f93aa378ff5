package route_test

import (
	"bytes"
	"testing"

	"github.com/tkrajina/gpxgo/gpx"

	"rimheat/route"
	"rimheat/testdata/roads"
)

// mountain is 150 km of mountain road with 30,000 points.
func mountain() []byte { return roads.Mountain(150_000, 5, 1).GPX() }

func BenchmarkRead(b *testing.B) {
	data := mountain()
	b.SetBytes(int64(len(data)))
	b.ReportAllocs()
	for b.Loop() {
		if _, err := route.Read(bytes.NewReader(data), "b", route.Options{}); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkLibraryParse is the GPX library alone on the same bytes.
func BenchmarkLibraryParse(b *testing.B) {
	data := mountain()
	b.SetBytes(int64(len(data)))
	b.ReportAllocs()
	for b.Loop() {
		if _, err := gpx.ParseBytes(data); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkNewProfile(b *testing.B) {
	tr, err := route.Read(bytes.NewReader(mountain()), "b", route.Options{})
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := route.NewProfile(tr, route.Options{}); err != nil {
			b.Fatal(err)
		}
	}
}
