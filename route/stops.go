package route

import "math"

// Rules for telling a standstill. Choices of this program, no source.
const (
	// leastStay is the least number of points in a standstill.
	leastStay = 12
	// A standstill stays within one of the radii of stopRadiiM of its mean
	// place while its points wander over stayPath times that: more than a
	// hairpin that fits into the circle is long.
	stayPath = 5.0
	// Its first and its last quarter have their mean places within stayShift
	// radii of each other; of a road they are 1.5 apart.
	stayShift = 0.8
	// maxAstray points in a row may lie farther off, up to astrayRadii.
	maxAstray   = 5
	astrayRadii = 3.0
	// Points at its ends are of the way there and away if they lie more than
	// coreRMS root mean squares off and the step is more than briskSteps times
	// the mean one.
	coreRMS    = 2.0
	briskSteps = 2.0
)

// stopRadiiM are the circles tried, largest first, metres: positions wander
// by up to 10 m where they scatter by 3 m, and by less where they are good.
var stopRadiiM = [...]float64{12, 5}

// A stay is a standstill: points first to last, and their mean place, metres.
type stay struct {
	first, last int
	x, y        float64
}

// collapseStops puts the points of each standstill into one at their mean
// place and height, and says so. It needs lay and leaves it right.
func (c *course) collapseStops() {
	points := 0
	before := c.dist[len(c.dist)-1]
	var where []spot
	for _, radius := range stopRadiiM {
		stays := c.stays(radius)
		left := len(c.dist)
		for _, s := range stays {
			left -= s.last - s.first
		}
		if len(stays) == 0 || left < 2 || c.lengthWithout(stays) < minLengthM {
			continue
		}
		for _, s := range stays {
			points += s.last - s.first
			where = append(where, spot{c.dist[s.first], c.dist[s.last] - c.dist[s.first]})
		}
		c.merge(stays)
	}
	if len(where) > 0 {
		c.note("standstill", points, plural(points, "point", "points")+" of "+plural(len(where), "standstill", "standstills")+" merged, "+
			metres(max(before-c.dist[len(c.dist)-1], 0))+" of wandering left out, "+near(where))
	}
}

// lengthWithout is the length of the way with the stays merged, roughly,
// metres.
func (c *course) lengthWithout(stays []stay) float64 {
	sum, x, y := 0.0, math.NaN(), 0.0
	for i := 0; i < len(c.east); i++ {
		px, py := c.east[i], c.north[i]
		if len(stays) > 0 && i == stays[0].first {
			px, py, i = stays[0].x, stays[0].y, stays[0].last
			stays = stays[1:]
		}
		if !math.IsNaN(x) {
			sum += math.Hypot(px-x, py-y)
		}
		x, y = px, py
	}
	return sum
}

// stays finds the standstills that fit into a circle.
func (c *course) stays(radius float64) []stay {
	x, y := c.east, c.north
	var found []stay
	for i := 0; i+leastStay <= len(x); {
		if math.Hypot(x[i+leastStay-1]-x[i], y[i+leastStay-1]-y[i]) > 2*radius {
			i++
			continue
		}
		end := c.leaves(i, radius)
		if s, ok := c.stayIn(i, end-1, radius); ok {
			found = append(found, s)
			i = end
		} else {
			i += max(1, (end-i)/4)
		}
	}
	return found
}

// leaves gives the first point after point i that has left the circle round the
// mean place of the points from i on, for good or for maxAstray points.
func (c *course) leaves(i int, radius float64) int {
	x, y := c.east, c.north
	sx, sy, n := x[i], y[i], 1.0
	end := i + 1
	for end < len(x) {
		off, next := math.Inf(1), end
		for ; next < len(x) && next-end < maxAstray; next++ {
			if off = math.Hypot(x[next]-sx/n, y[next]-sy/n); off <= radius || off > astrayRadii*radius {
				break
			}
		}
		if off > radius {
			break
		}
		for ; end <= next; end++ {
			sx, sy, n = sx+x[end], sy+y[end], n+1
		}
	}
	return end
}

// stayIn tells whether points first to last are a standstill.
func (c *course) stayIn(first, last int, radius float64) (stay, bool) {
	n := last - first + 1
	if n < leastStay || c.dist[last]-c.dist[first] < stayPath*radius {
		return stay{}, false
	}
	ax, ay := c.meanPlace(first, first+n/4-1)
	bx, by := c.meanPlace(last-n/4+1, last)
	if math.Hypot(bx-ax, by-ay) > stayShift*radius {
		return stay{}, false
	}
	mx, my := c.meanPlace(first, last)
	sum := 0.0
	for i := first; i <= last; i++ {
		sum += (c.east[i]-mx)*(c.east[i]-mx) + (c.north[i]-my)*(c.north[i]-my)
	}
	core := coreRMS * math.Sqrt(sum/float64(n))
	brisk := briskSteps * (c.dist[last] - c.dist[first]) / float64(n-1)
	away := func(i, step int) bool {
		return c.dist[step+1]-c.dist[step] > brisk && math.Hypot(c.east[i]-mx, c.north[i]-my) > core
	}
	for first < last && away(first, first) {
		first++
	}
	for last > first && away(last, last-1) {
		last--
	}
	if last-first+1 < leastStay {
		return stay{}, false
	}
	s := stay{first: first, last: last}
	s.x, s.y = c.meanPlace(first, last)
	return s, true
}

func (c *course) meanPlace(first, last int) (x, y float64) {
	for i := first; i <= last; i++ {
		x += c.east[i]
		y += c.north[i]
	}
	n := float64(last - first + 1)
	return x / n, y / n
}

// merge puts the points of each stay into one and measures anew.
func (c *course) merge(stays []stay) {
	to := 0
	for i := 0; i < len(c.lat); i++ {
		from := i
		if len(stays) > 0 && i == stays[0].first {
			s := stays[0]
			stays = stays[1:]
			h, known := 0.0, 0
			for j := s.first; j <= s.last; j++ {
				if !c.lacks[j] {
					known++
					h += (c.h[j] - h) / float64(known)
				}
			}
			c.shift(i, s.x-c.east[i], s.y-c.north[i])
			c.h[i], c.lacks[i] = h, known == 0
			i = s.last
		}
		c.lat[to], c.lon[to], c.h[to], c.lacks[to] = c.lat[from], c.lon[from], c.h[from], c.lacks[from]
		c.number[to], c.line[to] = c.number[from], c.line[from]
		to++
	}
	c.lat, c.lon, c.h, c.lacks = c.lat[:to], c.lon[:to], c.h[:to], c.lacks[:to]
	c.number, c.line = c.number[:to], c.line[:to]
	c.dist, c.azimuth = c.dist[:to], c.azimuth[:to-1]
	c.remeasure()
	c.lay()
}
