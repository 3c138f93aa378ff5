package main

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"

	"rimheat/thermal"
)

// descents prints one row per descent. Candidates that do not fit beside each
// other go to a table of their own below.
func (v textView) descents(b *bytes.Buffer, a *thermal.Assessment) {
	b.WriteString("\nDescents\n")
	if len(a.Descents) == 0 {
		b.WriteString("  There is no descent on this route that the brakes have to hold.\n")
		return
	}
	b.WriteString("  steep: the steepest 500 m; bend: the least radius of the road\n")
	fmt.Fprintf(b, "  Highest temperature of the brake track, %s, front and rear wheel\n", v.units.degreeUnit())
	printBeside(b, a.Rims, func(rims []thermal.RimResult) *descentTable { return v.descentTable(a, rims) })
}

// printBeside prints a table of as many candidates as fit beside each other, then
// one of the next.
func printBeside(b *bytes.Buffer, rims []thermal.RimResult, of func([]thermal.RimResult) *descentTable) {
	for first := true; first || len(rims) > 0; first = false {
		if !first {
			b.WriteString("\n")
		}
		n := len(rims)
		for n > 1 && of(rims[:n]).width() > lineWidth {
			n--
		}
		of(rims[:n]).print(b)
		rims = rims[n:]
	}
}

// A descentTable is a table whose last columns stand in groups under the names
// of the candidates.
type descentTable struct {
	table
	road  int // columns that tell of the road
	each  int // columns of a candidate
	names []string
}

const descentIndent = "  "

func (v textView) descentTable(a *thermal.Assessment, rims []thermal.RimResult) *descentTable {
	u := v.units
	t := &descentTable{each: 2}
	t.title("no", "from", "long", "drop", "mean", "steep", "time", "hair", "bend")
	t.title("", u.roadUnit(), u.roadUnit(), u.heightUnit(), "%", "%", "min", "pins", u.heightUnit())
	t.road = len(t.head[0])
	for i, d := range a.Descents {
		bend := noNumber
		if d.SharpestCornerM != nil {
			bend = u.heightNumber(*d.SharpestCornerM)
		}
		t.row(strconv.Itoa(i+1), u.roadNumber(d.StartM, 1), u.roadNumber(d.EndM-d.StartM, 1), u.heightNumber(d.DropM),
			fixed(100*d.MeanGrade, 1), fixed(100*d.SteepestGrade, 1), fixed(d.DurationS/60, 0), strconv.Itoa(d.Hairpins), bend)
	}
	for _, r := range rims {
		t.names = append(t.names, clean(r.ID))
		t.head[0] = append(t.head[0], "front", "rear")
		t.head[1] = append(t.head[1], "", "")
		for i := range t.rows {
			front, rear := noNumber, noNumber
			for _, d := range r.Descents {
				if d.Index == i {
					front, rear = u.degrees(d.FrontPeakC), u.degrees(d.RearPeakC)
				}
			}
			t.rows[i] = append(t.rows[i], front, rear)
		}
	}
	t.setRight()
	return t
}

// setRight sets all columns flush right and makes every group at least as wide as
// the name above it.
func (t *descentTable) setRight() {
	t.right = map[int]bool{}
	for i := range t.head[0] {
		t.right[i] = true
	}
	t.least = t.widths()
	for i, name := range t.names {
		k := t.road + t.each*i
		if lack := runes(name) - t.groupWidth(t.least, i); lack > 0 {
			t.least[k] += lack
		}
	}
}

// groupWidth is that of the columns of candidate i.
func (t *descentTable) groupWidth(widths []int, i int) int {
	w := -columnGap
	for _, c := range widths[t.road+t.each*i : t.road+t.each*(i+1)] {
		w += c + columnGap
	}
	return w
}

// width is the length of its lines.
func (t *descentTable) width() int {
	w := runes(descentIndent) - columnGap
	for _, c := range t.widths() {
		w += c + columnGap
	}
	return w
}

func (t *descentTable) print(b *bytes.Buffer) {
	widths := t.widths()
	line := descentIndent
	for _, w := range widths[:t.road] {
		line += strings.Repeat(" ", w+columnGap)
	}
	for i, name := range t.names {
		line += strings.Repeat(" ", t.groupWidth(widths, i)-runes(name)) + name + strings.Repeat(" ", columnGap)
	}
	b.WriteString(strings.TrimRight(line, " ") + "\n")
	t.table.print(b, descentIndent)
}
