package route_test

import (
	"fmt"
	"strings"
	"testing"

	"rimheat/route"
)

func TestDeepNestingIsPassedOver(t *testing.T) {
	const depth = 200_000
	in := doc("<extensions>" + strings.Repeat("<a>", depth) + strings.Repeat("</a>", depth) + "</extensions>" + body)
	if tr, err := read(in); err != nil || len(tr.Points) != 4 {
		t.Fatal(err)
	}
}

func TestEntityBombIsRefused(t *testing.T) {
	var b strings.Builder
	b.WriteString(`<!DOCTYPE gpx [<!ENTITY e0 "x">`)
	for i := 1; i < 12; i++ {
		fmt.Fprintf(&b, `<!ENTITY e%d "%s">`, i, strings.Repeat(fmt.Sprintf("&e%d;", i-1), 10))
	}
	b.WriteString("]>" + strings.Replace(doc(body), "invented", "&e11;", 1))
	if e := loadError(t, b.String()); !strings.Contains(e.What, "&e11;") {
		t.Error(e)
	}
}

func TestLongRoutesAreRefused(t *testing.T) {
	e := loadError(t, doc(strings.Replace(body, `lat="0.003"`, `lat="33"`, 1)))
	if !strings.Contains(e.What, "more than 2000.0 km") || !strings.Contains(e.What, "after point 3") || e.Line != 4 {
		t.Error(e)
	}
	tr := &route.Track{File: "r.gpx"}
	for i := range 5600 { // 221 m apart, 1,238 km in all
		tr.Points = append(tr.Points, route.Point{LatDeg: float64(i) * 0.002, LonDeg: -20, HeightM: 10, HasHeight: true})
	}
	if _, err := route.NewProfile(tr, route.Options{SpacingM: 0.5}); err == nil || !strings.Contains(err.Error(), "larger grid step") {
		t.Error(err)
	}
}
