package plots

import (
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"rimheat/thermal"
)

// SaveMarginMap draws the margin that nineteen of twenty draws keep over total
// mass and air temperature, and writes the figure to w in the named format, one of
// Formats. Nothing is written unless the whole figure could be drawn. It is an
// error if nobody asked for the map.
func SaveMarginMap(w io.Writer, format string, m *thermal.Margins, opt Options) error {
	return save(w, format, func(tf *typeface) (*scene, error) { return composeMap(m, units{imperial: opt.Imperial}, tf) })
}

// checkMap reports what cannot be drawn.
func checkMap(m *thermal.Margins) error {
	if m == nil || m.Map == nil {
		return errors.New("no map of margins to draw")
	}
	g := m.Map
	if len(g.AirC) < 2 || len(g.TotalKg) < 2 {
		return errors.New("the map of margins has fewer than two temperatures or masses")
	}
	if len(g.MarginK) != len(g.AirC) || slices.ContainsFunc(g.MarginK, func(row []float64) bool { return len(row) != len(g.TotalKg) }) {
		return errors.New("the map of margins has places without a margin")
	}
	all := append([]float64{g.PlannedAirC, g.PlannedKg, m.Now.MarginK.P05, m.Now.Chance.P}, slices.Concat(g.MarginK...)...)
	if err := allFinite("the map of margins", slices.Concat(all, g.AirC, g.TotalKg)...); err != nil {
		return err
	}
	for _, along := range [][]float64{g.AirC, g.TotalKg} {
		for i := 1; i < len(along); i++ {
			if !(along[i] > along[i-1]) {
				return errors.New("the temperatures or masses of the map of margins do not rise")
			}
		}
	}
	return nil
}

// Measures of the map's sheet, points.
const (
	mapH     = 660.0
	mapRight = filmW - filmSide - 6
	mapAxis  = 42.0 // the mass axis under the panel
	mapKeyH  = 2*filmLineH + 10
)

// A mapSheet lays one map of margins out.
type mapSheet struct {
	*narrowSheet
	m     *thermal.Margins
	f     field
	panel rect
	// levels are the margins that may have a line, taken the boxes of what has been
	// written on the map: lines and hatching stop short of them.
	levels []float64
	taken  []rect
}

// composeMap lays the figure out.
func composeMap(m *thermal.Margins, u units, tf *typeface) (*scene, error) {
	if err := checkMap(m); err != nil {
		return nil, err
	}
	s := &mapSheet{narrowSheet: newNarrow(u, tf, mapH), m: m, levels: mapLevels(u)}
	remarks := foot(tf, mapFoot(m, u)...)
	top := s.header() - 29
	s.panel = rect{filmLeft, footH(remarks) + mapKeyH + mapAxis, mapRight, top}
	var x, y []float64
	for _, kg := range m.Map.TotalKg {
		x = append(x, s.x(kg))
	}
	for _, c := range m.Map.AirC {
		y = append(y, s.y(c))
	}
	s.f = fieldOf(x, y, m.Map.MarginK)
	s.bands()
	s.place()
	s.axes()
	s.key(footH(remarks) + 6)
	s.writeFoot(remarks)
	return s.sc, nil
}

// part is how far v lies between the first and the last of a rising list.
func part(v float64, of []float64) float64 {
	return (v - of[0]) / (of[len(of)-1] - of[0])
}

func (s *mapSheet) x(kg float64) float64 {
	return s.panel.x0 + part(kg, s.m.Map.TotalKg)*(s.panel.x1-s.panel.x0)
}

func (s *mapSheet) y(airC float64) float64 {
	return s.panel.y0 + part(airC, s.m.Map.AirC)*(s.panel.y1-s.panel.y0)
}

// header writes what the map is about and what it says, and answers the last
// baseline.
func (s *mapSheet) header() float64 {
	y := s.title(s.m.Route)
	rim := thermal.RimResult{Name: s.m.Name, ID: s.m.RimID}
	lines := append([]string{s.tf.fit(s.tf.rimName(&rim, 0), s.strong(), narrowRoom)},
		wrapAll(s.tf, s.text(), 2, "Margin to the nearest limit that nineteen of twenty draws keep", s.rangeText(), s.plannedText())...)
	for i, line := range lines {
		st := s.text()
		st.bold = i == 0 || i == 2 && !s.crosses()
		y -= filmLineH
		s.sc.write(s.tf, roleVerdict, noRim, st, line, filmSide, y, alignLeft)
	}
	return y
}

// bounds are the least and the greatest margin of the map.
func (s *mapSheet) bounds() (lo, hi float64) {
	all := slices.Concat(s.m.Map.MarginK...)
	return slices.Min(all), slices.Max(all)
}

// crosses tells whether the limit has a line on the map.
func (s *mapSheet) crosses() bool {
	lo, hi := s.bounds()
	return lo <= 0 && hi > 0
}

// rangeText says in words how the rim stands all over the map.
func (s *mapSheet) rangeText() string {
	lo, hi := s.bounds()
	says := fromTo(thermal.Percentiles{P05: lo, P95: hi}, s.u)
	switch {
	case s.crosses():
		return "on this map: " + says
	case hi <= 0:
		return "over all over the map: " + says
	}
	return "within all over the map: " + says
}

// plannedText says how the ride stands as it is planned.
func (s *mapSheet) plannedText() string {
	g := s.m.Map
	text := fmt.Sprintf("planned, %s %s and %s: %s; a limit is reached in %s of the draws", number(s.u.mass(g.PlannedKg), 0), s.u.massUnit(), s.u.tempText(g.PlannedAirC),
		spareText(s.m.Now.MarginK.P05, s.u), thermal.ChanceWords(s.m.Now.Chance.P))
	if !s.onMap() {
		text += "; off this map"
	}
	return text
}

// onMap tells whether the ride as it is planned lies on the map.
func (s *mapSheet) onMap() bool {
	a, b := part(s.m.Map.PlannedAirC, s.m.Map.AirC), part(s.m.Map.PlannedKg, s.m.Map.TotalKg)
	return a >= 0 && a <= 1 && b >= 0 && b <= 1
}

// mapFoot says what the map stands on.
func mapFoot(m *thermal.Margins, u units) []string {
	return []string{
		fmt.Sprintf("%s draws, seed %d, at each of the %d dots, straight lines between. Air with a daily course: the day's hottest. How widely inputs were drawn is mostly common practice, no source.",
			number(float64(m.Draws), 0), m.Seed, len(m.Map.AirC)*len(m.Map.TotalKg)),
		heldText(m.Limits, u) + makerHolds,
	}
}

// heldText names the limits that a rim is held against, "" for none.
func heldText(limits []thermal.HeldLimit, u units) string {
	var parts []string
	for _, l := range limits {
		text := l.On + " " + u.tempText(l.LimitC)
		if l.Assumed {
			text += " assumed"
			if l.LowC < l.HighC {
				text += ", believed to lie from " + number(u.temp(l.LowC), 0) + " to " + u.tempText(l.HighC)
			}
		}
		parts = append(parts, text)
	}
	if len(parts) == 0 {
		return ""
	}
	return "Limits: " + strings.Join(parts, "; ") + ". "
}
