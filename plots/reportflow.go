package plots

import "strings"

// Measures of the report's pages on paper, points. Sheets of figures are as wide as
// the text.
const (
	pageMargin = 27.0
	pageTextW  = filmW
	pageGap    = 10.0 // between figures
	pageBody   = 10.0
	pageSmall  = 9.5
	pageNumber = 13.0 // the baseline of a page's number from the foot
)

// A paperPage is a page of text and the figures placed on it.
type paperPage struct {
	text    *scene
	figures []placedFigure
	// used is how far down the page is filled, points from its upper edge.
	used float64
}

// A placedFigure is a figure and its place, points from the page's upper left
// corner.
type placedFigure struct {
	sc        *scene
	left, top float64
}

// A paper is a run of pages that text and figures are set on in turn.
type paper struct {
	tf    *typeface
	pal   palette
	w, h  float64
	pages []*paperPage
}

// newPaper begins with an empty page of A4, or of Letter.
func newPaper(tf *typeface, letter bool) *paper {
	p := &paper{tf: tf, pal: colours(), w: 595.28, h: 841.89} // ISO 216, 210 by 297 mm
	if letter {
		p.w, p.h = 612, 792 // ANSI A, 8.5 by 11 inches
	}
	p.turn()
	return p
}

// turn begins a new page.
func (p *paper) turn() {
	p.pages = append(p.pages, &paperPage{text: &scene{w: p.w, h: p.h}, used: pageMargin})
}

func (p *paper) last() *paperPage { return p.pages[len(p.pages)-1] }
func (p *paper) left() float64    { return (p.w - pageTextW) / 2 }
func (p *paper) foot() float64    { return p.h - pageMargin }

// room turns the page if less than h is left on it.
func (p *paper) room(h float64) {
	if p.last().used+h > p.foot() {
		p.turn()
	}
}

// skip leaves h free, but for the head of a page.
func (p *paper) skip(h float64) {
	if g := p.last(); g.used > pageMargin {
		g.used += h
	}
}

func (p *paper) body() textStyle  { return textStyle{size: pageBody, ink: p.pal.ink} }
func (p *paper) small() textStyle { return textStyle{size: pageSmall, ink: p.pal.ink} }

func bolder(st textStyle) textStyle { st.bold = true; return st }

// leading is from line to line, parts of the type size.
const leading = 1.26

// heading writes a heading that stays with what follows.
func (p *paper) heading(text string, size float64) {
	p.skip(0.8 * size)
	p.room(4 * size)
	p.paragraph(textStyle{size: size, bold: true, ink: p.pal.ink}, 0, text)
	p.skip(0.2 * size)
}

// paragraph sets a text so far indented, over as many lines and pages as it takes.
func (p *paper) paragraph(st textStyle, indent float64, text string) {
	for _, l := range p.tf.lines(text, st, pageTextW-indent) {
		p.line(st, indent, l)
	}
}

// line sets one line and answers its baseline, points from the page's foot.
func (p *paper) line(st textStyle, indent float64, text string) float64 {
	p.room(leading * st.size)
	g := p.last()
	g.used += leading * st.size
	y := p.h - g.used + (leading-1)*st.size + descender*st.size/2
	g.text.write(p.tf, roleVerdict, noRim, st, text, p.left()+indent, y, alignLeft)
	return y
}

// item sets a text with a word in bold before it.
func (p *paper) item(st textStyle, indent float64, name, text string) {
	lead := withoutMarks(name) + ": "
	w := p.tf.width(lead, bolder(st))
	if w > pageTextW/2 {
		p.paragraph(bolder(st), indent, lead)
		p.paragraph(st, indent, text)
		return
	}
	lines := p.tf.linesAfter(text, st, pageTextW-indent, w)
	for i, l := range lines {
		if i > 0 {
			p.line(st, indent, l)
			continue
		}
		y := p.line(bolder(st), indent, strings.TrimSpace(lead))
		if l != "" {
			p.last().text.write(p.tf, roleVerdict, noRim, st, l, p.left()+indent+w, y, alignLeft)
		}
	}
}

// bullet sets a text behind a small square.
func (p *paper) bullet(st textStyle, text string) {
	const indent = 10.0
	for i, l := range p.tf.lines(text, st, pageTextW-indent) {
		y := p.line(st, indent, l)
		if i == 0 {
			x, mid := p.left()+3, y+0.3*st.size
			p.last().text.area(roleKey, noRim, rect{x - 1.2, mid - 1.2, x + 1.2, mid + 1.2}, p.pal.soft)
		}
	}
}

// figure puts a figure on the first page from the given one on that has room for it.
// One that is higher than a page is cut where nothing is cut through, and else gets
// a page as high as it takes.
func (p *paper) figure(from int, sc *scene) {
	most := p.foot() - pageMargin
	for sc.h > most {
		upper, lower, ok := sc.cut(most)
		if !ok {
			break
		}
		from = p.place(from, upper) + 1 // what is below comes after
		sc = lower
	}
	p.place(from, sc)
}

// place puts a figure on the first page from the given one on that has room, or on a new
// one, and tells which page that is.
func (p *paper) place(from int, sc *scene) int {
	for i, g := range p.pages {
		if i < from {
			continue
		}
		top := g.used
		if top > pageMargin {
			top += pageGap
		}
		if top+sc.h <= p.foot() {
			g.figures = append(g.figures, placedFigure{sc, (p.w - sc.w) / 2, top})
			g.used = top + sc.h
			return i
		}
	}
	p.turn()
	g := p.last()
	if need := sc.h + 2*pageMargin; need > p.h+0.01 {
		g.text.h = need
	}
	g.figures = append(g.figures, placedFigure{sc, (p.w - sc.w) / 2, pageMargin})
	g.used = pageMargin + sc.h
	return len(p.pages) - 1
}
