package terrain

import (
	"cmp"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// maxEntries is how many files and folders Open looks at. One tile for every
// square on Earth would be 64,800. A choice of this program, no source.
const maxEntries = 100_000

// Numbers of samples on the side of a tile, from memory: 3 arc-seconds and 1.
var sidesOfHGT = []int{1201, 3601}

// Open looks for tiles in the folder dir and in the folders right within it
// (N46/N46E007.hgt), and opens none of them yet. Files that are no tiles are
// passed over. An error is a *FileError: there is no such folder, no tile is
// in it, or it holds too much to be a folder of tiles.
func Open(dir string) (*Tiles, error) { return open(dir, sidesOfHGT, maxEntries) }

// open is Open for tiles whose sides have one of the given numbers of samples,
// ascending, and for a given number of entries to look at.
func open(dir string, sides []int, limit int) (*Tiles, error) {
	st, err := os.Stat(dir)
	switch {
	case err != nil:
		return nil, unreadable(dir, err)
	case !st.IsDir():
		return nil, &FileError{File: dir, What: "is not a folder", Do: "name the folder that holds the elevation tiles"}
	}
	l := look{left: limit, found: make(map[square]*source)}
	folders, err := l.into(dir)
	if err != nil {
		return nil, err
	}
	var unread []string
	for _, f := range folders {
		if _, err := l.into(f); err != nil {
			// One locked folder, as lost+found, must not hide the others.
			unread = append(unread, f)
		}
		if l.left < 0 {
			break
		}
	}
	slices.Sort(unread)
	switch {
	case l.left < 0:
		return nil, &FileError{File: dir, What: "more than " + count(limit) + " files and folders", Do: "name a folder that holds elevation tiles only"}
	case len(l.found) == 0:
		return nil, &FileError{File: dir, What: "no elevation tile in it or in a folder right within it",
			Do: "name a folder with files named as N46E007.hgt, N46E007.hgt.gz or N46E007.zip; unpack archives of many tiles first"}
	}
	return &Tiles{dir: dir, sides: sides, found: l.found, unread: unread}, nil
}

// A look gathers the files of tiles.
type look struct {
	// left is how many entries may still be read, negative once too many were.
	left  int
	found map[square]*source
}

// into adds the tiles of a folder, in any order, and gives the folders in it.
func (l *look) into(dir string) (folders []string, err error) {
	f, err := os.Open(dir)
	if err != nil {
		return nil, unreadable(dir, err)
	}
	defer f.Close()
	var entries []fs.DirEntry
	for err == nil && l.left >= 0 {
		var some []fs.DirEntry
		// One more than allowed tells that there are too many.
		some, err = f.ReadDir(l.left + 1)
		entries = append(entries, some...)
		l.left -= len(some)
	}
	if err != nil && err != io.EOF {
		return nil, unreadable(dir, err)
	}
	for _, e := range entries {
		path := filepath.Join(dir, e.Name())
		if isFolder(path, e) {
			folders = append(folders, path)
			continue
		}
		at, ok := squareOf(e.Name())
		packed, isTile := packingOf(e.Name())
		if !ok || !isTile {
			continue
		}
		if l.found[at] == nil {
			l.found[at] = &source{}
		}
		l.found[at].files = append(l.found[at].files, file{path: path, packed: packed})
	}
	return folders, nil
}

// isFolder tells whether an entry is a folder or a link to one.
func isFolder(path string, e fs.DirEntry) bool {
	if e.Type()&fs.ModeSymlink == 0 {
		return e.IsDir()
	}
	st, err := os.Stat(path)
	return err == nil && st.IsDir()
}

// A source is what the folder has for one square.
type source struct {
	// files hold the same square; once ordered, the first is the one to use.
	files   []file
	ordered bool
	// side is the number of samples on a side of the tile that was read, or 0.
	side int
	// err is what reading came to, so that a damaged file is read once only.
	err error
}

// A file may hold a tile.
type file struct {
	path   string
	packed packing
}

// order puts the file to use first: the finest, then .hgt before .hgt.gz
// before .zip, then by name; those that do not say a size of the form come
// last. Files are looked into only where there are several.
func (s *source) order(at square, sides []int) {
	if s.ordered {
		return
	}
	s.ordered = true
	if len(s.files) == 1 {
		return
	}
	rank := make(map[string]int, len(s.files))
	for _, f := range s.files {
		n := f.unpackedBytes(at)
		rank[f.path] = slices.IndexFunc(sides, func(side int) bool { return n == int64(tileBytes(side)) })
	}
	slices.SortFunc(s.files, func(a, b file) int {
		return cmp.Or(cmp.Compare(rank[b.path], rank[a.path]), cmp.Compare(a.packed, b.packed), strings.Compare(a.path, b.path))
	})
}
