package plots

import (
	"slices"

	"rimheat/thermal"
)

// A keyItem explains one sign; draw puts a sample of it into a box.
type keyItem struct {
	tag, text string
	// sampleW is the width of the sample, points.
	sampleW float64
	draw    func(b rect)
}

// Measures of the key, points.
const (
	keySampleW = 22.0
	keyAfter   = 6.0  // between sample and words
	keyBetween = 18.0 // between items
)

func (c *composer) keyWidth(it keyItem) float64 {
	return c.tagWidth(it.tag) + it.sampleW + keyAfter + c.tf.width(it.text, c.note())
}

// keyRows lists the signs that the figure uses, in rows that fit the sheet.
func (c *composer) keyRows() [][]keyItem {
	var rows [][]keyItem
	x := filmW // no row yet
	for _, it := range c.keyItems() {
		w := c.keyWidth(it)
		if x+w > filmW-c.side {
			rows, x = append(rows, nil), c.side
		}
		rows[len(rows)-1] = append(rows[len(rows)-1], it)
		x += w + keyBetween
	}
	return rows
}

// key draws the rows, the first on the baseline y.
func (c *composer) key(rows [][]keyItem, y float64) {
	for _, row := range rows {
		x := c.side
		for _, it := range row {
			end := x + c.keyWidth(it)
			if it.tag != "" {
				c.sc.write(c.tf, roleKey, noRim, c.tagText(), it.tag, x, y, alignLeft)
				x += c.tagWidth(it.tag)
			}
			it.draw(rect{x, y - 1, x + it.sampleW, y + 8})
			c.sc.write(c.tf, roleKey, noRim, c.note(), it.text, x+it.sampleW+keyAfter, y, alignLeft)
			x = end + keyBetween
		}
		y -= c.keyRowH()
	}
}

// keyItems lists what is explained: on a page's part the rims and their limits by
// name too, which the sheet's header says otherwise.
func (c *composer) keyItems() []keyItem {
	var out []keyItem
	put := func(text string, draw func(b rect)) {
		out = append(out, keyItem{text: text, sampleW: keySampleW, draw: draw})
	}
	if c.bare {
		out = append(out, c.rimKeys()...)
	}
	if rims := c.banded(); len(rims) > 0 {
		out = append(out, keyItem{text: c.bandText(), sampleW: keySampleW + 10, draw: func(b rect) { c.bandSample(rims[0], b) }})
	}
	out = append(out, c.limitKeys()...)
	if len(c.over) > 0 {
		put("central estimate over its limit", func(b rect) {
			c.sc.area(roleKey, noRim, b, c.pal.over)
			c.sc.area(roleKey, noRim, rect{b.x0 + 4, b.y0 + 3, b.x1 - 4, b.y1}, c.pal.excess)
			c.sc.line(roleKey, noRim, lineStyle{ink: c.pal.overRoad, width: 2.4}, xy{b.x0, b.y0 + 1.2}, xy{b.x1, b.y0 + 1.2})
		})
	}
	if i := slices.IndexFunc(c.tyre, func(s series) bool { return len(s.v) > 1 }); i >= 0 {
		put(c.elsewhere()+", where it decides", c.level(styleOfRim(i).tyreSide()))
	}
	if i := slices.Index(c.sawing, true); i >= 0 {
		if len(c.banded()) > 0 {
			put("highest of brakes on and off", c.level(styleOfRim(i).track))
		} else {
			put("range of brakes on and off", func(b rect) { c.sc.area(roleKey, noRim, b, styleOfRim(i).band()) })
		}
	}
	if len(c.drawable()) > 0 {
		put("descent", func(b rect) {
			c.sc.line(roleKey, noRim, lineStyle{ink: c.pal.bracket, width: 1}, xy{b.x0, b.y1 - 2}, xy{b.x0, b.y0 + 2}, xy{b.x1, b.y0 + 2}, xy{b.x1, b.y1 - 2})
		})
	}
	if len(c.rests) > 0 {
		text := "rest"
		if slices.ContainsFunc(c.rests, func(r rest) bool { return r.many }) {
			text = "rests, neighbours as one"
		}
		out = append(out, keyItem{text: text, sampleW: restSignW, draw: func(b rect) {
			c.restSign(roleKey, rect{b.x0, b.y0, b.x0 + restSignW, b.y0 + restBarH})
		}})
	}
	if len(c.grades) > 0 {
		out = append(out, c.gradeKey())
	}
	return out
}

// rimKeys names the rims.
func (c *composer) rimKeys() []keyItem {
	var out []keyItem
	const sampleW = 34.0
	for i := range c.a.Rims {
		tag := tagOf(i, len(c.a.Rims))
		room := filmW - 2*c.side
		if tag != "" {
			// Two to a row.
			room = (room - keyBetween) / 2
		}
		name := c.tf.fit(c.tf.rimName(&c.a.Rims[i], i), c.note(), room-c.tagWidth(tag)-sampleW-keyAfter)
		out = append(out, keyItem{tag: tag, text: name, sampleW: sampleW, draw: func(b rect) { c.sample(i, b) }})
	}
	return out
}

// limitKeys explains the limits: on a page's part each with its number.
func (c *composer) limitKeys() []keyItem {
	var out []keyItem
	put := func(text string, draw func(b rect)) {
		out = append(out, keyItem{text: text, sampleW: keySampleW, draw: draw})
	}
	var seen [2]bool
	for _, l := range c.limits {
		text, k := "brake-track limit", 0
		if l.tyreSide {
			text, k = "limit of "+c.elsewhere(), 1
		}
		switch {
		case c.bare:
			text = l.text(c.u, c.a.Rims)
		case seen[k]:
			continue
		}
		seen[k] = true
		put(text, c.level(c.limitStyle(l.tyreSide)))
	}
	if slices.ContainsFunc(c.gauges, func(g gauge) bool { return g.believed.ok() }) {
		put("an assumed limit is believed to lie here", func(b rect) {
			mid := (b.x0 + b.x1) / 2
			c.doubt(roleKey, noRim, rect{mid - 7.5, b.y0 - 2, mid + 7.5, b.y1 + 2})
		})
	}
	return out
}

// level draws a sample of a level line.
func (c *composer) level(st lineStyle) func(rect) {
	return func(b rect) {
		mid := (b.y0 + b.y1) / 2
		c.sc.line(roleKey, noRim, st, xy{b.x0, mid}, xy{b.x1, mid})
	}
}

// elsewhere names the places other than the track that limits are about.
func (c *composer) elsewhere() string {
	if slices.ContainsFunc(c.a.Rims, func(r thermal.RimResult) bool { return r.LimitOn == thermal.OnFairing }) {
		return "tyre side or fairing"
	}
	return "tyre side"
}
