package route

import (
	"math"
)

// DefaultSpacingM is the grid step for Options.SpacingM = 0, metres: a third
// of the shortest chord used for corners, 1/30 of the height wavelength kept.
const DefaultSpacingM = 5.0

// MinSpacingM and MaxSpacingM bound Options.SpacingM, metres.
const (
	MinSpacingM = 0.5
	MaxSpacingM = 100.0
)

// DefaultOptions are what the zero Options mean.
func DefaultOptions() Options { return Options{SpacingM: DefaultSpacingM} }

// NewProfile makes the profile of t: repairs, geodesic distances on WGS84, a
// uniform grid, smoothed heights, grades, headings, corner radii, descents.
// It does not change t. Errors are *InputError.
func NewProfile(t *Track, opt Options) (*Profile, error) {
	step := opt.SpacingM
	if step == 0 {
		step = DefaultSpacingM
	}
	if !(step >= MinSpacingM && step <= MaxSpacingM) {
		return nil, &InputError{File: t.File, What: "a grid step of " + degrees(step) + " m is outside 0.5 to 100 m", Do: "choose one inside"}
	}
	c, err := newCourse(t)
	if err != nil {
		return nil, err
	}
	if err := c.repairHeights(); err != nil {
		return nil, err
	}
	length := c.dist[len(c.dist)-1]
	n := max(1, int(math.Round(length/step))) + 1
	if n > MaxNodes {
		return nil, c.fail(0, "a grid of "+count(n)+" nodes is more than "+count(MaxNodes)+", the limit", "choose a larger grid step")
	}
	p := &Profile{
		Name: cleanName(t.Name), Points: len(t.Points),
		SpacingM: length / float64(n-1), DistanceM: length,
	}
	c.toGrid(p, n)
	p.HeightM = make([]float64, n)
	if err := smooth(p.HeightM, p.RawHeightM, WavelengthM/p.SpacingM); err != nil {
		return nil, c.fail(0, "the heights cannot be smoothed: "+err.Error(), "check the heights of the file")
	}
	for i := 1; i < n; i++ {
		if d := p.HeightM[i] - p.HeightM[i-1]; d > 0 {
			p.ClimbM += d
		} else {
			p.DropM -= d
		}
	}
	steep, err := c.grades(p)
	if err != nil {
		return nil, err
	}
	c.plan(p)
	p.Descents = findDescents(p, steep)
	p.Repairs = append(append([]Repair(nil), t.Repairs...), c.repairs...)
	return p, nil
}

// Limits on heights steeper than MaxGrade, both choices with no source: up to
// this share of all rise and fall, or up to this many metres, the grade is
// capped; beyond both the heights are refused.
const (
	maxSteepShare = 0.10
	maxSteepM     = 20.0
)

// grades fills p.Grade by centred differences, one-sided at the ends, and
// tells at which nodes it had to be capped.
func (c *course) grades(p *Profile) (steep []bool, err error) {
	n, h := len(p.HeightM), p.HeightM
	steepM := 0.0
	for i := 1; i < n; i++ {
		if d := math.Abs(h[i] - h[i-1]); d > MaxGrade*p.SpacingM {
			steepM += d
		}
	}
	if all := p.ClimbM + p.DropM; steepM > maxSteepM && steepM > maxSteepShare*all {
		return nil, c.fail(0, count(int(steepM))+" m of "+count(int(all))+" m of climb and drop over "+
			kilometres(p.DistanceM)+" are steeper than 30 %, so the heights are wrong", "take the heights from a map or another recording")
	}
	p.Grade = make([]float64, n)
	steep = make([]bool, n)
	capped := 0
	for i := range p.Grade {
		a, b := max(i-1, 0), min(i+1, n-1)
		g := (h[b] - h[a]) / (float64(b-a) * p.SpacingM)
		if math.Abs(g) > MaxGrade {
			g = math.Copysign(MaxGrade, g)
			steep[i] = true
			capped++
		}
		p.Grade[i] = g
	}
	if capped > 0 {
		c.note("too-steep", capped, "grade capped at 30 % on "+metres(float64(capped)*p.SpacingM)+" of road ("+
			plural(capped, "grid node", "grid nodes")+")")
	}
	return steep, nil
}
