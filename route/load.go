package route

import (
	"bufio"
	"bytes"
	"compress/gzip"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"strings"

	"golang.org/x/net/html/charset"
)

// Load reads the GPX file at path and makes its profile: Read, then
// NewProfile. The path "-" means stdin. Gzip is recognised by its first two
// bytes, whatever the name. Errors are *InputError.
func Load(path string, stdin io.Reader, opt Options) (*Profile, error) {
	t, err := open(path, stdin, opt)
	if err != nil {
		return nil, err
	}
	return NewProfile(t, opt)
}

func open(path string, stdin io.Reader, opt Options) (*Track, error) {
	if path == "-" {
		if stdin == nil {
			return nil, &InputError{File: path, What: "standard input is not available", Do: "name a GPX file"}
		}
		return Read(stdin, path, opt)
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, fileError(path, err)
	}
	defer f.Close()
	st, err := f.Stat()
	switch {
	case err != nil:
		return nil, fileError(path, err)
	case st.IsDir():
		return nil, &InputError{File: path, What: "is a folder", Do: "name a GPX file"}
	case st.Mode().IsRegular() && st.Size() > MaxBytes:
		return nil, &InputError{File: path, What: "the file is larger than " + count(MaxBytes>>20) + " MiB, the limit", Do: "keep only the track to be judged"}
	}
	return Read(f, path, opt)
}

// fileError words a failure to open or read the file itself.
func fileError(path string, err error) *InputError {
	e := &InputError{File: path, Do: "check the name and the permissions"}
	var pe *fs.PathError
	switch {
	case errors.Is(err, fs.ErrNotExist):
		e.What, e.Do = "no such file", "check the name"
	case errors.As(err, &pe):
		e.What = "cannot be read: " + pe.Err.Error()
	default:
		e.What = "cannot be read: " + err.Error()
	}
	return e
}

var (
	errTooLarge = errors.New("file too large")
	errTooLong  = errors.New("token too long")
)

// A meter counts the bytes that pass and stops a file, or a single token,
// that is larger than its limit.
type meter struct {
	r    io.Reader
	caps caps
	// total and token are bytes read from the start and since the last token.
	total, token int64
}

func (m *meter) Read(p []byte) (int, error) {
	switch {
	case m.total > m.caps.bytes:
		return 0, errTooLarge
	case m.token > m.caps.token:
		return 0, errTooLong
	}
	n, err := m.r.Read(p)
	m.total += int64(n)
	m.token += int64(n)
	return n, err
}

// unpack undoes compression and UTF-16, and takes off a byte-order mark. What
// is to be UTF-8 comes as a *utf8Mender.
func unpack(r io.Reader, file string) (io.Reader, error) {
	b := bufio.NewReader(r)
	head, err := b.Peek(2)
	if len(head) == 0 {
		if err != nil && err != io.EOF {
			return nil, fileError(file, err)
		}
		return nil, &InputError{File: file, What: "the file is empty (0 bytes)", Do: "export the route again"}
	}
	if bytes.Equal(head, []byte{0x1f, 0x8b}) {
		z, err := gzip.NewReader(b)
		if err != nil {
			return nil, &InputError{File: file, What: "damaged gzip data", Do: "copy or export the file again"}
		}
		b = bufio.NewReader(z)
	}
	head, err = b.Peek(4)
	if len(head) == 0 && err == io.EOF {
		return nil, &InputError{File: file, What: "the file is empty once unpacked", Do: "export the route again"}
	}
	if bytes.HasPrefix(head, []byte("PK\x03\x04")) {
		return nil, &InputError{File: file, What: "this is a ZIP archive, not GPX", Do: "unpack it first"}
	}
	label, mark := "", 0
	switch {
	case bytes.Equal(head, []byte{0xff, 0xfe, 0, 0}), bytes.Equal(head, []byte{0, 0, 0xfe, 0xff}),
		bytes.Equal(head, []byte{'<', 0, 0, 0}), bytes.Equal(head, []byte{0, 0, 0, '<'}):
		return nil, &InputError{File: file, What: "text in UTF-32, which is not read", Do: "save the file as UTF-8"}
	case bytes.HasPrefix(head, []byte{0xef, 0xbb, 0xbf}):
		mark = 3
	case bytes.HasPrefix(head, []byte{0xff, 0xfe}):
		label, mark = "utf-16le", 2
	case bytes.HasPrefix(head, []byte{0xfe, 0xff}):
		label, mark = "utf-16be", 2
	case len(head) == 4 && head[0] == '<' && head[1] == 0 && head[3] == 0:
		label = "utf-16le"
	case len(head) == 4 && head[0] == 0 && head[1] == '<' && head[2] == 0:
		label = "utf-16be"
	}
	if _, err := b.Discard(mark); err != nil {
		return nil, fileError(file, err)
	}
	if label == "" {
		if m := newUTF8Mender(b); m != nil {
			return m, nil
		}
		return b, nil
	}
	u, err := charset.NewReaderLabel(label, b)
	if err != nil {
		return nil, fileError(file, err)
	}
	return u, nil
}

// charsetReader serves the encoding a file declares. UTF-16 is undone before
// the XML is read, and a file that declares it without being it is UTF-8.
func charsetReader(label string, r io.Reader) (io.Reader, error) {
	if strings.HasPrefix(strings.ToLower(label), "utf-16") {
		return r, nil
	}
	u, err := charset.NewReaderLabel(label, r)
	if err != nil {
		return nil, fmt.Errorf("unknown character encoding %s", quoted(label))
	}
	return u, nil
}
