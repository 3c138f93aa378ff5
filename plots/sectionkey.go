package plots

import (
	"math"
	"slices"
	"strings"
)

// A sectionKey is the bar that tells which colour is which temperature. It reaches as far as
// air and limits do; beyond the colours it is empty.
type sectionKey struct {
	*sectionSheet
	loC, hiC float64
	marks    []heatMark
	words    []string
}

// A heatMark is a temperature that is marked on the bar.
type heatMark struct {
	c    float64
	text string
	// limit marks one of a rim, dashed where it is not about the track.
	limit, dashed bool
}

// newSectionKey gathers what the bar shows.
func (s *sectionSheet) newSectionKey() *sectionKey {
	k := &sectionKey{sectionSheet: s, loC: s.scale.loC, hiC: s.scale.hiC}
	airLo, airHi := math.Inf(1), math.Inf(-1)
	for _, i := range s.shown {
		airLo, airHi = min(airLo, s.a.Rims[i].Field.AirC), max(airHi, s.a.Rims[i].Field.AirC)
	}
	k.marks = append(k.marks, heatMark{c: airLo, text: "air"})
	var words []string
	for _, l := range limitLines(s.a.Rims) {
		l.rims = slices.DeleteFunc(l.rims, func(i int) bool { return !slices.Contains(s.shown, i) })
		if len(l.rims) == 0 {
			continue
		}
		text := "limit"
		if len(s.a.Rims) > 1 {
			tags := make([]string, len(l.rims))
			for n, i := range l.rims {
				tags[n] = tagOf(i, len(s.a.Rims))
			}
			text = strings.Join(tags, " ")
		}
		k.marks = append(k.marks, heatMark{c: l.limitC, text: text, limit: true, dashed: l.tyreSide})
		words = append(words, l.text(s.u, s.a.Rims))
	}
	words = append(words, "air there: "+s.airText(airLo, airHi), "lines in the rims: every "+gapText(s.u.temp(s.linesC)-s.u.temp(0), s.u))
	if !s.bare {
		words = append(words, "grey: pads, tyre, spoke")
	}
	for _, m := range k.marks {
		k.loC, k.hiC = min(k.loC, m.c), max(k.hiC, m.c)
	}
	slices.SortStableFunc(k.marks, func(a, b heatMark) int {
		switch {
		case a.c < b.c:
			return -1
		case a.c > b.c:
			return 1
		}
		return 0
	})
	k.words = s.flow(words, s.small(), s.look.w-2*s.look.side)
	return k
}

func (s *sectionSheet) airText(lo, hi float64) string {
	a, b := s.u.tempText(lo), s.u.tempText(hi)
	if a == b {
		return a
	}
	return number(s.u.temp(lo), 0) + " to " + b
}

// Measures of the key, points.
const (
	heatMarkH = 10.0 // from the bar to the words of its marks
	heatTickH = 16.0
)

func (k *sectionKey) height() float64 {
	return k.look.note + heatMarkH + sectionBarH + heatTickH + 4 + float64(len(k.words))*k.look.noteH
}

// draw puts the key under the level y.
func (k *sectionKey) draw(y float64) {
	unit := k.u.tempUnit()
	left, right := k.look.side, k.look.w-k.look.side
	bar := rect{left + 8, y - k.look.note - heatMarkH - sectionBarH, right - 8 - k.tf.width(unit, k.small()), y - k.look.note - heatMarkH}
	x := func(c float64) float64 { return bar.x0 + (c-k.loC)/(k.hiC-k.loC)*(bar.x1-bar.x0) }
	from, to := x(k.scale.loC), x(k.scale.hiC)
	k.sc.area(roleKey, noRim, rect{from, bar.y0, to, bar.y1}, k.bandInk(k.scale.loC-k.stepC/2))
	for _, level := range k.levels(k.stepC, k.scale.loC, k.scale.hiC) {
		if x(level) < to {
			k.sc.area(roleKey, noRim, rect{x(level), bar.y0, to, bar.y1}, k.bandInk(level))
		}
	}
	for _, level := range k.levels(k.linesC, k.scale.loC, k.scale.hiC) {
		k.sc.line(roleIsotherm, noRim, k.isotherm(level), xy{x(level), bar.y0}, xy{x(level), bar.y1})
	}
	k.sc.line(roleKey, noRim, lineStyle{ink: k.pal.soft, width: 0.7}, xy{bar.x0, bar.y0}, xy{bar.x1, bar.y0}, xy{bar.x1, bar.y1}, xy{bar.x0, bar.y1}, xy{bar.x0, bar.y0})
	t := ticksIn(k.u.temp(k.loC), k.u.temp(k.hiC), int((bar.x1-bar.x0)/34))
	for _, v := range t.at {
		at := bar.x0 + (v-k.u.temp(k.loC))/(k.u.temp(k.hiC)-k.u.temp(k.loC))*(bar.x1-bar.x0)
		k.sc.line(roleTick, noRim, lineStyle{ink: k.pal.soft, width: 0.8}, xy{at, bar.y0}, xy{at, bar.y0 - 3.5})
		k.sc.write(k.tf, roleTick, noRim, k.small(), number(v, t.decimals), at, bar.y0-4.5-k.look.note*ascender, alignCentre)
	}
	k.sc.write(k.tf, roleTick, noRim, k.small(), unit, right, bar.y0+2, alignRight)
	k.drawMarks(bar, x)
	y = bar.y0 - heatTickH - 4
	for _, l := range k.words {
		k.sc.write(k.tf, roleKey, noRim, k.small(), l, left, y-k.look.note*ascender, alignLeft)
		y -= k.look.noteH
	}
}

// drawMarks puts air and limits on the bar.
func (k *sectionKey) drawMarks(bar rect, x func(float64) float64) {
	const apart = 5.0
	st := k.small()
	st.bold = true
	var centre, size []float64
	for _, m := range k.marks {
		centre, size = append(centre, x(m.c)), append(size, k.tf.width(m.text, st)+apart)
	}
	for i, at := range spread(centre, size, k.look.side-apart/2, k.look.w-k.look.side+apart/2) {
		m := k.marks[i]
		line := lineStyle{ink: k.pal.ink, width: 1}
		st.ink = k.pal.ink
		if m.limit {
			line.ink, line.width, st.ink = k.pal.limit, 1.6, k.pal.limit
		}
		if m.dashed {
			line.dash = []float64{3, 2}
		}
		foot := xy{x(m.c), bar.y1}
		if m.limit {
			foot.y = bar.y0
			halo := lineStyle{ink: k.pal.halo, width: line.width + 1.6}
			k.sc.line(roleLimit, noRim, halo, foot, xy{foot.x, bar.y1})
		}
		k.sc.line(roleLimit, noRim, line, foot, xy{foot.x, bar.y1 + 2}, xy{at, bar.y1 + heatMarkH - 4.5})
		k.sc.write(k.tf, roleLimit, noRim, st, m.text, at, bar.y1+heatMarkH-1, alignCentre)
	}
}

// lengthBar draws ten millimetres at the right under the last row, its foot at y.
func (s *sectionSheet) lengthBar(y float64) {
	w := 10e-3 * s.perM
	right := s.look.w - s.look.side
	l := s.sc.write(s.tf, roleScale, noRim, s.small(), "10 mm", right, y+1, alignRight)
	x := l.box.x0 - 5
	s.sc.line(roleScale, noRim, lineStyle{ink: s.pal.soft, width: 0.9}, xy{x - w, y + 6}, xy{x - w, y + 1}, xy{x, y + 1}, xy{x, y + 6})
}

// flow sets items one after the other into lines of the given width, none broken unless
// it is longer than a line.
func (s *sectionSheet) flow(items []string, st textStyle, width float64) []string {
	var out []string
	line := ""
	for _, it := range items {
		next := it
		if line != "" {
			next = line + "; " + it
		}
		if s.tf.width(next+";", st) <= width {
			line = next
			continue
		}
		if line != "" {
			out = append(out, line+";")
		}
		parts := s.tf.wrap(it, st, width, 3)
		out, line = append(out, parts[:len(parts)-1]...), parts[len(parts)-1]
	}
	return append(out, line)
}
