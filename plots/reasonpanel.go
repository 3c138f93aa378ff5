package plots

import (
	"fmt"

	"rimheat/thermal"
)

// Measures of the sheet of reasons, points.
const (
	reasonsHead  = 62.0 // above the first panel
	reasonsKey   = 34.0
	reasonsBelow = 16.0 // under each panel
	reasonRow    = 18.0
	reasonBarH   = 10.0
	reasonNames  = 148.0
	reasonNumber = 44.0 // room behind the longest bar
	reasonAxis   = 22.0
)

// A reasonsSheet lays out what the answers hang on.
type reasonsSheet struct {
	*narrowSheet
	// most is the part of the variance at the right end of the bars.
	most float64
}

// reasonZ is the number of standard errors that nineteen of twenty lie within.
const reasonZ = 1.96

// height is how much of the sheet the panel takes.
func (p *reasonsOf) height() float64 {
	h := float64(1+len(p.says))*filmLineH + reasonsBelow
	if len(p.bars) == 0 {
		return h + float64(len(p.instead))*filmLineH + 4
	}
	return h + float64(len(p.bars))*reasonRow + reasonAxis + filmLineH
}

// mostPart is the scale of all bars, so that panels can be compared.
func mostPart(panels []reasonsOf) float64 {
	most := 0.1
	for _, p := range panels {
		for _, d := range p.bars {
			most = max(most, d.Total, d.Total+reasonZ*max(0, d.TotalSE))
		}
	}
	// Errors greater than the whole say no more.
	return min(most, 1.25)
}

// panel draws one rim's reasons from y down.
func (s *reasonsSheet) panel(p reasonsOf, y float64) {
	x := filmSide
	y -= filmLineH
	if p.tag != "" {
		s.sc.write(s.tf, roleVerdict, p.rim, s.strong(), p.tag, x, y, alignLeft)
		x += s.tf.width(p.tag, s.strong()) + 6
	}
	s.symbol(p.rim, xy{x + 5, y + 4})
	x += 15
	name := s.tf.fit(s.tf.rimName(p.r, p.rim), s.strong(), filmW-filmSide-x)
	s.sc.write(s.tf, roleVerdict, p.rim, s.strong(), name, x, y, alignLeft)
	for _, l := range p.says {
		y -= filmLineH
		s.sc.write(s.tf, roleVerdict, p.rim, s.text(), s.tf.fit(l, s.text(), narrowRoom), filmSide, y, alignLeft)
	}
	if len(p.bars) == 0 {
		y -= 4
		for _, l := range p.instead {
			y -= filmLineH
			s.sc.write(s.tf, roleVerdict, p.rim, s.strong(), s.tf.fit(l, s.strong(), narrowRoom), filmSide, y, alignLeft)
		}
		return
	}
	y -= 9
	top := y
	for _, d := range p.bars {
		y -= reasonRow
		s.bar(p.rim, d, y+reasonRow/2)
	}
	s.axis(top, y)
	s.sc.write(s.tf, roleVerdict, p.rim, s.note(), p.remark(), filmSide, y-reasonAxis-7, alignLeft)
}

// remark says what the bars leave out.
func (p *reasonsOf) remark() string {
	text := "the fit behind the bars accounts for " + thermal.ChanceWords(p.r.Risk.Explained) + " of the variance"
	if p.left > 0 {
		text = fmt.Sprintf("%d more under 1 %%; ", p.left) + text
	}
	return text
}

// x places a part of the variance on the sheet.
func (s *reasonsSheet) x(part float64) float64 {
	const right = filmW - filmSide - reasonNumber
	left := filmSide + reasonNames
	return left + max(0, min(1, part/s.most))*(right-left)
}

// bar draws one input about the level y: filled what it makes by itself, hatched
// up to what it makes with others, a whisker for what the number of draws leaves
// open.
func (s *reasonsSheet) bar(rim int, d thermal.Driver, y float64) {
	name := s.tf.shown(d.Name)
	if name == "" {
		name = "input without a name"
	}
	s.sc.write(s.tf, roleBar, rim, s.named(), s.tf.fit(name, s.named(), reasonNames-8), s.x(0)-6, y-4, alignRight)
	ink := styleOfRim(rim).track.ink
	lo, hi := y-reasonBarH/2, y+reasonBarH/2
	first, total := s.x(min(d.First, d.Total)), s.x(d.Total)
	s.sc.area(roleBar, rim, rect{s.x(0), lo, first, hi}, ink)
	if total-first > 0.5 {
		s.shared(roleShared, rim, rect{first, lo, total, hi})
	}
	end := total
	if se := reasonZ * d.TotalSE; se > 0 {
		end = s.whisker(roleWhisker, rim, s.x(d.Total-se), s.x(d.Total+se), y, d.Total+se <= s.most)
	}
	s.sc.write(s.tf, roleBar, rim, s.strong(), number(100*d.Total, 0)+" %", end+6, y-4, alignLeft)
}

// named is the style of the inputs' names.
func (s *reasonsSheet) named() textStyle { return textStyle{size: filmNote, ink: s.pal.ink} }

// shared draws the hatched continuation of a bar.
func (s *reasonsSheet) shared(r role, rim int, b rect) {
	ink := styleOfRim(rim).track.ink
	thin := lineStyle{ink: ink, width: 0.7}
	s.sc.area(r, rim, b, s.pal.paper)
	for _, l := range hatch(b, 3.2, nil, nil) {
		s.sc.line(r, rim, thin, l[0], l[1])
	}
	s.sc.line(r, rim, thin, xy{b.x0, b.y0}, xy{b.x1, b.y0}, xy{b.x1, b.y1}, xy{b.x0, b.y1})
}

// whisker draws a range with ends, the right one only where it is on the scale,
// and answers how far it goes.
func (s *reasonsSheet) whisker(r role, rim int, x0, x1, y float64, closed bool) float64 {
	const half = 3.0
	paths := [][]xy{{{x0, y}, {x1, y}}, {{x0, y - half}, {x0, y + half}}}
	if closed {
		paths = append(paths, []xy{{x1, y - half}, {x1, y + half}})
	}
	for _, st := range []lineStyle{{ink: s.pal.halo, width: 2.6}, {ink: s.pal.ink, width: 0.9}} {
		for _, p := range paths {
			s.sc.line(r, rim, st, p...)
		}
	}
	return x1
}

// symbol draws a rim's symbol.
func (s *narrowSheet) symbol(rim int, at xy) {
	st := styleOfRim(rim)
	var pts []xy
	for _, p := range st.symbol {
		pts = append(pts, xy{at.x + p.x, at.y + p.y})
	}
	s.sc.add(shape{role: roleKey, rim: rim, pts: append(pts, pts[0]), fill: st.track.ink})
}

// axis marks the parts under a panel's bars.
func (s *reasonsSheet) axis(top, y float64) {
	tick := lineStyle{ink: s.pal.soft, width: 0.8}
	s.sc.line(roleAxis, noRim, tick, xy{s.x(0), top}, xy{s.x(0), y}, xy{s.x(s.most), y})
	t := ticksIn(0, 100*s.most, 6)
	for i, v := range t.at {
		x := s.x(v / 100)
		s.sc.line(roleTick, noRim, tick, xy{x, y}, xy{x, y - 4})
		text := number(v, t.decimals)
		if i == len(t.at)-1 {
			text += " %"
		}
		s.sc.write(s.tf, roleTick, noRim, s.note(), text, x, y-15, alignCentre)
	}
}

// key explains the bars, from the line y down.
func (s *reasonsSheet) key(y float64) {
	x := filmSide
	for _, k := range []struct {
		text string
		draw func(rect)
	}{
		{"by itself", func(b rect) { s.sc.area(roleKey, noRim, b, styleOfRim(0).track.ink) }},
		{"together with others, counted at each", func(b rect) { s.shared(roleKey, 0, b) }},
		{"95 %, by the number of draws", func(b rect) { s.whisker(roleKey, noRim, b.x0, b.x1, (b.y0+b.y1)/2, true) }},
	} {
		k.draw(rect{x, y - filmLineH, x + filmSampleW, y - filmLineH + 8})
		x += filmSampleW + keyAfter
		l := s.sc.write(s.tf, roleKey, noRim, s.note(), k.text, x, y-filmLineH, alignLeft)
		x = l.box.x1 + 16
	}
}
