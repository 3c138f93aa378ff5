package plots

import (
	"bytes"
	"fmt"
	"math"

	"rimheat/thermal"
)

// markHalf is half the width of a verdict's mark, points.
const markHalf = 6.0

// markOf draws a verdict as a shape about the origin: a filled octagon with a cross
// for over, a triangle with a bar and a point for marginal, a ring with a tick for
// within; nothing where there is no verdict. The marks can be told in grey.
func markOf(v thermal.Verdict) []shape {
	pal := colours()
	around := func(n int, r, turn float64) []xy {
		var pts []xy
		for k := range n + 1 {
			a := turn + 2*math.Pi*float64(k%n)/float64(n)
			pts = append(pts, xy{r * math.Sin(a), r * math.Cos(a)})
		}
		return pts
	}
	stroke := func(pts ...xy) shape { return shape{pts: pts, stroke: pal.ink, width: 1.3} }
	switch v {
	case thermal.Over:
		white := func(pts ...xy) shape { return shape{pts: pts, stroke: pal.paper, width: 1.6} }
		return []shape{
			{pts: around(8, markHalf, math.Pi/8), fill: pal.limit},
			white(xy{-2.3, -2.3}, xy{2.3, 2.3}), white(xy{-2.3, 2.3}, xy{2.3, -2.3}),
		}
	case thermal.Marginal:
		return []shape{
			stroke(xy{-5.8, -4.8}, xy{5.8, -4.8}, xy{0, 5.3}, xy{-5.8, -4.8}),
			stroke(xy{0, 1.9}, xy{0, -1.5}), stroke(xy{0, -2.5}, xy{0, -3.8}),
		}
	case thermal.Within:
		return []shape{
			stroke(around(32, markHalf-0.7, 0)...),
			stroke(xy{-2.6, -0.2}, xy{-0.7, -2.3}, xy{2.8, 2.2}),
		}
	}
	return nil
}

// symbolShapes is a rim's symbol about the origin.
func symbolShapes(rim int) []shape {
	st := styleOfRim(rim)
	return []shape{{pts: append(st.symbol[:len(st.symbol):len(st.symbol)], st.symbol[0]), fill: st.track.ink}}
}

// icon writes shapes about the origin as a small picture that readers of screens
// pass over: the words beside it say the same.
func icon(shapes []shape) string {
	if len(shapes) == 0 {
		return ""
	}
	const size = 2*markHalf + 1
	sc := &scene{w: size, h: size}
	for _, s := range shapes {
		moved := s
		moved.pts = nil
		for _, p := range s.pts {
			moved.pts = append(moved.pts, xy{p.x + size/2, p.y + size/2})
		}
		sc.add(moved)
	}
	var b bytes.Buffer
	fmt.Fprintf(&b, `<svg class="icon" viewBox="0 0 %g %g" aria-hidden="true" stroke-linejoin="round">`, size, size)
	svgPicture{sc: sc}.shapes(&b)
	b.WriteString("</svg>")
	return b.String()
}
