package plots

import "strings"

// basis is what the answer stands on.
func (r *reporter) basis() []reportItem {
	var out []reportItem
	add := func(name, text string) {
		if text != "" {
			out = append(out, reportItem{name, text})
		}
	}
	given, assumed := r.inputs()
	add("Given", sentence(given))
	add("Assumed", sentence(assumed))
	add("Measured before", sentence(r.toldAll(r.a.Setup.Readings)))
	add("Road", r.road())
	if r.many() {
		materials, drivers := r.parts(), r.parts()
		for i := range r.a.Rims {
			materials.add(i, r.word(r.a.Rims[i].Material))
			drivers.add(i, r.drivers(r.a.Rims[i].Risk))
		}
		add("Materials", sentence(materials.lines()))
		add("The answers hang most on", sentence(drivers.lines()))
	}
	return out
}

// sentence ends a list of parts.
func sentence(parts []string) string {
	if len(parts) == 0 {
		return ""
	}
	return strings.Join(parts, "; ") + "."
}

func (r *reporter) toldAll(texts []string) []string {
	var out []string
	for _, t := range texts {
		out = append(out, r.told(t))
	}
	return out
}

// mostRepairs is how many remarks on the file are told.
const mostRepairs = 2

// road is where the road comes from, how good its heights are and what was
// repaired.
func (r *reporter) road() string {
	d := r.a.Route
	var parts []string
	if d.Points > 0 {
		parts = append(parts, counted(d.Points, "point", "points")+" in the file")
	}
	if p := d.Replay; p != nil {
		parts = append(parts, "ridden as recorded, with "+counted(p.Stops, "stop", "stops"))
	}
	if s := r.told(d.Heights.Text); s != "" {
		parts = append(parts, "heights "+s)
	}
	for i, p := range d.Repairs {
		if i == mostRepairs {
			parts = append(parts, counted(len(d.Repairs)-i, "more remark", "more remarks")+" on the file")
			break
		}
		parts = append(parts, r.told(p.Text))
	}
	return sentence(parts)
}

// longNote is from how many letters on a note takes the page's whole width.
const longNote = 240

// noteLength counts the letters of a note.
func noteLength(paragraphs [][]string) int {
	n := 0
	for _, p := range paragraphs {
		for _, l := range p {
			n += len([]rune(l))
		}
	}
	return n
}

// Bounds of a shop's note, so that it fits a page.
const noteLetters, noteLinesMost = 3000, 40

// noteLines takes a shop's note as paragraphs of lines, each harmless. What is cut
// is said.
func noteLines(note string, tf *typeface) [][]string {
	note = strings.NewReplacer("\r\n", "\n", "\r", "\n").Replace(note)
	var out [][]string
	open, lines, left := false, 0, noteLetters
	for l := range strings.SplitSeq(note, "\n") {
		l = tf.shownUpTo(l, noteLetters+1)
		if l == "" {
			open = false
			continue
		}
		rs := []rune(l)
		if lines == noteLinesMost || left == 0 {
			return append(out, []string{"(The note goes on; it is cut here.)"})
		}
		if !open {
			out, open = append(out, nil), true
		}
		at := len(out) - 1
		if len(rs) > left {
			out[at] = append(out[at], cut(rs, left))
			return append(out, []string{"(The note goes on; it is cut here.)"})
		}
		out[at] = append(out[at], l)
		left -= len(rs)
		lines++
	}
	return out
}
