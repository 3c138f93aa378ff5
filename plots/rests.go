package plots

import (
	"cmp"
	"slices"

	"rimheat/thermal"
)

// roleRest is where the rider rests.
const roleRest role = "rest"

// A rest is a sign for one or more rests that lie together on the sheet.
type rest struct {
	x, s float64 // points, seconds
	many bool
}

// Measures of the sign, points: two upright bars.
const (
	restBarW  = 2.2
	restBarH  = 8.0
	restSignW = 3 * restBarW
)

// restsOf places the rests on the sheet. Of rests whose signs would touch, one is
// drawn for all, with the time of all.
func (c *composer) restsOf(stands []thermal.Stand) []rest {
	const together = restSignW + 3
	var at []rest
	for _, s := range stands {
		if s.AtM >= 0 && s.AtM <= c.endM && finite(s.S) && s.S > 0 {
			at = append(at, rest{x: max(c.left+restSignW/2, min(c.right-restSignW/2, c.x(s.AtM))), s: s.S})
		}
	}
	slices.SortStableFunc(at, func(a, b rest) int { return cmp.Compare(a.x, b.x) })
	var out []rest
	for _, r := range at {
		if n := len(out); n > 0 && r.x < out[n-1].x+together {
			out[n-1].s, out[n-1].many = out[n-1].s+r.s, true
			continue
		}
		out = append(out, r)
	}
	return out
}

// drawRests draws the signs about the height y, and beside them how long the rests
// are, the longest first, where there is room.
func (c *composer) drawRests(y float64) {
	const gap = 3.0
	sign := func(x float64) rect {
		return rect{x - restSignW/2, y - restBarH/2, x + restSignW/2, y + restBarH/2}
	}
	var busy []rect
	for _, r := range c.rests {
		c.restSign(roleRest, sign(r.x))
		busy = append(busy, sign(r.x).grown(1.5))
	}
	longest := slices.Clone(c.rests)
	slices.SortStableFunc(longest, func(a, b rest) int { return cmp.Compare(b.s, a.s) })
	st := c.text()
	for _, r := range longest {
		text, b := restText(r.s), sign(r.x)
		w := c.tf.width(text, st)
		for _, x := range []float64{b.x1 + gap, b.x0 - gap - w} {
			box := rect{x, b.y0, x + w, b.y1}
			if x < c.left || x+w > c.right+gaugeGap/2 || slices.ContainsFunc(busy, box.meets) {
				continue
			}
			c.sc.write(c.tf, roleRest, noRim, st, text, x, y-midLetters*c.size, alignLeft)
			busy = append(busy, box.grown(2))
			break
		}
	}
}

// restSign draws the sign into a box.
func (c *composer) restSign(r role, b rect) {
	c.sc.area(r, noRim, rect{b.x0, b.y0, b.x0 + restBarW, b.y1}, c.pal.ink)
	c.sc.area(r, noRim, rect{b.x1 - restBarW, b.y0, b.x1, b.y1}, c.pal.ink)
}

// restText says how long a rest is, from a minute on to the minute.
func restText(s float64) string {
	if s >= 59.5 && s < 3570 {
		return number(s/60, 0) + " min"
	}
	return timeText(s)
}
