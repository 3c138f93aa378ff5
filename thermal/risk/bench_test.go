package risk

import "testing"

func BenchmarkNewDesign(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := NewDesign(10, 200, 14, 1); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkNewExpansion is what outputs share.
func BenchmarkNewExpansion(b *testing.B) {
	d := design(b, 10, 200, 14, 1)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := NewExpansion(d); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkFit is one output of 2,000 points in 14 inputs: one that needs many
// terms and one that needs few.
func BenchmarkFit(b *testing.B) {
	for _, k := range []known{normals(), pairs()} {
		b.Run(k.name, func(b *testing.B) {
			d := design(b, 10, 200, 14, 1)
			e, err := NewExpansion(d)
			if err != nil {
				b.Fatal(err)
			}
			y := over(d, k.f)
			b.ReportAllocs()
			for b.Loop() {
				if _, err := e.Fit(y); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func BenchmarkExceedance(b *testing.B) {
	d := design(b, 10, 200, 14, 1)
	y := over(d, pairs().f)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Exceedance(y, 200); err != nil {
			b.Fatal(err)
		}
	}
}
