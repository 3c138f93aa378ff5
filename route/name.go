package route

import (
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// cleanName makes text from a file safe to print: terminal escape sequences,
// control and format characters go, white space runs become one blank, and
// the result is cut at MaxNameRunes.
func cleanName(s string) string {
	var b strings.Builder
	runes := 0
	space := false
	for i := 0; i < len(s) && runes < MaxNameRunes; {
		r, n := utf8.DecodeRuneInString(s[i:])
		if m := escapeLen(s[i:]); m > 0 {
			i += m
			continue
		}
		i += n
		switch {
		case unicode.IsSpace(r):
			space = b.Len() > 0
			continue
		case r == utf8.RuneError && n <= 1, unicode.IsControl(r), unicode.Is(unicode.Cf, r):
			continue
		}
		if space {
			if runes+1 >= MaxNameRunes {
				break
			}
			b.WriteByte(' ')
			runes++
			space = false
		}
		b.WriteRune(r)
		runes++
	}
	return b.String()
}

// escapeLen is the length in bytes of the control sequence (ECMA-48, 5th
// edition 1991, section 5.4: CSI, parameters, one final byte) or control
// string (section 5.6: OSC, DCS, SOS, PM or APC up to ST, or BEL as terminals
// have it) that s starts with, or 0. A string without an end is only its two
// bytes of opening, so that it hides no text.
func escapeLen(s string) int {
	if len(s) < 2 {
		return 0
	}
	introducer := s[1] // of ESC and a letter
	switch {
	case s[0] == 0xc2 && s[1] >= 0x80 && s[1] <= 0x9f:
		introducer -= 0x40 // the same in one character, C1
	case s[0] != 0x1b:
		return 0
	}
	n := 2
	switch introducer {
	case '[':
	case ']', 'P', 'X', '^', '_':
		for i := 2; i < len(s); i++ {
			switch {
			case s[i] == '\a':
				return i + 1
			case strings.HasPrefix(s[i:], "\x1b\\"), strings.HasPrefix(s[i:], "\u009c"):
				return i + 2
			}
		}
		return 2
	default:
		return 0
	}
	for n < len(s) && s[n] >= 0x20 && s[n] <= 0x3f {
		n++
	}
	if n < len(s) && s[n] >= 0x40 && s[n] <= 0x7e {
		n++
	}
	return n
}

// quoted shows text from a file inside a message: quoted, escaped and cut.
func quoted(s string) string {
	const maxRunes = 40
	n := 0
	for i := range s {
		if n == maxRunes {
			return strconv.Quote(s[:i] + "...")
		}
		n++
	}
	return strconv.Quote(s)
}
