package plots

import (
	"cmp"
	"errors"
	"math"
	"slices"
	"sort"
	"strconv"
	"strings"

	"rimheat/thermal"
)

// A waypoint is one place on the road that a rider should know of.
type waypoint struct {
	atM            float64
	latDeg, lonDeg float64
	// heightM is NaN where it is not known.
	heightM float64
	// kind is "limit", "hottest", "stop" or "descent". name is plain ASCII, says most
	// in its first ten letters, which is where some devices cut it, and mostly has
	// fifteen at most.
	kind, name, desc string
}

// leastStoodS is the shortest recorded stop that is marked, s: a crossroads is none. A
// choice of this program, no source.
const leastStoodS = 60.0

// A wayMarker gathers the waypoints of an assessment.
type wayMarker struct {
	a    *thermal.Assessment
	u    units
	list []waypoint
}

// waypointsOf lists the waypoints in the order of the road.
func waypointsOf(a *thermal.Assessment, u units) ([]waypoint, error) {
	tr := &a.Trace
	if n := len(tr.DistM); n < 2 || len(tr.LatDeg) != n || len(tr.LonDeg) != n {
		return nil, errors.New("the assessment has no positions along the road to mark")
	}
	if len(a.Rims) == 0 {
		return nil, errors.New("the assessment has no rim to mark places for")
	}
	m := &wayMarker{a: a, u: u}
	for i := range a.Descents {
		m.mark(a.Descents[i].StartM, "descent", m.descentName(i), m.descentWords(i))
	}
	for i := range a.Rims {
		m.limits(i)
		r := &a.Rims[i]
		if finite(r.PeakC) {
			m.mark(r.PeakAtM, "hottest", "Hot "+m.tag(i)+m.tempName(r.PeakC), m.hottestWords(i))
		}
	}
	m.stops()
	slices.SortStableFunc(m.list, func(a, b waypoint) int { return cmp.Compare(a.atM, b.atM) })
	return m.list, nil
}

// mark puts a waypoint on the road. A place that is no number gets none.
func (m *wayMarker) mark(atM float64, kind, name, desc string) {
	w := waypoint{atM: atM, kind: kind, name: name, desc: desc}
	if w.place(&m.a.Trace) {
		m.list = append(m.list, w)
	}
}

// place finds the position on the road, straight between the places of the trace. On
// the antimeridian the shorter way round is taken. It is false where there is none.
func (w *waypoint) place(tr *thermal.Trace) bool {
	if !finite(w.atM) {
		return false
	}
	n := len(tr.DistM)
	k := min(max(sort.SearchFloat64s(tr.DistM, w.atM), 1), n-1)
	f := min(max((w.atM-tr.DistM[k-1])/(tr.DistM[k]-tr.DistM[k-1]), 0), 1)
	between := func(a, b float64) float64 { return a + f*(b-a) }
	w.latDeg = between(tr.LatDeg[k-1], tr.LatDeg[k])
	west, east := tr.LonDeg[k-1], tr.LonDeg[k]
	w.lonDeg = between(west, east-360*math.Round((east-west)/360))
	w.lonDeg -= 360 * math.Floor((w.lonDeg+180)/360)
	w.heightM = math.NaN()
	if len(tr.HeightM) == n {
		w.heightM = between(tr.HeightM[k-1], tr.HeightM[k])
	}
	return finite(w.latDeg) && finite(w.lonDeg) && math.Abs(w.latDeg) <= 90
}

// limits marks where rim i first reaches its deciding limit, and others that it passes.
func (m *wayMarker) limits(i int) {
	r := &m.a.Rims[i]
	put := func(l thermal.LimitResult, over []thermal.OverSpan, chance *thermal.Chance) {
		if len(over) == 0 || !finite(l.LimitC) {
			return
		}
		m.mark(over[0].StartM, "limit", "Limit "+m.tag(i)+limitShort(l.On), m.limitWords(i, l, over, chance))
	}
	decided := false
	for k, l := range r.Limits {
		over := l.Over
		if l.On == r.LimitOn {
			decided, over = true, r.Over
		}
		var chance *thermal.Chance
		if r.Risk != nil && len(r.Risk.Limits) == len(r.Limits) {
			chance = &r.Risk.Limits[k].Chance
		}
		put(l, over, chance)
	}
	if !decided {
		put(thermal.LimitResult{On: r.LimitOn, LimitC: r.LimitC, Assumed: r.LimitAssumed}, r.Over, nil)
	}
}

// stops marks the rests of the ride and those that are advised.
func (m *wayMarker) stops() {
	for k, s := range m.a.Trace.Stands {
		if !lasts(s.S) || s.Recorded && s.S < leastStoodS {
			continue
		}
		word := "Stop "
		if s.Recorded {
			word = "Stood "
		}
		m.mark(s.AtM, "stop", word+strconv.Itoa(k+1)+", "+stopMinutes(s.S), m.standWords(s))
	}
	if m.a.Outlook == nil {
		return
	}
	for _, advice := range m.a.Outlook.Rests {
		i := slices.IndexFunc(m.a.Rims, func(r thermal.RimResult) bool { return r.ID == advice.RimID })
		if i < 0 || !advice.Serves {
			continue // stops that do not serve are not worth a place on a device
		}
		// A2 is the second stop for rim A; with tags in figures a point parts them.
		tag := tagOf(i, len(m.a.Rims))
		if tag != "" && tag[0] <= '9' {
			tag += "."
		}
		for k, s := range advice.Stops {
			if !lasts(s.S) || !finite(advice.Chance.P) {
				continue
			}
			m.mark(s.AtM, "stop", "Rest "+tag+strconv.Itoa(k+1)+", "+stopMinutes(s.S), m.restWords(i, advice, s))
		}
	}
}

// tag is the rim's mark and a blank, or "" if there is only one rim.
func (m *wayMarker) tag(i int) string {
	if t := tagOf(i, len(m.a.Rims)); t != "" {
		return t + " "
	}
	return ""
}

// limitShort names the place of a limit within a waypoint's name.
func limitShort(on string) string {
	switch on {
	case thermal.OnTrack:
		return "track"
	case thermal.OnTyreSide:
		return "tyre"
	case thermal.OnFairing:
		return "fairing"
	}
	return "other"
}

func (m *wayMarker) tempName(c float64) string {
	return plainNumber(m.u.temp(c)) + strings.TrimPrefix(m.u.tempUnit(), "°")
}

func (m *wayMarker) descentName(i int) string {
	name := "Down " + strconv.Itoa(i+1)
	if d := m.a.Descents[i].DropM; finite(d) {
		name += ", " + plainNumber(m.u.height(d)) + m.u.heightUnit()
	}
	return name
}

func lasts(s float64) bool { return finite(s) && s >= 0 }

// stopMinutes is how long a stop is, short enough for a name.
func stopMinutes(s float64) string {
	if s < 60 {
		return plainNumber(s) + "s"
	}
	return plainNumber(s/60) + "min"
}

// plainNumber writes a whole number for devices that know few letters.
func plainNumber(v float64) string { return string(appendDecimal(nil, v, 0)) }
