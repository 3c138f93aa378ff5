package route

import "strconv"

// What heights were found to be.
const (
	// HeightsQuiet: no noise that could be told from the road.
	HeightsQuiet = "quiet"
	// HeightsScatter: each height off by itself, as from a poor sensor.
	HeightsScatter = "scatter"
	// HeightsWander: off by much the same over hundreds of metres, as heights
	// from satellites are.
	HeightsWander = "wander"
	// HeightsSteps: stairs, as from a terrain model read without interpolation.
	HeightsSteps = "steps"
	// HeightsRounded: rounded to whole metres.
	HeightsRounded = "whole metres"
)

// Heights says what was found of the heights and what was done to them.
type Heights struct {
	// Found is one of the words above.
	Found string `json:"found"`
	// NoiseM is the standard deviation of scatter or wandering, or the height
	// of a step, metres; 0 if quiet.
	NoiseM float64 `json:"noise_m"`
	// SmoothedOverM is the wavelength at which the noise found hides a road of
	// middling roughness, or the one asked for, metres; 0 for heights left raw.
	// Where the road bends the smoother follows more closely.
	SmoothedOverM float64 `json:"smoothed_over_m"`
	// Asked tells that the user chose how to smooth.
	Asked bool `json:"asked"`
	// Text says all this in a sentence.
	Text string `json:"text"`
}

// smoothHeights fills p.HeightM from p.RawHeightM.
func (c *course) smoothHeights(p *Profile, opt Options) (Heights, error) {
	noise := c.noise()
	h := noise.describe()
	found := h.Text
	var err error
	switch {
	case opt.RawHeights:
		copy(p.HeightM, p.RawHeightM)
		h.Asked, h.Text = true, found+": taken raw, as asked"
	case opt.SmoothM > 0:
		err = smoothOver(p.HeightM, p.RawHeightM, opt.SmoothM/p.SpacingM)
		h.Asked, h.SmoothedOverM = true, opt.SmoothM
		h.Text = found + ": smoothed over " + metres(opt.SmoothM) + ", as asked"
	default:
		rho, v := noise.recursion(p.SpacingM)
		err = newSmoother(len(p.HeightM), p.SpacingM, rho, v).smooth(p.HeightM, p.RawHeightM, roughnesses(noise))
		h.SmoothedOverM = noise.smoothedOverM()
		h.Text = found + ": smoothed over some " + metres(roundTo(h.SmoothedOverM, 10)) + ", less where the grade changes"
	}
	return h, err
}

// describe words the noise without what was done about it.
func (h heightNoise) describe() Heights {
	hidesMore := h.wanderM > 0 && h.cutoff(h.wanderDensity) < h.cutoff(h.whiteDensity)
	switch {
	case hidesMore:
		return Heights{Found: HeightsWander, NoiseM: h.wanderM, Text: "wander by some " + oneDecimal(h.wanderM) + " m, as satellite heights do"}
	case h.rounded:
		return Heights{Found: HeightsRounded, NoiseM: h.stepM, Text: "look rounded to whole metres"}
	case h.stepM > 0:
		return Heights{Found: HeightsSteps, NoiseM: h.stepM, Text: "look model-made, in steps of some " + oneDecimal(h.stepM) + " m"}
	case h.scatterM >= scatterShownM:
		return Heights{Found: HeightsScatter, NoiseM: h.scatterM, Text: "scatter by some " + oneDecimal(h.scatterM) + " m from point to point"}
	}
	return Heights{Found: HeightsQuiet, Text: "show no noise to speak of"}
}

func oneDecimal(v float64) string { return strconv.FormatFloat(v, 'f', 1, 64) }

func roundTo(v, step float64) float64 { return step * float64(int(v/step+0.5)) }
