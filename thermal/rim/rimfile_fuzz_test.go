package rim

import (
	"errors"
	"testing"
)

// Whatever a rim file holds, the answer is a section that the solver takes or
// mistakes with places; what is accepted can be written and read back.
func FuzzParseFile(f *testing.F) {
	for _, s := range Rims() {
		f.Add(FileText(s))
	}
	f.Add([]byte(ownLaminate))
	f.Add([]byte("[surface_material]\nx = 1\n"))
	f.Fuzz(func(t *testing.T, text []byte) {
		s, err := ParseFile("r.toml", text)
		if err != nil {
			var all FileErrors
			if !errors.As(err, &all) || len(all) == 0 {
				t.Fatalf("%T %v", err, err)
			}
			for _, e := range all {
				if e.File != "r.toml" || e.What == "" {
					t.Errorf("%+v", e)
				}
			}
			return
		}
		if err := s.Validate(); err != nil {
			t.Fatal(err)
		}
		again, err := ParseFile("r.toml", FileText(s))
		if err != nil {
			t.Fatalf("%v\n%s", err, FileText(s))
		}
		if again.Geometry != s.Geometry || again.MakerLimitK != s.MakerLimitK || again.MaxGaugePa != s.MaxGaugePa || again.Surface.ThicknessM != s.Surface.ThicknessM {
			t.Errorf("%+v\nread back as %+v", s, again)
		}
		// The mesh of the smallest accepted lengths must stay one that can be
		// solved; its size is bounded by the bounds of the lengths.
		if n := newMesh(s, Resolution{}).n; n < 10 || n > 40000 {
			t.Errorf("%d cells", n)
		}
	})
}
