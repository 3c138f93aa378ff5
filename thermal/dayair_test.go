package thermal_test

import (
	"bytes"
	"encoding/json"
	"math"
	"slices"
	"testing"

	"rimheat/thermal"
	"rimheat/thermal/air"
	"rimheat/thermal/ride"
)

// onDay gives a setup the hours of a day from minC to maxC.
func onDay(s thermal.Setup, startH, minC, maxC float64) thermal.Setup {
	s.Weather.Daily = ride.Daily{On: true, StartS: startH * 3600, MinK: minC + 273.15, MaxK: maxC + 273.15}
	return s
}

// A day that is as warm all round gives the answer of one temperature, byte for
// byte, and only tells more.
func TestEvenDayIsTheSameAnswer(t *testing.T) {
	p := demo(t, "drag_hill.gpx")
	s := setup(t, 85, 38, "steady")
	one, even := assess(t, p, s), assess(t, p, onDay(s, 11.5, 38, 38))
	if one.Setup.DayAir != nil || even.Setup.DayAir == nil {
		t.Fatalf("days told: %v, %v", one.Setup.DayAir, even.Setup.DayAir)
	}
	if got := even.Setup.DayAir.Start; got != "11:30" {
		t.Errorf("starts %s", got)
	}
	even.Setup.DayAir = nil
	a, errA := json.Marshal(one)
	b, errB := json.Marshal(even)
	if errA != nil || errB != nil || !bytes.Equal(a, b) {
		t.Errorf("the answers differ (%v, %v)", errA, errB)
	}
	for _, key := range []string{`"start"`, `"air_min_C"`, `"air_max_C"`, `"warmest_air_met_C"`} {
		if bytes.Contains(a, []byte(key)) {
			t.Errorf("%s without hours", key)
		}
	}
}

// The same hill in the afternoon is hotter than at sunrise, by about as much as
// the air is there; the tyre is filled in the air of the start.
func TestHourMovesThePeak(t *testing.T) {
	p := demo(t, "drag_hill.gpx")
	base := setup(t, 85, 30, "steady")
	dawn, noon := assess(t, p, onDay(base, 5.5, 18, 38)), assess(t, p, onDay(base, 14.5, 18, 38))
	for i, r := range noon.Rims {
		d, warmer := r.PeakC-dawn.Rims[i].PeakC, noon.Setup.WarmestMetC-dawn.Setup.WarmestMetC
		if warmer < 15 || d < 0.8*warmer || d > 1.5*warmer {
			t.Errorf("%s: %.1f K more in air %.1f K warmer", r.ID, d, warmer)
		}
	}
	// Half an hour before the day's coolest and hottest, by the curve's formula.
	for want, got := range map[float64]float64{
		18 + 10*(1+math.Cos(math.Pi*14.5/15)): dawn.Setup.AirTempC,
		18 + 10*(1-math.Cos(math.Pi*8.5/9)):   noon.Setup.AirTempC,
	} {
		if math.Abs(got-want) > 1e-9 {
			t.Errorf("the ride starts in %g °C, want %g °C", got, want)
		}
	}
	for _, a := range []*thermal.Assessment{dawn, noon} {
		// The day holds at the lowest point; the ride begins far above it.
		day, s := a.Setup.DayAir, a.Setup
		top := s.AirTempC - s.LapseKPerM*(p.HeightM[0]-s.AtHeightM)
		if day.CoolestMetC > top+1e-9 || day.WarmestMetC < top || day.WarmestMetC > day.AirMaxC+1e-9 {
			t.Errorf("starts in %.2f °C, meets %.2f to %.2f °C of a day of %g to %g °C", top, day.CoolestMetC, day.WarmestMetC, day.AirMinC, day.AirMaxC)
		}
		// Filled at the top in the air of the start, the tyre keeps its volume;
		// outside it is what the air weighs somewhere between top and bottom.
		topPa, bottomPa := air.PressureAt(slices.Max(p.HeightM)), air.PressureAt(slices.Min(p.HeightM))
		for _, r := range a.Rims {
			full := (r.Tyre.ColdKPa + air.PressureAt(p.HeightM[0])/1e3) * (r.Tyre.AirPeakC + air.ZeroCelsiusK) / (top + air.ZeroCelsiusK)
			const slack = 0.5 // kPa: the first step's air is its mean
			if out := full - r.Tyre.HotKPa; out < topPa/1e3-slack || out > bottomPa/1e3+slack {
				t.Errorf("%s, start %s: %.1f kPa hot leave %.1f kPa outside", r.ID, day.Start, r.Tyre.HotKPa, out)
			}
		}
	}
	if got := noon.Setup.DayAir; got.Start != "14:30" || got.CoolestAt != "06:00" || got.HottestAt != "15:00" {
		t.Errorf("hours %s, %s, %s", got.Start, got.CoolestAt, got.HottestAt)
	}
}
