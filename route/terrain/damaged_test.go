package terrain

import (
	"archive/zip"
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"testing"
)

func TestDamagedFiles(t *testing.T) {
	at := square{46, 7}
	raw := rawTile(at, 61, func(c, r int) int { return (c*31 + r*17) % 900 })
	gz := gzipOf(t, raw)
	archive := zipOf(t, member{"N46E007.hgt", raw})
	flipped := func(b []byte, i int) []byte {
		b = bytes.Clone(b)
		b[i] ^= 0xff
		return b
	}
	const sizes = "where a tile has 50 (5 x 5 heights) or 7,442 (61 x 61 heights)"
	for _, c := range []struct {
		what, name string
		data       []byte
		words      []string
	}{
		{"empty", "N46E007.hgt", nil, []string{"0 bytes of heights, " + sizes, "copy or fetch it again"}},
		{"cut short", "N46E007.hgt", raw[:len(raw)-1], []string{"7,441 bytes of heights, " + sizes}},
		{"one byte", "N46E007.hgt", raw[:1], []string{"1 byte of heights"}},
		{"between the sizes", "N46E007.hgt", raw[:51], []string{"51 bytes of heights"}},
		{"oversize", "N46E007.hgt", append(bytes.Clone(raw), 0), []string{"more than 7,442 bytes of heights"}},
		{"a page of the web", "N46E007.hgt", []byte("<html>not found</html>"), []string{"22 bytes of heights"}},
		{"gzip empty", "N46E007.hgt.gz", nil, []string{"cut short"}},
		{"gzip cut short", "N46E007.hgt.gz", gz[:len(gz)/2], []string{"the packed file is cut short"}},
		{"gzip without its last byte", "N46E007.hgt.gz", gz[:len(gz)-1], []string{"the packed file is cut short"}},
		{"gzip cut after the smaller size", "N46E007.hgt.gz", gzipOf(t, raw[:50])[:60], []string{"cut short"}},
		{"gzip of another size", "N46E007.hgt.gz", gzipOf(t, raw[:99]), []string{"99 bytes of heights, " + sizes}},
		{"gzip with a wrong sum", "N46E007.hgt.gz", flipped(gz, len(gz)-8), []string{"damaged"}},
		{"no gzip", "N46E007.hgt.gz", raw, []string{"damaged"}},
		{"gzip with more behind", "N46E007.hgt.gz", append(bytes.Clone(gz), "more than a few bytes"...), []string{"damaged"}},
		{"zip empty", "N46E007.zip", nil, []string{"damaged"}},
		{"zip cut short", "N46E007.zip", archive[:len(archive)-30], []string{"damaged"}},
		{"zip damaged inside", "N46E007.zip", flipped(archive, 200), nil},
		{"no zip", "N46E007.zip", raw, []string{"damaged"}},
		{"zip without the tile", "N46E007.zip", zipOf(t, member{"N46E008.hgt", raw}, member{"N46E007.txt", raw}, member{"N46E007.hgt/", nil}),
			[]string{"the archive holds no N46E007.hgt"}},
		{"zip of two", "N46E007.zip", zipOf(t, member{"a/N46E007.hgt", raw}, member{"b/n46e007.HGT", raw}), []string{"two tiles N46E007.hgt; unpack it"}},
		{"zip that climbs", "N46E007.zip", zipOf(t, member{"../N46E007.hgt", raw}), []string{"leads out of its folder"}},
		{"zip that climbs backwards", "N46E007.zip", zipOf(t, member{`a\..\..\N46E007.hgt`, raw}), []string{"leads out of its folder"}},
		{"zip that climbs beside", "N46E007.zip", zipOf(t, member{"N46E007.hgt", raw}, member{"a/../../x", raw}), []string{"leads out of its folder"}},
		{"zip of an absolute name", "N46E007.zip", zipOf(t, member{"/N46E007.hgt", raw}), []string{"leads out of its folder"}},
		{"zip of a drive", "N46E007.zip", zipOf(t, member{`C:\N46E007.hgt`, raw}), []string{"leads out of its folder"}},
		{"zip of another size", "N46E007.zip", zipOf(t, member{"N46E007.hgt", raw[:99]}), []string{"99 bytes of heights"}},
	} {
		t.Run(c.what, func(t *testing.T) {
			dir := t.TempDir()
			write(t, dir, c.name, c.data)
			tiles := openSmall(t, dir)
			_, err := tiles.HeightAt(46.5, 7.5)
			wantFileError(t, err, filepath.Join(dir, c.name), c.words...)
			if _, again := tiles.HeightAt(46.2, 7.2); again != err {
				t.Errorf("then %v", again)
			}
			if got := tiles.Counts(); got != (Counts{}) || len(tiles.Used()) != 0 {
				t.Errorf("counts %+v, used %+v", got, tiles.Used())
			}
		})
	}
}

// TestNeighbourDoesNotHideDamage: on an edge, a void or a lack of one tile is
// not the answer where the other cannot be read.
func TestNeighbourDoesNotHideDamage(t *testing.T) {
	dir := t.TempDir()
	write(t, dir, "N46E007.hgt", []byte{1})
	tiles := openSmall(t, dir)
	_, err := tiles.HeightAt(46.5, 8)
	wantFileError(t, err, filepath.Join(dir, "N46E007.hgt"))

	write(t, dir, "N46E008.hgt", rawTile(square{46, 8}, 5, func(c, r int) int { return voidSample }))
	_, err = openSmall(t, dir).HeightAt(46.5, 8)
	wantFileError(t, err, filepath.Join(dir, "N46E007.hgt"))
}

func TestNotAnOrdinaryFile(t *testing.T) {
	dir := t.TempDir()
	device, dangling := filepath.Join(dir, "N46E007.hgt"), filepath.Join(dir, "N46E008.hgt")
	for link, to := range map[string]string{device: os.DevNull, dangling: filepath.Join(dir, "none")} {
		if err := os.Symlink(to, link); err != nil {
			t.Skip("no links here: ", err)
		}
	}
	tiles := openSmall(t, dir)
	_, err := tiles.HeightAt(46.5, 7.5)
	wantFileError(t, err, device, "is not an ordinary file; take it out of the folder")
	_, err = tiles.HeightAt(46.5, 8.5)
	wantFileError(t, err, dangling, "no such file")
}

func TestFolderNamedAsATile(t *testing.T) {
	// Some unpackers make a folder of the archive's name.
	dir := t.TempDir()
	write(t, dir, "N46E007.hgt/N46E007.hgt", rawTile(square{46, 7}, 5, func(c, r int) int { return 3 }))
	if got := mustHeight(t, openSmall(t, dir), 46.5, 7.5); got != 3 {
		t.Errorf("%v m", got)
	}
}

// zeros gives so many zero bytes.
type zeros struct{ left int }

func (z *zeros) Read(p []byte) (int, error) {
	n := min(len(p), z.left)
	clear(p[:n])
	z.left -= n
	return n, nil
}

// TestNeverReadsOn: readGrid takes one byte beyond the largest tile from a
// source without end, which is what a bomb is to it.
func TestNeverReadsOn(t *testing.T) {
	sides := []int{5, 61}
	r := &zeros{left: 1 << 30}
	_, err := readGrid(r, sides, nil)
	if _, ok := err.(*sizeError); !ok {
		t.Fatalf("%v", err)
	}
	if read, want := 1<<30-r.left, tileBytes(61)+1; read != want {
		t.Errorf("read %d bytes, want %d", read, want)
	}
}

// TestBombs: archives of a few hundred kilobytes that hold a hundred times the
// largest tile and more do not become memory.
func TestBombs(t *testing.T) {
	const bombBytes = 256 << 20
	chunk := make([]byte, 1<<20)
	var z bytes.Buffer
	zw := zip.NewWriter(&z)
	w, err := zw.Create("N46E007.hgt")
	if err != nil {
		t.Fatal(err)
	}
	for range bombBytes / len(chunk) {
		if _, err := w.Write(chunk); err != nil {
			t.Fatal(err)
		}
	}
	if err := zw.Close(); err != nil {
		t.Fatal(err)
	}
	gz := gzipOf(t, chunk)
	for _, c := range []struct {
		name string
		data []byte
	}{
		{"N46E007.zip", z.Bytes()},
		{"N46E007.hgt.gz", bytes.Repeat(gz, bombBytes/len(chunk))},
	} {
		dir := t.TempDir()
		write(t, dir, c.name, c.data)
		tiles := openSmall(t, dir)
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		_, err := tiles.HeightAt(46.5, 7.5)
		runtime.ReadMemStats(&after)
		wantFileError(t, err, filepath.Join(dir, c.name), "more than 7,442 bytes of heights")
		if got := after.TotalAlloc - before.TotalAlloc; got > 1<<20 {
			t.Errorf("%s: %d bytes of memory for a tile of 7,442", c.name, got)
		}
	}
}

func TestArchiveOfVeryManyFiles(t *testing.T) {
	var members []member
	for i := range 20_000 {
		members = append(members, member{name: fmt.Sprintf("a/file%06d", i)})
	}
	members = append(members, member{"N46E007.hgt", rawTile(square{46, 7}, 5, func(c, r int) int { return 3 })})
	dir := t.TempDir()
	write(t, dir, "N46E007.zip", zipOf(t, members...))
	_, err := openSmall(t, dir).HeightAt(46.5, 7.5)
	wantFileError(t, err, filepath.Join(dir, "N46E007.zip"), "the archive holds too many files; unpack it")

	write(t, dir, "N46E007.zip", zipOf(t, members[19_000:]...))
	if got := mustHeight(t, openSmall(t, dir), 46.5, 7.5); got != 3 {
		t.Errorf("%v m", got)
	}
}
