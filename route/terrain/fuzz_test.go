package terrain

import (
	"encoding/binary"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// FuzzTile puts any bytes under any name into a folder and asks for a height
// twice: no panic, errors of the kinds promised, and a height that lies within
// those of the tile.
func FuzzTile(f *testing.F) {
	raw := rawTile(square{46, 7}, 5, func(c, r int) int {
		if (c+r)%3 == 0 {
			return voidSample
		}
		return 100 + (c*31+r*17)%900
	})
	f.Add("N46E007.hgt", raw, 46.3, 7.6)
	f.Add("n46e007.HGT", raw[:33], 46.0, 8.0)
	f.Add("N46E007.hgt.gz", gzipOf(f, raw), 46.99, 7.01)
	f.Add("N46E007.SRTMGL1.hgt.zip", zipOf(f, member{"N46E007.hgt", raw}), 46.5, 7.5)
	f.Add("N46E007.zip", zipOf(f, member{"../N46E007.hgt", raw}), 46.5, 7.5)
	f.Add("S01W180.hgt", raw, -0.25, 180.0)
	f.Add("N89E000.hgt", raw, 90.0, -0.0)
	f.Add("S90W001.hgt", raw, -90.0, -1e-300)
	f.Fuzz(func(t *testing.T, name string, data []byte, lat, lon float64) {
		if name == "" || len(name) > 100 || strings.ContainsAny(name, "/\\\x00:") || name == "." || name == ".." {
			return
		}
		dir := t.TempDir()
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, data, 0o644); err != nil {
			t.Skip("no such name here")
		}
		tiles, err := open(dir, []int{3, 5}, maxEntries)
		if err != nil {
			if fe, ok := err.(*FileError); !ok || fe.File != dir {
				t.Fatalf("%#v", err)
			}
			return
		}
		h, err := tiles.HeightAt(lat, lon)
		again, errAgain := tiles.HeightAt(lat, lon)
		if h != again || (err == nil) != (errAgain == nil) {
			t.Fatalf("%v %v, then %v %v", h, err, again, errAgain)
		}
		counts := tiles.Counts()
		switch e := err.(type) {
		case nil:
			low, high := 10_000.0, -10_000.0
			held := tiles.held[0].grid.raw
			for i := 0; i < len(held); i += 2 {
				if s := int16(binary.BigEndian.Uint16(held[i:])); s >= minHeightM && s <= maxHeightM {
					low, high = min(low, float64(s)), max(high, float64(s))
				}
			}
			// Weights add to one but for rounding, 1e-15 of at most 9,000 m.
			if !(h >= low-1e-9 && h <= high+1e-9) {
				t.Fatalf("%v m, of heights from %v to %v", h, low, high)
			}
			if counts.Heights != 2 || counts.Voids+counts.Missing != 0 {
				t.Fatalf("counts %+v", counts)
			}
		case *VoidError:
			if e.File != path || counts != (Counts{Voids: 2}) {
				t.Fatalf("%v, counts %+v", e, counts)
			}
		case *MissingTileError:
			if e.Dir != dir || counts != (Counts{Missing: 2}) {
				t.Fatalf("%v, counts %+v", e, counts)
			}
		case *FileError:
			if e.File != path || e.What == "" || e.Do == "" || counts != (Counts{}) {
				t.Fatalf("%v, counts %+v", e, counts)
			}
		case *PositionError:
			if counts != (Counts{}) {
				t.Fatalf("%v, counts %+v", e, counts)
			}
		default:
			t.Fatalf("%T %v", err, err)
		}
		for _, note := range tiles.Notes() {
			if note == "" {
				t.Fatal("an empty note")
			}
		}
	})
}
