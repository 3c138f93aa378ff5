package route

import (
	"math"
	"strings"
	"testing"

	"github.com/tidwall/geodesic"
)

// courseOf is the course through positions in degrees, however far apart: the
// distances are tested on published geodesics, which no profile may contain.
func courseOf(t *testing.T, latLon ...float64) *course {
	t.Helper()
	tr := &Track{File: "r.gpx"}
	for i := 0; i < len(latLon); i += 2 {
		tr.Points = append(tr.Points, Point{LatDeg: latLon[i], LonDeg: latLon[i+1], HeightM: 10, HasHeight: true})
	}
	c, err := newCourse(tr, false)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func dms(d, m, s float64) float64 { return math.Copysign(math.Abs(d)+m/60+s/3600, d) }

func TestGeodesicDistances(t *testing.T) {
	const tolM = 1e-3
	for _, c := range []struct {
		what   string
		latLon []float64
		wantM  float64
	}{
		// Worked example of Geoscience Australia for the inverse problem,
		// Flinders Peak to Buninyong (from memory, recomputed). It is on GRS80,
		// whose flattening differs from WGS84's by 1.6e-11, below a micrometre here.
		{"Flinders Peak to Buninyong", []float64{dms(-37, 57, 3.72030), dms(144, 25, 29.52440), dms(-37, 39, 10.15610), dms(143, 55, 35.38390)}, 54_972.271},
		{"one degree of meridian, 45 to 46 north", []float64{45, 7, 46, 7}, 111_141.548},
		{"one degree of equator", []float64{0, 7, 0, 8}, 111_319.491},
		{"a hundredth of a degree at 46 north", []float64{46, 7, 46, 7.01}, 774.633},
		{"the same across 180 degrees", []float64{46, 179.995, 46, -179.995}, 774.633},
	} {
		got := courseOf(t, c.latLon...)
		if d := got.dist[1]; math.Abs(d-c.wantM) > tolM {
			t.Errorf("%s: %.4f m, want %.3f", c.what, d, c.wantM)
		}
		p, err := got.gridOf(got.dist[1] / 99)
		if err != nil {
			t.Fatal(err)
		}
		got.toGrid(p)
		for i, lon := range p.LonDeg {
			if math.Abs(lon) > 180 || c.latLon[1] > 179 && math.Abs(lon) < 179.99 {
				t.Fatalf("%s: longitude %v at node %d", c.what, lon, i)
			}
		}
	}
}

// TestLongGeodesic asks the library itself, as no profile may be this long:
// 40.6 N 73.8 W to 51.6 N 0.5 W (inputs: an example by C. F. F. Karney;
// length and azimuth derived, 5551.76 km as published, from memory).
func TestLongGeodesic(t *testing.T) {
	var m, azimuth float64
	geodesic.WGS84.Inverse(40.6, -73.8, 51.6, -0.5, &m, &azimuth, nil)
	if math.Abs(m-5_551_759.400) > 1e-3 || math.Abs(azimuth-51.1989) > 1e-4 {
		t.Errorf("%.4f m, %.5f degrees", m, azimuth)
	}
	// Our own course measures the same line, to refuse it.
	_, err := newCourse(&Track{File: "r.gpx", Points: []Point{
		{LatDeg: 40.6, LonDeg: -73.8, HeightM: 10, HasHeight: true}, {LatDeg: 51.6, LonDeg: -0.5, HeightM: 10, HasHeight: true},
	}}, false)
	if err == nil || !strings.Contains(err.Error(), "5551.8 km") {
		t.Errorf("refused with %v", err)
	}
}

// TestOutAndBackIsNoOutlier: the far point of a there-and-back stays.
func TestOutAndBackIsNoOutlier(t *testing.T) {
	if c := courseOf(t, 0, -20, 0, -19.95, 0.0001, -20); len(c.lat) != 3 || len(c.repairs) != 0 {
		t.Errorf("%d points stay, repairs %v", len(c.lat), c.repairs)
	}
}

// TestHeadingWhereMeridiansConverge: due east on the mean over 10 degrees of
// longitude at 80 north, though the geodesic sets out to the north of it.
func TestHeadingWhereMeridiansConverge(t *testing.T) {
	if a := courseOf(t, 80, 0, 80, 10).azimuth[0]; math.Abs(a-math.Pi/2) > 1e-6 {
		t.Errorf("heading %v", a)
	}
}
