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
	// short is what is left of the words where there is little room.
	short string
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
		out = append(out, crossing{
			i, r.Over[0].StartM, tagOf(i, len(c.a.Rims)), crossingText(r, c.u, c.endM), placeText(r.Over[0], c.u, c.endM),
		})
	}
	slices.SortStableFunc(out, func(a, b crossing) int { return cmp.Compare(a.atM, b.atM) })
	return out
}

// A callout is where the words of a crossing go: its leader stands at foot,
// the words start at left, in the given row from the panel upwards.
type callout struct {
	foot, left float64
	row        int
}

const calloutGap = 4.0

// placeCallouts finds places for the words, beside upright leaders, such that no
// leader runs through words: right of their leaders, and left of those that come too
// late for it. Where that fails the words stand on the right and the leaders lean.
func (c *composer) placeCallouts(all []crossing) (out []callout, upright bool) {
	const least, most = filmSide / 2, filmW - filmSide/2
	n := len(all)
	x, width := make([]float64, n), make([]float64, n)
	first := n // of those with words on the left
	for k, cr := range all {
		x[k], width[k] = c.x(cr.atM), c.tagWidth(cr.tag)+c.tf.width(cr.text, c.text())
		if x[k]+calloutGap+width[k] > most {
			first = min(first, k)
		}
	}
	// Words on the left must reach no leader whose words stand on its right.
	for k := n - 1; first > 0 && k >= first; k-- {
		for first > 0 && x[k]-calloutGap-width[k] < x[first-1]+calloutGap {
			first--
		}
	}
	out, upright = make([]callout, n), true
	for k := range all {
		if k < first {
			// The earliest is the highest.
			out[k] = callout{x[k], x[k] + calloutGap, n - 1 - k}
			continue
		}
		// The latest is the highest of the lower rows.
		out[k] = callout{x[k], x[k] - calloutGap - width[k], k - first}
		upright = upright && out[k].left >= least
	}
	if upright {
		return out, true
	}
	for k := n - 1; k >= 0; k-- {
		foot := min(x[k], most-calloutGap-width[k])
		if k < n-1 {
			foot = min(foot, out[k+1].foot)
		}
		out[k] = callout{foot, foot + calloutGap, n - 1 - k}
	}
	return out, false
}

// callouts marks the crossings on their limits and writes their words in a
// strip above the panel, one line each, tied by a thin leader.
func (c *composer) callouts(all []crossing, panel rect, a axis) {
	thin := lineStyle{ink: c.pal.soft, width: 0.6}
	places, upright := c.placeCallouts(all)
	if !upright {
		for k := range all {
			all[k].text = all[k].short
		}
		places, _ = c.placeCallouts(all)
	}
	for k, p := range places {
		cr := all[k]
		baseline := panel.y1 + 8 + float64(p.row)*figureLineH
		at := xy{c.x(cr.atM), a.y(c.u.temp(c.a.Rims[cr.rim].LimitC))}
		c.sc.line(roleLeader, cr.rim, thin, xy{p.foot, baseline + 8.5}, xy{p.foot, panel.y1 + 1}, at)
		left := p.left
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
		c.symbol(roleCrossing, cr.rim, at, scale)
	}
}

// symbol draws the rim's symbol at the given part of its full size.
func (c *composer) symbol(r role, rim int, at xy, scale float64) {
	st := styleOfRim(rim)
	pts := make([]xy, 0, len(st.symbol)+1)
	for _, p := range st.symbol {
		pts = append(pts, xy{at.x + scale*p.x, at.y + scale*p.y})
	}
	pts = append(pts, pts[0])
	c.sc.add(shape{role: r, rim: rim, pts: pts, fill: st.track.ink, stroke: c.pal.halo, width: 1})
}
