package plots

// Measures of the header, points.
const (
	headTop     = 30.0 // from the sheet's top to the title's baseline
	headTag     = 15.0 // room of a tag
	headSampleW = 36.0
	headNameAt  = headSampleW + 8
	headBetween = 5.0 // between rims
)

// head breaks what is said of each rim into lines; the first is its
// name with the verdict.
func (c *composer) head() [][]string {
	if c.bare {
		return nil
	}
	var out [][]string
	room := filmW - c.side - c.headLeft()
	for i := range c.a.Rims {
		r := &c.a.Rims[i]
		name, says := textStyle{size: filmText, bold: true}, ""
		if word := clean(string(r.Verdict)); word != "" && (byDraws(r) || finite(r.LimitC)) {
			says = ": " + word
		}
		lines := []string{c.tf.fit(c.tf.rimName(r, i), name, room-headNameAt-c.tf.width(says, name)) + says}
		for _, s := range verdictLines(r, c.u) {
			lines = append(lines, c.tf.wrap(s, textStyle{size: filmText}, room, 3)...)
		}
		out = append(out, lines)
	}
	return out
}

// headLeft is where the words begin.
func (c *composer) headLeft() float64 {
	if len(c.a.Rims) > 1 {
		return c.side + headTag
	}
	return c.side
}

// headH is the height of the title and such lines.
func headH(head [][]string) float64 {
	h := headTop + 2
	for _, lines := range head {
		h += headBetween + float64(len(lines))*figureLineH
	}
	return h
}

// header writes the title and what is said of each rim, after a sample of its
// curve.
func (c *composer) header(head [][]string) {
	room := filmW - 2*c.side
	title := textStyle{size: 15, bold: true, ink: c.pal.ink}
	y := c.sc.h - headTop
	c.sc.write(c.tf, roleTitle, noRim, title, c.tf.fit(c.tf.routeName(c.a.Route.Name), title, room), c.side, y, alignLeft)
	y -= 2
	words := textStyle{size: filmText, ink: c.pal.ink}
	name := words
	name.bold = true
	for i, lines := range head {
		y -= headBetween + figureLineH
		x := c.headLeft()
		if tag := tagOf(i, len(c.a.Rims)); tag != "" {
			c.sc.write(c.tf, roleVerdict, i, name, tag, c.side, y, alignLeft)
		}
		c.sample(i, rect{x, y, x + headSampleW, y + 8})
		c.sc.write(c.tf, roleVerdict, i, name, lines[0], x+headNameAt, y, alignLeft)
		for _, l := range lines[1:] {
			y -= figureLineH
			c.sc.write(c.tf, roleVerdict, i, words, l, x, y, alignLeft)
		}
	}
}

// sample draws a piece of a rim's curve with its symbol.
func (c *composer) sample(i int, b rect) {
	const symbolW = 9.0
	mid := (b.y0 + b.y1) / 2
	c.sc.line(roleKey, i, styleOfRim(i).track, xy{b.x0, mid}, xy{b.x1 - symbolW - 2, mid})
	c.symbol(roleKey, i, xy{b.x1 - symbolW/2, mid}, 0.9)
}

// remarks are the lines at the foot.
func (c *composer) remarks() []string {
	if c.bare {
		return nil
	}
	return foot(c.tf, c.footText()...)
}

// foot writes them, the last one lowest.
func (c *composer) foot(lines []string) {
	st := textStyle{size: filmSourcePt, ink: c.pal.soft}
	y := footerAt + float64(len(lines)-1)*footLineH
	for _, l := range lines {
		c.sc.write(c.tf, roleFooter, noRim, st, l, c.side, y, alignLeft)
		y -= footLineH
	}
}
