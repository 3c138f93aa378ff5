package main

import (
	"bytes"
	"fmt"
	"math"

	"rimheat/thermal"
)

// ledger prints where the energy of the ride comes from and where it goes.
func (v textView) ledger(b *bytes.Buffer, a *thermal.Assessment) {
	b.WriteString("\nEnergy, kJ, and below it % of all that comes in\n")
	t := table{right: map[int]bool{}}
	t.title("", "in:", "", "", "out:")
	t.title("", "height", "pedals", "=", "air", "rolling", "front brake", "rear brake", "speed")
	for i := 1; i < len(t.head[1]); i++ {
		t.right[i] = true
	}
	add := func(name string, e thermal.Energy) {
		in := e.InJ()
		row, part := []string{name}, []string{""}
		for i, j := range []float64{e.PotentialJ, e.PedalJ, e.AirJ, e.RollingJ, e.BrakeFrontJ, e.BrakeRearJ, e.KineticJ} {
			if i == 2 {
				row, part = append(row, ""), append(part, "")
			}
			row, part = append(row, kilojoules(j)), append(part, percent(j, in))
		}
		t.row(row...)
		t.row(part...)
	}
	add("whole route", a.Energy)
	for i, d := range a.Descents {
		add(fmt.Sprintf("descent %d", i+1), d.Energy)
	}
	t.print(b, "  ")
	if s := closure(a.Energy); s != "" {
		hanging(b, "  ", s)
	}
}

// closure says how far apart the two sides of the ledger are.
func closure(e thermal.Energy) string {
	in, residual := e.InJ(), e.ResidualJ()
	if !(in > 0) || math.IsNaN(residual) {
		return ""
	}
	gap := 100 * math.Abs(residual) / in
	text := fixed(gap, 2)
	if gap < 0.005 {
		text = "less than 0.01"
	}
	return "Over the whole route the two sides differ by " + text + " % of what comes in."
}
