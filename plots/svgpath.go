package plots

import (
	"math"
	"strconv"
	"strings"
)

// hundredth is a length on the sheet in hundredths of a point, which is as
// fine as a printer sets and short to write.
type hundredth int

// hundredths rounds a length, points. The sheets are a few thousand points
// large; what is far off them, or no number, comes to their bounds.
func hundredths(v float64) hundredth {
	const most = 1e6
	if math.IsNaN(v) {
		return 0
	}
	return hundredth(math.Round(100 * max(-most, min(most, v))))
}

// text writes the length in points without needless digits: 12, 1.5, -.25.
func (h hundredth) text() string {
	sign := ""
	if h < 0 {
		sign, h = "-", -h
	}
	whole, part := int(h)/100, int(h)%100
	if part == 0 {
		return sign + strconv.Itoa(whole)
	}
	frac := "." + strings.TrimRight(strconv.Itoa(100 + part)[1:], "0")
	if whole == 0 {
		return sign + frac
	}
	return sign + strconv.Itoa(whole) + frac
}

// pathOf writes a run of points as path data on a sheet of height h, each step
// from the point before; "" for fewer than two points that are numbers. A run
// that ends where it began is closed.
func pathOf(pts []xy, h float64) string {
	var b strings.Builder
	var at, first [2]hundredth
	n, last := 0, byte(0)
	put := func(command byte, vs ...hundredth) {
		if command != last {
			b.WriteByte(command)
		}
		for i, v := range vs {
			if t := v.text(); t[0] == '-' || i == 0 && command != last {
				b.WriteString(t)
			} else {
				b.WriteString(" " + t)
			}
		}
		last = command
	}
	for i, q := range pts {
		if !finite(q.x) || !finite(q.y) {
			continue
		}
		p := [2]hundredth{hundredths(q.x), hundredths(h - q.y)}
		dx, dy := p[0]-at[0], p[1]-at[1]
		switch {
		case n == 0:
			put('M', p[0], p[1])
			first = p
		case dx == 0 && dy == 0 && n > 1:
			continue
		case i == len(pts)-1 && n > 2 && p == first:
			b.WriteByte('z')
		case dy == 0:
			put('h', dx)
		case dx == 0:
			put('v', dy)
		default:
			put('l', dx, dy)
		}
		at = p
		n++
	}
	if n < 2 {
		return ""
	}
	return b.String()
}
