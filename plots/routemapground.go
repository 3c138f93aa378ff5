package plots

import (
	"errors"
	"fmt"
	"math"
	"sort"

	"rimheat/thermal"
)

// The WGS84 ellipsoid: half its equator's width, metres, and how flat it is (published).
const (
	wgs84M    = 6378137.0
	wgs84Flat = 1 / 298.257223563
)

// A ground is the route in plan: metres east and north of its middle, at rising distances
// along the route, metres.
type ground struct {
	distM []float64
	pts   []xy
}

// groundOf projects the positions stereographically about their middle, with the
// ellipsoid's two radii there: shapes stay true, and lengths within 0.1 % at 400 km from
// the middle. Neither the 180th meridian nor a pole is a special place to it.
func groundOf(tr *thermal.Trace) (*ground, error) {
	if len(tr.LatDeg) == 0 || len(tr.LonDeg) == 0 {
		return nil, errors.New("the route has no positions to draw a map of")
	}
	if n := len(tr.DistM); len(tr.LatDeg) != n || len(tr.LonDeg) != n {
		return nil, fmt.Errorf("the assessment has %d distances along the route, but %d latitudes and %d longitudes: no map can be drawn", n, len(tr.LatDeg), len(tr.LonDeg))
	}
	type vector [3]float64
	dot := func(a, b vector) float64 { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }
	g := &ground{}
	var on []vector
	var sum vector
	far := math.Inf(-1)
	for i := range tr.DistM {
		m, lat, lon := tr.DistM[i], tr.LatDeg[i], tr.LonDeg[i]
		if !finite(m) || !finite(lat) || !finite(lon) || math.Abs(lat) > 90 || math.Abs(lon) > 360 || m <= far {
			continue
		}
		far = m
		sinLat, cosLat := math.Sincos(lat * math.Pi / 180)
		sinLon, cosLon := math.Sincos(lon * math.Pi / 180)
		v := vector{cosLat * cosLon, cosLat * sinLon, sinLat}
		g.distM, on = append(g.distM, m), append(on, v)
		for k := range sum {
			sum[k] += v[k]
		}
	}
	if len(on) < 2 {
		return nil, errors.New("the assessment has positions of fewer than two places: no map can be drawn")
	}
	if math.Sqrt(dot(sum, sum)) < 1e-3*float64(len(on)) { // all round the globe
		sum = on[0]
	}
	sinLat := sum[2] / math.Sqrt(dot(sum, sum))
	cosLat := math.Sqrt(max(0, 1-sinLat*sinLat))
	sinLon, cosLon := math.Sincos(math.Atan2(sum[1], sum[0]))
	up := vector{cosLat * cosLon, cosLat * sinLon, sinLat}
	east, north := vector{-sinLon, cosLon, 0}, vector{-sinLat * cosLon, -sinLat * sinLon, cosLat}
	const e2 = wgs84Flat * (2 - wgs84Flat)
	root := math.Sqrt(1 - e2*sinLat*sinLat)
	eastM, northM := wgs84M/root, wgs84M*(1-e2)/(root*root*root)
	for _, v := range on {
		// The far side of the globe is held back.
		k := 2 / max(1+dot(up, v), 0.1)
		g.pts = append(g.pts, xy{eastM * k * dot(east, v), northM * k * dot(north, v)})
	}
	return g, nil
}

// leastAcrossM is how wide the land on a map is at least, metres.
const leastAcrossM = 100.0

// bounds is the box of the route, metres, widened where it is smaller than a map's
// least width.
func (g *ground) bounds() rect { return boundsOf(g.pts) }

// part is the box of a stretch of the route, widened likewise.
func (g *ground) part(s stretch) rect {
	from := min(sort.SearchFloat64s(g.distM, s.fromM), len(g.pts)-1)
	return boundsOf(g.pts[from:max(from+1, sort.SearchFloat64s(g.distM, s.toM))])
}

func boundsOf(pts []xy) rect {
	b := rect{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
	for _, p := range pts {
		b = rect{min(b.x0, p.x), min(b.y0, p.y), max(b.x1, p.x), max(b.y1, p.y)}
	}
	if more := leastAcrossM - max(b.x1-b.x0, b.y1-b.y0); more > 0 {
		b = b.grown(more / 2)
	}
	return b
}

// on fits an area of the ground, metres, into a box of the sheet, north up, and leaves away
// corners that are not seen. What lies far outside the area is drawn to its surroundings,
// so that its corners need not be kept.
func (g *ground) on(box, area rect) roadLine {
	scale := fitting(box, area)
	w, h := area.x1-area.x0, area.y1-area.y0
	about := area.grown(max(w, h, (box.x1-box.x0)/scale, (box.y1-box.y0)/scale))
	origin := xy{(box.x0+box.x1)/2 - scale*(area.x0+area.x1)/2, (box.y0+box.y1)/2 - scale*(area.y0+area.y1)/2}
	l := roadLine{ptPerM: scale, origin: origin, distM: g.distM, at: make([]xy, len(g.pts))}
	for i, p := range g.pts {
		p = about.nearest(p)
		l.at[i] = xy{origin.x + scale*p.x, origin.y + scale*p.y}
	}
	return l.thinned()
}

// fitting is how many points a metre gets where an area of the ground fills a box.
func fitting(box, area rect) float64 {
	scale := math.Inf(1)
	if w := area.x1 - area.x0; w > 0 {
		scale = min(scale, (box.x1-box.x0)/w)
	}
	if h := area.y1 - area.y0; h > 0 {
		scale = min(scale, (box.y1-box.y0)/h)
	}
	return scale
}

// ofGround is where a place of the ground, metres, lies on the map.
func (m *mapPane) ofGround(at xy) xy {
	k, on := m.road.ptPerM, m.road.origin
	return xy{on.x + k*at.x, on.y + k*at.y}
}
