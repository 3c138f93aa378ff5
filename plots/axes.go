package plots

import "math"

// An axis maps a value to a height on the sheet.
type axis struct{ lo, hi, y0, y1 float64 }

func (a axis) y(v float64) float64 {
	f := (v - a.lo) / (a.hi - a.lo)
	return a.y0 + math.Max(0, math.Min(1, f))*(a.y1-a.y0)
}

// midLetters is how far the middle of a line of figures lies above its baseline,
// parts of the type size.
const midLetters = 0.355

// rule draws the axis' marks beside the panel, each with a line to toX.
func (c *composer) rule(a axis, panel rect, most int, toX float64, st lineStyle, title string) {
	t := ticksIn(a.lo, a.hi, most)
	for _, v := range t.at {
		y := a.y(v)
		c.sc.line(roleGrid, noRim, st, xy{panel.x0, y}, xy{toX, y})
		c.sc.write(c.tf, roleTick, noRim, c.note(), number(v, t.decimals), panel.x0-6, y-midLetters*c.size, alignRight)
	}
	if title != "" {
		c.sc.writeUpright(c.tf, roleAxis, c.note(), title, c.side+7, (panel.y0+panel.y1)/2)
	}
}

// distanceAxis marks the distances under a strip, the last one with the unit.
func (c *composer) distanceAxis(strip rect) {
	const most = 8
	thin := lineStyle{ink: c.pal.soft, width: 0.7}
	c.sc.line(roleAxis, noRim, thin, xy{strip.x0, strip.y0}, xy{strip.x1, strip.y0})
	t := ticksIn(0, c.u.dist(c.endM), most)
	for i, v := range t.at {
		x := c.left + v/c.u.dist(c.endM)*(c.right-c.left)
		c.sc.line(roleTick, noRim, thin, xy{x, strip.y0}, xy{x, strip.y0 - 3.5})
		text, align := number(v, t.decimals), alignCentre
		if i == len(t.at)-1 {
			// The number stays under its mark, the unit stands behind it.
			align = 0.5 * c.tf.width(text, c.note()) / c.tf.width(text+" "+c.u.distUnit(), c.note())
			text += " " + c.u.distUnit()
		}
		c.sc.write(c.tf, roleTick, noRim, c.note(), text, x, strip.y0-15, align)
	}
}
