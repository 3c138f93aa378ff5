package thermal

import (
	"math"
	"slices"
	"testing"

	"rimheat/thermal/air"
	"rimheat/thermal/ride"
	"rimheat/thermal/rim"
)

// everyRim is a setup with all built-in rims in their order.
func everyRim() Setup {
	s := DefaultSetup()
	s.Wheels = nil
	for _, sec := range rim.Rims() {
		s.Wheels = append(s.Wheels, NewWheel(sec))
	}
	return s
}

// ringOf is the volume of a field's cell all round the wheel, both sides, m3.
func ringOf(c *FieldCell, edgeM float64) float64 {
	area, below := 0.0, 0.0
	for k := range 4 {
		j := (k + 1) % 4
		cross := c.X[k]*c.Y[j] - c.X[j]*c.Y[k]
		area, below = area+cross/2, below+(c.Y[k]+c.Y[j])*cross/6
	}
	return 2 * 2 * math.Pi * (edgeM - below/area) * math.Abs(area)
}

// A rim's field is its section at the moment of its peak, and says what the assessment
// says of that moment.
func TestFieldIsThatOfThePeak(t *testing.T) {
	p := demoRoad(t, "two_passes_hot.gpx")
	s := everyRim()
	a := assessed(t, p, s)
	for i := range a.Rims {
		r, f, g := &a.Rims[i], a.Rims[i].Field, s.Wheels[i].Rim.Geometry
		if f == nil {
			t.Fatalf("%s has no field", r.ID)
		}
		h := r.Front
		if r.PeakWheel == "rear" {
			h = r.Rear
		}
		k := slices.Index(h.TrackC, r.PeakC)
		if k < 0 {
			t.Fatalf("%s: no step is at the peak", r.ID)
		}
		for _, c := range []struct {
			what      string
			got, want float64
		}{
			{"track", f.TrackC, r.PeakC}, {"surface", f.SurfaceC, h.SurfaceC[k]}, {"tyre side", f.TyreSideC, h.TyreSideC[k]}, {"spoke bed", f.SpokeBedC, h.SpokeBedC[k]},
			{"place", f.AtM, r.PeakAtM}, {"place of the step", f.AtM, h.DistM[k]}, {"time", f.TimeS, h.TimeS[k]},
			{"half width", f.HalfWidthM, g.OuterWidthM / 2}, {"depth", f.DepthM, g.DepthM},
		} {
			if c.got != c.want {
				t.Errorf("%s: the field's %s is %g, the assessment's %g", r.ID, c.what, c.got, c.want)
			}
		}
		if f.Wheel != r.PeakWheel {
			t.Errorf("%s: the field is of the %s wheel, the peak of the %s", r.ID, f.Wheel, r.PeakWheel)
		}
	}
	lo, hi, ok := FieldBounds(a.Rims)
	least, most := math.Inf(1), math.Inf(-1)
	for i := range a.Rims {
		for _, c := range a.Rims[i].Field.Cells {
			least, most = min(least, c.C), max(most, c.C)
		}
	}
	if !ok || lo != least || hi != most {
		t.Errorf("bounds %g to %g, %t; want %g to %g", lo, hi, ok, least, most)
	}
	if _, _, ok := FieldBounds([]RimResult{{}, {}}); ok {
		t.Error("rims without fields have bounds")
	}
}

// The mean of the cells behind the swept band is the wall's temperature that the verdict
// stands on, and the mean of those of the spoke bed is the spoke bed's; the hottest cell
// that touches the tyre is its side. Cells weigh by their volume round the wheel.
func TestFieldHoldsWhatIsJudged(t *testing.T) {
	p := demoRoad(t, "two_passes_hot.gpx")
	for _, style := range []string{"steady", "brisk"} {
		s := everyRim()
		s.Style, _ = StyleByID(style)
		plan, err := ride.NewPlan(p, s.Load, s.Weather, s.Resistance, s.Style)
		if err != nil {
			t.Fatal(err)
		}
		duty := plan.Duty(StandS)
		for _, w := range s.Wheels {
			run := heatWheel(w, conditions{Duty: duty, weather: s.Weather, tyres: s.Tyres, endS: plan.TimeS[len(plan.TimeS)-1]}, true, rim.Options{})
			if run.err != nil {
				t.Fatal(run.err)
			}
			f, g, st := fieldOf(w, duty, &run, "front"), w.Rim.Geometry, run.hottest.state
			wall, spoke := meanOver(f, g.EdgeRadiusM(), func(x, y float64) bool {
				return y > f.TrackFromM && y < f.TrackToM && x > f.HalfWidthM-g.WallM()
			}), meanOver(f, g.EdgeRadiusM(), func(x, y float64) bool { return y > spokeBedFrom(f) })
			c := func(k float64) float64 { return k - air.ZeroCelsiusK }
			if want := c(st.WallK); math.Abs(wall-want) > 1e-6 {
				t.Errorf("%s, %s: the wall's cells have a mean of %.3f °C, the wall is at %.3f", style, w.Rim.ID, wall, want)
			}
			// The ends of a leaning spoke bed are not drawn as the model weighs them.
			if want := c(st.SpokeBedK); math.Abs(spoke-want) > 0.004*(f.TrackC-f.AirC) {
				t.Errorf("%s, %s: the spoke bed's cells have a mean of %.3f °C, the spoke bed is at %.3f", style, w.Rim.ID, spoke, want)
			}
			if !slices.ContainsFunc(f.Cells, func(k FieldCell) bool {
				return k.C == f.TyreSideC && slices.Min(k.Y[:]) < f.BedToM
			}) {
				t.Errorf("%s, %s: no cell beside tyre and bed is as hot as the tyre side, %.3f °C", style, w.Rim.ID, f.TyreSideC)
			}
			// The track is judged by the wall and by what its surface has kept over that.
			lo, hi := f.bounds()
			if !(f.TrackC >= wall && f.TrackC <= max(hi, f.SurfaceC)+1) {
				t.Errorf("%s, %s: track %.1f °C, its wall %.1f, surface %.1f, hottest cell %.1f", style, w.Rim.ID, f.TrackC, wall, f.SurfaceC, hi)
			}
			// No cell is cooler than the coolest air before, nor hotter than the contact.
			if coolest := c(slices.Min(duty.AirK)); lo < coolest-0.1 || hi > slices.Max(run.history.ContactC) {
				t.Errorf("%s, %s: cells from %.1f to %.1f °C, air from %.1f, skin up to %.1f", style, w.Rim.ID, lo, hi, coolest, slices.Max(run.history.ContactC))
			}
			checkHotAndCool(t, f)
		}
	}
}

// spokeBedFrom is where the cells of the spoke bed begin as drawn, m below the edge: the
// last break of the level wall at the plane of the wheel.
func spokeBedFrom(f *Field) float64 {
	from := f.DepthM
	for _, c := range f.Cells {
		if slices.Min(c.X[:]) < 1e-9 && slices.Min(c.Y[:]) > f.BedToM {
			from = min(from, slices.Min(c.Y[:]))
		}
	}
	return from
}

// meanOver is the mean temperature of the cells whose middle lies in a place.
func meanOver(f *Field, edgeM float64, in func(x, y float64) bool) float64 {
	sum, all := 0.0, 0.0
	for i := range f.Cells {
		c := &f.Cells[i]
		x, y := 0.0, 0.0
		for k := range 4 {
			x, y = x+c.X[k]/4, y+c.Y[k]/4
		}
		if in(x, y) {
			v := ringOf(c, edgeM)
			sum, all = sum+v*c.C, all+v
		}
	}
	return sum / all
}

// checkHotAndCool looks where the hottest and the coolest cell of a braked rim lie: in the
// upper wall, and far from it.
func checkHotAndCool(t *testing.T, f *Field) {
	t.Helper()
	hot := slices.MaxFunc(f.Cells, func(a, b FieldCell) int {
		if a.C < b.C {
			return -1
		}
		return 1
	})
	cold := slices.MinFunc(f.Cells, func(a, b FieldCell) int {
		if a.C < b.C {
			return -1
		}
		return 1
	})
	if slices.Max(hot.X[:]) < 0.6*f.HalfWidthM || slices.Min(hot.Y[:]) > f.TrackToM {
		t.Errorf("the hottest cell lies at x %v, y %v m", hot.X, hot.Y)
	}
	if slices.Min(cold.Y[:]) < f.TrackToM {
		t.Errorf("the coolest cell lies at x %v, y %v m", cold.X, cold.Y)
	}
}

// A rim that is not braked is as warm as the air that it meets, a hot road's warmth
// included, all over.
func TestFieldOfAWheelThatIsNotBraked(t *testing.T) {
	p := demoRoad(t, "flat_loop.gpx")
	s := everyRim()
	s.Style.FrontShare = 1
	s.Weather.LapseKPerM, s.Weather.RoadAirK = 0, 12
	plan, err := ride.NewPlan(p, s.Load, s.Weather, s.Resistance, s.Style)
	if err != nil {
		t.Fatal(err)
	}
	duty := plan.Duty(StandS)
	for _, w := range s.Wheels {
		run := heatWheel(w, conditions{Duty: duty, weather: s.Weather, tyres: s.Tyres}, false, rim.Options{})
		if run.err != nil {
			t.Fatal(run.err)
		}
		f := fieldOf(w, duty, &run, "rear")
		if want := duty.AirK[0] + 12 - air.ZeroCelsiusK; math.Abs(f.AirC-want) > 0.01 {
			t.Errorf("%s: air of %.3f °C, want %.3f", w.Rim.ID, f.AirC, want)
		}
		if lo, hi := f.bounds(); math.Abs(lo-f.AirC) > 0.01 || math.Abs(hi-f.AirC) > 0.01 {
			t.Errorf("%s: %.3f to %.3f °C in air of %.3f", w.Rim.ID, lo, hi, f.AirC)
		}
	}
}
