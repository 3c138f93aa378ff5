package plots

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"image/color"
	"io"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// svgFonts names the font that labels were measured in, and what a viewer
// without it may take.
const svgFonts = "'Liberation Sans',sans-serif"

// An svgPicture is a scene with what a viewer must be told beside it.
type svgPicture struct {
	sc *scene
	// title names the picture and about says in words what it shows, for those
	// who cannot see it.
	title, about string
	// prefix begins the identifiers, so that several pictures fit on one page.
	prefix string
	// inline pictures are part of a page and as wide as their place in it;
	// others are files of their own and as large as the sheet.
	inline bool
}

// paintSVG writes the scene as a file of its own, described by its own title
// and verdicts.
func paintSVG(w io.Writer, sc *scene) error {
	p := svgPicture{sc: sc, title: "Figure", prefix: "figure"}
	line := 0.0
	for _, l := range sc.labels {
		switch {
		case l.role == roleTitle && p.title == "Figure":
			p.title = l.text
		case l.role != roleVerdict:
		case p.about == "":
			p.about, line = l.text, l.at.y
		case l.at.y == line:
			p.about += " " + l.text
		default:
			p.about, line = p.about+"; "+l.text, l.at.y
		}
	}
	_, err := w.Write(p.bytes())
	return err
}

// bytes gives the picture as SVG. Colours, widths and letters are attributes
// and nothing is fetched or run, so that the strictest page may hold it.
func (p svgPicture) bytes() []byte {
	var b bytes.Buffer
	w, h := hundredths(p.sc.w), hundredths(p.sc.h)
	size := `<svg width="100%"`
	if !p.inline {
		b.WriteString(`<?xml version="1.0" encoding="UTF-8"?>` + "\n")
		size = fmt.Sprintf(`<svg xmlns="http://www.w3.org/2000/svg" width="%spt" height="%spt"`, w.text(), h.text())
	}
	fmt.Fprintf(&b, `%s viewBox="0 0 %s %s" role="img" font-family="%s" stroke-linejoin="round"`, size, w.text(), h.text(), svgFonts)
	title, about := p.prefix+"-title", p.prefix+"-about"
	if p.about == "" {
		fmt.Fprintf(&b, ` aria-labelledby="%s">`, title)
	} else {
		fmt.Fprintf(&b, ` aria-labelledby="%s %s">`, title, about)
	}
	fmt.Fprintf(&b, "\n<title id=\"%s\">%s</title>\n", title, escaped(p.title))
	if p.about != "" {
		fmt.Fprintf(&b, "<desc id=\"%s\">%s</desc>\n", about, escaped(p.about))
	}
	p.shapes(&b)
	p.labels(&b)
	b.WriteString("</svg>\n")
	return b.Bytes()
}

// shapes writes the shapes in their order, runs of one look in a group.
func (p svgPicture) shapes(b *bytes.Buffer) {
	look := ""
	for _, s := range p.sc.shapes {
		d := pathOf(s.pts, p.sc.h)
		l := inkOf(s)
		if d == "" || l == "" {
			continue
		}
		if l != look {
			if look != "" {
				b.WriteString("</g>\n")
			}
			look = l
			b.WriteString("<g" + l + ">")
		}
		b.WriteString(`<path d="` + d + `"/>`)
	}
	if look != "" {
		b.WriteString("</g>\n")
	}
}

// inkOf gives the attributes of a shape's look, "" for one that cannot be
// seen.
func inkOf(s shape) string {
	if s.fill.A == 0 && (s.stroke.A == 0 || !(s.width > 0)) {
		return ""
	}
	out := paintOf("fill", s.fill)
	if s.stroke.A == 0 || !(s.width > 0) {
		return out
	}
	out += paintOf("stroke", s.stroke) + ` stroke-width="` + hundredths(s.width).text() + `"`
	if len(s.dash) > 0 {
		var parts []string
		for _, d := range s.dash {
			parts = append(parts, hundredths(d).text())
		}
		out += ` stroke-dasharray="` + strings.Join(parts, " ") + `"`
	}
	return out
}

// paintOf gives a colour as the named attribute, with its opacity if it is a
// veil.
func paintOf(attr string, c color.NRGBA) string {
	switch c.A {
	case 0:
		return ` ` + attr + `="none"`
	case 255:
		return ` ` + attr + `="` + hexOf(c) + `"`
	}
	return ` ` + attr + `="` + hexOf(c) + `" ` + attr + `-opacity="` + hundredths(float64(c.A)/255).text() + `"`
}

// hexOf writes a colour without its opacity, shortened where it can be.
func hexOf(c color.NRGBA) string {
	s := fmt.Sprintf("#%02x%02x%02x", c.R, c.G, c.B)
	if s[1] == s[2] && s[3] == s[4] && s[5] == s[6] {
		return "#" + s[1:2] + s[3:4] + s[5:6]
	}
	return s
}

// labels writes the labels, runs of one style in a group. Each keeps the
// width it was laid out with, whatever font the viewer sets it in.
func (p svgPicture) labels(b *bytes.Buffer) {
	style := ""
	for _, l := range p.sc.labels {
		if l.text == "" || l.ink.A == 0 {
			continue
		}
		st := fmt.Sprintf(` font-size="%s"`, hundredths(l.size).text())
		if l.bold {
			st += ` font-weight="bold"`
		}
		st += paintOf("fill", l.ink)
		if st != style {
			if style != "" {
				b.WriteString("</g>\n")
			}
			style = st
			b.WriteString("<g" + st + ">")
		}
		p.label(b, l)
	}
	if style != "" {
		b.WriteString("</g>\n")
	}
}

func (p svgPicture) label(b *bytes.Buffer, l label) {
	x, y := hundredths(l.at.x).text(), hundredths(p.sc.h-l.at.y).text()
	long := l.box.x1 - l.box.x0
	if l.upright {
		long = l.box.y1 - l.box.y0
		fmt.Fprintf(b, `<text transform="translate(%s %s) rotate(-90)"`, x, y)
	} else {
		fmt.Fprintf(b, `<text x="%s" y="%s"`, x, y)
	}
	// A single letter stretched to another font's width looks wrong, and has
	// room enough.
	if long > 0 && utf8.RuneCountInString(l.text) > 1 {
		fmt.Fprintf(b, ` textLength="%s" lengthAdjust="spacingAndGlyphs"`, hundredths(long).text())
	}
	b.WriteString(">" + escaped(l.text) + "</text>")
}

// escaped makes a text harmless inside an element: markup is escaped, and what
// could not be seen or would turn the text round it about is dropped.
func escaped(s string) string {
	s = strings.Map(func(r rune) rune {
		switch {
		case r == '\n':
			return ' '
		case r == utf8.RuneError || !unicode.IsGraphic(r) || slices.Contains([]rune{0xFFFE, 0xFFFF}, r):
			return -1
		}
		return r
	}, s)
	var b bytes.Buffer
	xml.EscapeText(&b, []byte(s)) // a buffer takes all
	return b.String()
}
