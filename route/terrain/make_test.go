package terrain

import (
	"archive/zip"
	"bytes"
	"compress/gzip"
	"encoding/binary"
	"math"
	"os"
	"path/filepath"
	"testing"
)

// A surface is the height in metres at a column and a row of samples, counted
// from longitude 0 and latitude 0 over the whole Earth.
type surface func(column, row int) int

// rawTile is the tile of the square at, as its file has it.
func rawTile(at square, side int, z surface) []byte {
	raw := make([]byte, 0, tileBytes(side))
	for r := side - 1; r >= 0; r-- {
		for c := range side {
			raw = binary.BigEndian.AppendUint16(raw, uint16(int16(z(at.lon*(side-1)+c, at.lat*(side-1)+r))))
		}
	}
	return raw
}

const voidSample = math.MinInt16

func gzipOf(t testing.TB, data []byte) []byte {
	t.Helper()
	var b bytes.Buffer
	w, err := gzip.NewWriterLevel(&b, gzip.BestSpeed)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := w.Write(data); err != nil {
		t.Fatal(err)
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// A member is a file in an archive.
type member struct {
	name string
	data []byte
}

func zipOf(t testing.TB, members ...member) []byte {
	t.Helper()
	return zipBy(t, zip.Deflate, members...)
}

// zipBy makes an archive by a method of compression, or none (zip.Store).
func zipBy(t testing.TB, method uint16, members ...member) []byte {
	t.Helper()
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for _, m := range members {
		w, err := z.CreateHeader(&zip.FileHeader{Name: m.name, Method: method})
		if err != nil {
			t.Fatal(err)
		}
		if _, err := w.Write(m.data); err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func write(t testing.TB, dir, name string, data []byte) {
	t.Helper()
	path := filepath.Join(dir, name)
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, data, 0o644); err != nil {
		t.Fatal(err)
	}
}

// openSmall opens dir for tiles of 5 x 5 or 61 x 61 samples: the arithmetic is
// that of the real sizes, the files are not.
func openSmall(t testing.TB, dir string) *Tiles {
	t.Helper()
	tiles, err := open(dir, []int{5, 61}, maxEntries)
	if err != nil {
		t.Fatal(err)
	}
	return tiles
}

// withTiles writes tiles of one surface and opens them.
func withTiles(t testing.TB, side int, z surface, at ...square) *Tiles {
	t.Helper()
	dir := t.TempDir()
	for _, s := range at {
		write(t, dir, s.String()+".hgt", rawTile(s, side, z))
	}
	return openSmall(t, dir)
}

func mustHeight(t testing.TB, tiles *Tiles, lat, lon float64) float64 {
	t.Helper()
	h, err := tiles.HeightAt(lat, lon)
	if err != nil {
		t.Fatalf("at %v, %v: %v", lat, lon, err)
	}
	return h
}

// openSmallOf opens a folder with a copy of one of dir's files.
func openSmallOf(t testing.TB, dir, name string) *Tiles {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(dir, name))
	if err != nil {
		t.Fatal(err)
	}
	one := t.TempDir()
	write(t, one, name, data)
	return openSmall(t, one)
}
