package route_test

import (
	"bytes"
	"errors"
	"math"
	"testing"
	"time"

	"rimheat/route"
	"rimheat/testdata/roads"
)

// sound checks what every accepted profile promises.
func sound(t *testing.T, p *route.Profile) {
	t.Helper()
	n := len(p.DistM)
	if n < 2 {
		t.Fatalf("%d nodes", n)
	}
	for name, v := range map[string][]float64{
		"LatDeg": p.LatDeg, "LonDeg": p.LonDeg, "HeightM": p.HeightM, "RawHeightM": p.RawHeightM,
		"Grade": p.Grade, "HeadingRad": p.HeadingRad, "CornerRadiusM": p.CornerRadiusM, "DistM": p.DistM,
	} {
		if len(v) != n {
			t.Fatalf("%s has %d nodes, want %d", name, len(v), n)
		}
		for i, x := range v {
			if math.IsNaN(x) || math.IsInf(x, 0) && name != "CornerRadiusM" {
				t.Fatalf("%s is %v at node %d", name, x, i)
			}
		}
	}
	for i := range n {
		switch {
		case i > 0 && !(p.DistM[i] > p.DistM[i-1]):
			t.Fatalf("distances not ordered at node %d", i)
		case math.Abs(p.Grade[i]) > route.MaxGrade:
			t.Fatalf("grade %v at node %d", p.Grade[i], i)
		case p.CornerRadiusM[i] < 4:
			t.Fatalf("radius %v m at node %d", p.CornerRadiusM[i], i)
		case math.Abs(p.LatDeg[i]) > 90 || math.Abs(p.LonDeg[i]) > 180:
			t.Fatalf("position %v %v at node %d", p.LatDeg[i], p.LonDeg[i], i)
		case p.HeadingRad[i] < 0 || p.HeadingRad[i] > 2*math.Pi:
			t.Fatalf("heading %v at node %d", p.HeadingRad[i], i)
		}
	}
	if p.DistM[0] != 0 || p.DistM[n-1] != p.DistanceM || math.Abs(float64(n-1)*p.SpacingM/p.DistanceM-1) > 1e-12 {
		t.Fatalf("grid from %v to %v m, %d steps of %v m", p.DistM[0], p.DistM[n-1], n-1, p.SpacingM)
	}
	if e := p.ClimbM - p.DropM - (p.HeightM[n-1] - p.HeightM[0]); math.Abs(e) > 1e-6*(1+p.ClimbM+p.DropM) {
		t.Fatalf("climb %v and drop %v do not add up", p.ClimbM, p.DropM)
	}
	end := 0
	for _, d := range p.Descents {
		if d.Start < end || d.End <= d.Start || d.End >= n || d.DropM < route.MinDropM || -d.MeanGrade < route.MinMeanGrade {
			t.Fatalf("descent %+v", d)
		}
		end = d.End
	}
	for i, d := range p.Doubtful {
		if !(d.StartM >= 0 && d.EndM > d.StartM && d.EndM <= p.DistanceM) || d.Why == "" || i > 0 && d.StartM < p.Doubtful[i-1].EndM+200 {
			t.Fatalf("doubtful %+v of %v m", p.Doubtful, p.DistanceM)
		}
	}
	for _, r := range p.Repairs {
		if r.Kind == "" || r.Count < 1 || r.Text == "" {
			t.Fatalf("repair %+v", r)
		}
	}
	if p.Heights.Found == "" || p.Heights.Text == "" || math.IsNaN(p.Heights.NoiseM) || math.IsNaN(p.Heights.SmoothedOverM) {
		t.Fatalf("heights %+v", p.Heights)
	}
	if p.Ride != nil {
		soundRide(t, p)
	}
}

// soundRide checks what every replay promises.
func soundRide(t *testing.T, p *route.Profile) {
	t.Helper()
	r, n := p.Ride, len(p.DistM)
	if len(r.TimeS) != n || len(r.StandS) != n || len(r.SpeedMps) != n {
		t.Fatalf("%d nodes, %d times, %d stops, %d speeds", n, len(r.TimeS), len(r.StandS), len(r.SpeedMps))
	}
	for i := range n {
		switch {
		case i > 0 && !(r.TimeS[i] > r.TimeS[i-1]+r.StandS[i-1]), r.TimeS[0] != 0, !(r.StandS[i] >= 0), !(r.SpeedMps[i] >= 0 && r.SpeedMps[i] <= 60):
			t.Fatalf("node %d: reached %v s, stood %v s, %v m/s", i, r.TimeS[i], r.StandS[i], r.SpeedMps[i])
		}
	}
	if math.IsNaN(r.NoiseM) || math.IsNaN(r.SpeedNoiseMps) || math.IsInf(r.SpeedNoiseMps, 0) {
		t.Fatalf("noise %v m, %v m/s", r.NoiseM, r.SpeedNoiseMps)
	}
}

func FuzzRead(f *testing.F) {
	f.Add([]byte(doc(body)), "")
	f.Add([]byte(`<?xml version="1.0" encoding="ISO-8859-1"?><gpx version="1.0">`+body+body+`</gpx>`), "2")
	f.Add([]byte(doc(`<rte><rtept lat="1" lon="179.99"><ele> 0 </ele></rtept><rtept lat="1" lon="-179.99"><ele>-1e2</ele><time>2030-01-01T00:00:00Z</time></rtept></rte>`)), "1")
	f.Add([]byte(doc(`<trk><trkseg><trkpt lat="90" lon="0"><ele>5</ele></trkpt><trkpt lat="89.99" lon="-180"><ele>5</ele></trkpt><trkpt lat="-90" lon="180"/></trkseg></trk>`)), "")
	f.Add([]byte("\xff\xfe<\x00g\x00p\x00x\x00"), "")
	f.Add([]byte("\x1f\x8b\x08\x00"), "")
	f.Add([]byte(`<!DOCTYPE gpx [<!ENTITY a "b">]><gpx>&a;</gpx>`), "")
	small := roads.DragHill()
	f.Add(roads.GPX("seed", "", small.Points[:60]), "")
	f.Fuzz(func(t *testing.T, data []byte, track string) {
		opt := route.Options{Track: track}
		tr, err := route.Read(bytes.NewReader(data), "f.gpx", opt)
		var p *route.Profile
		if err == nil {
			p, err = route.NewProfile(tr, opt)
		}
		if err != nil {
			var e *route.InputError
			if !errors.As(err, &e) || e.What == "" {
				t.Fatalf("%T: %v", err, err)
			}
			return
		}
		sound(t, p)
	})
}

// FuzzNewProfile builds tracks straight from numbers, so that the fuzzer does
// not have to find its way through XML.
func FuzzNewProfile(f *testing.F) {
	f.Add([]byte{1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16}, uint8(3), 5.0)
	f.Add(bytes.Repeat([]byte{0, 1, 255, 128}, 40), uint8(200), 1.0)
	f.Add(bytes.Repeat([]byte{3, 9, 1, 4, 2, 8, 0, 8, 5, 9, 255, 12, 0, 0, 0, 40}, 30), uint8(32+14), 5.0)
	f.Fuzz(func(t *testing.T, data []byte, scale uint8, spacing float64) {
		tr := &route.Track{File: "f"}
		lat, lon, h := 0.0, 179.99, 100.0
		at := rideStart
		for i := 0; i+3 < len(data); i += 4 {
			unit := math.Pow(2, float64(scale%32)) * 1e-9
			lat += float64(int8(data[i])) * unit
			lon += float64(int8(data[i+1])) * unit
			h += float64(int8(data[i+2]))
			if data[i+3] == 255 {
				h = math.NaN()
			}
			// Clocks go on, stand still, jump and go back.
			at = at.Add(time.Duration(int8(data[i+3]^data[i])) * time.Second / 4)
			p := route.Point{LatDeg: lat, LonDeg: lon, HeightM: h, HasHeight: data[i+3]&1 == 0, Time: at}
			if data[i+3] == 17 {
				p.Time = time.Time{}
			}
			tr.Points = append(tr.Points, p)
		}
		opt := route.Options{SpacingM: spacing, Replay: scale&32 != 0, RawHeights: scale&64 != 0}
		if scale&128 != 0 {
			opt.SmoothM = 20 + 16*float64(scale&31)
		}
		p, err := route.NewProfile(tr, opt)
		if err != nil {
			var e *route.InputError
			if !errors.As(err, &e) {
				t.Fatalf("%T: %v", err, err)
			}
			return
		}
		sound(t, p)
	})
}
