package terrain

import (
	"math/rand/v2"
	"path/filepath"
	"testing"
)

// BenchmarkHeightAt asks for positions in four tiles of 1 arc-second, all held
// in memory, along a road of 100,000 points and at random.
func BenchmarkHeightAt(b *testing.B) {
	dir := b.TempDir()
	for _, at := range []square{{46, 7}, {46, 8}, {47, 7}, {47, 8}} {
		write(b, dir, at.String()+".hgt", rawTile(at, 3601, func(c, r int) int { return 500 + (c*7+r*13)%999 }))
	}
	tiles, err := Open(dir)
	if err != nil {
		b.Fatal(err)
	}
	const n = 100_000
	along, random := make([][2]float64, n), make([][2]float64, n)
	rng := rand.New(rand.NewPCG(5, 6))
	for i := range n {
		s := 2 * float64(i) / n
		along[i] = [2]float64{46 + s, 7 + s}
		random[i] = [2]float64{46 + 2*rng.Float64(), 7 + 2*rng.Float64()}
	}
	for _, road := range []struct {
		name   string
		points [][2]float64
	}{{"along", along}, {"random", random}} {
		points := road.points
		b.Run(road.name, func(b *testing.B) {
			for _, p := range points {
				mustHeight(b, tiles, p[0], p[1])
			}
			b.ReportAllocs()
			i := 0
			for b.Loop() {
				if _, err := tiles.HeightAt(points[i][0], points[i][1]); err != nil {
					b.Fatal(err)
				}
				if i++; i == n {
					i = 0
				}
			}
		})
	}
}

// BenchmarkReadTile reads a tile of 1 arc-second from each of its forms into
// memory that is already there. Real terrain packs less well than these
// heights and takes longer to unpack.
func BenchmarkReadTile(b *testing.B) {
	at := square{46, 7}
	raw := rawTile(at, 3601, func(c, r int) int { return 500 + (c/5+r/3)%999 })
	dir := b.TempDir()
	for _, f := range []struct {
		name   string
		packed packing
		data   []byte
	}{
		{"N46E007.hgt", plain, raw},
		{"N46E007.hgt.gz", gzipped, gzipOf(b, raw)},
		{"N46E007.zip", zipped, zipOf(b, member{"N46E007.hgt", raw})},
	} {
		write(b, dir, f.name, f.data)
		b.Run(f.name, func(b *testing.B) {
			source := file{path: filepath.Join(dir, f.name), packed: f.packed}
			buf := make([]byte, tileBytes(3601)+1)
			b.SetBytes(int64(len(raw)))
			for b.Loop() {
				if _, err := source.read(at, sidesOfHGT, buf); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
