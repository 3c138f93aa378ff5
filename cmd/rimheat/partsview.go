package main

import (
	"bytes"
	"fmt"
	"strconv"

	"rimheat/thermal/rim"
)

// print writes the parts as text; in full is for a single rim.
func (p parts) print(b *bytes.Buffer, inFull bool) {
	if inFull {
		for _, r := range p.rims {
			printRim(b, r)
		}
	} else {
		p.printRims(b)
	}
	for _, m := range p.materials() {
		fmt.Fprintf(b, "\nMaterial %s: %s\n", m.ID, m.Name)
		printMeasures(b, materialMeasures(m))
	}
	for _, pad := range p.pads {
		fmt.Fprintf(b, "\nPads %s: %s\n", pad.ID, pad.Name)
		printMeasures(b, padMeasures(pad))
	}
	p.printSides(b)
	p.printClasses(b)
	p.printStyles(b)
}

// printRims lists the rims, a line each.
func (p parts) printRims(b *bytes.Buffer) {
	b.WriteString("Rims (all of one: rimheat parts --rim ID)\n")
	t := table{right: map[int]bool{3: true, 4: true, 5: true, 6: true}}
	t.title("id", "name", "kind", "depth", "width", "wall", "flank")
	t.title("", "", "", "mm", "mm", "mm", "mm")
	for _, r := range p.rims {
		g := r.Geometry
		t.row(r.ID, r.Name, r.Kind, mm(g.DepthM), mm(g.OuterWidthM), mm(g.WallM()), mm(g.FlankM))
	}
	t.print(b, "  ")
	seen := map[string]bool{}
	for _, r := range p.rims {
		if s := knownBy(r.Source, r.Basis); !seen[s] {
			seen[s] = true
			hanging(b, "  Lengths: ", s)
		}
	}
}

// printRim shows one rim in full.
func printRim(b *bytes.Buffer, r rim.Section) {
	fmt.Fprintf(b, "Rim %s: %s\n", r.ID, r.Name)
	g := r.Geometry
	labelled(b, "kind", fmt.Sprintf("%s, %s cross-section", r.Kind, g.Shape))
	labelled(b, "material", r.MaterialNames())
	switch {
	case r.MakerLimitK != 0:
		labelled(b, "limit", fmt.Sprintf("%s °C, the maker's figure", fixed(r.MakerLimitK-kelvinAt0C, 0)))
	case r.ResinClass != "":
		what := "the track"
		if !r.ResinInTrack() {
			what = "the fairing and its bond; the metal track has none, the tyre side has"
		}
		labelled(b, "limit", fmt.Sprintf("no figure from the maker; resin class %s is assumed for %s", r.ResinClass, what))
	default:
		labelled(b, "limit", "metal: the track has none, the tyre side has")
	}
	if r.MaxGaugePa > 0 {
		labelled(b, "pressure", fmt.Sprintf("at most %s kPa, %s", fixed(r.MaxGaugePa/1e3, 0), knownBy(r.Source, r.Basis)))
	}
	labelled(b, "mass", fixed(1e3*r.MassKg(), 0)+" g by geometry and density")
	b.WriteString("\nLengths\n")
	printMeasures(b, lengths(r))
}

func (p parts) printSides(b *bytes.Buffer) {
	if len(p.sides) == 0 {
		return
	}
	b.WriteString("\nTyre sides: what touches the rim under the tyre, and the temperature that it bears there\n")
	t := table{right: map[int]bool{2: true, 3: true}, wrapLast: true}
	t.title("id", "name", "°C", "spread", "how it is known")
	for _, s := range p.sides {
		t.row(s.ID, s.Name, fixed(s.LimitC, 0), fixed(s.LowC, 0)+"-"+fixed(s.HighC, 0), knownBy(s.Source, s.Basis))
	}
	t.print(b, "  ")
}

func (p parts) printClasses(b *bytes.Buffer) {
	if len(p.classes) == 0 {
		return
	}
	b.WriteString("\nResin classes: what a carbon brake track, or a fairing's bond, bears when its maker\ngives no figure\n")
	t := table{right: map[int]bool{2: true, 3: true, 4: true, 5: true}}
	t.title("id", "name", "limit", "spread", "alarm", "spread")
	t.title("", "", "°C", "°C", "°C", "°C")
	for _, c := range p.classes {
		alarm, spread := "", ""
		if c.AlarmC > 0 {
			alarm, spread = fixed(c.AlarmC, 0), fixed(c.AlarmLowC, 0)+"-"+fixed(c.AlarmHighC, 0)
		}
		t.row(c.ID, c.Name, fixed(c.LimitC, 0), fixed(c.LowC, 0)+"-"+fixed(c.HighC, 0), alarm, spread)
	}
	t.print(b, "  ")
	for _, c := range p.classes {
		known := knownBy(c.Source, c.Basis)
		if c.AlarmC > 0 {
			known += "; alarm: dry glass transition less 15 K (common practice, no source), " + knownBy(c.DryC.Source, c.DryC.Basis)
		}
		hanging(b, "  "+c.ID+": ", known)
	}
	hanging(b, "  ", "From the limit on take care: it is meant for long service. From the alarm on a wall under a tyre's pressure may give way within minutes. Both are assumed.")
	hanging(b, "  ", "To judge a rim by a class, name it in a rim file: resin_class. A maker's figure goes before any class: --rim-limit ID=°C. Naming a class can make the answer harsher than resin unknown does, as the limit for long service of many resins lies lower.")
}

func (p parts) printStyles(b *bytes.Buffer) {
	if len(p.styles) == 0 {
		return
	}
	b.WriteString("\nRiding styles\n")
	t := table{right: map[int]bool{1: true, 2: true, 3: true, 4: true, 5: true}}
	t.title("id", "cap", "bends", "braking", "front", "pedals", "brakes")
	t.title("", "km/h", "g", "g", "%", "W", "")
	for _, s := range p.styles {
		t.row(s.ID, fixed(s.CapMps*3.6, 0), fixed(s.CornerG, 2), fixed(s.BrakeG, 2), fixed(100*s.FrontShare, 0), fixed(s.PedalW, 0), habitWords(string(s.Habit)))
	}
	t.print(b, "  ")
	for _, s := range p.styles {
		hanging(b, "  ", s.Name)
	}
	seen := map[string]bool{}
	for _, s := range p.styles {
		if !seen[s.Source] {
			seen[s.Source] = true
			hanging(b, "  Known by: ", s.Source)
		}
	}
}

// printMeasures lists one or more quantities with unit, source and how they are
// known, once for all where it is the same. Lengths are shown in mm.
func printMeasures(b *bytes.Buffer, ms []measure) {
	t := table{right: map[int]bool{1: true}, wrapLast: true}
	number := func(v float64) string { return strconv.FormatFloat(v, 'g', 6, 64) }
	common := knownBy(ms[0].Source, ms[0].Basis)
	for _, m := range ms {
		if knownBy(m.Source, m.Basis) != common {
			common = ""
		}
	}
	for _, m := range ms {
		times, unit := 1.0, m.Unit
		switch unit {
		case "m":
			times, unit = 1e3, "mm"
		case "m3/J":
			times, unit = 1e15, "mm3/MJ"
		case "1":
			unit = ""
		}
		spread := ""
		if m.Low != 0 || m.High != 0 {
			spread = number(times*m.Low) + "-" + number(times*m.High)
		}
		known := ""
		if common == "" {
			known = knownBy(m.Source, m.Basis)
		}
		t.row(m.name, number(times*m.Value), spread, unit, known)
	}
	t.least = []int{29, 5, 0, 9}
	t.print(b, "  ")
	if common != "" {
		hanging(b, "  All: ", common)
	}
}

// knownBy says how a number is known and what stands behind it.
func knownBy(source string, basis rim.Basis) string {
	switch {
	case basis == "":
		return source
	case source == "":
		return string(basis)
	}
	return string(basis) + ": " + source
}

// mm writes a length in millimetres.
func mm(m float64) string { return fixed(1000*m, 1) }
