package main

import (
	"math"
	"testing"
)

func TestFixed(t *testing.T) {
	for _, c := range []struct {
		v        float64
		decimals int
		want     string
	}{
		{0, 0, "0"}, {-0.4, 0, "0"}, {-0.5, 0, "0"}, {-0.6, 0, "-1"}, {999.4, 0, "999"}, {999.6, 0, "1,000"},
		{-1234567.89, 1, "-1,234,567.9"}, {-0.04, 1, "0.0"}, {12.35, 1, "12.3"}, {math.NaN(), 0, "-"}, {math.Inf(1), 2, "-"},
	} {
		if got := fixed(c.v, c.decimals); got != c.want {
			t.Errorf("fixed(%v, %d) = %s, want %s", c.v, c.decimals, got, c.want)
		}
	}
}

func TestSpans(t *testing.T) {
	for _, c := range []struct {
		s           float64
		span, clock string
	}{
		{0, "0 s", "0:00"}, {59.4, "59 s", "0:59"}, {59.6, "1 min", "1:00"}, {600, "10 min", "10:00"}, {860.4, "14 min 20 s", "14:20"},
		{3599.6, "1 h 00 min", "1:00:00"}, {7170, "2 h 00 min", "1:59:30"}, {math.NaN(), "-", "-"},
	} {
		if got := span(c.s); got != c.span {
			t.Errorf("span(%v) = %s, want %s", c.s, got, c.span)
		}
		if got := clock(c.s); got != c.clock {
			t.Errorf("clock(%v) = %s, want %s", c.s, got, c.clock)
		}
	}
}

func TestScreenUnits(t *testing.T) {
	m, i := screenUnits{}, screenUnits{imperial: true}
	for _, c := range []struct{ what, got, want string }{
		{"temperature", m.temp(120), "120 °C"}, {"temperature", i.temp(120), "248 °F"},
		{"freezing", i.temp(0), "32 °F"}, {"-40 is -40", i.temp(-40), "-40 °F"},
		{"difference", m.gap(10), "10 K"}, {"difference", i.gap(10), "18 °F"},
		{"mass", m.mass(78), "78 kg"}, {"mass", i.mass(78), "172 lb"},
		{"height", m.height(1000), "1,000 m"}, {"height", i.height(1000), "3,281 ft"},
		{"road", m.road(16093.44), "16.1 km"}, {"road", i.road(16093.44), "10.0 mi"},
		{"place", i.place(16093.44), "mile 10.0"},
		{"speed", m.speed(10), "36 km/h"}, {"speed", i.speed(10), "22.4 mph"},
		{"wind", m.wind(10), "10 m/s"}, {"wind", i.wind(10), "22.4 mph"},
	} {
		if c.got != c.want {
			t.Errorf("%s: %s, want %s", c.what, c.got, c.want)
		}
	}
}

// Each unit converts there and back.
func TestImperialUnitsInvert(t *testing.T) {
	for d := plain; d <= height; d++ {
		u := imperialUnit(d)
		for _, v := range []float64{-40, 0, 1, 78.5, 6000} {
			if back := u.metric(u.imperial(v)); math.Abs(back-v) > 1e-9 {
				t.Errorf("%s: %v comes back as %v", u.name, v, back)
			}
		}
	}
}

func TestWrapKeepsNumberAndUnit(t *testing.T) {
	got := wrap("up to 150 °C, then stop", 12)
	want := []string{"up to", "150 °C, then", "stop"}
	if len(got) != len(want) {
		t.Fatalf("got %q, want %q", got, want)
	}
	for i := range want {
		if got[i] != want[i] {
			t.Errorf("line %d is %q, want %q", i, got[i], want[i])
		}
	}
}
