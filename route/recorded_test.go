package route_test

import (
	"math"
	"math/rand/v2"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"rimheat/route"
	"rimheat/testdata/roads"
)

var rideStart = time.Date(2026, 7, 1, 8, 0, 0, 0, time.UTC)

// timedTrack is a track of fixes.
func timedTrack(fixes []roads.Fix) *route.Track {
	t := &route.Track{File: "ride"}
	for _, f := range fixes {
		t.Points = append(t.Points, route.Point{LatDeg: f.LatDeg, LonDeg: f.LonDeg, HeightM: f.HeightM, HasHeight: true, Time: f.Time})
	}
	return t
}

// aRide is a ride of half an hour with two stops, and what it was.
func aRide(stepS, positionM float64) (fixes []roads.Fix, timeS, distM []float64) {
	r := roads.DragHill().Road
	timeS, distM = r.Ridden(roads.Manner{CapMps: 11, CornerMps2: 2.5, BrakeMps2: 1.5, GainMps2: 0.5, ClimbMps: 4}, []roads.Stop{{AtM: 4000, ForS: 120}, {AtM: 9000, ForS: 45}})
	return r.Record(timeS, distM, stepS, positionM, 0.3, rideStart, rand.New(rand.NewPCG(4, 1))), timeS, distM
}

func rideOf(t *testing.T, tr *route.Track) *route.Profile {
	t.Helper()
	p, err := route.NewProfile(tr, route.Options{Replay: true})
	if err != nil {
		t.Fatal(err)
	}
	soundRide(t, p)
	return p
}

// atTime is where the true ride is at a time.
func atTime(timeS, distM []float64, t float64) float64 {
	k := 0
	for k+2 < len(timeS) && timeS[k+1] <= t {
		k++
	}
	return distM[k] + (distM[k+1]-distM[k])*math.Min(1, (t-timeS[k])/math.Max(timeS[k+1]-timeS[k], 1e-9))
}

// TestRecordedTimesComeBack: at every node the replay is where the ride was, and
// its stops are those of the ride.
func TestRecordedTimesComeBack(t *testing.T) {
	for _, c := range []struct{ stepS, positionM, tolM float64 }{{1, 0, 4}, {1, 3, 14}, {2, 1, 10}, {5, 1, 25}} {
		fixes, timeS, distM := aRide(c.stepS, c.positionM)
		p := rideOf(t, timedTrack(fixes))
		r := p.Ride
		scale := distM[len(distM)-1] / p.DistanceM
		worst := 0.0
		for i, d := range p.DistM {
			// Beside a stop a metre is a minute.
			if m := d * scale; math.Abs(m-4000) > 20 && math.Abs(m-9000) > 20 {
				worst = math.Max(worst, math.Abs(atTime(timeS, distM, r.TimeS[i])-m))
			}
		}
		t.Logf("every %v s, ±%v m: off by up to %.1f m; %d stops of %.0f s; noise %.2f m", c.stepS, c.positionM, worst, r.Stops, r.StoodS, r.NoiseM)
		if worst > c.tolM {
			t.Errorf("every %v s, ±%v m: the replay is up to %.1f m from the ride", c.stepS, c.positionM, worst)
		}
		if r.Stops != 2 || math.Abs(r.StoodS-165) > 0.12*165 {
			t.Errorf("every %v s, ±%v m: %d stops of %.0f s in all, want 2 of 165 s", c.stepS, c.positionM, r.Stops, r.StoodS)
		}
		if total := timeS[len(timeS)-1]; math.Abs(r.TimeS[len(r.TimeS)-1]-total) > 8 {
			t.Errorf("every %v s: %.1f s in all, want %.1f", c.stepS, r.TimeS[len(r.TimeS)-1], total)
		}
	}
}

func TestRecordedClocks(t *testing.T) {
	spoil := func(f func(tr *route.Track)) *route.Track {
		fixes, _, _ := aRide(1, 0)
		tr := timedTrack(fixes)
		f(tr)
		return tr
	}
	whole := rideOf(t, spoil(func(*route.Track) {}))
	total := whole.Ride.TimeS[len(whole.Ride.TimeS)-1]
	for name, c := range map[string]struct {
		track    *route.Track
		leftOut  int
		dropOuts int
	}{
		"as it is":                            {spoil(func(*route.Track) {}), 0, 0},
		"a clock that goes back at one point": {spoil(func(tr *route.Track) { tr.Points[200].Time = tr.Points[150].Time }), 1, 0},
		"points without a time": {spoil(func(tr *route.Track) {
			for i := 300; i < 310; i++ {
				tr.Points[i].Time = time.Time{}
			}
		}), 10, 0},
		"a drop-out of 40 s":                           {spoil(func(tr *route.Track) { tr.Points = append(tr.Points[:900:900], tr.Points[940:]...) }), 0, 1},
		"a clock that is two hours ahead at one point": {spoil(func(tr *route.Track) { tr.Points[700].Time = tr.Points[700].Time.Add(2 * time.Hour) }), 1, 0},
		"every point twice": {spoil(func(tr *route.Track) {
			var twice []route.Point
			for _, p := range tr.Points {
				twice = append(twice, p, p)
			}
			tr.Points = twice
		}), -1, 0},
		"another zone": {spoil(func(tr *route.Track) {
			for i := range tr.Points {
				tr.Points[i].Time = tr.Points[i].Time.In(time.FixedZone("", 7200))
			}
		}), 0, 0},
	} {
		p := rideOf(t, c.track)
		r := p.Ride
		if c.leftOut >= 0 && r.LeftOut != c.leftOut || r.DropOuts != c.dropOuts || r.Stops != 2 {
			t.Errorf("%s: %d left out, %d drop-outs, %d stops", name, r.LeftOut, r.DropOuts, r.Stops)
		}
		if c.dropOuts > 0 && repaired(p.Repairs, "drop-out") != c.dropOuts || c.leftOut > 0 && repaired(p.Repairs, "time-left-out") != c.leftOut {
			t.Errorf("%s: repairs %v", name, p.Repairs)
		}
		if math.Abs(r.TimeS[len(r.TimeS)-1]-total) > 1 {
			t.Errorf("%s: %v s in all, want %v", name, r.TimeS[len(r.TimeS)-1], total)
		}
		if !r.Start.Equal(rideStart) && math.Abs(r.Start.Sub(rideStart).Seconds()) > 10 {
			t.Errorf("%s: starts at %v", name, r.Start)
		}
	}
}

// TestJumpsOfTheReceiverAreNoSpeed: a few fixes 80 m off to the side do not make
// the rider race and brake.
func TestJumpsOfTheReceiverAreNoSpeed(t *testing.T) {
	fixes, _, _ := aRide(1, 0.5)
	for _, at := range []int{300, 700, 1000} {
		for i := at; i < at+2; i++ {
			fixes[i].LatDeg += 80.0 / 110_574
		}
	}
	p := rideOf(t, timedTrack(fixes))
	for i, v := range p.Ride.SpeedMps {
		if v > 16 {
			t.Fatalf("%.1f m/s at %.0f m, where the rider never went faster than 11", v, p.DistM[i])
		}
	}
}

// TestHeldPositionsAreNoStops: a receiver that repeats its place every few seconds,
// or through a tunnel, stops nobody.
func TestHeldPositionsAreNoStops(t *testing.T) {
	fixes, _, _ := aRide(1, 0)
	truth := rideOf(t, timedTrack(fixes)).Ride
	for name, hold := range map[string]func(i int) int{
		"every third": func(i int) int { return i - i%3 },
		"every fifth": func(i int) int { return i - i%5 },
		"for 50 s": func(i int) int {
			if i > 700 && i <= 750 {
				return 700
			}
			return i
		},
	} {
		held := append([]roads.Fix(nil), fixes...)
		for i := range held {
			held[i].Point = fixes[hold(i)].Point
		}
		p := rideOf(t, timedTrack(held))
		most := 0.0
		for _, v := range p.Ride.SpeedMps {
			most = math.Max(most, v)
		}
		if p.Ride.Stops != truth.Stops || most > 12.5 {
			t.Errorf("%s: %d stops, %.1f m/s at most; the ride had %d and 11", name, p.Ride.Stops, most, truth.Stops)
		}
		if repaired(p.Repairs, "position-held") == 0 {
			t.Errorf("%s: repairs %v", name, p.Repairs)
		}
	}
}

// TestClockSetBackAtAStop: while the rider stands no road is lost, however the
// positions scatter; on the road a clock set back is refused with its place.
func TestClockSetBackAtAStop(t *testing.T) {
	r := roads.DragHill().Road
	timeS, distM := r.Ridden(roads.Manner{CapMps: 11, CornerMps2: 2.5, BrakeMps2: 1.5, GainMps2: 0.5, ClimbMps: 4}, []roads.Stop{{AtM: 5000, ForS: 2000}})
	stop := 0
	for distM[stop] < 4999 {
		stop++
	}
	for _, noise := range []float64{0.3, 1, 3} {
		for _, back := range []int{60, 900} {
			fixes := r.Record(timeS, distM, 1, noise, 0.5, rideStart, rand.New(rand.NewPCG(6, 3)))
			for i := range fixes {
				if i > int(timeS[stop])+1000 {
					fixes[i].Time = fixes[i].Time.Add(-time.Duration(back) * time.Second)
				}
			}
			p := rideOf(t, timedTrack(fixes))
			if p.Ride.Stops != 1 || math.Abs(p.DistanceM/r.LengthM()-1) > 0.01 {
				t.Errorf("±%v m, %d s back: %d stops, %.0f m of %.0f", noise, back, p.Ride.Stops, p.DistanceM, r.LengthM())
			}
		}
	}
	fixes := r.Record(timeS, distM, 1, 1, 0.5, rideStart, rand.New(rand.NewPCG(6, 3)))
	for i := range fixes[:300] {
		fixes[i].Time = fixes[i].Time.Add(time.Hour)
	}
	if _, err := route.NewProfile(timedTrack(fixes), route.Options{Replay: true}); err == nil || !strings.Contains(err.Error(), "of road would be left out") {
		t.Errorf("a clock set back by an hour on the way: %v", err)
	}
}

// TestPushingIsNoStanding: who pushes the bicycle, slower than anyone walks without
// one, stays on the road and does not stand, while positions are good to a metre.
func TestPushingIsNoStanding(t *testing.T) {
	const metresPerDegree = 110_574.0
	for _, c := range []struct{ mps, positionM float64 }{{0.4, 0}, {0.5, 0}, {0.5, 0.5}, {0.65, 0.5}, {0.65, 1}} {
		rng := rand.New(rand.NewPCG(8, 2))
		tr := &route.Track{File: "pushed"}
		for k, at := 0, 0.0; at < 4000; k++ {
			tr.Points = append(tr.Points, route.Point{LatDeg: at/metresPerDegree + c.positionM*rng.NormFloat64()/metresPerDegree, LonDeg: 9 + c.positionM*rng.NormFloat64()/metresPerDegree,
				HeightM: 500 + at/20, HasHeight: true, Time: rideStart.Add(time.Duration(k) * time.Second)})
			if at > 1800 && at < 2200 {
				at += c.mps
			} else {
				at += 4
			}
		}
		p := rideOf(t, tr)
		if p.Ride.Stops != 0 {
			t.Errorf("%v m/s, ±%v m: %d stops of %.0f s", c.mps, c.positionM, p.Ride.Stops, p.Ride.StoodS)
		}
		if math.Abs(p.DistanceM-4000) > 20 {
			t.Errorf("%v m/s, ±%v m: %.0f m of road, want 4000", c.mps, c.positionM, p.DistanceM)
		}
		for i, d := range p.DistM {
			if v := p.Ride.SpeedMps[i]; d > 1850 && d < 2150 && math.Abs(v-c.mps) > 0.3*c.mps+0.15*c.positionM {
				t.Fatalf("%v m/s, ±%v m: %.2f m/s at %.0f m", c.mps, c.positionM, v, d)
			}
		}
	}
}

// TestRecordingGapsAreBridged: a recorder that was off while the road went on loses no road,
// whatever the time, and the road is in doubt where the speed is.
func TestRecordingGapsAreBridged(t *testing.T) {
	fixes, _, distM := aRide(1, 0)
	for _, c := range []struct{ cut, laterS int }{{200, 0}, {200, 3600}} {
		var with []roads.Fix
		for i, f := range fixes {
			if i >= 600 && i < 600+c.cut {
				continue
			}
			if i >= 600 {
				f.Time = f.Time.Add(time.Duration(c.laterS) * time.Second)
			}
			with = append(with, f)
		}
		p := rideOf(t, timedTrack(with))
		if p.Ride.DropOuts != 1 || p.Ride.Stops != 2 {
			t.Errorf("%+v: %d drop-outs, %d stops", c, p.Ride.DropOuts, p.Ride.Stops)
		}
		if e := p.DistanceM/distM[len(distM)-1] - 1; math.Abs(e) > 0.15 {
			t.Errorf("%+v: %.0f m of %.0f", c, p.DistanceM, distM[len(distM)-1])
		}
	}
}

// TestTimesOfNoRide: times that no rider made are refused, with the way out.
func TestTimesOfNoRide(t *testing.T) {
	climb := roads.NewBuilder(-0.3, -22, 300, []roads.Slope{{LengthM: 500, Grade: 0}, {LengthM: 6000, Grade: 0.07}})
	r := climb.Road()
	pts := r.Sample(20, 20, seeded(1))
	fixed := func(every time.Duration) *route.Track {
		var f []roads.Fix
		for i, p := range pts {
			f = append(f, roads.Fix{Point: p, Time: rideStart.Add(time.Duration(i) * every)})
		}
		return timedTrack(f)
	}
	none := fixed(time.Second)
	for i := range none.Points {
		none.Points[i].Time = time.Time{}
	}
	still := fixed(time.Second)
	for i := range still.Points {
		still.Points[i].Time = rideStart
	}
	// A planner's vertices lie close in bends and far apart on straights.
	down := roads.NewBuilder(-0.3, -22, 900, []roads.Slope{{LengthM: 3000, Grade: -0.07}}).Road()
	vertices := timedTrack(nil)
	for i, p := range down.Sample(3, 40, seeded(2)) {
		vertices.Points = append(vertices.Points, route.Point{LatDeg: p.LatDeg, LonDeg: p.LonDeg, HeightM: p.HeightM, HasHeight: true, Time: rideStart.Add(time.Duration(i) * time.Second)})
	}
	for name, c := range map[string]struct {
		track *route.Track
		what  string
	}{
		"no times":             {none, "no point has a time"},
		"a frozen clock":       {still, "do not go on from the point before"},
		"a vertex a second":    {fixed(time.Second), "m an hour"},
		"one speed throughout": {fixed(10 * time.Second), "the speed is the same throughout"},
		"eleven days":          {fixed(48 * time.Minute), "more than ten days"},
		"vertices as seconds":  {vertices, "the speed changes as no rider's does"},
	} {
		_, err := route.NewProfile(c.track, route.Options{Replay: true})
		if err == nil || !strings.Contains(err.Error(), c.what) || !strings.Contains(err.Error(), "without --replay") {
			t.Errorf("%s: %v, want %q", name, err, c.what)
		}
		if p, err := route.NewProfile(c.track, route.Options{}); err != nil || p.Ride != nil {
			t.Errorf("%s: planned: %v", name, err)
		}
	}
}

// TestRealRecordings: what is noted with the recordings comes out of their times;
// a planned course with a vertex a second and a motor vehicle are no rides.
func TestRealRecordings(t *testing.T) {
	dir := realRoutes(t)
	for _, c := range []struct {
		file string
		// mean and greatest speed down the longest descent, km/h, stops included; 0
		// where none is noted.
		meanKmH, mostKmH float64
	}{
		{"fjord_400km_6s.gpx", 38, 70}, {"drag_hill_day1_1hz.gpx", 22, 0}, {"drag_hill_day2_1hz.gpx", 21, 35},
	} {
		p, err := route.Load(filepath.Join(dir, "recorded", c.file), nil, route.Options{Replay: true})
		if err != nil {
			t.Error(err)
			continue
		}
		best := p.Descents[0]
		for _, d := range p.Descents {
			if d.DropM > best.DropM {
				best = d
			}
		}
		mean := 3.6 * (best.EndM - best.StartM) / (p.Ride.TimeS[best.End] - p.Ride.TimeS[best.Start])
		most := 0.0
		for _, v := range p.Ride.SpeedMps[best.Start:best.End] {
			most = math.Max(most, 3.6*v)
		}
		t.Logf("%s: %.1f km/h mean, %.1f most", c.file, mean, most)
		if math.Abs(mean/c.meanKmH-1) > 0.05 || c.mostKmH > 0 && most > 1.12*c.mostKmH {
			t.Errorf("%s: %.1f km/h mean, %.1f most; noted %v and %v", c.file, mean, most, c.meanKmH, c.mostKmH)
		}
	}
	for _, f := range []string{"planned/two_cols_196km.gpx", "recorded/motor_day_293km_gaps.gpx"} {
		if _, err := route.Load(filepath.Join(dir, f), nil, route.Options{Replay: true}); err == nil || !strings.Contains(err.Error(), "not those of a ride") {
			t.Errorf("%s: %v", f, err)
		}
	}
}
