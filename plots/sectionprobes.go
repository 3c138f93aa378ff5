package plots

import (
	"math"
	"slices"

	"rimheat/thermal"
)

// A probe is a temperature beside a section, with a line from its place.
type probe struct {
	number, what string
	// place finds where it is on the right half of the section.
	place func(*thermal.Field, *sectionMesh) (xy, bool)
	// at is that place on the sheet, x and y where the words begin and have their
	// middle.
	at   xy
	x, y float64
}

// probeH is the height of one probe's two lines.
func (s *sectionSheet) probeH() float64 { return s.look.lineH + s.look.noteH + 2 }

// probes lists what is told of a section.
func (s *sectionSheet) probes(f *thermal.Field) []probe {
	return []probe{
		{number: s.u.tempText(f.TyreSideC), what: "tyre side", place: tyrePlace},
		{number: s.u.tempText(f.TrackC), what: "brake track", place: trackPlace},
		{number: s.u.tempText(f.BedC), what: "rim bed", place: bedPlace},
		{number: s.u.tempText(f.SpokeBedC), what: "spoke bed", place: spokePlace},
	}
}

func trackPlace(f *thermal.Field, _ *sectionMesh) (xy, bool) {
	return xy{f.HalfWidthM, -(f.TrackFromM + f.TrackToM) / 2}, true
}

func bedPlace(f *thermal.Field, _ *sectionMesh) (xy, bool) {
	return xy{0, -(f.BedFromM + f.BedToM) / 2}, true
}

// spokePlace is the middle of the spoke bed.
func spokePlace(f *thermal.Field, m *sectionMesh) (xy, bool) {
	top := -f.DepthM
	for _, p := range m.at {
		// The nodes of its upper face at the plane of the wheel.
		if math.Abs(p.x) < lengthSlackM && p.y < -f.BedToM-lengthSlackM {
			top = max(top, p.y)
		}
	}
	return xy{0, (top - f.DepthM) / 2}, true
}

// tyrePlace is the hottest of the faces that tyre, tape or tube touch.
func tyrePlace(f *thermal.Field, m *sectionMesh) (at xy, found bool) {
	hottest := math.Inf(-1)
	for _, e := range m.border {
		p, q := m.at[e[0]], m.at[e[1]]
		mid := xy{(p.x + q.x) / 2, (p.y + q.y) / 2}
		outside := mid.x < 0 || mid.x > f.HalfWidthM-lengthSlackM
		if outside || mid.y > -lengthSlackM || mid.y < -f.BedFromM-lengthSlackM {
			continue
		}
		if c := (m.c[e[0]] + m.c[e[1]]) / 2; c > hottest {
			hottest, at, found = c, mid, true
		}
	}
	return at, found
}

// placeProbes finds where the probes of a section go in a column, so that their lines
// do not cross and are short.
func (s *sectionSheet) placeProbes(p sectionPanel, fr sectionFrame, m *sectionMesh, column rect) []probe {
	var cs []probe
	for _, c := range p.probe {
		if at, ok := c.place(p.f, m); ok {
			c.at, c.x = fr.at(at), column.x0
			cs = append(cs, c)
		}
	}
	best, least := cs, math.Inf(1)
	orders(len(cs), func(order []int) {
		var centre, size []float64
		try := make([]probe, len(cs))
		for k, i := range order { // from the lowest up
			try[k] = cs[i]
			wanted := cs[i].at.y
			if k > 0 {
				wanted = max(wanted, centre[k-1])
			}
			centre, size = append(centre, wanted), append(size, s.probeH())
		}
		cost := 0.0
		for k, y := range spread(centre, size, column.y0, column.y1) {
			try[k].y = y
			cost += math.Abs(y - try[k].at.y)
			for j := range k {
				if cross(try[j].at, try[j].end(), try[k].at, try[k].end()) {
					cost += 1e4
				}
			}
		}
		if cost < least {
			best, least = slices.Clone(try), cost
		}
	})
	return best
}

// end is where the line from the place ends, before the words.
func (c *probe) end() xy { return xy{c.x - 4, c.y} }

// orders gives all orders of n things.
func orders(n int, visit func([]int)) {
	order := make([]int, n)
	for i := range order {
		order[i] = i
	}
	var rest func(k int)
	rest = func(k int) {
		if k == n {
			visit(order)
			return
		}
		for i := k; i < n; i++ {
			order[k], order[i] = order[i], order[k]
			rest(k + 1)
			order[k], order[i] = order[i], order[k]
		}
	}
	rest(0)
}

// writeProbes draws lines, dots and words.
func (s *sectionSheet) writeProbes(rim int, cs []probe) {
	for _, st := range []lineStyle{{ink: s.pal.halo, width: 2}, {ink: s.pal.ink, width: 0.7}} {
		for _, c := range cs {
			s.sc.line(roleLeader, rim, st, c.at, c.end())
		}
	}
	for _, c := range cs {
		s.sc.add(shape{role: rolePlace, rim: rim, pts: disc(c.at, 2.4), fill: s.pal.halo})
		s.sc.add(shape{role: rolePlace, rim: rim, pts: disc(c.at, 1.6), fill: s.pal.ink})
		foot := c.y - s.probeH()/2 + 1
		s.sc.write(s.tf, roleTrack, rim, s.strong(), c.number, c.x, foot+s.look.noteH+0.22*s.look.text, alignLeft)
		s.sc.write(s.tf, roleTrack, rim, s.small(), c.what, c.x, foot+0.22*s.look.note, alignLeft)
	}
}

// disc is a round dot's outline.
func disc(at xy, r float64) []xy {
	const corners = 12
	var out []xy
	for k := range corners {
		sin, cos := math.Sincos(2 * math.Pi * float64(k) / corners)
		out = append(out, xy{at.x + r*cos, at.y + r*sin})
	}
	return out
}
