package main

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"
)

// The rows of descents fit on 80 columns with two rims beside them, and say
// where a descent has no corner.
func TestDescentRows(t *testing.T) {
	for _, imperial := range []bool{false, true} {
		var b bytes.Buffer
		textView{units: screenUnits{imperial: imperial}}.descents(&b, sample())
		var rows []string
		for _, line := range strings.Split(b.String(), "\n") {
			if runes(line) > 80 {
				t.Errorf("%d runes: %s", runes(line), line)
			}
			if f := strings.Fields(line); len(f) == 13 && f[0] != "no" {
				rows = append(rows, strings.Join(f[7:9], " "))
			}
		}
		want := []string{"12 9", "0 -"}
		if imperial {
			want[0] = "12 31"
		}
		if strings.Join(rows, ", ") != strings.Join(want, ", ") {
			t.Errorf("hairpins and sharpest bends %q, want %q", rows, want)
		}
	}
}

// A descent without a corner has no sharpest one in JSON.
func TestJSONLeavesOutNoCorner(t *testing.T) {
	out, err := assessmentJSON(sample())
	if err != nil {
		t.Fatal(err)
	}
	var back struct{ Descents []map[string]any }
	if err := json.Unmarshal(out, &back); err != nil {
		t.Fatal(err)
	}
	a, b := back.Descents[0], back.Descents[1]
	if a["hairpins"] != 12.0 || a["sharpest_corner_m"] != 9.3 || b["hairpins"] != 0.0 {
		t.Errorf("%v, %v", a, b)
	}
	if v, ok := b["sharpest_corner_m"]; ok {
		t.Errorf("a straight descent has a corner of %v m", v)
	}
}
