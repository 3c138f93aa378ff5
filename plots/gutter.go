package plots

import (
	"cmp"
	"slices"
)

// A gutterItem is one entry of the column right of the temperature panel:
// the name of a curve at its end, or the words of a limit at its line.
type gutterItem struct {
	role role
	rim  int
	// y is where the curve or line meets the panel's edge; tied tells
	// whether there is one to meet.
	y     float64
	tied  bool
	style lineStyle
	tag   string
	// brief is said instead of text where one line is too short for it.
	text, brief string
	lines       []string
}

// Widths in the gutter, points: the slanted tie from the curve's end, the
// sample of its line, and where the text starts.
const (
	tieW    = 12.0
	sampleW = 22.0
	textAt  = tieW + sampleW + 5
	gutterH = 11.5 // line spacing
	gutterP = 4.0  // air between entries
	// gutterMore is how much higher than its panel the gutter may be.
	gutterMore = 16.0
)

// gutter names the curves and limits where they leave the panel, moved apart
// so that no two entries touch. y maps °C to the sheet.
func (c *composer) gutter(panel rect, y func(float64) float64) {
	n := len(c.a.Rims)
	var items []gutterItem
	for _, l := range c.limits {
		items = append(items, gutterItem{role: roleLimit, rim: noRim, y: y(l.limitC), tied: true, style: c.limitStyle(l), text: l.text(c.u, n), brief: l.text(c.u, 1)})
	}
	for i := range c.a.Rims {
		st := styleOfRim(i)
		curve := func(r role, s series, l lineStyle, text string) {
			it := gutterItem{role: r, rim: i, y: panel.y0, style: l, tag: tagOf(i, n), text: text, brief: text}
			if k := len(s.v); k > 0 {
				it.y, it.tied = y(s.v[k-1]), true
			}
			items = append(items, it)
		}
		curve(roleTrack, c.track[i], st.track, c.tf.rimName(&c.a.Rims[i], i))
		if len(c.tyre[i].v) > 0 {
			curve(roleTyreSide, c.tyre[i], st.tyreSide(), "tyre side")
		}
	}
	slices.SortStableFunc(items, func(a, b gutterItem) int { return cmp.Compare(a.y, b.y) })

	room := panel.y1 - panel.y0 + gutterMore
	for most := 2; most > 0; most-- {
		total := 0.0
		for k := range items {
			it := &items[k]
			width := sheetW - marginSide/2 - panel.x1 - textAt - c.tagWidth(it.tag)
			it.lines = c.tf.wrap(it.text, c.text(), width, most)
			if most == 1 && c.tf.width(it.text, c.text()) > width {
				it.lines = c.tf.wrap(it.brief, c.text(), width, 1)
			}
			total += c.itemHeight(*it)
		}
		if total <= room {
			break
		}
	}
	centre, size := make([]float64, len(items)), make([]float64, len(items))
	for k, it := range items {
		centre[k], size[k] = it.y, c.itemHeight(it)
	}
	for k, at := range spread(centre, size, panel.y0-12, panel.y1-12+gutterMore) {
		c.gutterEntry(items[k], panel.x1, at)
	}
}

// gutterNeed is the height of the gutter with one line for each entry.
func (c *composer) gutterNeed() float64 {
	n := len(c.limits) + len(c.a.Rims)
	for _, s := range c.tyre {
		if len(s.v) > 0 {
			n++
		}
	}
	return float64(n) * (gutterH + gutterP)
}

func (c *composer) itemHeight(it gutterItem) float64 {
	return float64(len(it.lines))*gutterH + gutterP
}

func (c *composer) tagWidth(tag string) float64 {
	if tag == "" {
		return 0
	}
	return c.tf.width(tag, c.tagText()) + 4
}

// gutterEntry draws one entry centred on the height at, from the panel's
// edge x outwards.
func (c *composer) gutterEntry(it gutterItem, x, at float64) {
	if it.tied {
		c.sc.line(roleLeader, it.rim, lineStyle{ink: it.style.ink, width: 0.6}, xy{x + 1.5, it.y}, xy{x + tieW, at})
	}
	c.sc.line(roleKey, it.rim, it.style, xy{x + tieW, at}, xy{x + tieW + sampleW, at})
	baseline := at + float64(len(it.lines)-1)*gutterH/2 - 3.1
	left := x + textAt
	if it.tag != "" {
		c.sc.write(c.tf, it.role, it.rim, c.tagText(), it.tag, left, baseline, alignLeft)
		left += c.tagWidth(it.tag)
	}
	for _, s := range it.lines {
		c.sc.write(c.tf, it.role, it.rim, c.text(), s, left, baseline, alignLeft)
		baseline -= gutterH
	}
}
