package plots

import (
	"strings"
	"unicode"

	"golang.org/x/text/unicode/bidi"
	"golang.org/x/text/unicode/norm"
)

// Bounds of a name taken from a file, so that a hostile one costs no time:
// letters kept, and accents kept on one letter.
const (
	longestName = 600
	mostMarks   = 2
)

// clean makes one harmless line of a name from a file: control, formatting
// and undefined characters are dropped, every kind of blank becomes a single
// space, accents are composed with their letters.
func clean(s string) string { return cleanUpTo(s, longestName) }

// cleanUpTo keeps so many letters at most.
func cleanUpTo(s string, most int) string {
	var b strings.Builder
	n, marks, blank := 0, 0, false
	for _, r := range s {
		if n == most {
			break
		}
		switch {
		case unicode.IsSpace(r):
			blank = b.Len() > 0
			continue
		case r == unicode.ReplacementChar || !unicode.IsGraphic(r):
			continue
		case unicode.Is(unicode.M, r):
			if marks++; marks > mostMarks {
				continue
			}
		default:
			marks = 0
		}
		if blank {
			b.WriteByte(' ')
			blank = false
		}
		b.WriteRune(r)
		n++
	}
	return norm.NFC.String(b.String())
}

// shown is the cleaned text as it can be put on paper. Where the viewer of
// the file sets the text it is left alone. Elsewhere a run of letters that
// the font lacks becomes an ellipsis, and text that reads from the right is
// put in the order in which it is drawn. The answer is "" if nothing legible
// is left.
func (t *typeface) shown(s string) string { return t.shownUpTo(s, longestName) }

// shownUpTo keeps so many letters at most.
func (t *typeface) shownUpTo(s string, most int) string {
	s = cleanUpTo(s, most)
	if t.viewerFonts {
		return s
	}
	var b strings.Builder
	gap, blank, legible := false, false, false
	for _, r := range s {
		missing := r != ' ' && !t.has(r)
		switch {
		case r == ' ':
			blank = true
			continue
		case missing && gap:
			continue
		}
		if blank && b.Len() > 0 {
			b.WriteByte(' ')
		}
		blank, gap = false, missing
		if missing {
			b.WriteRune('…')
			continue
		}
		legible = legible || unicode.IsLetter(r) || unicode.IsDigit(r)
		b.WriteRune(r)
	}
	if !legible {
		return ""
	}
	return inDrawingOrder(b.String())
}

// inDrawingOrder turns right-to-left runs round, and the order of the runs
// if the text as a whole reads from the right.
func inDrawingOrder(s string) string {
	var p bidi.Paragraph
	if _, err := p.SetString(s); err != nil {
		return s
	}
	o, err := p.Order()
	if err != nil {
		return s
	}
	runs := make([]string, o.NumRuns())
	for i := range runs {
		run := o.Run(i)
		runs[i] = run.String()
		if run.Direction() == bidi.RightToLeft {
			runs[i] = bidi.ReverseString(runs[i])
		}
	}
	if !p.IsLeftToRight() {
		for i, j := 0, len(runs)-1; i < j; i, j = i+1, j-1 {
			runs[i], runs[j] = runs[j], runs[i]
		}
	}
	return strings.Join(runs, "")
}
