package plots

import (
	"image/color"

	maps "gonum.org/v1/plot/palette"
	"gonum.org/v1/plot/palette/moreland"
)

// A heatScale gives temperatures colours: pale where it is cool, through yellow and red
// to nearly black where it is hot. Steps of one size look equally large all along
// (K. Moreland, Why we use bad color maps and what you can do about it, 2016), and as
// the scale darkens all the way it holds in a grey print and for colour-blind eyes.
type heatScale struct {
	loC, hiC float64
	colours  maps.ColorMap
}

// palest and darkest bound the part of the map that is used: beyond them it is hardly
// to be told from white paper and from black ink.
const palest, darkest = 0.93, 0.12

// newHeatScale spans the temperatures from lo to hi, °C, at least ten degrees.
func newHeatScale(loC, hiC float64) *heatScale {
	s := &heatScale{loC: loC, hiC: max(hiC, loC+10), colours: moreland.BlackBody()}
	s.colours.SetMin(0)
	s.colours.SetMax(1)
	return s
}

// at is the colour of a temperature, °C; beyond the ends it is that of the end.
func (s *heatScale) at(c float64) color.NRGBA {
	along := max(0, min(1, (c-s.loC)/(s.hiC-s.loC)))
	v, err := s.colours.At(palest + along*(darkest-palest))
	if err != nil { // no number: the temperatures have been checked before
		return color.NRGBA{}
	}
	return color.NRGBAModel.Convert(v).(color.NRGBA)
}
