package main

import (
	"bytes"
	"fmt"
	"math"

	"rimheat/thermal"
	"rimheat/thermal/risk"
)

// margins prints how much room a rim has.
func (v textView) margins(b *bytes.Buffer, m *thermal.Margins) {
	v.asked(b, m.Route, m.RimID, m.Name, m.Draws, m.Seed)
	labelled(b, "now", v.reply(m.Now.Chance, m.Now.MarginK))
	b.WriteString("\n")
	hanging(b, "  ", "Everything else as it is, nineteen of twenty draws stay within every limit")
	for _, r := range m.Rooms {
		labelled(b, roomLabel(r.ID), v.room(r))
	}
	v.askedCautions(b, m.Cautions, m.Imperial)
}

// asked prints what an answer is about.
func (v textView) asked(b *bytes.Buffer, road, id, name string, draws int, seed uint64) {
	road = clean(road)
	if road == "" {
		road = "Route without a name"
	}
	hanging(b, "", road)
	hanging(b, "", fmt.Sprintf("%s: %s", id, name))
	hanging(b, "  ", fmt.Sprintf("%s draws of what is not known exactly (seed %d)", fixed(float64(draws), 0), seed))
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
	word := "within"
	switch {
	case c.P >= thermal.OverChance:
		word = "over"
	case c.P >= thermal.MarginalChance:
		word = "marginal"
	}
	return fmt.Sprintf("%s: a limit is reached in %s of the draws; the middle one ends %s, the nineteenth of twenty %s",
		word, thermal.ChanceWords(c.P), beside(v.units, marginK.P50, "limit"), beside(v.units, marginK.P05, "limit"))
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
	lo, hi, planned := v.inRoom(r, r.Low), v.inRoom(r, r.High), v.inRoom(r, r.Planned)
	text := ""
	switch {
	case r.Value != nil:
		at := v.inRoom(r, *r.Value)
		if r.SE > 0 {
			at += " (± " + v.roomSE(r) + " by the number of draws)"
		}
		switch r.ID {
		case "air-temp":
			text = fmt.Sprintf("up to %s; planned %s", at, planned)
		case "mass":
			text = fmt.Sprintf("up to %s in all; planned %s", at, planned)
		case "head-wind":
			text = fmt.Sprintf("from %s against the rider all along; planned %s beside the weather's", at, planned)
			if *r.Value < 0 {
				text = fmt.Sprintf("even with up to %s from behind all along; planned %s beside the weather's", v.inRoom(r, -*r.Value), planned)
			}
		case "slower":
			text = fmt.Sprintf("with a cap of %s or less; planned %s", at, planned)
		case "faster":
			text = fmt.Sprintf("with a cap of %s or more, as far as the road is fit for it and the rider; planned %s", at, planned)
		}
	case r.Side == risk.Below:
		text = fmt.Sprintf("anywhere from %s to %s; planned %s", lo, hi, planned)
	default:
		text = fmt.Sprintf("nowhere from %s to %s; planned %s", lo, hi, planned)
	}
	if r.Wavers && r.Value != nil {
		text += "; the margin goes up and down between, so other values may do as well"
	}
	return text
}

// inRoom writes a value of an input.
func (v textView) inRoom(r thermal.Room, x float64) string {
	u := v.units
	switch r.ID {
	case "air-temp":
		return u.airTemp(math.Round(x*2) / 2)
	case "mass":
		return u.mass(math.Round(x))
	case "head-wind":
		return u.wind(math.Round(x*10) / 10)
	}
	return u.speed(x)
}

func (v textView) roomSE(r thermal.Room) string {
	u := v.units
	switch r.ID {
	case "air-temp":
		return u.warmth(math.Round(r.SE*2) / 2)
	case "mass":
		return u.mass(math.Round(r.SE))
	case "head-wind":
		return u.wind(math.Round(r.SE*10) / 10)
	}
	return u.speed(r.SE)
}
