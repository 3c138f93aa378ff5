package plots

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"codeberg.org/go-fonts/liberation/liberationsansbold"
	"codeberg.org/go-fonts/liberation/liberationsansregular"
	xfont "golang.org/x/image/font"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/font/sfnt"
	"gonum.org/v1/plot/font"
)

// Heights of a line of text above and below its baseline, parts of the type
// size: the capitals and the deep letters of the face, rounded up.
const (
	ascender  = 0.76
	descender = 0.22
)

// A typeface measures and fits text.
type typeface struct {
	regular, bold *opentype.Font
	// viewerFonts is set where the viewer of the file sets the text and may
	// fall back on other fonts: letters that ours lacks may stay then.
	viewerFonts bool
}

func newTypeface(viewerFonts bool) (*typeface, error) {
	regular, err := opentype.Parse(liberationsansregular.TTF)
	if err != nil {
		return nil, fmt.Errorf("read the figure's font: %w", err)
	}
	bold, err := opentype.Parse(liberationsansbold.TTF)
	if err != nil {
		return nil, fmt.Errorf("read the figure's bold font: %w", err)
	}
	return &typeface{regular: regular, bold: bold, viewerFonts: viewerFonts}, nil
}

// face is the font at the size and weight of the style.
func (t *typeface) face(size float64, bold bool) font.Face {
	f := font.Face{Font: font.Font{Typeface: "Liberation", Variant: "Sans", Size: font.Length(size)}, Face: t.regular}
	if bold {
		f.Font.Weight, f.Face = xfont.WeightBold, t.bold
	}
	return f
}

// has tells whether the font holds a shape for the letter.
func (t *typeface) has(r rune) bool {
	var buf sfnt.Buffer
	i, err := t.regular.GlyphIndex(&buf, r)
	return err == nil && i != 0
}

// width is the length of the text in points. A letter that the font lacks
// counts as wide as the type size, which is what most fonts give it.
func (t *typeface) width(s string, st textStyle) float64 {
	missing := 0
	known := strings.Map(func(r rune) rune {
		if r > 0x7e && !t.has(r) {
			missing++
			return -1
		}
		return r
	}, s)
	f := t.face(st.size, st.bold)
	return f.Width(known).Points() + float64(missing)*st.size
}

// fit cuts the text with an ellipsis to at most the given width, points.
func (t *typeface) fit(s string, st textStyle, width float64) string {
	if t.width(s, st) <= width {
		return s
	}
	// The cut is searched among so many letters only: no line holds more.
	const longest = 400
	rs := []rune(s)
	lo, hi := 0, min(len(rs), longest)
	for lo < hi {
		mid := (lo + hi + 1) / 2
		if t.width(cut(rs, mid), st) <= width {
			lo = mid
		} else {
			hi = mid - 1
		}
	}
	return cut(rs, lo)
}

func cut(rs []rune, n int) string {
	return strings.TrimRight(string(rs[:n]), " ,;:") + "…"
}

// unbroken splits the text at the blanks where a line may end: not between a
// number and a short unit, nor inside a list in brackets.
func unbroken(s string) []string {
	var out []string
	open := false
	for _, w := range strings.Fields(s) {
		n := len(out)
		if n > 0 && (open || utf8.RuneCountInString(strings.TrimRight(w, ".,;:)")) <= 3 && strings.ContainsAny(out[n-1][len(out[n-1])-1:], "0123456789")) {
			out[n-1] += " " + w
		} else {
			out = append(out, w)
		}
		shut := strings.HasSuffix(strings.TrimRight(w, ",;:."), ")")
		open = (open || strings.HasPrefix(w, "(")) && !shut
	}
	return out
}

// wrap breaks the text at blanks into at most the given number of lines of
// the given width, points; the last one is cut where the text is longer.
func (t *typeface) wrap(s string, st textStyle, width float64, lines int) []string {
	words := unbroken(s)
	var out []string
	for len(words) > 0 {
		if len(out) == lines-1 {
			return append(out, t.fit(strings.Join(words, " "), st, width))
		}
		n := 1
		for n < len(words) && t.width(strings.Join(words[:n+1], " "), st) <= width {
			n++
		}
		out = append(out, t.fit(strings.Join(words[:n], " "), st, width))
		words = words[n:]
	}
	return out
}
