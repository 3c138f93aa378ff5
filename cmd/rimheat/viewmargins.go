package main

import (
	"bytes"
	"fmt"
	"math"
	"slices"

	"rimheat/thermal"
	"rimheat/thermal/risk"
)

// margins prints how much room a rim has.
func (v textView) margins(b *bytes.Buffer, m *thermal.Margins) {
	v.asked(b, m.Route, m.RimID, m.Name, m.Draws, m.Seed, m.Limits)
	labelled(b, "now", v.reply(m.Now.Chance, m.Now.MarginK))
	b.WriteString("\n")
	hanging(b, "  ", "Everything else as it is, nineteen of twenty draws stay within every limit")
	for _, r := range m.Rooms {
		labelled(b, roomLabel(r.ID), v.room(r))
	}
	v.askedCautions(b, m.Cautions, m.Imperial)
}

// asked prints what an answer is about.
func (v textView) asked(b *bytes.Buffer, road, id, name string, draws int, seed uint64, limits []thermal.HeldLimit) {
	road = clean(road)
	if road == "" {
		road = "Route without a name"
	}
	hanging(b, "", road)
	hanging(b, "", fmt.Sprintf("%s: %s", id, name))
	hanging(b, "  ", fmt.Sprintf("%s draws of what is not known exactly (seed %d)", fixed(float64(draws), 0), seed))
	for i, l := range limits {
		label := ""
		if i == 0 {
			label = "limits"
		}
		text := v.units.temp(l.LimitC) + " on the " + subject(l.On, l.On != thermal.OnTrack || l.Assumed)
		switch {
		case l.LowC < l.HighC:
			text += ", assumed: drawn from " + v.units.degrees(l.LowC) + " to " + v.units.temp(l.HighC)
		case l.Assumed:
			text += ", assumed"
		default:
			text += ", the rim maker's figure"
		}
		labelled(b, label, text)
	}
	b.WriteString("\n")
}

func (v textView) askedCautions(b *bytes.Buffer, metric, imperial []string) {
	say := metric
	if v.units.imperial {
		say = imperial
	}
	b.WriteString("\nCautions:\n")
	for _, c := range say {
		hanging(b, "  - ", c)
	}
}

// reply says what draws made of one way to ride.
func (v textView) reply(c thermal.Chance, marginK thermal.Percentiles) string {
	return fmt.Sprintf("%s: a limit is reached in %s of the draws; the middle one ends %s, the nineteenth of twenty %s",
		c.Verdict(), thermal.ChanceWords(c.P), beside(v.units, marginK.P50, "limit"), beside(v.units, marginK.P05, "limit"))
}

func roomLabel(id string) string {
	switch id {
	case "air-temp":
		return "air"
	case "mass":
		return "load"
	case "head-wind":
		return "head wind"
	}
	return id
}

// room says how far one input may go.
func (v textView) room(r thermal.Room) string {
	planned := "; planned " + v.exactRoom(r, r.Planned)
	if r.Wavers || r.Value == nil && (r.ID == "slower" || r.ID == "faster") {
		return v.tried(r) + planned
	}
	if r.Value == nil {
		where := "nowhere from "
		if r.Side == risk.Below {
			where = "anywhere from "
		}
		return where + v.inRoom(r, r.Low, math.Round) + " to " + v.inRoom(r, r.High, math.Round) + planned
	}
	safe := math.Floor // towards the side that holds
	if !r.HotterUp {
		safe = math.Ceil
	}
	at := v.inRoom(r, *r.Value, safe)
	switch {
	case r.Within95 > math.Abs(*r.Value-r.Planned) && r.Within95 > 0.2*(r.High-r.Low):
		at += ", which the number of draws leaves hardly known"
	case r.Within95 > 0:
		at += " (95 %: ± " + v.roomSpread(r) + " by the number of draws)"
	}
	word := "up to "
	if !r.HotterUp {
		word = "from "
	}
	switch r.ID {
	case "mass":
		return word + at + " in all" + planned
	case "head-wind":
		return word + at + " against the rider all along" + planned + " beside the weather's"
	case "slower", "faster":
		return "with a cap " + word + at + ", as far as that is safe" + planned
	}
	if r.DaysHottest {
		return word + at + " at the day's hottest, its coolest hour moved along" + planned
	}
	return word + at + planned
}

// exactRoom writes a value with one decimal where it has any.
func (v textView) exactRoom(r thermal.Room, x float64) string {
	value, name := v.roomValue(r, x)
	return brief(math.Round(value*10)/10, 1) + " " + name
}

// roomValue is a value of an input in the screen's unit.
func (v textView) roomValue(r thermal.Room, x float64) (float64, string) {
	switch r.ID {
	case "air-temp":
		return v.units.in(x, temperature, "°C")
	case "mass":
		return v.units.in(x, mass, "kg")
	case "head-wind":
		return v.units.in(x, windSpeed, "m/s")
	}
	return v.units.in(3.6*x, rideSpeed, "km/h")
}

// tried lists the caps at which the rim stays within and those at which it does not.
func (v textView) tried(r thermal.Room) string {
	var in, out []string
	for _, a := range r.Asked {
		at := v.exactRoom(r, a.Value)
		list := &out
		if a.Within {
			list = &in
		}
		if !slices.Contains(*list, at) {
			*list = append(*list, at)
		}
	}
	switch {
	case len(in) == 0:
		return "at no cap that was tried, " + out[0] + " to " + out[len(out)-1]
	case len(out) == 0:
		return "at all caps that were tried, " + in[0] + " to " + in[len(in)-1]
	}
	return "of the values tried, at " + listed(in) + "; not at " + listed(out)
}

// inRoom writes a value of an input in the screen's unit, rounded there.
func (v textView) inRoom(r thermal.Room, x float64, round func(float64) float64) string {
	value, name := v.roomValue(r, x)
	decimals := roomDecimals(r)
	scale := math.Pow(10, float64(decimals))
	// What was typed must come back: conversions leave rounding.
	if near := math.Round(value*scale) / scale; math.Abs(near-value) < 1e-6 {
		return brief(near, decimals) + " " + name
	}
	return brief(round(value*scale)/scale, decimals) + " " + name
}

// roomSpread writes how far a value may be off, rounded up.
func (v textView) roomSpread(r thermal.Room) string {
	from, _ := v.roomValue(r, 0)
	to, name := v.roomValue(r, r.Within95)
	if r.ID == "air-temp" {
		_, name = v.units.in(0, warmth, "K")
	}
	decimals := roomDecimals(r)
	scale := math.Pow(10, float64(decimals))
	return brief(math.Ceil((to-from)*scale)/scale, decimals) + " " + name
}

func roomDecimals(r thermal.Room) int {
	if r.ID == "head-wind" {
		return 1
	}
	return 0
}
