package route_test

import (
	"errors"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"rimheat/route"
)

// realRoutes is the folder of real routes and awkward files beside the
// repository; they are not part of it, and without them the test is skipped.
func realRoutes(t *testing.T) string {
	t.Helper()
	dir := filepath.Join("..", "..", "shared", "gpx")
	if _, err := os.Stat(dir); err != nil {
		t.Skip("no folder of real routes")
	}
	return dir
}

// TestRealRoutes: every file gives a sound profile or an *InputError.
func TestRealRoutes(t *testing.T) {
	files, err := filepath.Glob(filepath.Join(realRoutes(t), "*", "*.gpx"))
	if err != nil || len(files) == 0 {
		t.Fatal("no files", err)
	}
	for _, f := range files {
		t.Run(filepath.Base(f), func(t *testing.T) {
			p, err := route.Load(f, nil, route.Options{})
			if err != nil {
				var e *route.InputError
				if !errors.As(err, &e) || e.What == "" {
					t.Errorf("%T: %v", err, err)
				}
				return
			}
			sound(t, p)
		})
	}
}

func TestRealRefusals(t *testing.T) {
	dir := filepath.Join(realRoutes(t), "awkward")
	for code, what := range map[string]string{
		"S20": "0 bytes",
		"S01": "entity",
		"S02": "entity",
		"B14": "none of the",
		"B17": "none of the 55 points has a height",
		"B25": `lat="undefined"`,
		"B46": "out of range",
		"B55": "steeper than 30 %",
		"B23": "none with a point",
		"B11": "apart on average",
		"B35": "the points lie 37.3 km apart on average",
		"B47": "the points lie 458.7 km apart on average",
		"B28": `the track "LAP 1" of the file has heights: choose it with --track 6`,
		"B04": "only waypoints",
		"B07": "only one point",
	} {
		files, err := filepath.Glob(filepath.Join(dir, code+"_*.gpx"))
		if err != nil || len(files) != 1 {
			t.Errorf("%s: %d files, %v", code, len(files), err)
			continue
		}
		_, err = route.Load(files[0], nil, route.Options{})
		if err == nil || !strings.Contains(err.Error(), what) {
			t.Errorf("%s: %v, want %q", code, err, what)
		}
	}
}

func TestRealDescents(t *testing.T) {
	dir := realRoutes(t)
	longest := func(file string) (route.Descent, *route.Profile) {
		p, err := route.Load(filepath.Join(dir, file), nil, route.Options{})
		if err != nil {
			t.Fatal(err)
		}
		var best route.Descent
		for _, d := range p.Descents {
			if d.DropM > best.DropM {
				best = d
			}
		}
		return best, p
	}
	// Lengths and drops are those noted with the files; the rules by which
	// they were measured are not known, hence 6 %.
	const tol = 0.06
	for _, c := range []struct {
		file           string
		lengthM, dropM float64
	}{
		{"planned/two_cols_196km.gpx", 22_600, 1488},
		{"recorded/fjord_400km_6s.gpx", 20_700, 1361},
		{"recorded/drag_hill_day1_1hz.gpx", 8_400, 0.062 * 8_400},
	} {
		d, _ := longest(c.file)
		if math.Abs((d.EndM-d.StartM)/c.lengthM-1) > tol || math.Abs(d.DropM/c.dropM-1) > tol {
			t.Errorf("%s: %.0f m long, %.0f m down; noted %.0f and %.0f", c.file, d.EndM-d.StartM, d.DropM, c.lengthM, c.dropM)
		}
	}
	if _, p := longest("planned/flat_170km.gpx"); len(p.Descents) != 0 || repaired(p.Repairs, "height-filled") != 3 {
		t.Errorf("flat course: descents %+v, repairs %v", p.Descents, p.Repairs)
	}
	_, p := longest("recorded/motor_day_293km_gaps.gpx")
	for _, d := range p.Descents {
		if d.SteepestGrade < -0.2 {
			t.Errorf("gaps: false descent %+v", d)
		}
	}
	if repaired(p.Repairs, "gap") != 5 || repaired(p.Repairs, "too-steep") == 0 {
		t.Errorf("gaps: repairs %v", p.Repairs)
	}
	gaps := 0
	for _, s := range p.Doubtful {
		if strings.Contains(s.Why, "a gap of ") {
			gaps++
		}
	}
	if gaps != 5 || len(p.Doubtful) <= gaps {
		t.Errorf("gaps: doubtful %v", p.Doubtful)
	}
}

func TestRealTimeOffsets(t *testing.T) {
	f, err := os.Open(filepath.Join(realRoutes(t), "awkward", "S26_time_offsets_mixed.gpx"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	tr, err := route.Read(f, "S26", route.Options{})
	if err != nil {
		t.Fatal(err)
	}
	for i := 1; i < len(tr.Points); i++ {
		if d := tr.Points[i].Time.Sub(tr.Points[i-1].Time); d < 9*time.Second || d > 11*time.Second {
			t.Errorf("step %d takes %v", i, d)
		}
	}
}
