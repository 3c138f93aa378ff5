package terrain

import (
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
)

// wantFileError checks that err names the file and holds the words, among
// them what to do.
func wantFileError(t *testing.T, err error, file string, words ...string) {
	t.Helper()
	fe, ok := err.(*FileError)
	if !ok {
		t.Errorf("%T %v, want a *FileError", err, err)
		return
	}
	if fe.File != file || fe.What == "" || fe.Do == "" {
		t.Errorf("%#v, want file %s, what and what to do", fe, file)
	}
	for _, w := range words {
		if !strings.Contains(err.Error(), w) {
			t.Errorf("%q lacks %q", err, w)
		}
	}
}

func TestOpenRefuses(t *testing.T) {
	dir := t.TempDir()
	none := filepath.Join(dir, "none")
	_, err := Open(none)
	wantFileError(t, err, none, "no such file or folder; check the name")

	write(t, dir, "route.gpx", nil)
	single := filepath.Join(dir, "route.gpx")
	_, err = Open(single)
	wantFileError(t, err, single, "is not a folder; name the folder")

	// Not tiles: other names, other endings, and two folders down.
	for _, name := range []string{"N46E007.tif", "N46E007.gz", "N99E007.hgt", "a/b/N46E007.hgt"} {
		write(t, dir, name, nil)
	}
	_, err = Open(dir)
	wantFileError(t, err, dir, "no elevation tile in it", "N46E007.hgt.gz", "unpack archives of many tiles")

	_, err = Open("")
	wantFileError(t, err, "", "check the name")
	_, err = Open("a\x00b")
	wantFileError(t, err, "a\x00b", "cannot be read")
}

func TestOpenLooksAtSoMuchOnly(t *testing.T) {
	dir := t.TempDir()
	for _, name := range []string{"N46E007.hgt", "x1", "y/x2", "y/x3"} { // with y five entries
		write(t, dir, name, nil)
	}
	if _, err := open(dir, []int{5}, 5); err != nil {
		t.Error(err)
	}
	for limit := 1; limit < 5; limit++ {
		_, err := open(dir, []int{5}, limit)
		wantFileError(t, err, dir, "files and folders; name a folder that holds elevation tiles only")
	}
}

func TestFoundOneFolderDown(t *testing.T) {
	dir := t.TempDir()
	z := func(c, r int) int { return 600 }
	write(t, dir, "N46/n46e007.HGT", rawTile(square{46, 7}, 5, z))
	write(t, dir, "S02/S02W072.hgt.gz", gzipOf(t, rawTile(square{-2, -72}, 5, z)))
	other := t.TempDir()
	write(t, other, "N10E010.hgt", rawTile(square{10, 10}, 5, z))
	if err := os.Symlink(other, filepath.Join(dir, "linked")); err != nil {
		t.Log("no links here:", err)
		write(t, dir, "linked/N10E010.hgt", rawTile(square{10, 10}, 5, z))
	}
	tiles := openSmall(t, dir)
	for _, p := range [][2]float64{{46.5, 7.5}, {-1.5, -71.5}, {10.5, 10.5}} {
		if got := mustHeight(t, tiles, p[0], p[1]); got != 600 {
			t.Errorf("%v: %v m", p, got)
		}
	}
	want := []Tile{
		{Name: "N10E010", File: filepath.Join(dir, "linked", "N10E010.hgt"), SpacingArcSec: 900},
		{Name: "N46E007", File: filepath.Join(dir, "N46", "n46e007.HGT"), SpacingArcSec: 900},
		{Name: "S02W072", File: filepath.Join(dir, "S02", "S02W072.hgt.gz"), SpacingArcSec: 900},
	}
	if got := tiles.Used(); !reflect.DeepEqual(got, want) {
		t.Errorf("used %+v\nwant %+v", got, want)
	}
}

func TestLockedFolderIsTold(t *testing.T) {
	if os.Geteuid() == 0 {
		t.Skip("nothing is locked to this user")
	}
	dir := t.TempDir()
	write(t, dir, "N46E007.hgt", rawTile(square{46, 7}, 5, func(c, r int) int { return 1 }))
	locked := filepath.Join(dir, "locked")
	if err := os.Mkdir(locked, 0); err != nil {
		t.Fatal(err)
	}
	notes := openSmall(t, dir).Notes()
	if len(notes) != 1 || !strings.Contains(notes[0], locked) {
		t.Errorf("%q", notes)
	}
}

func TestMissingTile(t *testing.T) {
	dir := t.TempDir()
	write(t, dir, "N46E007.hgt", rawTile(square{46, 7}, 5, func(c, r int) int { return 1 }))
	tiles := openSmall(t, dir)
	for _, c := range []struct {
		lat, lon float64
		name     string
	}{
		{46.5, 8.5, "N46E008.hgt"},
		{-0.1, -71.9, "S01W072.hgt"},
		{44, 7.5, "N44E007.hgt"},
		{0, 180, "N00W180.hgt"},
		{90, 0.5, "N89E000.hgt"},
		{-90, 0.5, "S90E000.hgt"},
	} {
		_, err := tiles.HeightAt(c.lat, c.lon)
		missing, ok := err.(*MissingTileError)
		if !ok || missing.Name != c.name || missing.Dir != dir {
			t.Errorf("%v, %v: %#v", c.lat, c.lon, err)
			continue
		}
		want := "no tile " + c.name + " in " + dir + "; put it there (or it packed, as " + c.name + ".gz or .zip), or name the folder that holds it"
		if err.Error() != want {
			t.Errorf("%q, want %q", err, want)
		}
	}
	if got := tiles.Counts(); got != (Counts{Missing: 6}) {
		t.Errorf("counts %+v", got)
	}
}

// TestWhichOfSeveral gives each file a height of its own, so that the height
// tells which was read.
func TestWhichOfSeveral(t *testing.T) {
	at := square{46, 7}
	flat := func(side, h int) []byte { return rawTile(at, side, func(c, r int) int { return h }) }
	coarse, fine := 5, 61
	for _, c := range []struct {
		what   string
		files  map[string][]byte
		file   string
		others []string
		height float64
	}{
		{"plain first", map[string][]byte{
			"N46E007.hgt": flat(fine, 1), "N46E007.hgt.gz": gzipOf(t, flat(fine, 2)), "N46E007.zip": zipOf(t, member{"N46E007.hgt", flat(fine, 3)}),
		}, "N46E007.hgt", []string{"N46E007.hgt.gz", "N46E007.zip"}, 1},
		{"plain first though its name comes last", map[string][]byte{
			"N46E007.hgt": flat(fine, 1), "N46E007.SRTMGL1.hgt.gz": gzipOf(t, flat(fine, 2)), "N46E007.A.zip": zipOf(t, member{"N46E007.hgt", flat(fine, 3)}),
		}, "N46E007.hgt", []string{"N46E007.SRTMGL1.hgt.gz", "N46E007.A.zip"}, 1},
		{"finest before plain", map[string][]byte{
			"N46E007.hgt": flat(coarse, 1), "N46E007.SRTMGL1.hgt.zip": zipOf(t, member{"N46E007.hgt", flat(fine, 2)}),
		}, "N46E007.SRTMGL1.hgt.zip", []string{"N46E007.hgt"}, 2},
		{"finest of packed", map[string][]byte{
			"N46E007.hgt.gz": gzipOf(t, flat(fine, 1)), "N46E007.zip": zipOf(t, member{"N46E007.hgt", flat(coarse, 2)}),
		}, "N46E007.hgt.gz", []string{"N46E007.zip"}, 1},
		{"by name", map[string][]byte{"b/N46E007.hgt": flat(fine, 1), "a/N46E007.hgt": flat(fine, 2)}, "a/N46E007.hgt", []string{"b/N46E007.hgt"}, 2},
		{"no tile by its size comes last", map[string][]byte{
			"N46E007.hgt": {1, 2, 3}, "N46E007.hgt.gz": {1}, "N46E007.zip": zipOf(t, member{"N46E007.hgt", flat(coarse, 2)}),
		}, "N46E007.zip", []string{"N46E007.hgt", "N46E007.hgt.gz"}, 2},
	} {
		t.Run(c.what, func(t *testing.T) {
			dir := t.TempDir()
			for name, data := range c.files {
				write(t, dir, name, data)
			}
			tiles := openSmall(t, dir)
			if got := mustHeight(t, tiles, 46.5, 7.5); got != c.height {
				t.Errorf("%v m, want %v", got, c.height)
			}
			used := tiles.Used()
			var others []string
			for _, o := range c.others {
				others = append(others, filepath.Join(dir, o))
			}
			if len(used) != 1 || used[0].File != filepath.Join(dir, c.file) || !reflect.DeepEqual(used[0].Others, others) {
				t.Errorf("used %+v", used)
			}
			want := "N46E007 was read from " + filepath.Join(dir, c.file) + ", not from " + strings.Join(others, ", ")
			if notes := tiles.Notes(); len(notes) != 2 || notes[1] != want {
				t.Errorf("notes %q, want %q", notes, want)
			}
		})
	}
}
