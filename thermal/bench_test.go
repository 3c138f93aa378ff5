package thermal

import (
	"bytes"
	"fmt"
	"testing"

	"rimheat/route"
	"rimheat/testdata/roads"
)

// BenchmarkAssess shows that the cost grows linearly with the route's length.
func BenchmarkAssess(b *testing.B) {
	for _, km := range []float64{37.5, 75, 150} {
		b.Run(fmt.Sprintf("%gkm", km), func(b *testing.B) {
			p := mountain(b, km*1000)
			s := DefaultSetup()
			b.ReportAllocs()
			for b.Loop() {
				if _, err := Assess(p, s); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func mountain(tb testing.TB, lengthM float64) *route.Profile {
	tb.Helper()
	gpx := roads.Mountain(lengthM, 5, 1).GPX()
	t, err := route.Read(bytes.NewReader(gpx), "mountain", route.Options{})
	if err != nil {
		tb.Fatal(err)
	}
	p, err := route.NewProfile(t, route.Options{})
	if err != nil {
		tb.Fatal(err)
	}
	return p
}
