package main

import (
	"fmt"
	"strings"

	"rimheat/thermal"
)

// styleFile writes a learned style as a setup file. What was not learned is left
// out, so that the defaults say of it that it is assumed.
func styleFile(l *thermal.StyleLearned) []byte {
	var b strings.Builder
	km := 0.0
	for _, d := range l.Descents {
		km += (d.EndM - d.StartM) / 1000
	}
	fmt.Fprintf(&b, "# A riding style learned from %s of recorded rides, %.1f km down.\n", counted(len(l.Descents), "descent", "descents"), km)
	b.WriteString("# Metric units. The part of the braking at the front wheel is not learned.\n")
	fmt.Fprintf(&b, "# Learned with %.1f kg in all.\n", l.TotalKg)
	if l.Poor {
		b.WriteString("# POOR for the brakes of planned descents: " + strings.Join(wrap(poorWords(l.BrakesOff), 76), "\n# ") + ".\n")
	}
	b.WriteString("\n")
	fmt.Fprintf(&b, "style = %q\n", l.BaseStyle)
	fmt.Fprintf(&b, "# Open road: half below %.1f km/h, nine in ten below %.1f. With it the brakes of\n# planned descents take what the recorded ones took, as far as the time agrees.\ncap-kmh = %.1f\n", 3.6*l.SpeedMps.P50, 3.6*l.SpeedMps.P90, 3.6*l.CapMps)
	if l.CornerLearned {
		fmt.Fprintf(&b, "# Half of %d bends were ridden below it.\ncorner-g = %.2f\n", l.CornerG.Count, l.CornerUsedG)
	}
	if l.BrakeLearned {
		fmt.Fprintf(&b, "# Half of %d brakings stayed below it.\nbrake-g = %.2f\n", l.BrakeG.Count, l.BrakeUsedG)
	}
	fmt.Fprintf(&b, "# Brakes at work %.0f %% of the time on descents.\nbrake-habit = %q\n", 100*l.BrakingShare, l.Habit)
	if l.PedalLearned {
		fmt.Fprintf(&b, "# Mean on climbs.\npedal-w = %.0f\n", l.PedalW)
	}
	if d := l.Resistance; d.Found {
		fmt.Fprintf(&b, "# From %s of coasting: CdA ± %.3f m2, Crr ± %.4f (95 %%).\ncda = %.3f\ncrr = %.4f\n", counted(d.Stretches, "stretch", "stretches"), 2*d.CdASd, 2*d.CrrSd, d.CdAM2, d.Crr)
	}
	return []byte(b.String())
}
