package plots

import (
	"math"

	"rimheat/thermal"
)

// A wheelHistory follows one wheel's history from row to row.
type wheelHistory struct {
	name         string
	timeS, distM []float64
	places       []placeHistory
	// The steps [from, to) end behind the row before and not behind this one.
	from, to int
	// The row lies between the ends of steps next-1 and next, at part of the way in
	// time; before the first end next is 0, behind the last one their number.
	next int
	part float64
}

// A placeHistory is a column of a history.
type placeHistory struct {
	name string
	c    []float64
}

func newWheelHistory(name string, h *thermal.History) wheelHistory {
	w := wheelHistory{name: name, timeS: h.TimeS, distM: h.DistM}
	n := min(len(w.timeS), len(w.distM))
	w.timeS, w.distM = w.timeS[:n], w.distM[:n]
	w.places = []placeHistory{{"track", h.TrackC}, {"surface", h.SurfaceC}, {"contact", h.ContactC}, {"tyre_side", h.TyreSideC}, {"spoke_bed", h.SpokeBedC}}
	if h.FairingC != nil {
		w.places = append(w.places, placeHistory{"fairing", h.FairingC})
	}
	return w
}

// move goes on to the row at a place, m, that is reached at a time, s; the last row takes
// all that is left.
func (w *wheelHistory) move(atM, atS float64, last bool) {
	w.from = w.to
	for w.to < len(w.distM) && (last || w.distM[w.to] <= atM) {
		w.to++
	}
	for w.next < len(w.timeS) && w.timeS[w.next] < atS {
		w.next++
	}
	w.part = math.NaN()
	if k := w.next; k > 0 && k < len(w.timeS) {
		w.part = (atS - w.timeS[k-1]) / (w.timeS[k] - w.timeS[k-1])
	}
}

// highest is the highest value of a column that belongs to the row, NaN if there is none.
func (w *wheelHistory) highest(c []float64) float64 {
	n := min(len(c), len(w.timeS))
	if n == 0 {
		return math.NaN()
	}
	hot := c[min(w.next, n-1)]
	if k := w.next; k > 0 && k < n {
		hot = c[k-1] + w.part*(c[k]-c[k-1])
	}
	if !finite(hot) {
		hot = math.NaN()
	}
	for _, v := range c[min(w.from, n):min(w.to, n)] {
		if !(hot >= v) && finite(v) {
			hot = v
		}
	}
	return hot
}
