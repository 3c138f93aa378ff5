package plots

import "math"

// heatBar draws the heat scale's bar into the box, with the limit of the brake track
// marked if the rim is held against one.
func (m *routeMap) heatBar(b rect) {
	k := m.heatKey()
	m.sc.write(m.tf, roleHeat, noRim, m.note(), "brake track, hotter wheel", b.x0, b.y1-m.look.note*ascender, alignLeft)
	y := b.y0 + k.numbersH() + 3
	// The last number's unit stands out over the end of the bar.
	bar := rect{b.x0, y, b.x1 - 2.2*m.look.note, y + m.look.barH}
	k.draw(m.sc, roleHeat, bar)
	c, assumed, found := m.trackLimit()
	if !found {
		return
	}
	text := "limit " + m.u.tempText(c)
	if assumed {
		text += ", assumed"
	}
	st := m.note()
	st.ink = m.pal.limit
	x := k.x(c, bar.x0, bar.x1)
	half := m.tf.width(text, st) / 2
	at := max(b.x0+half, min(b.x1-half, x))
	m.sc.write(m.tf, roleHeat, noRim, st, text, at, bar.y1+6, alignCentre)
	m.sc.line(roleHeat, noRim, lineStyle{ink: m.pal.halo, width: 3}, xy{x, bar.y0 - 0.5}, xy{x, bar.y1 + 3})
	m.sc.line(roleHeat, noRim, lineStyle{ink: m.pal.limit, width: 1.6}, xy{x, bar.y0 - 3}, xy{x, bar.y1 + 4})
}

// northArrow draws the arrow with its right edge at x and its foot at y, and answers its
// left edge. North is up everywhere at the middle of the map.
func (m *routeMap) northArrow(x, y float64) float64 {
	const half = 4.5
	st := m.strong()
	st.size = m.look.note
	h := m.look.northH - st.size
	mid := x - half - 1
	m.sc.line(roleNorth, noRim, lineStyle{ink: m.pal.ink, width: 1}, xy{mid, y}, xy{mid, y + h - 4})
	m.sc.add(shape{role: roleNorth, rim: noRim, fill: m.pal.ink, pts: []xy{{mid, y + h}, {mid + half, y + h - 9}, {mid, y + h - 7}, {mid - half, y + h - 9}, {mid, y + h}}})
	m.sc.write(m.tf, roleNorth, noRim, st, "N", mid, y+h+2.5, alignCentre)
	return x - 2*half - 2
}

// scaleBar draws a bar of a round length, at most so many points long, with its right end at x and
// its foot at y, and answers its left end. The words stand over it, or before it.
func (m *routeMap) scaleBar(x, y, most, ptPerM float64, before bool) float64 {
	const arm = 4.0
	lengthM, text := m.roundLength(most / ptPerM)
	w := lengthM * ptPerM
	st := lineStyle{ink: m.pal.ink, width: 1.2}
	m.sc.line(roleScale, noRim, st, xy{x - w, y + arm}, xy{x - w, y}, xy{x, y}, xy{x, y + arm})
	if before {
		return m.sc.write(m.tf, roleScale, noRim, m.named(), text, x-w-4, y, alignRight).box.x0
	}
	half := m.tf.width(text, m.named()) / 2
	m.sc.write(m.tf, roleScale, noRim, m.named(), text, x-max(w/2, half), y+arm+2.5, alignCentre)
	return x - max(w, 2*half)
}

// roundLength is the greatest round length up to so many metres, and how it is written.
func (m *routeMap) roundLength(mostM float64) (lengthM float64, text string) {
	unitM, unit := 1000.0, "km"
	switch {
	case m.u.imperial && mostM >= 0.2*metresPerMile:
		unitM, unit = metresPerMile, "mi"
	case m.u.imperial:
		unitM, unit = metresPerFoot, "ft"
	case mostM < 1000:
		unitM, unit = 1, "m"
	}
	n := roundDown(mostM / unitM)
	return n * unitM, number(n, max(0, int(-math.Floor(math.Log10(n))))) + " " + unit
}

// roundDown is the greatest 1, 2 or 5 times a power of ten that is not more than v.
func roundDown(v float64) float64 {
	ten := math.Pow(10, math.Floor(math.Log10(v)))
	for _, k := range []float64{5, 2} {
		if k*ten <= v*(1+1e-9) {
			return k * ten
		}
	}
	return ten
}
