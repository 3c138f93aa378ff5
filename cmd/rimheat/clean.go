package main

import (
	"strconv"
	"strings"
	"unicode"
)

// clean makes text safe for a terminal: control characters (C0, C1, DEL) and
// invisible format characters go, line ends and tabs become blanks. The name
// inside a GPX file, file names and arguments are not ours.
func clean(s string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\n', r == '\r', r == '\t', r == '\u2028', r == '\u2029':
			return ' '
		case unicode.IsControl(r), unicode.Is(unicode.Cf, r), r == unicode.ReplacementChar:
			return -1
		}
		return r
	}, s)
}

// quoted shows an argument inside a message, escaped and cut.
func quoted(s string) string {
	const most = 40
	if r := []rune(s); len(r) > most {
		s = string(r[:most]) + "..."
	}
	return strconv.Quote(s)
}
