package plots

import "strings"

// lines breaks a text to a width and loses nothing of it: a word that is longer than
// a line is broken too.
func (t *typeface) lines(s string, st textStyle, width float64) []string {
	return t.linesAfter(s, st, width, 0)
}

// linesAfter breaks a text whose first line begins so far in; that line is "" where
// nothing fits behind what stands there.
func (t *typeface) linesAfter(s string, st textStyle, width, first float64) []string {
	var out []string
	room, line := width-first, ""
	end := func() {
		out, line, room = append(out, untied(line)), "", width
	}
	for _, w := range strings.Split(tied(withoutMarks(s)), " ") {
		if w == "" {
			continue
		}
		next := w
		if line != "" {
			next = line + " " + w
		}
		if t.width(untied(next), st) <= room {
			line = next
			continue
		}
		if line != "" || room < width {
			end()
		}
		for t.width(untied(w), st) > width {
			rs, n := []rune(w), 1
			for n < len(rs) && t.width(string(rs[:n+1]), st) <= width {
				n++
			}
			out = append(out, untied(string(rs[:n])))
			w = string(rs[n:])
		}
		line = w
	}
	if line != "" || len(out) == 0 {
		end()
	}
	return out
}
