package plots

import (
	"image/color"
	"math"
	"slices"
	"strings"

	"rimheat/thermal"
)

// Roles of what the draws say along the road.
const (
	roleDraws     role = "draws"
	roleDrawsEdge role = "draws edge"
)

// mostBands is how many rims may have a band; of more the first ones do. More bands
// than that lie on each other everywhere, and the gauges show every rim's.
const mostBands = 3

// A drawnBand is what nine of ten draws of a rim keep between, °C along the road,
// metres. It is empty where nothing was drawn.
type drawnBand struct {
	distM, lo, hi []float64
}

// drawnBands takes the bands that are drawn.
func drawnBands(a *thermal.Assessment) []drawnBand {
	out := make([]drawnBand, len(a.Rims))
	for i := range a.Rims {
		if len(a.Rims) > mostBands && i >= mostBands-1 {
			break
		}
		if along := a.Rims[i].Along; along != nil {
			out[i] = bandOf(along)
		}
	}
	return out
}

// bandOf keeps the entries that make a band. Each is for the stretch about its
// place: the first and the last one reach to the ends of theirs.
func bandOf(along *thermal.Along) drawnBand {
	var b drawnBand
	far := math.Inf(-1)
	for i := range min(len(along.DistM), len(along.P05C), len(along.P95C)) {
		m, lo, hi := along.DistM[i], along.P05C[i], along.P95C[i]
		if !finite(m) || !finite(lo) || !finite(hi) || lo > hi || m <= far {
			continue
		}
		far = m
		b.distM, b.lo, b.hi = append(b.distM, m), append(b.lo, lo), append(b.hi, hi)
	}
	n := len(b.distM)
	if n < 2 {
		return drawnBand{}
	}
	first, last := b.distM[0]-(b.distM[1]-b.distM[0])/2, b.distM[n-1]+(b.distM[n-1]-b.distM[n-2])/2
	b.distM = append(append([]float64{max(0, first)}, b.distM...), last)
	b.lo = append(append([]float64{b.lo[0]}, b.lo...), b.lo[n-1])
	b.hi = append(append([]float64{b.hi[0]}, b.hi...), b.hi[n-1])
	return b
}

// upper is the bound that nineteen of twenty draws stay below.
func (b drawnBand) upper() series { return series{distM: b.distM, v: b.hi} }

// drawn tells whether there is a band.
func (b drawnBand) drawn() bool { return len(b.distM) > 0 }

// edges places a band's bounds on the sheet. Where the rim's curve goes up and down
// so often that only its heights are drawn, so do they.
func (c *composer) edges(i int, y func(float64) float64) (upper, lower []xy) {
	b := c.band[i]
	upper, lower = c.polyline(b.upper(), y), c.polyline(series{distM: b.distM, v: b.lo}, y)
	if c.sawing[i] {
		upper, _ = envelope(upper)
		lower, _ = envelope(lower)
	}
	return upper, lower
}

// drawBands paints the bands.
func (c *composer) drawBands(y func(float64) float64) {
	for _, i := range c.banded() {
		upper, lower := c.edges(i, y)
		slices.Reverse(lower)
		c.sc.add(shape{role: roleDraws, rim: i, pts: append(upper, lower...), fill: styleOfRim(i).veil()})
	}
}

// drawBandEdges paints the bands' edges, which tell them apart without colour.
func (c *composer) drawBandEdges(y func(float64) float64) {
	for _, i := range c.banded() {
		upper, lower := c.edges(i, y)
		c.sc.line(roleDrawsEdge, i, styleOfRim(i).edge(), upper...)
		c.sc.line(roleDrawsEdge, i, styleOfRim(i).edge(), lower...)
	}
}

// bandSample draws a piece of a band with the rim's curve in it, and a whisker.
func (c *composer) bandSample(i int, b rect) {
	const whiskerW = 6.8
	st := styleOfRim(i)
	c.whisker(roleKey, i, b.x1-whiskerW/2, b.y0, b.y1, whiskerW/2)
	b.x1 -= whiskerW + 5
	c.sc.area(roleKey, i, b, st.veil())
	for _, y := range []float64{b.y0, b.y1} {
		c.sc.line(roleKey, i, st.edge(), xy{b.x0, y}, xy{b.x1, y})
	}
	c.sc.line(roleKey, i, st.track, xy{b.x0, (b.y0 + b.y1) / 2}, xy{b.x1, (b.y0 + b.y1) / 2})
}

// clearEdges cuts the bands' edges where a label stands: unlike a curve an edge may
// be broken, and no label need give way to it.
func (c *composer) clearEdges() {
	var free []rect
	for _, l := range c.sc.labels {
		free = append(free, l.box.grown(1.5))
	}
	var out []shape
	for _, s := range c.sc.shapes {
		if s.role != roleDrawsEdge {
			out = append(out, s)
			continue
		}
		box := s.box()
		near := slices.DeleteFunc(slices.Clone(free), func(b rect) bool { return !b.meets(box.grown(1)) })
		for _, piece := range around(s.pts, near) {
			p := s
			p.pts = piece
			out = append(out, p)
		}
	}
	c.sc.shapes = out
}

// banded lists the rims that have a band.
func (c *composer) banded() []int {
	var out []int
	for i, b := range c.band {
		if b.drawn() {
			out = append(out, i)
		}
	}
	return out
}

// bandText is what the key says of the bands.
func (c *composer) bandText() string {
	rims := c.banded()
	if len(rims) == len(c.a.Rims) {
		return bandWords
	}
	return bandWords + " (" + tagList(rims, len(c.a.Rims)) + ")"
}

// bandWords is what a line with a band is.
const bandWords = "central estimate, nine of ten draws"

// tagList names rims by their tags: "A, B and C".
func tagList(rims []int, n int) string {
	tags := make([]string, len(rims))
	for i, r := range rims {
		tags[i] = tagOf(r, n)
	}
	if k := len(tags); k > 1 {
		tags = []string{strings.Join(tags[:k-1], ", ") + " and " + tags[k-1]}
	}
	return strings.Join(tags, "")
}

// veil is the rim's colour as it lies over a band.
func (r rimStyle) veil() color.NRGBA {
	c := r.track.ink
	c.A = 38
	return c
}

// edge is the line at a band's edge, in the dashes of the rim's curve.
func (r rimStyle) edge() lineStyle {
	ink := r.track.ink
	ink.A = 130
	return lineStyle{ink: ink, width: 0.6, dash: r.track.dash}
}
