package main

import (
	"bytes"
	"fmt"
	"math"
	"strings"

	"rimheat/thermal"
)

// coolPlan prints what a rider can do.
func (v textView) coolPlan(b *bytes.Buffer, c *thermal.CoolPlan) {
	u := v.units
	v.asked(b, c.Route, c.RimID, c.Name, c.Draws, c.Seed, c.Limits)
	v.way(b, "planned", c.AsPlanned)
	if c.Coolest.Habit != c.AsPlanned.Habit || c.Coolest.FrontShare != c.AsPlanned.FrontShare || c.Coolest.CapMps != c.AsPlanned.CapMps {
		v.way(b, "coolest", c.Coolest)
	} else {
		labelled(b, "coolest", "no other way to brake near the rider's own cools better")
	}
	if c.Stops != nil {
		v.way(b, "stops", *c.Stops)
	} else if !c.AsPlanned.Within() {
		labelled(b, "stops", "none were found, among those tried, with which it fits ridden as planned")
	}
	if c.Both != nil {
		v.way(b, "both", *c.Both)
	}
	if h := c.Hottest; h != nil {
		labelled(b, "speed", fmt.Sprintf("on the steepest descent (from %s, %s %% in the mean) this bicycle would roll at %s by itself. Held with the brakes, %s to %s heat the rims most: slower takes less power, faster lets the air brake and cool, as far as that is safe",
			u.place(h.AtM), fixed(100*h.Grade, 1), u.speed(h.TerminalMps), u.speed(h.FromMps), u.speed(h.ToMps)))
	}
	b.WriteString("\n")
	hanging(b, "", "Advice: "+v.planAdvice(c))
	v.askedCautions(b, c.Cautions, c.Imperial)
}

// way prints one way to ride.
func (v textView) way(b *bytes.Buffer, label string, w thermal.Way) {
	u := v.units
	labelled(b, label, fmt.Sprintf("%s, %s %% in front, at most %s, %s", habitWords(w.Habit), brief(100*w.FrontShare, 0), u.speed(w.CapMps), span(w.DurationS)))
	for _, s := range w.Stops {
		labelled(b, "", v.stop(s))
	}
	labelled(b, "", v.reply(w.Chance, w.MarginK))
}

// stop says where to rest and how long.
func (v textView) stop(s thermal.CoolStop) string {
	u := v.units
	do := "stand " + span(s.S)
	if s.RollMps > 0 {
		do = "roll to and fro for " + span(s.S) + " at " + u.speed(s.RollMps) + ", brakes let go, where the road is empty and wide enough to turn,"
	}
	steep := ""
	if s.Steep() {
		steep = ", steep: hold the bicycle"
	}
	return fmt.Sprintf("%s at %s (%s, grade %s %%%s)", do, u.place(s.AtM), u.height(s.HeightM), fixed(100*s.Grade, 0), steep)
}

// planAdvice says in a sentence or two what to do.
func (v textView) planAdvice(c *thermal.CoolPlan) string {
	switch {
	case c.AsPlanned.Within():
		return "No stop is needed: ridden as planned the rim stays within its limits in nineteen of twenty draws. That is an estimate and no promise: read the cautions."
	case !c.Fits:
		return "No plan was found that makes this rim fit: neither stops nor another way to brake keep nineteen of twenty draws within its limits. " + c.Instead
	}
	var parts []string
	if c.Coolest.Within() {
		parts = append(parts, "ridden the coolest way it needs no stop"+longer(c))
	}
	if c.Stops.Within() {
		parts = append(parts, "ridden as planned "+stopCount(c.Stops))
	}
	if c.Both.Within() {
		parts = append(parts, "ridden the coolest way "+stopCount(c.Both))
	}
	s := strings.Join(parts, "; ")
	return strings.ToUpper(s[:1]) + s[1:] + ". Let the brakes cool at a safe place off the road, never touch a hot rim, and ride no faster than is safe to spare it."
}

// longer says what the coolest way costs in time.
func longer(c *thermal.CoolPlan) string {
	if d := c.Coolest.DurationS - c.AsPlanned.DurationS; d >= 60 {
		return ", but takes " + span(60*math.Round(d/60)) + " longer"
	}
	return ""
}

func stopCount(w *thermal.Way) string {
	total := 0.0
	for _, s := range w.Stops {
		total += s.S
	}
	if len(w.Stops) == 1 {
		return "1 stop of " + span(total) + " serves"
	}
	return fmt.Sprintf("%d stops of %s in all serve", len(w.Stops), span(total))
}
