package thermal

import "testing"

func TestMassCaution(t *testing.T) {
	for kg, want := range map[float64]string{
		0.5: "", 0.2: "", 0.9: "",
		0.15: "Geometry and density give a rim of 150 g; no rim lies outside 200 to 900 g (common practice, no source): check the lengths.",
		1.2:  "Geometry and density give a rim of 1200 g; no rim lies outside 200 to 900 g (common practice, no source): check the lengths.",
	} {
		if got := massCaution(kg); got != want {
			t.Errorf("%g kg: %q", kg, got)
		}
	}
}
