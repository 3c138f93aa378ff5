package route

// DefaultSpacingM is the grid step for Options.SpacingM = 0, metres: a third
// of the shortest chord used for corners, 1/30 of the height wavelength kept.
const DefaultSpacingM = 5.0

// MinSpacingM and MaxSpacingM bound Options.SpacingM, metres.
const (
	MinSpacingM = 0.5
	MaxSpacingM = 100.0
	// MinSmoothM and MaxSmoothM bound Options.SmoothM, metres.
	MinSmoothM = 20.0
	MaxSmoothM = 5000.0
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
	if opt.SmoothM != 0 && !(opt.SmoothM >= MinSmoothM && opt.SmoothM <= MaxSmoothM) {
		return nil, &InputError{File: t.File, What: "heights smoothed over " + degrees(opt.SmoothM) + " m is outside 20 to 5,000 m", Do: "choose one inside"}
	}
	given, points := t, len(t.Points)
	var rec *recording
	if opt.Replay {
		var err error
		if rec, err = record(t); err != nil {
			return nil, err
		}
		t = rec.track
	}
	c, err := newCourse(t, opt.Replay)
	if err != nil {
		return nil, err
	}
	plan, err := c.gridOf(step)
	if err != nil {
		return nil, err
	}
	c.plan(plan)
	c.lengthenBends()
	c.reportGaps()
	if err := c.checkSpacing(); err != nil {
		return nil, err
	}
	if opt.Tiles != nil {
		if err := c.heightsFrom(opt.Tiles); err != nil {
			return nil, err
		}
	}
	if err := c.repairHeights(); err != nil {
		return nil, err
	}
	c.reportHeightSteps()
	p, err := c.gridOf(step)
	if err != nil {
		return nil, err
	}
	p.Name, p.Track, p.Points = cleanName(t.Name), given, points
	n := len(p.DistM)
	c.toGrid(p)
	p.HeightM = make([]float64, n)
	if p.Heights, err = c.smoothHeights(p, opt); err != nil {
		return nil, c.fail(0, "the heights cannot be smoothed: "+err.Error(), "check the heights of the file")
	}
	for i := 1; i < n; i++ {
		if d := p.HeightM[i] - p.HeightM[i-1]; d > 0 {
			p.ClimbM += d
		} else {
			p.DropM -= d
		}
	}
	capped, err := c.grades(p, !p.Heights.Asked)
	if err != nil {
		return nil, err
	}
	c.takePlan(p, plan)
	if rec != nil {
		if p.Ride, err = rec.toNodes(c, p); err != nil {
			return nil, err
		}
	}
	p.Descents = findDescents(p, capped)
	c.reportUnits()
	c.reportVerySteep(p)
	p.Doubtful = c.doubtful()
	p.Repairs = append(append([]Repair(nil), t.Repairs...), c.repairs...)
	return p, nil
}
