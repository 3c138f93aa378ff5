package thermal

import "fmt"

// massCaution speaks up if no rim has this mass, kg.
func massCaution(kg float64) string {
	if kg >= lightestRimKg && kg <= heaviestRimKg {
		return ""
	}
	return fmt.Sprintf("Geometry and density give a rim of %.0f g; no rim lies outside %.0f to %.0f g (common practice, no source): check the lengths.", kg*1e3, lightestRimKg*1e3, heaviestRimKg*1e3)
}
