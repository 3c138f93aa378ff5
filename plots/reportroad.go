package plots

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"rimheat/thermal"
)

// mostDescents is how many descents the handout lists, mostAcross how many rims
// share a table: more would not fit a telephone.
const mostDescents, mostAcross = 5, 3

// across divides the rims among tables, as evenly as can be.
func (r *reporter) across() [][]int {
	n := len(r.a.Rims)
	tables := (n + mostAcross - 1) / mostAcross
	var out [][]int
	for t := range tables {
		var group []int
		for i := t * n / tables; i < (t+1)*n/tables; i++ {
			group = append(group, i)
		}
		out = append(out, group)
	}
	return out
}

// onDescent is what the assessment says of a rim on a descent: the peak of the
// hotter wheel, °C, and the chance of reaching a limit there; NaN where it says
// nothing.
func onDescent(rim *thermal.RimResult, k int) (peakC, chance float64) {
	peakC, chance = math.NaN(), math.NaN()
	for _, d := range rim.Descents {
		if d.Index == k {
			peakC = max(d.FrontPeakC, d.RearPeakC)
		}
	}
	if rim.Risk != nil {
		for _, d := range rim.Risk.Descents {
			if d.Index == k {
				chance = d.Chance.P
			}
		}
	}
	return peakC, chance
}

// keyDescents picks the descents that matter most, in the order of the road: where
// a limit is likeliest to be reached, then where a rim is hottest, then where the
// drop is largest.
func (r *reporter) keyDescents() []int {
	type weight struct {
		k                   int
		chance, peak, dropM float64
	}
	var all []weight
	for k, d := range r.a.Descents {
		if !finite(d.StartM) || !finite(d.EndM) {
			continue
		}
		w := weight{k: k, dropM: d.DropM}
		for i := range r.a.Rims {
			if p, c := onDescent(&r.a.Rims[i], k); true {
				if finite(p) {
					w.peak = max(w.peak, p)
				}
				if finite(c) {
					w.chance = max(w.chance, c)
				}
			}
		}
		all = append(all, w)
	}
	slices.SortStableFunc(all, func(a, b weight) int {
		return cmp.Or(cmp.Compare(b.chance, a.chance), cmp.Compare(b.peak, a.peak), cmp.Compare(b.dropM, a.dropM))
	})
	var out []int
	for _, w := range all[:min(len(all), mostDescents)] {
		out = append(out, w.k)
	}
	slices.Sort(out)
	return out
}

// descentTables lists the descents that matter most, and every rim on them.
func (r *reporter) descentTables() []reportTable {
	key := r.keyDescents()
	if len(key) == 0 {
		return nil
	}
	var out []reportTable
	for _, rims := range r.across() {
		t := reportTable{Caption: r.descentCaption(rims, len(key)), Numbers: true, Head: []string{"no.", "from " + r.u.distUnit()}}
		first := len(out) == 0
		if first {
			t.Head = append(t.Head, "drop, "+r.u.heightUnit(), "mean, %", "steepest, %")
		}
		for _, i := range rims {
			t.Head = append(t.Head, strings.TrimSpace(r.tag(i)+" peak, "+r.u.tempUnit())+r.chanceHead(i))
		}
		for _, k := range key {
			d := r.a.Descents[k]
			row := []string{strconv.Itoa(k + 1), cell(r.u.dist(d.StartM), 1)}
			if first {
				row = append(row, cell(r.u.height(d.DropM), 0), cell(-100*d.MeanGrade, 1), cell(-100*d.SteepestGrade, 1))
			}
			for _, i := range rims {
				row = append(row, r.peakCell(i, k))
			}
			t.Rows = append(t.Rows, row)
		}
		out = append(out, t)
	}
	return out
}

// descentCaption says what the table holds and what it leaves out.
func (r *reporter) descentCaption(rims []int, listed int) string {
	s := "Descents: where each begins, drop and grade (mean, steepest 500 m)"
	if rims[0] > 0 {
		s = "The same descents"
	}
	s += "; peak of the brake track, hotter wheel, central estimate"
	if slices.ContainsFunc(rims, func(i int) bool { return r.a.Rims[i].Risk != nil }) {
		s += "; chance that a limit is reached there"
	}
	if n := len(r.a.Descents); n > listed {
		s += fmt.Sprintf(". The %d that matter most of %s; %s not listed", listed, cell(float64(n), 0), counted(n-listed, "more is", "more are"))
	}
	return s + "."
}

// chanceHead continues the heading of a rim's column.
func (r *reporter) chanceHead(i int) string {
	if r.a.Rims[i].Risk == nil {
		return ""
	}
	return ", chance"
}

func (r *reporter) peakCell(i, k int) string {
	peak, chance := onDescent(&r.a.Rims[i], k)
	s := noFigure
	if finite(peak) {
		s = cell(r.u.temp(peak), 0)
	}
	if finite(chance) {
		s += ", " + strings.ReplaceAll(thermal.ChanceWords(chance), " ", "\u00a0")
	}
	return s
}

// crossings says for every rim where it first reaches its deciding limit.
func (r *reporter) crossings() []string {
	var out []string
	for i := range r.a.Rims {
		rim := &r.a.Rims[i]
		if !finite(rim.LimitC) {
			continue
		}
		limit := r.limitPhrase(rim)
		who := capital(r.called(i))
		if len(rim.Over) == 0 || !finite(rim.Over[0].StartM) {
			out = append(out, fmt.Sprintf("%s does not reach %s in the central estimate.", who, limit))
			continue
		}
		out = append(out, who+" first reaches "+limit+" at "+r.overText(rim)+".")
	}
	return out
}

// overText says where a rim is first over, and for how long in all.
func (r *reporter) overText(rim *thermal.RimResult) string {
	o := rim.Over[0]
	s := r.place(o.StartM)
	if finite(o.StartS) {
		s += ", " + minutes(o.StartS) + " into the ride"
	}
	if finite(o.HeightM) {
		s += ", at " + r.height(o.HeightM)
	}
	if overS, ok := totalOverS(rim.Over); ok {
		s += ", and is over it for " + timeText(overS)
		if n := len(rim.Over); n > 1 {
			s += " in " + counted(n, "stretch", "stretches")
		}
	}
	return s
}

// limitPhrase names the deciding limit inside a sentence.
func (r *reporter) limitPhrase(rim *thermal.RimResult) string {
	s := "its limit"
	if rim.LimitAssumed {
		s = "its assumed limit"
	}
	return s + " of " + r.temp(rim.LimitC) + " on the " + r.placeName(rim.LimitOn)
}
