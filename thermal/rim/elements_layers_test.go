package rim

import (
	"fmt"
	"math"
	"os/exec"
	"path/filepath"
	"testing"
)

// layeredCases reads the finite-element cases of sections with a skin and a
// fairing; see testdata/finite_elements/layers.edp.
func layeredCases(t *testing.T) []elementsCase {
	t.Helper()
	return readCases(t, "layered", 4, func(in string, g *Geometry, c *elementsCase) (edgeM float64, err error) {
		var skinM, fairM float64
		var m [3][3]float64 // wall, skin, fairing: along, through, density times specific heat
		_, err = fmt.Sscan(in, &g.OuterWidthM, &g.InnerWidthM, &g.DepthM, &g.TrackHeightM, &g.TrackBelowEdgeM, &g.BedBelowEdgeM,
			&g.BedM, &g.FlankM, &g.SpokeBedM, &edgeM, &m[0][0], &m[0][1], &m[0][2], &skinM, &m[1][0], &m[1][1], &m[1][2], &fairM, &m[2][0], &m[2][1], &m[2][2],
			&c.film, &c.flux, &c.on, &c.off, &c.heat, &c.coolFilm, &c.end, &c.dt, &c.every)
		of := func(k int) Material {
			x := bare(m[k][1], m[k][2]/1000, 1000, *g).Material
			x.ID, x.ConductivityAlong.Value = "part", m[k][0]
			return x
		}
		c.sec = Section{ID: "layered", Kind: "clincher", Material: of(0)}
		if skinM > 0 {
			c.sec.Surface = Layer{Material: of(1), ThicknessM: skinM}
		}
		if fairM < g.DepthM {
			c.sec.Fairing = Fairing{Material: of(2), BelowEdgeM: fairM}
		}
		return edgeM, err
	})
}

// Source: finite elements (FreeFem++, quadratic triangles on a grid that
// follows every border; halving its cells moves its samples by less than 0.04
// K), kept results. A basalt skin on carbon in pulses, a metal skin on carbon,
// a metal track with a carbon fairing, and a basalt skin on such a track,
// heated and cooled: every sample of every place as close as for sections of
// one material.
func TestLayersAgainstFiniteElements(t *testing.T) {
	for _, mesh := range []struct {
		name            string
		fine, abs, part float64
	}{{"1.4 times finer", 1.4, 0.5, 0.01}, {"route", 1, 0.8, 0.016}} {
		for _, c := range layeredCases(t) {
			var worst float64
			where := ""
			cells := c.solve(t, mesh.fine, func(ours, theirs elementsSample) {
				for k, want := range theirs.places {
					if e := math.Abs(ours.places[k]-want) / math.Max(mesh.abs, mesh.part*want); e > worst {
						worst = e
						where = fmt.Sprintf("%s at %g s: %.2f K, elements %.2f K", elementsPlaces[k], ours.t, ours.places[k], want)
					}
				}
			})
			t.Logf("%s mesh, %s (%d cells): worst %.0f %% of what is allowed: %s", mesh.name, c.name, cells, 100*worst, where)
			if worst > 1 {
				t.Errorf("%s mesh, %s: %s", mesh.name, c.name, where)
			}
		}
	}
}

// Where FreeFem++ is installed, the kept results are what it gives.
func TestLayeredFiniteElementsAgain(t *testing.T) {
	solver, err := exec.LookPath("FreeFem++")
	if err != nil {
		t.Skip("FreeFem++ is not installed (Debian packages freefem++ and libfreefem++)")
	}
	if testing.Short() {
		t.Skip("takes some seconds")
	}
	c := layeredCases(t)[0]
	out, err := exec.Command(solver, "-nw", "-v", "0", filepath.Join(elementsDir(), "layers.edp"), "-in", filepath.Join(elementsDir(), "layered", c.name+".txt")).Output()
	if err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	again := readSamples(t, out)
	if len(again) != len(c.samples) {
		t.Fatalf("%d samples, kept %d", len(again), len(c.samples))
	}
	for i, s := range again {
		for k, v := range s.places {
			if math.Abs(v-c.samples[i].places[k]) > 0.05 {
				t.Errorf("%g s, %s: %.4f K, kept %.4f K", s.t, elementsPlaces[k], v, c.samples[i].places[k])
			}
		}
	}
}
