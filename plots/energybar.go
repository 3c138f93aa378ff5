package plots

import (
	"image/color"
	"slices"
)

// An energyLook is how a part of a bar is filled: by colour and by pattern.
type energyLook struct {
	fill color.NRGBA
	// ink is that of words on it, lines those of its pattern.
	ink, lines color.NRGBA
	pattern    energyPattern
}

type energyPattern int

const (
	patternPlain energyPattern = iota
	patternSlanted
	patternUpright
	patternLevel
)

// look gives a part's fill. Brakes are dark, all else is pale.
func (s *energySheet) look(k energyKind) energyLook {
	l := energyLook{fill: s.pal.paper, ink: s.pal.ink, lines: s.pal.soft}
	switch k {
	case energyFront:
		l.fill, l.ink = rgb(0x2B3036), s.pal.paper
	case energyRear:
		l.pattern, l.lines = patternSlanted, rgb(0x2B3036)
	case energyAir:
		l.fill = rgb(0xC3D9E2)
	case energyRolling:
		l.fill, l.pattern, l.lines = rgb(0xF3EBDD), patternUpright, rgb(0xB6A88C)
	case energyPotential:
		l.fill = rgb(0x98A1A9)
	case energyPedal:
		l.pattern = patternUpright
	case energyKinetic:
		l.pattern = patternLevel
	}
	return l
}

// fill draws a part into a box, but for its pattern within free boxes.
func (s *energySheet) fill(r role, b rect, k energyKind, free []rect) {
	l := s.look(k)
	s.sc.area(r, noRim, b, l.fill)
	thin := lineStyle{ink: l.lines, width: 0.7}
	var lines [][2]xy
	switch l.pattern {
	case patternSlanted:
		thin.width = 1.1
		lines = hatch(b, 3.4, nil, free)
	case patternUpright:
		for x := b.x0 + 2; x < b.x1-0.5; x += 3.2 {
			lines = append(lines, [2]xy{{x, b.y0}, {x, b.y1}})
		}
	case patternLevel:
		for y := b.y0 + 2; y < b.y1-0.5; y += 2.6 {
			lines = append(lines, [2]xy{{b.x0, y}, {b.x1, y}})
		}
	}
	for _, p := range lines {
		for _, run := range around(p[:], free) {
			s.sc.line(rolePattern, noRim, thin, run...)
		}
	}
	edge := lineStyle{ink: s.pal.soft, width: 0.6}
	if k == energyFront || k == energyRear {
		edge.ink = rgb(0x2B3036)
	}
	s.sc.line(rolePattern, noRim, edge, xy{b.x0, b.y0}, xy{b.x1, b.y0}, xy{b.x1, b.y1}, xy{b.x0, b.y1}, xy{b.x0, b.y0})
}

// row draws one descent from y down: its words, what came in as a thin bar and what went
// out as a thick one under it.
func (s *energySheet) row(l *ledger, y float64) {
	no := s.sc.write(s.tf, roleDescent, noRim, s.strong(), number(float64(l.no), 0), filmSide, y-filmText, alignLeft)
	x := max(no.box.x1+6, filmSide+20)
	small := s.keyText()
	dark := textStyle{size: energyNote, ink: s.pal.ink, bold: true}
	room := filmSide + energyGutter - 6 - x
	drop := number(s.u.height(l.dropM), 0) + " " + s.u.heightUnit() + " down, " + kJ(l.inJ)
	s.sc.write(s.tf, roleDescent, noRim, small, s.tf.fit(drop, small, room), x, y-filmText, alignLeft)
	brakes := "brakes " + kJ(l.brakesJ) + partText(l.brakesJ, l.inJ)
	s.sc.write(s.tf, roleDescent, noRim, dark, s.tf.fit(brakes, dark, room), x, y-filmText-13, alignLeft)

	top := y - 2
	at := 0.0
	for _, p := range l.in {
		s.fill(roleIn, rect{s.x(at), top - energyInH, s.x(at + p.j), top}, p.kind, nil)
		at += p.j
	}
	top -= energyInH + 2
	at = 0
	for _, p := range l.out {
		b := rect{s.x(at), top - energyBarH, s.x(at + p.j), top}
		text, st, free := s.partLabel(p, l, b)
		s.fill(roleBar, b, p.kind, free)
		if text != "" {
			s.sc.write(s.tf, roleBar, noRim, st, text, (b.x0+b.x1)/2, b.y0+4.2, alignCentre)
		}
		at += p.j
	}
}

// partLabel is what fits into a part: its name and how much of what came in it is, or
// that alone. free is the box that its pattern leaves to the words.
func (s *energySheet) partLabel(p energyPart, l *ledger, b rect) (text string, st textStyle, free []rect) {
	st = textStyle{size: energyNote, ink: s.look(p.kind).ink, bold: p.kind <= energyRear}
	if !(l.inJ > 0) {
		return "", st, nil
	}
	percent := number(100*p.j/l.inJ, 0) + " %"
	for _, t := range []string{p.kind.name(false) + " " + percent, percent} {
		w := s.tf.width(t, st)
		// A viewer that lacks the font sets wider letters.
		if w*1.06+8 <= b.x1-b.x0 {
			mid := (b.x0 + b.x1) / 2
			return t, st, []rect{{mid - w/2 - 3, b.y0 - 1, mid + w/2 + 3, b.y1 + 1}}
		}
	}
	return "", st, nil
}

// axis marks energies under the bars.
func (s *energySheet) axis(top, y float64) {
	st := lineStyle{ink: s.pal.soft, width: 0.8}
	s.sc.line(roleAxis, noRim, st, xy{s.x(0), top}, xy{s.x(0), y}, xy{s.x(s.mostJ), y})
	t := ticksIn(0, s.mostJ/1000, 7)
	for i, v := range t.at {
		x := s.x(1000 * v)
		s.sc.line(roleTick, noRim, st, xy{x, y}, xy{x, y - 4})
		text := number(v, t.decimals)
		if i == len(t.at)-1 {
			text += " kJ"
		}
		s.sc.write(s.tf, roleTick, noRim, s.note(), text, min(x, filmW-filmSide-s.tf.width(text, s.note())/2+6), y-15, alignCentre)
	}
}

// An energyKey explains some parts of one side, in one line.
type energyKey struct {
	head  string
	kinds []energyKind
	in    bool
}

// Measures of the key, points.
const (
	energySampleW = 18.0
	energyHeadW   = 78.0
	energyBetween = 13.0
)

// keys lists the parts that the bars have, in lines that fit the sheet.
func (s *energySheet) keys() []energyKey {
	var in, out []energyKind
	for i := range s.shown {
		for _, p := range s.shown[i].in {
			in = append(in, p.kind)
		}
		for _, p := range s.shown[i].out {
			out = append(out, p.kind)
		}
	}
	slices.SortFunc(in, byOrderIn)
	slices.Sort(out)
	var lines []energyKey
	add := func(head string, kinds []energyKind, isIn bool) {
		x := filmW // no line yet
		for _, k := range slices.Compact(kinds) {
			w := energySampleW + 5 + s.tf.width(k.name(isIn), s.keyText())
			if x+w > filmW-filmSide {
				lines, x = append(lines, energyKey{head: head, in: isIn}), filmSide+energyHeadW
				head = ""
			}
			l := &lines[len(lines)-1]
			l.kinds = append(l.kinds, k)
			x += w + energyBetween
		}
	}
	add("thin bar, in:", in, true)
	add("thick bar, out:", out, false)
	return lines
}

func (s *energySheet) keyText() textStyle { return textStyle{size: energyNote, ink: s.pal.soft} }

// drawKeys draws them from y down and answers where they end.
func (s *energySheet) drawKeys(keys []energyKey, y float64) float64 {
	for _, k := range keys {
		y -= energyKeyH
		if k.head != "" {
			s.sc.write(s.tf, roleKey, noRim, s.keyText(), k.head, filmSide, y, alignLeft)
		}
		x, h := filmSide+energyHeadW, 9.0
		if k.in {
			h = energyInH
		}
		for _, kind := range k.kinds {
			s.fill(rolePattern, rect{x, y + 3.4 - h/2, x + energySampleW, y + 3.4 + h/2}, kind, nil)
			l := s.sc.write(s.tf, roleKey, noRim, s.keyText(), kind.name(k.in), x+energySampleW+5, y, alignLeft)
			x = l.box.x1 + energyBetween
		}
	}
	return y
}
