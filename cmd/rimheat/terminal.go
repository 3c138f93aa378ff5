package main

import (
	"io"
	"os"

	"golang.org/x/term"
)

// isTerminal says whether a stream ends at a screen.
func isTerminal(w io.Writer) bool {
	f, ok := w.(*os.File)
	return ok && term.IsTerminal(int(f.Fd()))
}

// wantsColour says whether to colour what goes to a screen: not when NO_COLOR
// holds anything, not when the terminal calls itself dumb.
func wantsColour(toScreen bool, getenv func(string) string) bool {
	return toScreen && getenv("NO_COLOR") == "" && getenv("TERM") != "dumb"
}

// A palette colours words that say the same without colour.
type palette struct{ on bool }

// The three weights of a verdict as SGR parameters (ECMA-48, 5th edition 1991,
// section 8.3.117; from memory).
const (
	sgrGood = "32"
	sgrCare = "33"
	sgrBad  = "1;31"
)

func (p palette) paint(sgr, s string) string {
	if !p.on {
		return s
	}
	return "\x1b[" + sgr + "m" + s + "\x1b[0m"
}
