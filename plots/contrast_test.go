package plots

import (
	"image/color"
	"math"
	"strings"
	"testing"

	"rimheat/thermal"
)

// contrast is the ratio of the luminances of two colours (W3C, Web Content Accessibility
// Guidelines 2.1, published 2018): 1 for the same, 21 for black and white.
func contrast(a, b color.Color) float64 {
	luminance := func(c color.Color) float64 {
		r, g, b := linearRGB(c)
		return 0.2126*r + 0.7152*g + 0.0722*b + 0.05
	}
	p, q := luminance(a), luminance(b)
	return max(p, q) / min(p, q)
}

// enclosed tells whether a place lies inside a closed run of points, by counting crossings.
func enclosed(pts []xy, p xy) bool {
	in := false
	for i, a := range pts {
		b := pts[(i+1)%len(pts)]
		if (a.y > p.y) != (b.y > p.y) && p.x < a.x+(p.y-a.y)/(b.y-a.y)*(b.x-a.x) {
			in = !in
		}
	}
	return in
}

// groundAt is the colour of what has been painted at a place, lines left out.
func (s *scene) groundAt(p xy) color.NRGBA {
	ground := rgb(0xFFFFFF)
	for _, sh := range s.shapes {
		if sh.fill.A == 0 || !enclosed(sh.pts, p) {
			continue
		}
		mix := func(over, under uint8) uint8 {
			part := float64(sh.fill.A) / 255
			return uint8(math.Round(part*float64(over) + (1-part)*float64(under)))
		}
		ground = color.NRGBA{R: mix(sh.fill.R, ground.R), G: mix(sh.fill.G, ground.G), B: mix(sh.fill.B, ground.B), A: 255}
	}
	return ground
}

// checkContrast holds every label against what lies under its ends and its middle: 4.5
// for text of this size (W3C, Web Content Accessibility Guidelines 2.1, criterion 1.4.3).
func checkContrast(t *testing.T, sc *scene) {
	t.Helper()
	for _, l := range sc.labels {
		y := (l.box.y0 + l.box.y1) / 2
		for _, x := range []float64{l.box.x0 + 1, (l.box.x0 + l.box.x1) / 2, l.box.x1 - 1} {
			if k := contrast(l.ink, sc.groundAt(xy{x, y})); k < 4.5 {
				t.Errorf("label %q of role %s has a contrast of %.2f to its ground", l.text, l.role, k)
				break
			}
		}
	}
}

// figuresOf are all figures of an assessment, whole and as parts of a page.
func figuresOf() map[string]func(*thermal.Assessment, Options, *typeface) (*scene, error) {
	return map[string]func(*thermal.Assessment, Options, *typeface) (*scene, error){
		"descents": compose, "map": composeRouteMap, "sections": composeSections, "energy": composeEnergy,
		"reasons": func(a *thermal.Assessment, opt Options, tf *typeface) (*scene, error) {
			return composeReasons(a, units{imperial: opt.Imperial}, tf)
		},
	}
}

// Every word of every figure can be read against what it stands on, is set in 9 points at
// least, and stands clear of the others.
func TestEveryFigureCanBeRead(t *testing.T) {
	t.Parallel()
	tf, err := newTypeface(false)
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"two descents", "two in imperial", "no descents", "one descent", "twelve descents", "very short", "very long", "five rims pulsing", "hostile names", "ends in a stop"} {
		a := cases()[name].whole()
		for what, compose := range figuresOf() {
			for _, opt := range []Options{{}, {bare: true}, {Imperial: strings.Contains(name, "imperial")}} {
				sc, err := compose(a, opt, tf)
				if err != nil {
					t.Fatalf("%s, %s: %v", name, what, err)
				}
				t.Run(name+", "+what, func(t *testing.T) {
					checkContrast(t, sc)
					checkLabelsApart(t, sc)
				})
			}
		}
	}
}

// The lines of rims and limits stand out from the paper (3, criterion 1.4.11 of the same
// guidelines), and neighbours in the list differ in lightness for colour-blind eyes too;
// dashes and symbols tell all of them apart.
func TestInksOfLines(t *testing.T) {
	paper := colours().paper
	const n = 5
	for i := range n {
		ink := styleOfRim(i).track.ink
		if k := contrast(ink, paper); k < 3 {
			t.Errorf("the line of rim %d has a contrast of %.2f to the paper", i, k)
		}
		for name, m := range lackingCones() {
			a, b := seenWith(m, ink), seenWith(m, styleOfRim((i+1)%n).track.ink)
			if i+1 < n && math.Abs(lightness(a)-lightness(b)) < 9 {
				t.Errorf("%s: rims %d and %d have lightness %.0f and %.0f", name, i, i+1, lightness(a), lightness(b))
			}
		}
	}
	for name, ink := range map[string]color.Color{"limit": colours().limit, "over": colours().overRoad, "road": colours().road, "bracket": colours().bracket} {
		if k := contrast(ink, paper); k < 3 {
			t.Errorf("%s has a contrast of %.2f to the paper", name, k)
		}
	}
}
