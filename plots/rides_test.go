package plots

import (
	"io"
	"path/filepath"
	"testing"

	"rimheat/route"
	"rimheat/thermal"
)

// TestAssessedRides draws the demonstration routes as the model assesses
// them, with the riding styles that give the smoothest and the most ragged
// curves, and holds them to the layout rules.
func TestAssessedRides(t *testing.T) {
	files, err := filepath.Glob("../testdata/*.gpx")
	if err != nil || len(files) == 0 {
		t.Fatalf("no demonstration routes: %v", err)
	}
	for _, file := range files {
		p, err := route.Load(file, nil, route.Options{})
		if err != nil {
			t.Fatal(err)
		}
		for _, id := range []string{"cautious", "brisk"} {
			s := thermal.DefaultSetup()
			s.Style, _ = thermal.StyleByID(id)
			a, err := thermal.Assess(p, s)
			if err != nil {
				t.Fatal(err)
			}
			sc := mustCompose(t, a, Options{}, false)
			checkFigure(t, a, sc)
			checkRimsNamed(t, sc, len(a.Rims), false)
			marks := map[int]bool{}
			for _, sh := range sc.shapes {
				if sh.role == roleCrossing {
					marks[sh.rim] = true
				}
			}
			for i, r := range a.Rims {
				if over := r.Verdict == thermal.Over; over != marks[i] {
					t.Errorf("%s, %s: rim %s is %s, crossing marked: %t", file, id, r.ID, r.Verdict, marks[i])
				}
			}
			if err := Save(io.Discard, "svg", a, Options{}); err != nil {
				t.Error(err)
			}
		}
	}
}
