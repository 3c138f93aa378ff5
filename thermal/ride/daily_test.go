package ride

import (
	"math"
	"slices"
	"testing"

	"rimheat/thermal/air"
)

const hourS = 3600.0

// hotDay spans 22 to 40 °C and is met from startH o'clock on.
func hotDay(startH float64) Daily {
	return Daily{On: true, StartS: startH * hourS, MinK: air.ZeroCelsiusK + 22, MaxK: air.ZeroCelsiusK + 40}
}

// The extremes come at their hours, halves of the way midway between them, and
// wherever the ride starts the clock is the same.
func TestDayAtItsHours(t *testing.T) {
	for _, c := range []struct{ hour, airC float64 }{
		{6, 22}, {15, 40}, {10.5, 31}, {22.5, 31}, {30, 22}, {39, 40}, {0, 22 + 9*(1+math.Cos(math.Pi*9/15))},
	} {
		for _, startH := range []float64{0, 5.5, 6, 11.5, 15, 23.9, 24} {
			near(t, "air", hotDay(startH).AirK((c.hour-startH)*hourS)-air.ZeroCelsiusK, c.airC, 1e-9)
		}
	}
}

// The curve comes back each day, rises from the coolest to the hottest hour,
// falls from there on, and has neither a jump nor a corner.
func TestDayIsSmoothAndPeriodic(t *testing.T) {
	const dt = 30.0
	d := hotDay(0)
	// The steepest of it is the middle of the rise: pi/2 of the span in nine
	// hours; the sharpest bend its two ends: pi^2/2 of it in nine hours squared.
	span, rise := d.MaxK-d.MinK, HottestAtS-CoolestAtS
	steepest, sharpest := math.Pi/2*span/rise, math.Pi*math.Pi/2*span/(rise*rise)
	slope := func(s float64) float64 { return (d.AirK(s+dt) - d.AirK(s)) / dt }
	lo, hi := math.Inf(1), math.Inf(-1)
	for s := 0.0; s < dayS; s += dt {
		k := d.AirK(s)
		lo, hi = min(lo, k), max(hi, k)
		for _, days := range []float64{-1, 1, 5} {
			near(t, "another day", d.AirK(s+days*dayS), k, 1e-9)
		}
		g := slope(s)
		if rises := s >= CoolestAtS && s < HottestAtS; (g > 0) != rises {
			t.Errorf("at %.3f h the air changes by %g K/h", s/hourS, g*hourS)
		}
		if math.Abs(g) > steepest*(1+1e-9) {
			t.Errorf("at %.3f h the air changes by %g K/h", s/hourS, g*hourS)
		}
		if b := (slope(s+dt) - g) / dt; math.Abs(b) > sharpest*(1+1e-6) {
			t.Errorf("at %.3f h there is a corner: %g K/h2", s/hourS, b*hourS*hourS)
		}
	}
	near(t, "coolest", lo, d.MinK, 1e-9)
	near(t, "hottest", hi, d.MaxK, 1e-9)
}

// A day that is as warm all round is the weather without hours, to the bit.
func TestEvenDayIsOneTemperature(t *testing.T) {
	s, r := style(t, "steady"), Resistance{CdAM2: 0.36, Crr: 0.005}
	p := slope(4000, 900, -0.07)
	w := calm(31)
	one := plan(t, p, 85, w, r, s)
	w.Daily = Daily{On: true, StartS: 10 * hourS, MinK: w.AirTempK, MaxK: w.AirTempK}
	w.AirTempK = 0 // counts for nothing
	even := plan(t, p, 85, w, r, s)
	for _, c := range []struct {
		what string
		a, b []float64
	}{{"air", one.AirK, even.AirK}, {"time", one.TimeS, even.TimeS}, {"speed", one.SpeedMps, even.SpeedMps}, {"front brake", one.front, even.front}} {
		if !slices.Equal(c.a, c.b) {
			t.Errorf("%s differs", c.what)
		}
	}
}

// The rider meets the air of the hour at every node, on a climb that lasts from
// the morning into the afternoon and on a descent through midnight; the lapse
// moves the whole curve.
func TestPlanMeetsTheHour(t *testing.T) {
	r := Resistance{CdAM2: 0.36, Crr: 0.005}
	for _, c := range []struct {
		name                  string
		startH, grade, length float64
	}{{"climb", 9, 0.10, 25000}, {"past midnight", 23.75, -0.03, 20000}} {
		w := calm(0)
		w.AtHeightM, w.Daily = 500, hotDay(c.startH)
		p := slope(c.length, 1000, c.grade)
		pl := plan(t, p, 85, w, r, style(t, "steady"))
		lasts := pl.TimeS[len(pl.TimeS)-1]
		if lasts < 0.25*hourS {
			t.Fatalf("%s: over in %.0f s", c.name, lasts)
		}
		for i, k := range pl.AirK {
			want := w.Daily.AirK(pl.TimeS[i]) - StandardLapse*(p.HeightM[i]-500)
			near(t, c.name, k, want, 1e-9)
		}
		t.Logf("%s: %.2f h, %.1f to %.1f °C", c.name, lasts/hourS, pl.AirK[0]-air.ZeroCelsiusK, pl.AirK[len(pl.AirK)-1]-air.ZeroCelsiusK)
	}
}

// The drag of a segment is worked out in air whose far end is taken at the
// segment's start: that is far below 0.1 K off even at a walk and on the widest
// day that is let in.
func TestAirOfTheSegmentsEndIsNearEnough(t *testing.T) {
	w := calm(0)
	w.Daily = Daily{On: true, StartS: 9 * hourS, MinK: air.ZeroCelsiusK + coolestAirC, MaxK: air.ZeroCelsiusK + hottestAirC}
	p := slope(12000, 0, 0.29)
	pl := plan(t, p, 150, w, Resistance{CdAM2: 0.36, Crr: 0.005}, style(t, "steady"))
	worst := 0.0
	for i := range pl.pedal {
		worst = max(worst, math.Abs(pl.airK(i+1, pl.TimeS[i])-pl.AirK[i+1]))
	}
	if worst > 0.05 || worst == 0 {
		t.Errorf("%.4f K off", worst)
	}
	t.Logf("%.4f K off, at %.2f m/s", worst, pl.SpeedMps[1000])
}

// Later is hotter, and hotter air is thinner: a ride that starts at noon brakes
// more than the same at dawn.
func TestHotHoursBrakeMore(t *testing.T) {
	p := slope(8000, 900, -0.08)
	brakes := func(startH float64) float64 {
		w := calm(0)
		w.Daily = hotDay(startH)
		return plan(t, p, 85, w, Resistance{CdAM2: 0.36, Crr: 0.005}, style(t, "steady")).Ledger(0, len(p.DistM)-1).BrakesJ()
	}
	if dawn, noon := brakes(6), brakes(13); !(noon > dawn) {
		t.Errorf("brakes take %.0f J at dawn, %.0f J at noon", dawn, noon)
	}
}

func TestDaysThatAreNone(t *testing.T) {
	for name, change := range map[string]func(*Daily){
		"cold":           func(d *Daily) { d.MinK = 200 },
		"hot":            func(d *Daily) { d.MaxK = 340 },
		"no coolest":     func(d *Daily) { d.MinK = 0 },
		"no hottest":     func(d *Daily) { d.MaxK = 0 },
		"upside down":    func(d *Daily) { d.MinK, d.MaxK = d.MaxK, d.MinK },
		"not a number":   func(d *Daily) { d.MaxK = math.NaN() },
		"before the day": func(d *Daily) { d.StartS = -1 },
		"after the day":  func(d *Daily) { d.StartS = 90000 },
		"no start":       func(d *Daily) { d.StartS = math.NaN() },
		"off and cold":   func(d *Daily) { d.On, d.MinK = false, 200 },
	} {
		w := calm(20)
		w.Humidity, w.Daily = 0.4, hotDay(11.5)
		if err := w.Validate(); err != nil {
			t.Fatal(err)
		}
		change(&w.Daily)
		if err := w.Validate(); err == nil {
			t.Errorf("%s: accepted", name)
		}
	}
}

// Wind counts along the heading: on a road that turns from north by a quarter
// each kilometre, 5 m/s from the north, the east and the north-east.
func TestHeadWindFollowsTheRoad(t *testing.T) {
	const wind = 5.0
	p := slope(4000, 300, 0)
	for i, d := range p.DistM {
		p.HeadingRad[i] = math.Min(math.Floor(d/1000), 3) * math.Pi / 2
	}
	half := wind / math.Sqrt2
	for from, want := range map[float64][4]float64{
		0:  {wind, 0, -wind, 0},
		90: {0, wind, 0, -wind},
		45: {half, half, -half, -half},
	} {
		w := calm(20)
		w.WindMps, w.WindFromRad = wind, from*math.Pi/180
		pl := plan(t, p, 85, w, Resistance{CdAM2: 0.36, Crr: 0.005}, style(t, "steady"))
		d := pl.Duty(0)
		for leg, head := range want {
			near(t, "head wind", pl.HeadMps[100+200*leg], head, 1e-12)
			// What the wheels meet is road speed and head wind together.
			for i, at := range d.DistM {
				if at > 1000*float64(leg)+200 && at < 1000*float64(leg)+800 {
					near(t, "air past the wheels", d.StreamMps[i]-d.RollMps[i], head, 1e-9)
				}
			}
		}
	}
}

// The work done on the air is that of air as dense as the height and the
// temperature make it. Source: the standard atmosphere (ISO 2533:1975,
// published): 1.22500 kg/m3 in 288.150 K at 0 m, 1.11166 in 281.651 K at 1,000 m,
// 1.00655 in 275.154 K at 2,000 m, 0.90925 in 268.659 K at 3,000 m, geometric.
func TestDragFollowsTheHeight(t *testing.T) {
	const cda, wind = 0.36, 3.0
	for _, c := range []struct{ heightM, airK, rho float64 }{
		{0, 288.150, 1.22500}, {1000, 281.651, 1.11166}, {2000, 275.154, 1.00655}, {3000, 268.659, 0.90925},
	} {
		rho := func(w Weather) float64 {
			pl := plan(t, slope(3000, c.heightM, 0), 85, w, Resistance{CdAM2: cda, Crr: 0.005}, style(t, "steady"))
			const i = 300
			v := (pl.SpeedMps[i]+pl.SpeedMps[i+1])/2 + wind
			return pl.air[i] / (0.5 * cda * v * v * 5)
		}
		w := Weather{AirTempK: c.airK, AtHeightM: c.heightM, WindMps: wind}
		near(t, "standard air", rho(w), c.rho, 5e-5)
		w.AirTempK, w.Humidity = c.airK+25, 0.6
		near(t, "moist air", rho(w), air.MoistDensity(c.airK+25, air.PressureAt(c.heightM), 0.6), 1e-9)
	}
}
