package route

import (
	"math"

	"github.com/tidwall/geodesic"
)

// Rules for positions. Choices of this program, no source.
const (
	// minStepM merges points nearer than this to the one before, metres.
	minStepM = 0.01
	// minLengthM is the shortest route, metres.
	minLengthM = 1.0
	// A run of at most maxOutliers points is taken for position outliers if
	// the steps to it and from it are each longer than outlierM metres and
	// than outlierSteps median steps, and its neighbours are nearer to each
	// other than outlierReturn of the shorter of the two.
	maxOutliers   = 3
	outlierM      = 200.0
	outlierSteps  = 50.0
	outlierReturn = 0.25
)

// A course is a track without duplicate points and position outliers: the
// points that carry the profile.
type course struct {
	file  string
	track *Track
	// One entry a point: degrees, metres, 1-based number and line in the file.
	lat, lon, h  []float64
	lacks        []bool
	number, line []int
	// dist is the geodesic distance from the start, strictly increasing;
	// azimuth[i] is the mean direction of the step from i to i+1, radians.
	dist, azimuth []float64
	// east and north are the points in the plane of lay, metres.
	east, north []float64
	// noiseM is the white noise of the positions on one axis as measured, 0 if
	// it cannot be told, and leftM what smoothing left of it, metres.
	noiseM, leftM float64
	repairs       []Repair
	doubts        []doubt
	fromTiles     bool
	// straight is the distance from point to point where dist has bends in it,
	// nil where they are the same.
	straight []float64
}

func (c *course) note(kind string, n int, text string) {
	c.repairs = append(c.repairs, Repair{kind, n, text})
}

func (c *course) fail(line int, what, do string) *InputError {
	return &InputError{File: c.file, Line: line, What: what, Do: do}
}

func newCourse(t *Track, replay bool) (*course, error) {
	c := &course{file: t.File, track: t}
	n := len(t.Points)
	switch n {
	case 0:
		return nil, c.fail(0, "the track has no points", "export the route again")
	case 1:
		return nil, c.fail(t.Points[0].Line, "the track has only one point", "a route needs at least two")
	}
	for i := range t.Points {
		p := &t.Points[i]
		if what, do := positionFault(p.LatDeg, p.LonDeg); what != "" {
			return nil, c.fail(p.Line, "point "+count(i+1)+": "+what, do)
		}
	}
	keep := dropOutliers(t.Points)
	c.reserve(len(keep))
	if err := c.measure(t.Points, keep); err != nil {
		return nil, err
	}
	if out := c.outliers(keep); len(out) > 0 {
		c.note("position-outlier", len(out), plural(len(out), "point", "points")+" far off the route and back left out, "+near(out))
	}
	c.repairPositions(replay)
	return c, nil
}

func (c *course) reserve(n int) {
	f := make([]float64, 5*n)
	c.lat, c.lon, c.h = f[:0:n], f[n:n:2*n], f[2*n:2*n:3*n]
	c.dist, c.azimuth = f[3*n:3*n:4*n], f[4*n:4*n:5*n]
	i := make([]int, 2*n)
	c.number, c.line = i[:0:n], i[n:n:2*n]
	c.lacks = make([]bool, 0, n)
}

// dropOutliers gives the indices of the points that stay.
func dropOutliers(pts []Point) []int {
	step := func(i, j int) float64 {
		if pts[i].LatDeg == pts[j].LatDeg && pts[i].LonDeg == pts[j].LonDeg {
			return 0
		}
		return roughDistanceM(pts[i].LatDeg, pts[i].LonDeg, pts[j].LatDeg, pts[j].LonDeg)
	}
	steps := make([]float64, 0, len(pts))
	longest := 0.0
	for i := 1; i < len(pts); i++ {
		if d := step(i-1, i); d > 0 {
			steps = append(steps, d)
			longest = max(longest, d)
		}
	}
	far := max(outlierM, outlierSteps*median(steps))
	keep := make([]int, 0, len(pts))
	for i := 0; i < len(pts); i++ {
		if n := len(keep); n > 0 && longest > far {
			if run := outlierRun(keep[n-1], i, len(pts), far, step); run > 0 {
				i += run - 1
				continue
			}
		}
		keep = append(keep, i)
	}
	return keep
}

// outlierRun is how many points from i on are outliers, seen from last, the
// point kept last.
func outlierRun(last, i, n int, far float64, step func(i, j int) float64) int {
	out := step(last, i)
	if out <= far {
		return 0
	}
	for j := i; j < min(i+maxOutliers, n-1); j++ {
		if back := step(j, j+1); back > far && step(last, j+1) < outlierReturn*min(out, back) {
			return j - i + 1
		}
	}
	return 0
}

// outliers gives the places of the points that are not in keep, each at the
// point before it that stayed, and how far off it is, metres.
func (c *course) outliers(keep []int) []spot {
	pts := c.track.Points
	if len(keep) == len(pts) {
		return nil
	}
	var out []spot
	next, k := 0, 0
	for i := range pts {
		if next < len(keep) && keep[next] == i {
			next++
			continue
		}
		for k+1 < len(c.number) && c.number[k+1] <= i {
			k++
		}
		out = append(out, spot{c.dist[k], roughDistanceM(c.lat[k], c.lon[k], pts[i].LatDeg, pts[i].LonDeg)})
	}
	return out
}

// measure takes over the points in keep, merges duplicates (their heights
// averaged) and measures the distances on the WGS84 ellipsoid by the inverse
// problem of C. F. F. Karney, Algorithms for geodesics, J. Geodesy 87 (2013)
// 43-55, error below 1 micrometre.
func (c *course) measure(pts []Point, keep []int) error {
	merged, heights := 0, 0
	total := 0.0
	for _, i := range keep {
		p := &pts[i]
		usable := p.HasHeight && p.HeightM >= minHeightM && p.HeightM <= maxHeightM
		if k := len(c.lat) - 1; k >= 0 {
			step, azimuth := 0.0, 0.0
			if p.LatDeg != c.lat[k] || p.LonDeg != c.lon[k] {
				step, azimuth = inverse(c.lat[k], c.lon[k], p.LatDeg, p.LonDeg)
			}
			if step < minStepM {
				merged++
				if usable {
					heights++
					if c.lacks[k] {
						c.h[k], heights = 0, 1
					}
					c.h[k] += (p.HeightM - c.h[k]) / float64(heights)
					c.lacks[k] = false
				}
				continue
			}
			total += step
			c.azimuth = append(c.azimuth, azimuth)
		}
		h := p.HeightM
		heights = 1
		if !usable {
			h, heights = 0, 0
		}
		c.lat, c.lon, c.h = append(c.lat, p.LatDeg), append(c.lon, p.LonDeg), append(c.h, h)
		c.lacks = append(c.lacks, !usable)
		c.number, c.line = append(c.number, i+1), append(c.line, p.Line)
		c.dist = append(c.dist, total)
	}
	switch {
	case len(c.lat) < 2:
		return c.fail(pts[0].Line, "all "+count(len(pts))+" points are at the same place", "export the route again")
	case total < minLengthM:
		return c.fail(pts[0].Line, "the whole route is shorter than 1 m", "export the route again")
	case total > MaxLengthM:
		i := c.longestStep()
		return c.fail(c.line[i], "the route is "+kilometres(total)+" long, more than "+kilometres(MaxLengthM)+
			", the limit; its longest step, after point "+count(c.number[i])+", is "+kilometres(c.dist[i+1]-c.dist[i]), "correct that point or split the route")
	}
	if merged > 0 {
		c.note("duplicate-point", merged, plural(merged, "point", "points")+" at the place of the point before merged into it")
	}
	return nil
}

// inverse gives the geodesic distance, metres, between two positions in
// degrees, and its mean direction, radians clockwise from north.
func inverse(lat1, lon1, lat2, lon2 float64) (m, azimuth float64) {
	var a1, a2 float64
	geodesic.WGS84.Inverse(lat1, lon1, lat2, lon2, &m, &a1, &a2)
	return m, (a1 + math.Remainder(a2-a1, 360)/2) * math.Pi / 180
}
