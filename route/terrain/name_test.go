package terrain

import "testing"

func TestSquareOf(t *testing.T) {
	for name, want := range map[string]square{
		"N46E007.hgt":             {46, 7},
		"n46e007.HGT":             {46, 7},
		"S01W072.hgt.gz":          {-1, -72},
		"N00E000":                 {0, 0},
		"S90W180.zip":             {-90, -180},
		"N89E179.SRTMGL1.hgt.zip": {89, 179},
		"N46E007_other.zip":       {46, 7},
	} {
		if got, ok := squareOf(name); !ok || got != want {
			t.Errorf("%s: %v %v, want %v", name, got, ok, want)
		}
	}
	for _, name := range []string{
		"", "N46E00", "N46E0071.hgt", "N46E007a.hgt", "X46E007.hgt", "N46X007.hgt", "N4aE007.hgt", "N46E-07.hgt", "N+6E007.hgt",
		"N90E007.hgt", "S91E007.hgt", "S00E007.hgt", "N46E180.hgt", "N46W181.hgt", "N46W000.hgt", "._N46E007.hgt", "N4\u0666E007.hgt",
	} {
		if got, ok := squareOf(name); ok {
			t.Errorf("%q taken for %v", name, got)
		}
	}
	// Every square's name leads back to it.
	for lat := -90; lat < 90; lat++ {
		for lon := -180; lon < 180; lon++ {
			s := square{lat, lon}
			if got, ok := squareOf(s.String()); !ok || got != s || len(s.String()) != nameLength {
				t.Fatalf("%v: %v %v", s, got, ok)
			}
		}
	}
}
