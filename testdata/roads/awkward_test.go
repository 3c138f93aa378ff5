package roads

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"testing"
)

func TestAwkwardFilesAreDistinctAndReproducible(t *testing.T) {
	pass := AwkwardPass()
	plain := pass.GPX()
	again := AwkwardFiles()
	names := map[string]bool{}
	for i, f := range AwkwardFiles() {
		if names[f.Name] || f.Name == "" || len(f.Data) == 0 {
			t.Errorf("%q: a second one of this name, or empty", f.Name)
		}
		names[f.Name] = true
		if !bytes.Equal(f.Data, again[i].Data) {
			t.Errorf("%s: other bytes the second time", f.Name)
		}
		if bytes.Equal(f.Data, plain) {
			t.Errorf("%s: nothing is awkward about it", f.Name)
		}
	}
}

// TestAwkwardPassIsAsDescribed: chords of 10 m show the road's whole length.
func TestAwkwardPassIsAsDescribed(t *testing.T) {
	d := AwkwardPass()
	if l := d.Road.LengthM(); l != 12_000 || len(d.Points) != 1201 {
		t.Errorf("%v m, %d points", l, len(d.Points))
	}
	if up, down := d.Road.ClimbM(), d.Road.DropM(); math.Abs(up-216) > 1e-6 || math.Abs(down-308) > 1e-6 {
		t.Errorf("climb %v m, drop %v m", up, down)
	}
	chords := 0.0
	for i := 1; i < len(d.Points); i++ {
		x0, y0 := d.Road.PlaneAt(d.Points[i-1].M)
		x1, y1 := d.Road.PlaneAt(d.Points[i].M)
		chords += math.Hypot(x1-x0, y1-y0)
	}
	if short := 1 - chords/12_000; short > 1e-3 {
		t.Errorf("chords are %.2f %% shorter than the road", 100*short)
	}
}

// TestGroundIsSteeperThanRoads: over the tunnels and under the bridges the
// ground rises and falls by more than 30 % over 30 m, and it ends where the
// road is; the real hills keep below.
func TestGroundIsSteeperThanRoads(t *testing.T) {
	for _, f := range awkwardGround() {
		steepest := 0.0
		pts := pointsOf(t, f.Data)
		for i := 3; i < len(pts); i++ {
			steepest = max(steepest, math.Abs(pts[i]-pts[i-3])/30)
		}
		real := f.Name == "a real hill of 25 %" || f.Name == "a real hill of 15 %"
		if (steepest > 0.32) == real {
			t.Errorf("%s: at most %.0f %% over 30 m", f.Name, 100*steepest)
		}
		if n := len(pts); math.Abs(pts[0]-f.Road.HeightAt(0)) > 0.006 || math.Abs(pts[n-1]-f.Road.HeightAt(f.Road.LengthM())) > 0.006 {
			t.Errorf("%s: the ends lie off the road", f.Name)
		}
	}
}

// pointsOf gives the heights of a file of ours.
func pointsOf(t *testing.T, data []byte) []float64 {
	t.Helper()
	var h []float64
	for _, part := range bytes.Split(data, []byte("<ele>"))[1:] {
		text, _, _ := bytes.Cut(part, []byte("</ele>"))
		v := 0.0
		if _, err := fmt.Sscan(string(text), &v); err != nil {
			t.Fatal(err)
		}
		h = append(h, v)
	}
	return h
}

func TestAwkwardLongHoldsItsPoints(t *testing.T) {
	r, road := AwkwardLong(20_001, 2)
	data, err := io.ReadAll(r)
	if err != nil {
		t.Fatal(err)
	}
	if n := bytes.Count(data, []byte("<trkpt ")); n != 20_001 || !bytes.HasSuffix(data, []byte("</gpx>\n")) {
		t.Errorf("%d points, ends in %q", n, data[len(data)-20:])
	}
	if l := road.LengthM(); math.Abs(l-40_000) > 1e-6 {
		t.Errorf("road of %v m", l)
	}
}
