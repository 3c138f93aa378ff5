package plots

// A mapLook holds the measures of one size of the map, points.
type mapLook struct {
	// w is the sheet's width, sheetH its height where it is fixed, side the margin.
	w, sheetH, side float64
	// leastH and mostH bound the panel, pad is the room round the route in it.
	leastH, mostH, pad float64
	// text, note and small are sizes of letters, lineH is from line to line.
	text, note, small, lineH float64
	// road is the width of the coloured line, casing that with its dark edge, gap and
	// rail those of the lines beside it where the rim is over.
	road, casing, gap, rail float64
	bare                    bool
	// sampleW is the width of a sample in the key, between the room between two of its
	// items, barH the height of the heat scale's bar, northH that of the arrow.
	// mostScale is the greatest length of the scale bar.
	sampleW, between, barH, northH, mostScale float64
	// leastDetail and mostDetail bound the sides of an enlarged view, aboutDetail is how
	// far it stays away from the road, padDetail the room round the road in it.
	leastDetail, mostDetail, aboutDetail, padDetail float64
	// symbol is the size of the symbols on the road, 1 on the whole sheet.
	symbol float64
}

// lookOf is the whole sheet, or the half-wide part of a page.
func lookOf(bare bool) mapLook {
	if bare {
		return mapLook{
			w: 264, sheetH: 264, side: 6, pad: 15, text: 9.5, note: 9, small: 9, lineH: 11.5,
			road: 2.4, casing: 3.4, gap: 5.8, rail: 7.8, bare: true, sampleW: 14, between: 9, barH: 8, northH: 23, mostScale: 76, symbol: 0.85,
			leastDetail: 94, mostDetail: 136, aboutDetail: 9, padDetail: 19,
		}
	}
	return mapLook{
		w: filmW, side: filmSide, leastH: 220, mostH: 400, pad: 24, text: filmText, note: filmNote, small: filmSourcePt, lineH: filmLineH,
		road: 3, casing: 4.2, gap: 7.2, rail: 9.6, sampleW: filmSampleW, between: 16, barH: 10, northH: 30, mostScale: 105, symbol: 1,
		leastDetail: 122, mostDetail: 258, aboutDetail: 11, padDetail: 30,
	}
}

// panelH is how high the panel must be for the shape of the route.
func (l mapLook) panelH(g *ground) float64 {
	b := g.bounds()
	w, h := b.x1-b.x0, b.y1-b.y0
	inner := l.w - 2*l.side - 2*l.pad
	// A straight road north has no width to divide by.
	if h*inner > w*(l.mostH-2*l.pad) {
		return l.mostH
	}
	return max(l.leastH, h/w*inner+2*l.pad)
}

func (m *routeMap) text() textStyle  { return textStyle{size: m.look.text, ink: m.pal.ink} }
func (m *routeMap) note() textStyle  { return textStyle{size: m.look.note, ink: m.pal.soft} }
func (m *routeMap) small() textStyle { return textStyle{size: m.look.small, ink: m.pal.soft} }
func (m *routeMap) named() textStyle { return textStyle{size: m.look.note, ink: m.pal.ink} }

func (m *routeMap) strong() textStyle {
	st := m.text()
	st.bold = true
	return st
}
