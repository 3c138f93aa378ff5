package plots

import (
	"image/color"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// apart is how far apart two colours look, in OKLab.
func apart(a, b color.Color) float64 {
	p, q := okLab(a), okLab(b)
	return math.Hypot(math.Hypot(p[0]-q[0], p[1]-q[1]), p[2]-q[2])
}

// lightness is that of CIELAB, 0 to 100, by the relative luminance of sRGB: what a grey
// print keeps.
func lightness(c color.Color) float64 {
	r, g, b := linearRGB(c)
	y := 0.2126*r + 0.7152*g + 0.0722*b
	if y <= 216.0/24389 {
		return y * 24389 / 27
	}
	return 116*math.Cbrt(y) - 16
}

// seenWith is the colour as eyes that lack one kind of cone see it.
func seenWith(m [3][3]float64, c color.Color) color.Color {
	r, g, b := linearRGB(c)
	encode := func(row [3]float64) uint16 {
		v := max(0, min(1, row[0]*r+row[1]*g+row[2]*b))
		if v <= 0.0031308 {
			v *= 12.92
		} else {
			v = 1.055*math.Pow(v, 1/2.4) - 0.055
		}
		return uint16(math.Round(v * 0xffff))
	}
	return color.RGBA64{R: encode(m[0]), G: encode(m[1]), B: encode(m[2]), A: 0xffff}
}

// lackingCones are the simulations of G. M. Machado, M. M. Oliveira and L. A. F.
// Fernandes, A physiologically-based model for simulation of color vision deficiency,
// 2009, at full severity, for linear sRGB; figures from memory.
func lackingCones() map[string][3][3]float64 {
	return map[string][3][3]float64{
		"protanopia":   {{0.152286, 1.052583, -0.204868}, {0.114503, 0.786281, 0.099216}, {-0.003882, -0.048116, 1.051998}},
		"deuteranopia": {{0.367322, 0.860646, -0.227968}, {0.280085, 0.672501, 0.047413}, {-0.011820, 0.042940, 0.968881}},
		"tritanopia":   {{1.255528, -0.076749, -0.178779}, {-0.078411, 0.930809, 0.147602}, {0.004733, 0.691367, 0.303900}},
	}
}

// Equal steps of temperature look equally large, to 8 %, and each is darker than the one
// before: on paper without colours, too.
func TestHeatScaleIsEven(t *testing.T) {
	const steps, tolerance = 20, 0.08
	s := newHeatScale(20, 160)
	var got []float64
	for i := range steps {
		a, b := s.at(20+140*float64(i)/steps), s.at(20+140*float64(i+1)/steps)
		got = append(got, apart(a, b))
		// Even steps would be 4 apart.
		if fall := lightness(a) - lightness(b); fall < 2 {
			t.Errorf("step %d is only %.1f darker than the one before", i, fall)
		}
	}
	mean := 0.0
	for _, d := range got {
		mean += d / steps
	}
	if lo, hi := slices.Min(got), slices.Max(got); lo < (1-tolerance)*mean || hi > (1+tolerance)*mean {
		t.Errorf("steps from %.4f to %.4f about %.4f", lo, hi, mean)
	}
}

func TestHeatScaleHoldsForColourBlindEyes(t *testing.T) {
	const steps = 20
	s := newHeatScale(20, 160)
	for name, m := range lackingCones() {
		for _, row := range m {
			if sum := row[0] + row[1] + row[2]; math.Abs(sum-1) > 2e-6 {
				t.Fatalf("%s does not leave grey grey: %v", name, row)
			}
		}
		var got []float64
		for i := range steps {
			a, b := seenWith(m, s.at(20+140*float64(i)/steps)), seenWith(m, s.at(20+140*float64(i+1)/steps))
			got = append(got, apart(a, b))
			if fall := lightness(a) - lightness(b); fall < 1.5 {
				t.Errorf("%s: step %d is only %.1f darker than the one before", name, i, fall)
			}
		}
		// No step may be lost beside the others.
		if lo, hi := slices.Min(got), slices.Max(got); lo < 0.4*hi {
			t.Errorf("%s: steps from %.4f to %.4f", name, lo, hi)
		}
	}
}

// Pale stays darker than paper and dark lighter than ink, and beyond the ends nothing new
// comes.
func TestHeatScaleEnds(t *testing.T) {
	s := newHeatScale(20, 160)
	pale, dark := s.at(20), s.at(160)
	if s.at(-40) != pale || s.at(900) != dark {
		t.Error("a temperature beyond the ends has a colour of its own")
	}
	if l := lightness(pale); l > 95 {
		t.Errorf("the palest has lightness %.1f: not told from paper", l)
	}
	if l := lightness(dark); l < 8 {
		t.Errorf("the darkest has lightness %.1f: not told from ink", l)
	}
	if one := newHeatScale(50, 50); one.at(50) != pale || one.at(60) != dark {
		t.Error("a scale without width is not widened")
	}
}

// The bar's steps have the colours of their middles, and its numbers stand at their places.
func TestHeatKey(t *testing.T) {
	tf, err := newTypeface(false)
	if err != nil {
		t.Fatal(err)
	}
	for _, imperial := range []bool{false, true} {
		u := units{imperial: imperial}
		k := heatKey{scale: newHeatScale(20, 160), u: u, tf: tf, stepC: 10, num: textStyle{size: 9}, ink: colours().ink}
		sc := &scene{w: 300, h: 60}
		bar := rect{20, 30, 270, 40}
		k.draw(sc, roleHeat, bar)
		steps := 0
		for _, s := range sc.shapes {
			if s.fill.A == 0 {
				continue
			}
			if want := k.scale.at(25 + 10*float64(steps)); s.fill != want || math.Abs(s.pts[0].x-(20+250*float64(steps)/14)) > 1e-9 {
				t.Errorf("step %d from %.1f is %v, want %v", steps, s.pts[0].x, s.fill, want)
			}
			steps++
		}
		if steps != 14 {
			t.Errorf("%d steps, want 14", steps)
		}
		numbers := []string{"50", "100", "150 °C"}
		if imperial {
			numbers = []string{"100", "150", "200", "250", "300 °F"}
		}
		var got []string
		for _, l := range sc.labels {
			got = append(got, l.text)
			digits, _, _ := strings.Cut(l.text, " ")
			c, err := strconv.ParseFloat(digits, 64)
			if err != nil {
				t.Fatal(err)
			}
			if imperial {
				c = (c - 32) * 5 / 9
			}
			if mid, want := l.at.x+tf.width(digits, textStyle{size: 9})/2, 20+250*(c-20)/140; math.Abs(mid-want) > 0.01 {
				t.Errorf("%q stands at %.2f, want %.2f", l.text, mid, want)
			}
		}
		if !slices.Equal(got, numbers) {
			t.Errorf("numbers %v, want %v", got, numbers)
		}
	}
}
