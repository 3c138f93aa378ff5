package plots

import (
	"cmp"
	"math"
	"slices"
)

// A crossing is the first place where a rim passes the limit it is judged by.
type crossing struct {
	rim  int
	atM  float64
	tag  string
	text string
}

// crossings lists the first crossing of each rim that has one, in the order
// of the road.
func (c *composer) crossings() []crossing {
	var out []crossing
	for i := range c.a.Rims {
		r := &c.a.Rims[i]
		if len(r.Over) == 0 || !finite(r.Over[0].StartM) || !finite(r.LimitC) {
			continue
		}
		out = append(out, crossing{i, r.Over[0].StartM, tagOf(i, len(c.a.Rims)), crossingText(r, c.u, c.endM)})
	}
	slices.SortStableFunc(out, func(a, b crossing) int { return cmp.Compare(a.atM, b.atM) })
	return out
}

// callouts marks the crossings on their limits and writes their words in a
// strip above the panel, one line each, tied by a thin leader. The lines are
// ordered so that no leader runs through words: the earliest crossing stands
// highest, and the words stand right of their leader. Near the right edge
// the leaders' feet are moved left to give the words room.
func (c *composer) callouts(all []crossing, panel rect, a axis) {
	foot := make([]float64, len(all))
	for k := len(all) - 1; k >= 0; k-- {
		w := c.tagWidth(all[k].tag) + c.tf.width(all[k].text, c.text())
		foot[k] = min(c.x(all[k].atM), sheetW-marginSide/2-w-5)
		if k < len(all)-1 {
			foot[k] = min(foot[k], foot[k+1])
		}
	}
	thin := lineStyle{ink: c.pal.soft, width: 0.6}
	for k, cr := range all {
		baseline := panel.y1 + 8 + float64(len(all)-1-k)*lineH
		at := xy{c.x(cr.atM), a.y(c.u.temp(c.a.Rims[cr.rim].LimitC))}
		c.sc.line(roleLeader, cr.rim, thin, xy{foot[k], baseline + 7}, xy{foot[k], panel.y1 + 1}, at)
		left := foot[k] + 4
		if cr.tag != "" {
			c.sc.write(c.tf, roleCrossing, cr.rim, c.tagText(), cr.tag, left, baseline, alignLeft)
			left += c.tagWidth(cr.tag)
		}
		c.sc.write(c.tf, roleCrossing, cr.rim, c.text(), cr.text, left, baseline, alignLeft)
	}
	var marked []xy
	for _, cr := range all {
		at := xy{c.x(cr.atM), a.y(c.u.temp(c.a.Rims[cr.rim].LimitC))}
		// A symbol on top of another is drawn smaller, so that both are seen.
		scale := 1.0
		for _, m := range marked {
			if math.Hypot(m.x-at.x, m.y-at.y) < 6 {
				scale *= 0.6
			}
		}
		marked = append(marked, at)
		st := styleOfRim(cr.rim)
		pts := make([]xy, 0, len(st.symbol)+1)
		for _, p := range st.symbol {
			pts = append(pts, xy{at.x + scale*p.x, at.y + scale*p.y})
		}
		pts = append(pts, pts[0])
		c.sc.add(shape{role: roleCrossing, rim: cr.rim, pts: pts, fill: st.track.ink, stroke: c.pal.halo, width: 1})
	}
}
