package route_test

import (
	"math"
	"runtime"
	"strconv"
	"testing"

	"rimheat/route"
	"rimheat/testdata/roads"
)

// TestAwkwardLongFiles: a hundred thousand points, and as many as are allowed,
// are read whole within a bound on memory. TestEndlessFilesAreRefused has what
// is more.
func TestAwkwardLongFiles(t *testing.T) {
	for _, c := range []struct {
		n        int
		spacingM float64
	}{{120_001, 2}, {route.MaxPoints, 1.9}} {
		t.Run(strconv.Itoa(c.n), func(t *testing.T) {
			if c.n == route.MaxPoints && testing.Short() {
				t.Skip("takes seconds")
			}
			in, road := roads.AwkwardLong(c.n, c.spacingM)
			tr, err := route.Read(in, "long.gpx", route.Options{})
			if err != nil {
				t.Fatal(err)
			}
			p, err := route.NewProfile(tr, route.Options{})
			if err != nil {
				t.Fatal(err)
			}
			sound(t, p)
			if len(tr.Points) != c.n || p.Points != c.n || len(p.Repairs) != 0 {
				t.Errorf("%d points read, %d counted, repairs %v", len(tr.Points), p.Points, p.Repairs)
			}
			if e := p.DistanceM/road.LengthM() - 1; math.Abs(e) > 0.005 {
				t.Errorf("length %.0f m, want %.0f m", p.DistanceM, road.LengthM())
			}
			if e := p.DropM/road.DropM() - 1; math.Abs(e) > 0.01 {
				t.Errorf("drop %.0f m, want %.0f m", p.DropM, road.DropM())
			}
			// What the runtime has ever had from the system, by this test or an
			// earlier one, bounds the peak from above.
			const mostBytes = 1_500_000_000
			var m runtime.MemStats
			runtime.ReadMemStats(&m)
			t.Logf("%d MB from the system so far", m.Sys/1_000_000)
			if m.Sys > mostBytes {
				t.Errorf("%d bytes from the system, want at most %d", m.Sys, mostBytes)
			}
		})
	}
}
