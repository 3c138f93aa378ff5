package route_test

import (
	"strings"
	"testing"

	"rimheat/route"
)

func TestUnreadableHeights(t *testing.T) {
	comma := strings.NewReplacer(">115<", ">1115,5<", ">110<", ">1110,5<", ">105<", ">1105,5<", ">100<", ">1100,5<").Replace(body)
	for name, c := range map[string]struct {
		in, what, do string
		line         int
	}{
		"decimal comma": {comma, `none of the 4 heights can be read as a number (for example "1115,5")`, "decimal point", 2},
		"comma and none": {strings.Replace(comma, "<ele>1115,5</ele>", "", 1),
			`none of the 3 heights can be read as a number (for example "1110,5")`, "decimal point", 3},
		"comma and nonsense": {strings.Replace(comma, ">1115,5<", ">-32768<", 1),
			`none of the 4 points has a usable height; 3 cannot be read as a number (for example "1110,5")`, "decimal point", 3},
		"infinite": {strings.NewReplacer(">115<", ">Inf<", ">110<", ">NaN<", ">105<", ">-Inf<", ">100<", ">1e999<").Replace(body),
			`none of the 4 heights can be read as a number (for example "Inf")`, "decimal point", 2},
		"half": {strings.NewReplacer(">110<", ">bad<", ">105<", "><").Replace(body),
			`2 of 4 points have no height, more than 20 %; 1 height cannot be read as a number (for example "bad")`, "decimal point", 3},
	} {
		e := loadError(t, doc(c.in))
		if e.What != c.what || !strings.Contains(e.Do, c.do) || e.Line != c.line {
			t.Errorf("%s: line %d: %s; %s", name, e.Line, e.What, e.Do)
		}
	}
	tr, err := read(doc(strings.Replace(body, ">110<", ">bad&#x9;\"<", 1)))
	if err != nil || len(tr.Repairs) != 1 || tr.Repairs[0].Text != `1 height not a number, taken as lacking; the first, "bad\t\"", in line 3` {
		t.Errorf("%v, %v", err, tr)
	}
}

// TestTracksWithHeightsAreNamed: where the longest track lacks heights the
// refusal says which other one has them, and following it works.
func TestTracksWithHeightsAreNamed(t *testing.T) {
	bare := strings.NewReplacer("invented", "bare", "<ele>", "<x>", "</ele>", "</x>", `"0.003"`, `"0.004"`).Replace(body)
	zero := strings.NewReplacer("invented", "zero", ">115<", ">0<", ">110<", ">0<", ">105<", ">0<", ">100<", ">0<", `"0.003"`, `"0.0035"`).Replace(body)
	short := strings.NewReplacer("invented", "short", `"0.003"`, `"0.0025"`).Replace(body)
	in := doc(bare + zero + short + body)
	e := loadError(t, in)
	if want := `the track "invented" of the file has heights: choose it with --track 4`; e.What != "none of the 4 points has a height" || e.Do != want {
		t.Errorf("%s; %s", e.What, e.Do)
	}
	p, err := route.Load("-", strings.NewReader(in), route.Options{Track: "4"})
	if err != nil || p.Name != "invented" {
		t.Errorf("%v, %v", p, err)
	}
	if e := loadError(t, doc(zero+short)); !strings.HasPrefix(e.What, "all 4 heights are zero") || !strings.Contains(e.Do, "--track 2") {
		t.Errorf("%s; %s", e.What, e.Do)
	}
	rte := strings.NewReplacer("<trkseg>", "", "</trkseg>", "", "trkpt", "rtept", "trk", "rte").Replace(body)
	if e := loadError(t, doc(rte+bare)); e.Do != `the route "invented" of the file has heights: choose it with --track 2` {
		t.Errorf("%s; %s", e.What, e.Do)
	}
	if e := loadError(t, doc(bare+zero)); e.Do != "add heights in a route planner, or name a folder of elevation tiles with --heights" {
		t.Errorf("%s; %s", e.What, e.Do)
	}
}
