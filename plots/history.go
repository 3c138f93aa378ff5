package plots

import (
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
	"unicode"

	"rimheat/thermal"
)

// SaveHistory writes the ride as a table, comma-separated values by RFC 4180 in UTF-8
// without a byte-order mark: a line of names, then a row for each place of the profile's
// grid, from the start on. Units are metric whatever opt says and stand at the end of
// the names; grade is rise over run. Lines end in a line feed alone, as those of the
// bench's table do: spreadsheets take it as well as the carriage return that the RFC
// adds, and the line tools of a shell would read that as part of the last value. A cell
// without a value is empty.
//
// The columns of the ride are distance_m, time_s (of arrival; what the rider then stands
// lies before the next row), height_m, grade, lat_deg, lon_deg, speed_mps, air_C (that
// the wheels meet), front_brake_W and rear_brake_W (mean power while moving, since the row before).
// Then come, for each rim and wheel, place_wheel_rim_C: track (as it is judged), surface,
// contact (the skin under the pad), tyre_side, spoke_bed and, if there is one, fairing;
// and for each rim that was drawn track_p05_rim_C, track_p50_rim_C and track_p95_rim_C.
//
// A temperature is the highest since the row before: of the ends of all steps of the heat
// model that lie behind the row before and not behind this one, and of the value on
// arrival, which is interpolated in time. So no peak is lost: a rest belongs to the row of
// its place, and the ten minutes of standing after the ride belong to the last row, so
// that the highest value of a column is the peak that all other views give. Before the
// end of the first step its value holds. The draws' 5, 50 and 95 % are of the hotter
// wheel's highest temperature on the stretch of road that the row lies on, one of 400 on
// most routes; see thermal.Along.
//
// Rims are named by their identifiers, in which everything but letters, digits, dots,
// hyphens and underlines becomes an underline. As the place stands before it, no cell of
// text can be taken for a formula, and none needs quotes.
//
// It is an error if the assessment has no trace of at least two places or no rim. Then
// nothing is written.
func SaveHistory(w io.Writer, a *thermal.Assessment, _ Options) error {
	switch {
	case a == nil:
		return errors.New("no assessment to write a history of")
	case len(a.Trace.DistM) < 2:
		return errors.New("the assessment has no trace of the road to write a history along")
	case len(a.Rims) == 0:
		return errors.New("the assessment has no rim to write a history of")
	}
	const chunk = 1 << 16
	h := newHistoryTable(a)
	b := make([]byte, 0, chunk+chunk/4)
	b = h.appendHeader(b)
	for i := range a.Trace.DistM {
		if b = h.appendRow(b, i); len(b) < chunk && i+1 < len(a.Trace.DistM) {
			continue
		}
		if _, err := w.Write(b); err != nil {
			return fmt.Errorf("write history: %w", err)
		}
		b = b[:0]
	}
	return nil
}

// A historyTable is an assessment as SaveHistory writes it.
type historyTable struct {
	tr     *thermal.Trace
	ride   []rideColumn
	groups []rimColumns
}

// A rideColumn is a column of the trace.
type rideColumn struct {
	name     string
	v        []float64
	decimals int
}

// rimColumns are the columns of one rim: those of its wheels, and what the draws say.
type rimColumns struct {
	id     string
	wheels [2]wheelHistory
	along  *thermal.Along
}

func newHistoryTable(a *thermal.Assessment) *historyTable {
	tr := &a.Trace
	h := &historyTable{tr: tr, ride: []rideColumn{
		{"distance_m", tr.DistM, 3}, {"time_s", tr.TimeS, 2}, {"height_m", tr.HeightM, 2}, {"grade", tr.Grade, 5},
		{"lat_deg", tr.LatDeg, 7}, {"lon_deg", tr.LonDeg, 7}, {"speed_mps", tr.SpeedMps, 3},
		{"air_C", tr.AirC, 2}, {"front_brake_W", tr.FrontBrakeW, 1}, {"rear_brake_W", tr.RearBrakeW, 1},
	}}
	ids := columnNames(a.Rims)
	for i := range a.Rims {
		r := &a.Rims[i]
		g := rimColumns{id: ids[i], wheels: [2]wheelHistory{newWheelHistory("front", &r.Front), newWheelHistory("rear", &r.Rear)}}
		if l := r.Along; l != nil && len(l.P50C) > 0 && len(l.P05C) == len(l.P50C) && len(l.P95C) == len(l.P50C) {
			g.along = l
		}
		h.groups = append(h.groups, g)
	}
	return h
}

func (h *historyTable) appendHeader(b []byte) []byte {
	var names []string
	for _, c := range h.ride {
		names = append(names, c.name)
	}
	for _, g := range h.groups {
		for _, w := range g.wheels {
			for _, p := range w.places {
				names = append(names, p.name+"_"+w.name+"_"+g.id+"_C")
			}
		}
		if g.along != nil {
			for _, p := range []string{"p05", "p50", "p95"} {
				names = append(names, "track_"+p+"_"+g.id+"_C")
			}
		}
	}
	return append(append(b, strings.Join(names, ",")...), '\n')
}

// appendRow writes row i. Rows must be asked for in order: the histories move on.
func (h *historyTable) appendRow(b []byte, i int) []byte {
	for k, c := range h.ride {
		if k > 0 {
			b = append(b, ',')
		}
		if i < len(c.v) {
			b = appendDecimal(b, c.v[i], c.decimals)
		}
	}
	atM, atS := h.tr.DistM[i], math.NaN()
	if i < len(h.tr.TimeS) {
		atS = h.tr.TimeS[i]
	}
	const hundredths = 2
	for k := range h.groups {
		g := &h.groups[k]
		for j := range g.wheels {
			w := &g.wheels[j]
			w.move(atM, atS, i+1 == len(h.tr.DistM))
			for _, p := range w.places {
				b = appendDecimal(append(b, ','), w.highest(p.c), hundredths)
			}
		}
		if l := g.along; l != nil {
			s := stretchAt(atM, h.tr.DistM[len(h.tr.DistM)-1], len(l.P50C))
			for _, c := range [...][]float64{l.P05C, l.P50C, l.P95C} {
				b = appendDecimal(append(b, ','), c[s], hundredths)
			}
		}
	}
	return append(b, '\n')
}

// stretchAt says on which of n equal stretches of a route of endM metres a place lies.
func stretchAt(m, endM float64, n int) int {
	part := m / endM * float64(n)
	if !(part > 0) {
		return 0
	}
	return int(math.Min(part, float64(n-1)))
}

// appendDecimal writes a number with so many decimals and without a minus before zero;
// nothing for what is not finite.
func appendDecimal(b []byte, v float64, decimals int) []byte {
	if !finite(v) {
		return b
	}
	from := len(b)
	b = strconv.AppendFloat(b, v, 'f', decimals, 64)
	if b[from] == '-' && strings.Trim(string(b[from:]), "-0.") == "" {
		b = append(b[:from], b[from+1:]...)
	}
	return b
}

// columnNames are the rims' identifiers as names of columns, no two alike.
func columnNames(rims []thermal.RimResult) []string {
	const most = 60
	var names []string
	used := map[string]bool{}
	for i := range rims {
		id := []rune(strings.Map(func(r rune) rune {
			if unicode.IsLetter(r) || unicode.IsDigit(r) || unicode.IsMark(r) || strings.ContainsRune("._-", r) {
				return r
			}
			return '_'
		}, clean(rims[i].ID)))
		name := string(id[:min(len(id), most)])
		if name == "" {
			name = "rim"
		}
		for n, base := 2, name; used[name]; n++ {
			name = base + "-" + strconv.Itoa(n)
		}
		used[name] = true
		names = append(names, name)
	}
	return names
}
