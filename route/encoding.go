package route

import (
	"bufio"
	"bytes"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/encoding/charmap"
)

// A utf8Mender passes UTF-8 on and reads every byte that is none as
// Windows-1252, which holds Latin-1: that is what programs write that declare
// UTF-8, or nothing, without doing it.
type utf8Mender struct {
	src *bufio.Reader
	// valid bytes at the head of src are known to be UTF-8; out is due before
	// them.
	valid  int
	out    []byte
	mended int // bytes so far
}

// newUTF8Mender wraps text whose declaration, if any, says UTF-8 and gives nil
// for any other, which the XML reader decodes. UTF-16 is undone before; text
// that declares it all the same is not UTF-16.
func newUTF8Mender(src *bufio.Reader) *utf8Mender {
	const longest = 256 // an XML declaration is shorter
	head, _ := src.Peek(longest)
	switch e := strings.ToLower(declaredEncoding(head)); {
	case e == "", e == "utf-8", e == "utf8", strings.HasPrefix(e, "utf-16"):
		return &utf8Mender{src: src}
	}
	return nil
}

// declaredEncoding is the encoding that an XML declaration names, or "".
func declaredEncoding(head []byte) string {
	head, ok := bytes.CutPrefix(head, []byte("<?xml"))
	if !ok {
		return ""
	}
	head, _, _ = bytes.Cut(head, []byte("?>"))
	_, head, ok = bytes.Cut(head, []byte("encoding"))
	head = bytes.TrimLeft(head, " \t\r\n=")
	if !ok || len(head) < 2 || head[0] != '"' && head[0] != '\'' {
		return ""
	}
	name, _, _ := bytes.Cut(head[1:], head[:1])
	return string(name)
}

func (m *utf8Mender) Read(p []byte) (int, error) {
	for len(m.out) == 0 && m.valid == 0 {
		// Below four bytes a letter may be cut; less is the end of the text.
		_, err := m.src.Peek(utf8.UTFMax)
		text, _ := m.src.Peek(m.src.Buffered())
		if len(text) == 0 {
			return 0, err
		}
		if m.valid = validPrefix(text); m.valid == 0 {
			m.out = utf8.AppendRune(m.out, charmap.Windows1252.DecodeByte(text[0]))
			m.mended++
			if _, err := m.src.Discard(1); err != nil {
				return 0, err
			}
		}
	}
	if len(m.out) > 0 {
		n := copy(p, m.out)
		m.out = m.out[:copy(m.out, m.out[n:])]
		return n, nil
	}
	n, err := m.src.Read(p[:min(len(p), m.valid)])
	m.valid -= n
	return n, err
}

// validPrefix is how many bytes at the head of b are whole letters in UTF-8.
func validPrefix(b []byte) int {
	if utf8.Valid(b) {
		return len(b)
	}
	n := 0
	for {
		r, size := utf8.DecodeRune(b[n:])
		if r == utf8.RuneError && size <= 1 {
			return n
		}
		n += size
	}
}
