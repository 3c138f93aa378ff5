package main

import (
	"fmt"
	"maps"
	"path/filepath"
	"slices"
	"strings"

	"rimheat/thermal"
)

// learned writes all that was given, and what readings have taught, as a setup
// file at path. It is metric.
func (a answers) learned(s *thermal.Setup, lessons []*thermal.Lesson, path string) []byte {
	var b strings.Builder
	fmt.Fprintf(&b, "# A setup that %s taught. Metric units. What is not here was assumed.\n", counted(len(s.Readings), "reading has", "readings have"))
	for _, l := range lessons {
		fmt.Fprintf(&b, "# %s\n", strings.Join(wrap(clean(l.Taught.Text), 76), "\n# "))
		for _, in := range l.Inputs {
			fmt.Fprintf(&b, "#   %s: %s, before %s\n", in.Text, lessonRange(in, in.After), lessonRange(in, in.Before))
		}
	}
	b.WriteString("\n")
	for _, n := range numbers() {
		if a.has(n.name) {
			fmt.Fprintf(&b, "%s = %s\n", n.name, exact(rounded(n.get(s))))
		}
	}
	for _, name := range textInputs() {
		if v, _, given := a.text(name); given && name != "track" {
			fmt.Fprintf(&b, "%s = %s\n", name, tomlText(v))
		}
	}
	for _, l := range a.layers() {
		if len(l.rims) > 0 {
			var names []string
			for _, name := range l.rims {
				names = append(names, tomlText(besideSetup(l.rimPath(name), path)))
			}
			fmt.Fprintf(&b, "rim = [%s]\n", strings.Join(names, ", "))
			break
		}
	}
	limits := map[string]float64{}
	for _, w := range s.Wheels {
		if k := w.Rim.MakerLimitK; k > 0 && (len(a.file.limits) > 0 || len(a.flags.limits) > 0) {
			limits[w.Rim.ID] = k - kelvinAt0C
		}
	}
	if len(limits) > 0 {
		b.WriteString("\n[rim-limit]\n")
		for _, id := range slices.Sorted(maps.Keys(limits)) {
			fmt.Fprintf(&b, "%s = %s\n", tomlText(id), exact(rounded(limits[id])))
		}
	}
	if len(a.file.spreads) > 0 {
		b.WriteString("\n[spread]\n")
		for _, id := range slices.Sorted(maps.Keys(a.file.spreads)) {
			fmt.Fprintf(&b, "%s = %s\n", id, exact(a.file.spreads[id]))
		}
	}
	readingsToml(&b, s.Readings)
	return []byte(b.String())
}

// rounded takes the rounding of conversions off a value.
func rounded(v float64) float64 {
	var out float64
	fmt.Sscanf(fmt.Sprintf("%.9g", v), "%g", &out)
	return out
}

// besideSetup names a rim file as a setup file at path must; an identifier stays.
func besideSetup(name, path string) string {
	if !isRimFile(name) {
		return name
	}
	full, err := filepath.Abs(name)
	if err != nil {
		return name
	}
	dir, err := filepath.Abs(filepath.Dir(path))
	if err != nil {
		return full
	}
	if rel, err := filepath.Rel(dir, full); err == nil {
		return filepath.ToSlash(rel)
	}
	return full
}

// lessonRange says what an input is taken to be.
func lessonRange(in thermal.LessonInput, r thermal.Range) string {
	switch in.Kind {
	case thermal.ByFactor:
		return fmt.Sprintf("× %.2f (%.2f to %.2f)", r.Mid, r.Low, r.High)
	case thermal.ByRange:
		return fmt.Sprintf("%s %% of its range (%s to %s)", signed(100*r.Mid, 0), signed(100*r.Low, 0), signed(100*r.High, 0))
	}
	if in.Unit == "1" {
		return fmt.Sprintf("%s %% in front (%s to %s)", signed(100*r.Mid, 0), signed(100*r.Low, 0), signed(100*r.High, 0))
	}
	return fmt.Sprintf("%s %s (%s to %s)", signed(r.Mid, 1), in.Unit, signed(r.Low, 1), signed(r.High, 1))
}
