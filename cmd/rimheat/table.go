package main

import (
	"io"
	"slices"
	"strings"
	"unicode/utf8"
)

// proseWidth is where prose is wrapped, lineWidth what tables stay inside,
// runes.
const (
	proseWidth = 80
	lineWidth  = 96
)

// A table is columns of text, two blanks apart.
type table struct {
	head, rows [][]string
	// right lists the columns that are set flush right.
	right map[int]bool
	// least holds least widths of the first columns.
	least []int
	// wrapLast wraps the last column at lineWidth.
	wrapLast bool
}

const columnGap = 2

// row adds a row; title adds a row of heads.
func (t *table) row(cells ...string)   { t.rows = append(t.rows, cells) }
func (t *table) title(cells ...string) { t.head = append(t.head, cells) }

// widths gives the width of each column.
func (t *table) widths() []int {
	var w []int
	for _, rows := range [][][]string{t.head, t.rows} {
		for _, r := range rows {
			for i, c := range r {
				if i == len(w) {
					w = append(w, 0)
				}
				w[i] = max(w[i], runes(c))
			}
		}
	}
	for i := range min(len(w), len(t.least)) {
		w[i] = max(w[i], t.least[i])
	}
	return w
}

// print writes heads and rows, each line after the indent and without blanks
// at its end.
func (t *table) print(w io.Writer, indent string) {
	widths := t.widths()
	for _, rows := range [][][]string{t.head, t.rows} {
		for _, r := range rows {
			t.line(w, indent, widths, r)
		}
	}
}

func (t *table) line(w io.Writer, indent string, widths []int, cells []string) {
	var b strings.Builder
	b.WriteString(indent)
	for i, c := range cells {
		pad := strings.Repeat(" ", widths[i]-min(widths[i], runes(c)))
		switch {
		case t.wrapLast && i == len(cells)-1:
			hang := strings.Repeat(" ", runes(b.String()))
			c = strings.Join(wrap(c, lineWidth-runes(hang)), "\n"+hang)
			b.WriteString(c)
		case t.right[i]:
			b.WriteString(pad + c)
		default:
			b.WriteString(c + pad)
		}
		if i < len(cells)-1 {
			b.WriteString(strings.Repeat(" ", columnGap))
		}
	}
	io.WriteString(w, strings.TrimRight(b.String(), " ")+"\n")
}

// runes is the length that a text takes on the screen, as far as the texts of
// this program go.
func runes(s string) int { return utf8.RuneCountInString(s) }

// wrap breaks prose into lines of at most width runes; a longer word stands
// alone.
func wrap(s string, width int) []string {
	var lines []string
	line, length := "", 0
	for _, word := range unitsKept(strings.Fields(s)) {
		n := runes(word)
		switch {
		case line == "":
			line, length = word, n
		case length+1+n <= width:
			line, length = line+" "+word, length+1+n
		default:
			lines = append(lines, line)
			line, length = word, n
		}
	}
	return append(lines, line)
}

// unitsKept joins a number and the unit after it, so that no line ends between
// them.
func unitsKept(words []string) []string {
	var out []string
	for i, w := range words {
		unit := strings.TrimRight(w, ",.;:)")
		if i > 0 && endsInDigit(words[i-1]) && slices.Contains([]string{"°C", "°F", "K", "km", "mi", "m", "ft", "mm", "kg", "lb", "g", "W", "%", "kJ", "min", "s", "m2", "m/s2"}, unit) {
			out[len(out)-1] += " " + w
			continue
		}
		out = append(out, w)
	}
	return out
}

func endsInDigit(s string) bool {
	return s != "" && s[len(s)-1] >= '0' && s[len(s)-1] <= '9'
}
