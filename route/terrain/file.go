package terrain

import (
	"archive/zip"
	"bufio"
	"compress/gzip"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"strings"
)

// maxArchiveListBytes is how much of a .zip is read for its list of files: a
// tile's archive holds one file or a few. A choice of this program, no source.
const maxArchiveListBytes = 1 << 20

const (
	copyAgain = "copy or fetch it again, or take it out of the folder"
	repack    = "unpack it and put the .hgt file into the folder instead"
)

// read reads the tile of the square at into buf, or into a longer one, and
// never more than one byte beyond the largest tile. Errors are *FileError.
func (f file) read(at square, sides []int, buf []byte) (grid, error) {
	osFile, err := f.open()
	if err != nil {
		return grid{}, err
	}
	defer osFile.Close()
	var r io.Reader = osFile
	switch f.packed {
	case gzipped:
		z, err := gzip.NewReader(bufio.NewReader(osFile))
		if err != nil {
			return grid{}, f.damaged(err)
		}
		r = z
	case zipped:
		entry, err := f.entry(osFile, at)
		if err != nil {
			return grid{}, err
		}
		z, err := entry.Open()
		if err != nil {
			return grid{}, f.damaged(err)
		}
		defer z.Close()
		r = z
	}
	g, err := readGrid(r, sides, buf)
	if err != nil {
		return grid{}, f.damaged(err)
	}
	return g, nil
}

// open opens an ordinary file; a pipe or a device might never end.
func (f file) open() (*os.File, error) {
	st, err := os.Stat(f.path)
	if err != nil {
		return nil, unreadable(f.path, err)
	}
	if !st.Mode().IsRegular() {
		return nil, &FileError{File: f.path, What: "is not an ordinary file", Do: "take it out of the folder"}
	}
	osFile, err := os.Open(f.path)
	if err != nil {
		return nil, unreadable(f.path, err)
	}
	return osFile, nil
}

func (f file) damaged(err error) error {
	if _, ok := errors.AsType[*fs.PathError](err); ok {
		return unreadable(f.path, err)
	}
	what := "cannot be read: " + err.Error()
	size, ok := errors.AsType[*sizeError](err)
	switch {
	case ok:
		what = size.Error()
	case errors.Is(err, io.EOF), errors.Is(err, io.ErrUnexpectedEOF):
		what = "the packed file is cut short"
	case errors.Is(err, gzip.ErrHeader), errors.Is(err, gzip.ErrChecksum), errors.Is(err, zip.ErrFormat), errors.Is(err, zip.ErrChecksum):
		what = "the packed file is damaged (" + err.Error() + ")"
	}
	return &FileError{File: f.path, What: what, Do: copyAgain}
}

// entry finds the one .hgt of the square in a .zip. An archive with a name
// that leads out of its folder was made to harm, and is refused.
func (f file) entry(osFile *os.File, at square) (*zip.File, error) {
	st, err := osFile.Stat()
	if err != nil {
		return nil, unreadable(f.path, err)
	}
	list := &listReader{r: osFile, left: maxArchiveListBytes}
	z, err := zip.NewReader(list, st.Size())
	switch {
	case errors.Is(err, errLongList):
		return nil, &FileError{File: f.path, What: "the archive holds too many files", Do: repack}
	case err != nil && !errors.Is(err, zip.ErrInsecurePath):
		return nil, f.damaged(err)
	}
	list.left = -1
	var found *zip.File
	for _, e := range z.File {
		name := strings.ReplaceAll(e.Name, `\`, "/")
		if leadsOut(name) {
			return nil, &FileError{File: f.path, What: fmt.Sprintf("the archive holds a name that leads out of its folder, %.60q", e.Name), Do: copyAgain}
		}
		base := path.Base(name)
		if packed, ok := packingOf(base); !ok || packed != plain || strings.HasSuffix(name, "/") {
			continue
		}
		if s, ok := squareOf(base); !ok || s != at {
			continue
		}
		if found != nil {
			return nil, &FileError{File: f.path, What: "the archive holds two tiles " + at.String() + ".hgt", Do: repack}
		}
		found = e
	}
	if found == nil {
		return nil, &FileError{File: f.path, What: "the archive holds no " + at.String() + ".hgt", Do: copyAgain}
	}
	return found, nil
}

// leadsOut tells whether a name with slashes is absolute, names a drive, or
// climbs.
func leadsOut(name string) bool {
	if strings.HasPrefix(name, "/") || len(name) > 1 && name[1] == ':' {
		return true
	}
	for part := range strings.SplitSeq(name, "/") {
		if part == ".." {
			return true
		}
	}
	return false
}

var errLongList = errors.New("list of files too long")

// A listReader stops reading after so many bytes; none if negative.
type listReader struct {
	r    io.ReaderAt
	left int
}

func (l *listReader) ReadAt(p []byte, off int64) (int, error) {
	if l.left >= 0 {
		if len(p) > l.left {
			return 0, errLongList
		}
		l.left -= len(p)
	}
	return l.r.ReadAt(p, off)
}

// unpackedBytes is what the file says it holds once unpacked, bytes, or -1.
// It serves to choose among files, not to trust them.
func (f file) unpackedBytes(at square) int64 {
	osFile, err := f.open()
	if err != nil {
		return -1
	}
	defer osFile.Close()
	st, err := osFile.Stat()
	if err != nil {
		return -1
	}
	switch f.packed {
	case gzipped:
		// The last four bytes are the length modulo 2^32 (Deutsch, GZIP file
		// format specification version 4.3, RFC 1952 (1996); from memory).
		var length [4]byte
		if _, err := osFile.ReadAt(length[:], st.Size()-4); err != nil {
			return -1
		}
		return int64(binary.LittleEndian.Uint32(length[:]))
	case zipped:
		entry, err := f.entry(osFile, at)
		if err != nil {
			return -1
		}
		return int64(min(entry.UncompressedSize64, 1<<62))
	}
	return st.Size()
}
