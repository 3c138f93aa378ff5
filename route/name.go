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
// edition 1991, section 5.4: CSI, parameters, one final byte) that s starts
// with, or 0.
func escapeLen(s string) int {
	n := 0
	switch {
	case strings.HasPrefix(s, "\x1b["), strings.HasPrefix(s, "\u009b"):
		n = 2
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
