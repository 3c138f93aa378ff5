package plots

import (
	"image/color"
	"math"
	"sort"

	maps "gonum.org/v1/plot/palette"
	"gonum.org/v1/plot/palette/moreland"
)

// A heatScale gives temperatures colours: pale where it is cool, through yellow and red
// to nearly black where it is hot (K. Moreland, Why we use bad color maps and what you
// can do about it, 2016). Steps of one size look equally large all along: the colours
// are spaced evenly in OKLab. As the scale darkens all the way it holds in a grey print
// and for colour-blind eyes.
type heatScale struct {
	loC, hiC float64
	colours  maps.ColorMap
	// gone is how far, to the eye, the colours have come at equal steps along the part
	// of the map that is used, 0 to 1.
	gone []float64
}

// palest and darkest bound the part of the map that is used: beyond them it is hardly
// to be told from white paper and from black ink.
const palest, darkest = 0.93, 0.12

// newHeatScale spans the temperatures from lo to hi, °C, at least ten degrees.
func newHeatScale(loC, hiC float64) *heatScale {
	const steps = 64
	s := &heatScale{loC: loC, hiC: max(hiC, loC+10), colours: moreland.BlackBody(), gone: make([]float64, steps+1)}
	s.colours.SetMin(0)
	s.colours.SetMax(1)
	var before [3]float64
	for i := range s.gone {
		now := okLab(s.on(float64(i) / steps))
		if i > 0 {
			s.gone[i] = s.gone[i-1] + math.Hypot(math.Hypot(now[0]-before[0], now[1]-before[1]), now[2]-before[2])
		}
		before = now
	}
	for i := range s.gone {
		s.gone[i] /= s.gone[steps]
	}
	s.gone[steps] = 1
	return s
}

// on is the colour at a part of the map that is used.
func (s *heatScale) on(part float64) color.Color {
	c, err := s.colours.At(palest + part*(darkest-palest))
	if err != nil { // no number: the temperatures have been checked before
		return color.NRGBA{}
	}
	return c
}

// at is the colour of a temperature, °C; beyond the ends it is that of the end.
func (s *heatScale) at(c float64) color.NRGBA {
	along := max(0, min(1, (c-s.loC)/(s.hiC-s.loC)))
	steps := len(s.gone) - 1
	i := max(1, min(steps, sort.SearchFloat64s(s.gone, along)))
	f := (along - s.gone[i-1]) / (s.gone[i] - s.gone[i-1])
	return color.NRGBAModel.Convert(s.on((float64(i-1) + f) / float64(steps))).(color.NRGBA)
}

// linearRGB undoes the encoding of sRGB: red, green and blue in proportion to the light,
// 0 to 1 (figures from memory).
func linearRGB(c color.Color) (r, g, b float64) {
	r16, g16, b16, _ := c.RGBA()
	linear := func(v uint32) float64 {
		part := float64(v) / 0xffff
		if part <= 0.04045 {
			return part / 12.92
		}
		return math.Pow((part+0.055)/1.055, 2.4)
	}
	return linear(r16), linear(g16), linear(b16)
}

// okLab gives a colour's lightness, and how green or red and how blue or yellow it is, in
// numbers in which equal distances look about equal (B. Ottosson, A perceptual color space
// for image processing, 2020; figures from memory).
func okLab(c color.Color) [3]float64 {
	r, g, b := linearRGB(c)
	l := math.Cbrt(0.4122214708*r + 0.5363325363*g + 0.0514459929*b)
	m := math.Cbrt(0.2119034982*r + 0.6806995451*g + 0.1073969566*b)
	s := math.Cbrt(0.0883024619*r + 0.2817188376*g + 0.6299787005*b)
	return [3]float64{
		0.2104542553*l + 0.7936177850*m - 0.0040720468*s,
		1.9779984951*l - 2.4285922050*m + 0.4505937099*s,
		0.0259040371*l + 0.7827717662*m - 0.8086757660*s,
	}
}

// A heatKey is the bar that explains a heat scale.
type heatKey struct {
	scale *heatScale
	u     units
	tf    *typeface
	// stepC is how wide the steps of the colours are, K; num is the style of the
	// numbers, ink that of the marks.
	stepC float64
	num   textStyle
	ink   color.NRGBA
}

// x places a temperature, °C, on a bar from x0 to x1.
func (k heatKey) x(c, x0, x1 float64) float64 {
	return x0 + max(0, min(1, (c-k.scale.loC)/(k.scale.hiC-k.scale.loC)))*(x1-x0)
}

// numbersH is the room that the numbers under the bar take, points.
func (k heatKey) numbersH() float64 { return 4 + k.num.size }

// draw puts the bar into the box, the coolest at its left, and round temperatures under
// it, the last one with its unit.
func (k heatKey) draw(sc *scene, r role, b rect) {
	for lo := k.scale.loC; lo < k.scale.hiC-1e-9; lo += k.stepC {
		hi := min(lo+k.stepC, k.scale.hiC)
		// To the end of the bar: the next step covers what is too much, and no seam is left.
		sc.area(r, noRim, rect{k.x(lo, b.x0, b.x1), b.y0, b.x1, b.y1}, k.scale.at((lo+hi)/2))
	}
	thin := lineStyle{ink: k.ink, width: 0.6}
	sc.line(r, noRim, thin, xy{b.x0, b.y0}, xy{b.x1, b.y0}, xy{b.x1, b.y1}, xy{b.x0, b.y1}, xy{b.x0, b.y0})
	most := int((b.x1 - b.x0) / (4 * k.num.size))
	t := ticksIn(k.u.temp(k.scale.loC), k.u.temp(k.scale.hiC), most)
	for i, v := range t.at {
		c := v
		if k.u.imperial {
			c = (v - 32) * 5 / 9
		}
		x := k.x(c, b.x0, b.x1)
		sc.line(r, noRim, thin, xy{x, b.y0}, xy{x, b.y0 - 3})
		text := number(v, t.decimals)
		half := k.tf.width(text, k.num) / 2
		if i == len(t.at)-1 {
			text += " " + k.u.tempUnit()
		}
		sc.write(k.tf, r, noRim, k.num, text, max(b.x0, x-half), b.y0-4-k.num.size*ascender, alignLeft)
	}
}
