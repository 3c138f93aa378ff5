package plots

import (
	"bytes"
	"math"
	"strings"
	"testing"

	"rimheat/thermal"
)

// onBench runs an invented wheel: pulses or a steady drag.
func onBench(t *testing.T, id, name string, pulses bool) *thermal.BenchResult {
	t.Helper()
	sec, ok := thermal.RimByID(id)
	if !ok {
		t.Fatalf("no rim %s", id)
	}
	sec.Name = name
	s := thermal.NewBench(sec)
	on := thermal.BenchSpan{Seconds: 600, PowerW: 350, RollMps: 8, AirMps: 8}
	s.Spans = []thermal.BenchSpan{on}
	if pulses {
		on.Seconds, on.PowerW = 6, 1800
		off := on
		off.PowerW = 0
		s.Spans = []thermal.BenchSpan{on, off, on, off, on, off, on}
	}
	r, err := thermal.Bench(s)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// benches are runs that try the layout: curves far apart, all as one, names
// that no line holds, and nothing happening.
func benches(t *testing.T) map[string]*thermal.BenchResult {
	idle := onBench(t, "alu-deep", "idle", false)
	for i := range idle.Trace {
		idle.Trace[i].BenchReadings, idle.Trace[i].Watts = idle.Trace[0].BenchReadings, 0
	}
	idle.Limits = nil
	return map[string]*thermal.BenchResult{
		"pulses": onBench(t, "carbon-deep", "50 mm deep carbon clincher", true),
		"drag":   onBench(t, "alu-classic", "22 mm aluminium clincher", false),
		"long":   onBench(t, "carbon-thin", strings.Repeat("élégant ", 60), false),
		"none":   onBench(t, "carbon-mid", "\x1b\u202e", false),
		"idle":   idle,
	}
}

func benchScene(t *testing.T, r *thermal.BenchResult, viewerFonts bool) *scene {
	t.Helper()
	tf, err := newTypeface(viewerFonts)
	if err != nil {
		t.Fatal(err)
	}
	return composeBench(r, tf)
}

func TestBenchGoldenOutlines(t *testing.T) {
	for _, name := range []string{"pulses", "drag"} {
		holdGolden(t, name, "bench_"+name, outline(benchScene(t, benches(t)[name], false)))
	}
}

// Whatever the run, labels lie on the sheet and apart, every curve is named
// once beside a sample of its line, and all points are finite and on the sheet.
func TestBenchLayout(t *testing.T) {
	for name, r := range benches(t) {
		t.Run(name, func(t *testing.T) {
			for _, viewers := range []bool{false, true} {
				sc := benchScene(t, r, viewers)
				checkLabelsApart(t, sc)
				count := map[string]int{}
				for _, l := range sc.labels {
					count[l.text]++
				}
				for _, want := range []string{"swept band, mean", "hottest place of the band", "tyre side", "inner wall", "centre of rim bed", "spoke bed", "tyre air"} {
					if count[want] != 1 {
						t.Errorf("%q stands there %d times", want, count[want])
					}
				}
				curves := 0
				for _, s := range sc.shapes {
					if s.role == roleTrack {
						curves++
					}
					for _, p := range s.pts {
						if math.IsNaN(p.x) || math.IsNaN(p.y) || p.x < 0 || p.y < 0 || p.x > sc.w || p.y > sc.h {
							t.Fatalf("%s: a point at %v", s.role, p)
						}
					}
				}
				want := 7
				if len(r.Limits) > 0 && r.Limits[0].On == thermal.OnTrack {
					want = 8 // the track as it is held against its limit
				}
				if curves != want {
					t.Errorf("%d curves, want %d", curves, want)
				}
			}
		})
	}
}

// The highest point of the swept band's curve is the peak.
func TestBenchCurveReachesThePeak(t *testing.T) {
	r := benches(t)["pulses"]
	c := &composer{pal: colours(), right: sheetW - benchNames, endM: r.Trace[len(r.Trace)-1].TimeS}
	curves := c.benchCurves(r)
	last := curves[len(curves)-1]
	if _, hi := last.s.bounds(); last.name != "swept band, mean" || math.Abs(hi-r.Peaks.SweptMeanC) > 1e-9 {
		t.Errorf("%s reaches %v, the peak is %v", last.name, hi, r.Peaks.SweptMeanC)
	}
}

// A duty whose air changes speed is told with its range, not as if its mean
// blew all the time.
func TestBenchTextTellsTheAir(t *testing.T) {
	sec, _ := thermal.RimByID("alu-deep")
	s := thermal.NewBench(sec)
	for _, c := range []struct {
		air  []float64 // km/h
		want string
	}{
		{[]float64{20, 41}, "air of 20 °C at 20 to 41 km/h:"}, {[]float64{30, 30}, "air of 20 °C at 30 km/h:"},
		{[]float64{0, 12.5}, "air of 20 °C at 0 to 12.5 km/h:"}, {[]float64{0, 0}, "air of 20 °C without a fan:"},
	} {
		s.Spans = nil
		for _, kmh := range c.air {
			s.Spans = append(s.Spans, thermal.BenchSpan{Seconds: 5, PowerW: 100, RollMps: 8, AirMps: kmh / 3.6})
		}
		r, err := thermal.Bench(s)
		if err != nil {
			t.Fatal(err)
		}
		if got := benchText(r); !strings.Contains(got, c.want) {
			t.Errorf("%v km/h: %s", c.air, got)
		}
	}
}

func TestSaveBench(t *testing.T) {
	r := benches(t)["pulses"]
	for format, begin := range map[string]string{"png": "\x89PNG", "svg": "<?xml", "pdf": "%PDF"} {
		var a, b bytes.Buffer
		if err := SaveBench(&a, format, r); err != nil {
			t.Fatal(err)
		}
		if err := SaveBench(&b, format, r); err != nil {
			t.Fatal(err)
		}
		if !strings.HasPrefix(a.String(), begin) || !bytes.Equal(a.Bytes(), b.Bytes()) {
			t.Errorf("%s: begins with %q, or two figures differ", format, a.String()[:8])
		}
	}
	for _, c := range []struct {
		format string
		r      *thermal.BenchResult
		want   string
	}{
		{"gif", r, `figure format "gif" is none of png, svg, pdf`},
		{"png", nil, "the bench run has no trace to draw"},
		{"png", &thermal.BenchResult{}, "the bench run has no trace to draw"},
	} {
		var b bytes.Buffer
		if err := SaveBench(&b, c.format, c.r); err == nil || err.Error() != c.want || b.Len() > 0 {
			t.Errorf("%s: %v, %d bytes", c.format, err, b.Len())
		}
	}
}
