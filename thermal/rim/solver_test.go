package rim

import (
	"fmt"
	"testing"
)

func byID(id string) Section {
	for _, s := range Rims() {
		if s.ID == id {
			return s
		}
	}
	panic("no rim " + id)
}

func padFor(s Section) Pad {
	for _, p := range Pads() {
		if p.ForComposite == s.Material.Composite {
			return p
		}
	}
	panic("no pad")
}

func TestLook(t *testing.T) {
	for _, sec := range Rims() {
		for _, c := range []struct{ w, air, v float64 }{{322, 293.15, 30 / 3.6}, {400, 311.15, 30 / 3.6}, {1200, 293.15, 0.01}} {
			for _, fine := range []float64{1, 2} {
				s, err := NewSolver(sec, padFor(sec), Options{Resolution: Resolution{Factor: fine}})
				if err != nil {
					t.Fatal(err)
				}
				s.Reset(c.air)
				dur := 600.0
				if c.w == 1200 {
					dur = 120
				}
				dt := 1 / fine
				for x := 0.0; x < dur; x += dt {
					v := c.v
					if c.w == 1200 {
						if err := s.Step(Drive{dt, c.w, 1, 32 / 3.6, 0, c.air, 101325}); err != nil {
							t.Fatal(err)
						}
						continue
					}
					if err := s.Step(Drive{dt, c.w, 1, v, v, c.air, 101325}); err != nil {
						t.Fatal(err)
					}
				}
				st := s.State()
				b := s.Balance()
				fmt.Printf("%-12s f%g n=%d %.0fg %4.0fW track %.1f hot %.1f contact %.1f mid %.1f inner %.1f tyreside %.1f bed %.1f spoke %.1f tyre %.1f pad %.1f share %.4f closes %.1e\n", sec.ID, fine, s.Cells(), s.MassKg()*1e3, c.w,
					st.SweptK-273.15, st.HottestK-273.15, st.ContactK-273.15, st.MidWallK-273.15, st.InnerWallK-273.15, st.TyreSideK-273.15, st.BedCentreK-273.15, st.SpokeBedK-273.15, st.TyreAirK-273.15, st.PadK-273.15,
					b.In/b.Braked, (b.In-b.Stored-b.Lost)/b.In)
			}
		}
	}
}

func BenchmarkStep(b *testing.B) {
	for _, id := range []string{"carbon-deep", "alu-classic"} {
		b.Run(id, func(b *testing.B) {
			sec := byID(id)
			s, err := NewSolver(sec, padFor(sec), Options{})
			if err != nil {
				b.Fatal(err)
			}
			b.ReportAllocs()
			i := 0
			for b.Loop() {
				i++
				w := 0.0
				if i%20 < 10 {
					w = 600
				}
				v := 8 + 3*float64(i%40)/40
				if err := s.Step(Drive{1, w, 1, v, v, 300, 101325}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
