package plots

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/tidwall/geodesic"

	"rimheat/thermal"
)

// A planRide is an invented ride with a given road in plan and a given temperature.
type planRide struct {
	lengthM, stepM float64
	// at is the place at a distance along the route, metres east and north of lat, lon.
	at       func(m float64) xy
	lat, lon float64
	tempC    func(m float64) float64
	limitC   float64
}

func (p planRide) assessment() *thermal.Assessment {
	a := &thermal.Assessment{}
	a.Route.Name = "Invented road in plan"
	a.Route.DistanceM = p.lengthM
	r := thermal.RimResult{ID: "rim", Name: "Invented rim", LimitC: p.limitC, LimitOn: thermal.OnTrack, LimitAssumed: true, PeakC: math.Inf(-1), Verdict: thermal.Within}
	for i := 0; float64(i)*p.stepM <= p.lengthM; i++ {
		m := float64(i) * p.stepM
		q := p.at(m)
		var lat, lon float64
		geodesic.WGS84.Direct(p.lat, p.lon, math.Atan2(q.x, q.y)*180/math.Pi, math.Hypot(q.x, q.y), &lat, &lon, nil)
		a.Trace.DistM, a.Trace.HeightM = append(a.Trace.DistM, m), append(a.Trace.HeightM, 500)
		a.Trace.LatDeg, a.Trace.LonDeg = append(a.Trace.LatDeg, lat), append(a.Trace.LonDeg, lon)
		c := p.tempC(m)
		r.Front.DistM, r.Front.TrackC = append(r.Front.DistM, m), append(r.Front.TrackC, c)
		if c > r.PeakC {
			r.PeakC, r.PeakAtM = c, m
		}
		if n := len(r.Over); c >= p.limitC && n > 0 && r.Over[n-1].EndM >= m-1.5*p.stepM {
			r.Over[n-1].EndM = m
		} else if c >= p.limitC {
			r.Over = append(r.Over, thermal.OverSpan{StartM: m, EndM: m})
		}
	}
	r.JudgedPeakC, r.MarginK = r.PeakC, p.limitC-r.PeakC
	if r.MarginK <= 0 {
		r.Verdict = thermal.Over
	}
	r.Limits = []thermal.LimitResult{{On: thermal.OnTrack, LimitC: p.limitC, Assumed: true, PeakC: r.PeakC}}
	a.Rims = []thermal.RimResult{r}
	return a
}

// warm is a temperature that rises and falls once.
func warm(lengthM, peakC float64) func(float64) float64 {
	return func(m float64) float64 { return 30 + (peakC-30)*math.Sin(math.Pi*m/lengthM) }
}

// squareRoad is a square with sides of sideM.
func squareRoad(sideM float64) func(float64) xy {
	return func(m float64) xy {
		switch k := math.Mod(m/sideM, 4); {
		case m >= 4*sideM:
			return xy{}
		case k < 1:
			return xy{sideM * k, 0}
		case k < 2:
			return xy{sideM, sideM * (k - 1)}
		case k < 3:
			return xy{sideM * (3 - k), sideM}
		default:
			return xy{0, sideM * (4 - k)}
		}
	}
}

// outAndBack goes east and returns on the same road.
func outAndBack(lengthM float64) func(float64) xy {
	return func(m float64) xy { return xy{lengthM/2 - math.Abs(m-lengthM/2), 0} }
}

// wandering is a road that turns at random.
func wandering(rng *rand.Rand, lengthM, stepM float64) func(float64) xy {
	heading, turn := 2*math.Pi*rng.Float64(), 0.0
	wild := 0.3 * rng.Float64()
	pts := []xy{{}}
	for m := 0.0; m <= lengthM; m += stepM {
		turn = 0.95*turn + wild*rng.NormFloat64()*0.2
		heading += turn
		p := pts[len(pts)-1]
		pts = append(pts, xy{p.x + stepM*math.Sin(heading), p.y + stepM*math.Cos(heading)})
	}
	return func(m float64) xy { return pts[min(len(pts)-1, int(m/stepM+0.5))] }
}

// mapRides are assessments that try the layout of the map.
func mapRides() map[string]*thermal.Assessment {
	out := map[string]*thermal.Assessment{}
	for name, in := range cases() {
		out[name] = in.whole()
	}
	straight := func(x, y float64) func(float64) xy {
		return func(m float64) xy { return xy{x * m, y * m} }
	}
	for name, p := range map[string]planRide{
		"due north":       {lengthM: 60000, stepM: 50, at: straight(0, 1), lat: 46, lon: 7},
		"due east":        {lengthM: 60000, stepM: 50, at: straight(1, 0), lat: 46, lon: 7},
		"one spot":        {lengthM: 5000, stepM: 10, at: straight(0, 0), lat: 46, lon: 7},
		"near one spot":   {lengthM: 5000, stepM: 10, at: func(m float64) xy { return xy{math.Mod(m, 3), 0} }, lat: 46, lon: 7},
		"out and back":    {lengthM: 30000, stepM: 10, at: outAndBack(30000), lat: 46, lon: 7},
		"loop":            {lengthM: 24000, stepM: 10, at: squareRoad(6000), lat: 60, lon: 7},
		"180th meridian":  {lengthM: 24000, stepM: 10, at: squareRoad(6000), lat: -17, lon: 179.98},
		"far north":       {lengthM: 24000, stepM: 10, at: squareRoad(6000), lat: 89.97, lon: 100},
		"two places":      {lengthM: 1000, stepM: 1000, at: straight(1, 1), lat: 46, lon: 7},
		"laps":            {lengthM: 200000, stepM: 10, at: func(m float64) xy { return xy{300 * math.Cos(m/300), 200 * math.Sin(m/300)} }, lat: 46, lon: 7},
		"long":            {lengthM: 400000, stepM: 40, at: straight(0.6, 0.8), lat: 46, lon: 7},
		"hairpins at end": {lengthM: 80000, stepM: 20, at: func(m float64) xy { return xy{min(m, 70000), 300 * math.Sin(max(0, m-70000)/150)} }, lat: 46, lon: 7},
	} {
		p.limitC, p.tempC = 120, warm(p.lengthM, 150)
		out[name] = p.assessment()
	}
	return out
}

func layMap(t *testing.T, a *thermal.Assessment, opt Options, viewerFonts bool) *routeMap {
	t.Helper()
	tf, err := newTypeface(viewerFonts)
	if err != nil {
		t.Fatal(err)
	}
	m, err := bestRouteMap(a, opt, tf)
	if err != nil {
		t.Fatal(err)
	}
	return m
}
