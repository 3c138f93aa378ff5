package plots

import (
	"fmt"
	"io"
	"strings"

	"codeberg.org/go-pdf/fpdf"

	"rimheat/thermal"
)

// pdf writes the figures on pages.
func (r *reporter) pdf(w io.Writer) error {
	p := r.paper()
	doc := newPDF(p.w, p.h)
	doc.SetTitle(withoutMarks(r.title()), true)
	doc.SetLang("en")
	for _, g := range p.pages {
		doc.AddPageFormat("P", fpdf.SizeType{Wd: p.w, Ht: g.text.h})
		putOnPage(doc, g.text, 0, 0)
		for _, f := range g.figures {
			putOnPage(doc, f.sc, f.left, f.top)
		}
	}
	return writePDF(w, doc)
}

// paper lays all pages out: the answer, the figures, what they stand on.
func (r *reporter) paper() *paper {
	t := r.text()
	p := newPaper(r.tf, r.opt.Imperial)
	r.firstPage(p, t)
	from := len(p.pages) - 1
	var missing []string
	for _, f := range r.wholeFigures() {
		if f.sc == nil {
			missing = append(missing, f.missing)
			continue
		}
		p.figure(from, f.sc)
	}
	p.turn()
	r.lastPage(p, t, missing)
	p.number()
	return p
}

// wholeFigures draws all figures in full.
func (r *reporter) wholeFigures() []reportFigure {
	out := []reportFigure{r.descentFigure(false), r.sectionFigure(false), r.mapFigure(false)}
	out = append(out, r.draw(reportFigure{title: "Where the energy goes"}, false, composeEnergy))
	return append(out, r.draw(reportFigure{title: "What the answer hangs on"}, false, func(a *thermal.Assessment, opt Options, tf *typeface) (*scene, error) {
		return composeReasons(a, units{imperial: opt.Imperial}, tf)
	}))
}

// firstPage answers the question in words.
func (r *reporter) firstPage(p *paper, t reportText) {
	p.paragraph(textStyle{size: 17, bold: true, ink: p.pal.ink}, 0, t.Title)
	p.paragraph(textStyle{size: 12, ink: p.pal.ink}, 0, t.Question)
	p.skip(1)
	p.paragraph(textStyle{size: pageBody, ink: p.pal.soft}, 0, strings.Join(t.Facts, "; "))
	for _, c := range t.Cards {
		p.skip(8)
		p.room(5 * leading * pageBody)
		r.cardOnPaper(p, c)
	}
	p.skip(6)
	for _, it := range t.Terms {
		p.item(p.small(), 0, it.Name, it.Text+".")
	}
}

// cardOnPaper sets the answer for one rim.
func (r *reporter) cardOnPaper(p *paper, c reportCard) {
	const indent = 17.0
	head := c.Name
	if c.Tag != "" {
		head = c.Tag + "  " + head
	}
	y := p.line(bolder(textStyle{size: 11, ink: p.pal.ink}), indent, p.tf.fit(withoutMarks(head), bolder(textStyle{size: 11}), pageTextW-indent))
	p.sign(symbolShapes(c.Rim), y)
	word := bolder(p.body())
	if c.Verdict == thermal.Over {
		word.ink = p.pal.limit
	}
	lead := c.Word + ": "
	w := p.tf.width(lead, word)
	for i, l := range p.tf.linesAfter(c.Says, p.body(), pageTextW-indent, w) {
		if i > 0 {
			p.line(p.body(), indent, l)
			continue
		}
		y = p.line(word, indent, strings.TrimSpace(lead))
		p.sign(markOf(c.Verdict), y)
		if l != "" {
			p.last().text.write(p.tf, roleVerdict, c.Rim, p.body(), l, p.left()+indent+w, y, alignLeft)
		}
	}
	for _, row := range c.Rows {
		p.item(p.small(), indent, row.Name, row.Text)
	}
}

// sign draws shapes about the origin before a line with its baseline at y.
func (p *paper) sign(shapes []shape, y float64) {
	for _, s := range shapes {
		moved := s
		moved.role, moved.pts = roleKey, nil
		for _, q := range s.pts {
			moved.pts = append(moved.pts, xy{p.left() + markHalf + q.x, y + 3.4 + q.y})
		}
		p.last().text.add(moved)
	}
}

// lastPage says what to do and what all stands on.
func (r *reporter) lastPage(p *paper, t reportText, missing []string) {
	if t.Advice != "" {
		p.heading("Advice", 12)
		p.paragraph(p.body(), 0, t.Advice)
	}
	r.changesOnPaper(p, t)
	p.heading("On the road", 12)
	p.paragraph(p.body(), 0, strings.Join(t.OnTheRoad, " "))
	p.heading("Check before and after", 12)
	for _, c := range t.Checks {
		p.item(p.body(), 0, c.Name, c.Text)
	}
	p.heading("What this stands on", 12)
	p.paragraph(bolder(p.body()), 0, t.Maker)
	for _, it := range t.Basis {
		p.item(p.small(), 0, it.Name, it.Text)
	}
	for _, m := range missing {
		p.paragraph(p.small(), 0, m)
	}
	if len(t.Cautions) > 0 {
		p.heading("Cautions", 12)
		for _, c := range t.Cautions {
			p.bullet(p.small(), c)
			p.skip(1)
		}
	}
	if len(t.Note) > 0 {
		p.heading("In the shop's own words", 12)
		for i, para := range t.Note {
			if i > 0 {
				p.skip(4)
			}
			for _, l := range para {
				p.paragraph(p.body(), 0, l)
			}
		}
	}
}

// changesOnPaper says what would change the answer, a line for each change.
func (r *reporter) changesOnPaper(p *paper, t reportText) {
	if r.a.Outlook == nil {
		return
	}
	p.heading("What would change it", 12)
	for i, c := range r.a.Outlook.Changes {
		var parts []string
		name := ""
		for _, table := range t.Changes {
			name = table.Rows[i][0]
			for k, cell := range table.Rows[i][1:] {
				tag, _, _ := strings.Cut(table.Head[k+1], ",")
				parts = append(parts, tag+" "+cell)
			}
		}
		if len(c.Rims) > 0 {
			p.item(p.small(), 0, name, strings.Join(parts, "; ")+".")
		}
	}
	p.paragraph(p.small(), 0, "One change at a time, in the central estimate.")
	if len(t.Rests) > 0 {
		p.paragraph(p.small(), 0, strings.Join(t.Rests, " "))
	}
}

// number writes the pages' numbers.
func (p *paper) number() {
	st := textStyle{size: pageSmall, ink: p.pal.soft}
	for i, g := range p.pages {
		g.text.write(p.tf, roleFooter, noRim, st, fmt.Sprintf("page %d of %d", i+1, len(p.pages)), p.w-p.left(), pageNumber, alignRight)
	}
}
