package terrain

import (
	"archive/zip"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestBothSizesInAllForms reads tiles of the real sizes. The surface is the
// product of the distances from the tile's middle, in samples, where that is
// between -4000 and 4000 m: there bilinear interpolation is exact (derived).
func TestBothSizesInAllForms(t *testing.T) {
	at := square{-34, -71}
	// A degree near 71 is rounded by up to 7.1e-15, one near 34 by half of it,
	// which is 3.8e-11 of the spacing of 1 arc-second, at 32 m from sample to
	// sample: 1.2e-9 m. The test's own position costs as much.
	const within = 2.5e-9
	for _, side := range sidesOfHGT {
		n := side - 1
		raw := rawTile(at, side, func(c, r int) int {
			p := (c - at.lon*n - n/2) * (r - at.lat*n - n/2)
			return 4500 + max(-4000, min(4000, p))
		})
		for name, data := range map[string][]byte{
			"S34W071.hgt":             raw,
			"S34W071.hgt.gz":          gzipOf(t, raw),
			"s34w071.zip":             zipOf(t, member{"readme.txt", []byte("heights")}, member{"S34W071.hgt", raw}),
			"S34W071.hgt.zip":         zipOf(t, member{"s34w071.HGT", raw}),
			"S34W071.stored.zip":      zipBy(t, zip.Store, member{"S34W071.hgt", raw}),
			"S34W071.SRTMGL1.hgt.ZIP": zipOf(t, member{"S34/S34W071.SRTMGL1.hgt", raw}),
		} {
			dir := t.TempDir()
			write(t, dir, name, data)
			tiles, err := Open(dir)
			if err != nil {
				t.Fatal(err)
			}
			for i := range 60 {
				x, y := float64(i)-29.7, 31.4-0.9*float64(i)
				lat, lon := float64(at.lat)+0.5+y/float64(n), float64(at.lon)+0.5+x/float64(n)
				if got := mustHeight(t, tiles, lat, lon); math.Abs(got-4500-x*y) > within {
					t.Fatalf("%s: %v m at %v, %v, want %v", name, got, x, y, 4500+x*y)
				}
			}
			if got := cap(tiles.held[0].grid.raw); got > tileBytes(side)+1<<16 {
				t.Errorf("%s: %d bytes of memory", name, got)
			}
			used := tiles.Used()
			if len(used) != 1 || used[0].SpacingArcSec != 3600/float64(n) || used[0].File != filepath.Join(dir, name) {
				t.Errorf("used %+v", used)
			}
		}
	}
}

// TestMixedSpacings: a fine tile beside a coarse one of the same slope.
func TestMixedSpacings(t *testing.T) {
	dir := t.TempDir()
	write(t, dir, "N46E007.hgt", rawTile(square{46, 7}, 61, func(c, r int) int { return 100 + c - 7*60 }))
	write(t, dir, "N46E008.hgt", rawTile(square{46, 8}, 5, func(c, r int) int { return 100 + 15*(c-7*4) }))
	tiles := openSmall(t, dir)
	for lon := 7.01; lon < 9; lon += 0.013 {
		if got, want := mustHeight(t, tiles, 46.37, lon), 100+60*(lon-7); math.Abs(got-want) > exactM {
			t.Fatalf("%v m at %v, want %v", got, lon, want)
		}
	}
	if _, err := tiles.HeightAt(50.5, 7.5); err == nil {
		t.Error("a height without a tile")
	}
	want := []string{"heights from 1 elevation tile of 60 arc-seconds, about 1,853 m", "heights from 1 elevation tile of 900 arc-seconds, about 27,799 m"}
	if got := tiles.Notes(); strings.Join(got, "\n") != strings.Join(want, "\n") {
		t.Errorf("notes %q", got)
	}
}

func TestNotes(t *testing.T) {
	for arcSec, want := range map[float64]string{1: "1 arc-second, about 31 m", 3: "3 arc-seconds, about 93 m"} {
		if got := spacing(arcSec); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	// A nautical mile, the minute of latitude, is 1,852 m by definition; a mean
	// radius gives 1,853.2 m.
	if got := (Tile{SpacingArcSec: 60}).SpacingM(); math.Abs(got/1852-1) > 1e-3 {
		t.Errorf("a minute of latitude is %v m", got)
	}
	tiles := withVoids(t, [4]int{voidSample, 200, 300, 400})
	if got := tiles.Notes(); len(got) != 0 {
		t.Errorf("nothing was read: %q", got)
	}
	for _, p := range [][2]float64{{46.3, 7.3}, {46.4, 7.4}, {46.25, 7.25}} {
		_, _ = tiles.HeightAt(p[0], p[1])
	}
	want := []string{
		"heights from 1 elevation tile of 900 arc-seconds, about 27,799 m",
		"2 heights beside voids of the tiles, from fewer than four samples",
		"1 position in voids of the tiles, without height",
	}
	if got := tiles.Notes(); strings.Join(got, "\n") != strings.Join(want, "\n") {
		t.Errorf("notes %q", got)
	}
}

// TestCacheIsBounded goes round more tiles than are kept, and checks heights,
// their number in memory, and that this memory is used again.
func TestCacheIsBounded(t *testing.T) {
	dir := t.TempDir()
	for lon := range 7 {
		at := square{46, lon}
		side := []int{5, 61}[lon%2]
		write(t, dir, at.String()+".hgt", rawTile(at, side, func(c, r int) int { return 100 * lon }))
	}
	tiles := openSmall(t, dir)
	seen := map[*byte]bool{} // where the heights of the last round lay
	for round := range 4 {
		for lon := range 7 {
			for range 2 {
				if got := mustHeight(t, tiles, 46.5, float64(lon)+0.5); got != float64(100*lon) {
					t.Fatalf("round %d: %v m in tile %d", round, got, lon)
				}
			}
			if n := len(tiles.held); n > CachedTiles {
				t.Fatalf("%d tiles held", n)
			}
			if round == 3 {
				seen[&tiles.held[0].grid.raw[0]] = true
			}
		}
	}
	if len(seen) != CachedTiles {
		t.Errorf("%d places in memory for %d tiles", len(seen), CachedTiles)
	}
	// The four held are not read again, in whatever order they are asked for.
	if err := os.RemoveAll(dir); err != nil {
		t.Fatal(err)
	}
	for _, lon := range []int{6, 3, 5, 4, 4, 3, 6, 5, 3} {
		if got := mustHeight(t, tiles, 46.5, float64(lon)+0.5); got != float64(100*lon) {
			t.Fatalf("%v m in tile %d", got, lon)
		}
	}
	// One that is gone and not held is an error that says so.
	_, err := tiles.HeightAt(46.5, 0.5)
	wantFileError(t, err, filepath.Join(dir, "N46E000.hgt"), "no such file")
}

func TestHeightAtAllocatesNothing(t *testing.T) {
	tiles := withTiles(t, 61, func(c, r int) int { return 3 }, square{46, 7}, square{46, 8}, square{47, 7}, square{47, 8})
	at := [][2]float64{{46.9, 7.9}, {46.9, 8.1}, {47.1, 7.9}, {47.1, 8.1}, {47, 8}}
	for _, p := range at {
		mustHeight(t, tiles, p[0], p[1])
	}
	if n := testing.AllocsPerRun(100, func() {
		for _, p := range at {
			if h, err := tiles.HeightAt(p[0], p[1]); err != nil || h != 3 {
				t.Fatal(h, err)
			}
		}
	}); n != 0 {
		t.Errorf("%v allocations", n)
	}
}
