package main

import (
	"fmt"
	"maps"
	"path/filepath"
	"slices"
	"strings"

	"rimheat/thermal"
)

// learned writes all that was given but the weather, which was that day's, and what
// readings have taught, as a setup file at path. It is metric.
func (a answers) learned(s *thermal.Setup, l *thermal.Lesson, path string) []byte {
	var b strings.Builder
	b.WriteString("# A setup that measured temperatures have taught. Metric units. What is not here\n# was assumed. The weather was that day's and is left out.\n")
	fmt.Fprintf(&b, "# %s\n", strings.Join(wrap(clean(l.Taught[0].Text), 76), "\n# "))
	for _, in := range l.Inputs {
		fmt.Fprintf(&b, "#   %s: %s, before %s\n", in.Text, lessonRange(in, in.After), lessonRange(in, in.Before))
	}
	b.WriteString("\n")
	for _, n := range numbers() {
		if a.has(n.name) && groupOf(n) != groupWeather {
			fmt.Fprintf(&b, "%s = %s\n", n.name, exact(rounded(n.get(s))))
		}
	}
	for _, name := range textInputs() {
		if v, _, given := a.text(name); given && name != "track" && name != startName {
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

// lessonRange says what an input is taken to be, with the range of nineteen in twenty.
func lessonRange(in thermal.LessonInput, r thermal.Range) string {
	show := func(x float64) string { return strings.TrimSuffix(lessonMiddle(in, x), lessonUnit(in)) }
	return lessonMiddle(in, r.Mid) + " (" + strings.TrimPrefix(show(r.Low), "× ") + " to " + strings.TrimPrefix(show(r.High), "× ") + ")"
}

// lessonMiddle is one value of an input as people say it.
func lessonMiddle(in thermal.LessonInput, x float64) string {
	switch {
	case in.Kind == thermal.ByFactor:
		return fmt.Sprintf("× %.2f", x)
	case in.Kind == thermal.ByRange, in.Unit == "1":
		return signed(100*x, 0) + lessonUnit(in)
	}
	return signed(x, 1) + lessonUnit(in)
}

func lessonUnit(in thermal.LessonInput) string {
	switch {
	case in.Kind == thermal.ByFactor:
		return ""
	case in.Kind == thermal.ByRange:
		return " % of its range"
	case in.Unit == "1":
		return " % in front"
	}
	return " " + in.Unit
}
