package plots

import "rimheat/thermal"

// A keyItem explains one sign; draw puts a sample of it into a box.
type keyItem struct {
	text string
	draw func(b rect)
}

// Measures of the key, points.
const (
	keySampleW = 22.0
	keyAfter   = 6.0  // between sample and words
	keyBetween = 20.0 // between items
)

func (c *composer) keyWidth(it keyItem) float64 {
	return keySampleW + keyAfter + c.tf.width(it.text, c.note())
}

// keyRows lists the signs that the figure uses, in rows that fit the sheet.
func (c *composer) keyRows() [][]keyItem {
	var rows [][]keyItem
	x := sheetW // no row yet
	for _, it := range c.keyItems() {
		w := c.keyWidth(it)
		if x+w > sheetW-marginSide {
			rows, x = append(rows, nil), marginSide
		}
		rows[len(rows)-1] = append(rows[len(rows)-1], it)
		x += w + keyBetween
	}
	return rows
}

// key draws the rows, the first on the baseline y.
func (c *composer) key(rows [][]keyItem, y float64) {
	for _, row := range rows {
		x := marginSide
		for _, it := range row {
			it.draw(rect{x, y - 1, x + keySampleW, y + 7})
			c.sc.write(c.tf, roleKey, noRim, c.note(), it.text, x+keySampleW+keyAfter, y, alignLeft)
			x += c.keyWidth(it) + keyBetween
		}
		y -= lineH + 1
	}
}

func (c *composer) keyItems() []keyItem {
	var out []keyItem
	put := func(text string, draw func(b rect)) { out = append(out, keyItem{text, draw}) }
	level := func(st lineStyle) func(rect) {
		return func(b rect) {
			mid := (b.y0 + b.y1) / 2
			c.sc.line(roleKey, noRim, st, xy{b.x0, mid}, xy{b.x1, mid})
		}
	}
	if len(c.drawable()) > 0 {
		put("descent", func(b rect) {
			c.sc.line(roleKey, noRim, lineStyle{ink: c.pal.bracket, width: 1}, xy{b.x0, b.y1 - 2}, xy{b.x0, b.y0 + 2}, xy{b.x1, b.y0 + 2}, xy{b.x1, b.y1 - 2})
		})
	}
	if len(c.over) > 0 {
		put("a rim is over its limit", func(b rect) {
			c.sc.area(roleKey, noRim, b, c.pal.over)
			c.sc.area(roleKey, noRim, rect{b.x0 + 4, b.y0 + 3, b.x1 - 4, b.y1}, c.pal.excess)
			c.sc.line(roleKey, noRim, lineStyle{ink: c.pal.overRoad, width: 2.4}, xy{b.x0, b.y0 + 1.2}, xy{b.x1, b.y0 + 1.2})
		})
	}
	var onTrack, onTyre bool
	for _, l := range c.limits {
		onTrack, onTyre = onTrack || !l.tyreSide, onTyre || l.tyreSide
	}
	if onTrack {
		put("brake-track limit", level(c.limitStyle(false)))
	}
	elsewhere := "tyre side"
	for i := range c.a.Rims {
		if c.a.Rims[i].LimitOn == thermal.OnFairing {
			elsewhere = "tyre side or fairing"
		}
	}
	if onTyre {
		put("limit of "+elsewhere, level(c.limitStyle(true)))
	}
	for i := range c.tyre {
		if len(c.tyre[i].v) > 1 {
			put(elsewhere+", where it decides", level(styleOfRim(i).tyreSide()))
			break
		}
	}
	for i := range c.sawing {
		if c.sawing[i] {
			put("range of brakes on and off", func(b rect) { c.sc.area(roleKey, noRim, b, styleOfRim(i).band()) })
			break
		}
	}
	return out
}
