package main

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"rimheat/thermal"
)

// takeReadings takes what readings have taught, as rimheat learn writes it.
func (l *layer) takeReadings(value any) error {
	list, ok := value.([]any)
	if !ok {
		return badInput("%s: wants tables [[reading]], as rimheat learn writes them", l.where("reading"))
	}
	for i, v := range list {
		where := fmt.Sprintf("%s %d", l.where("reading"), i+1)
		table, ok := v.(map[string]any)
		if !ok {
			return badInput("%s: wants a table", where)
		}
		k, err := oneReading(where, table)
		if err != nil {
			return err
		}
		if err := k.Validate(); err != nil {
			return badInput("%s: %s", where, err)
		}
		l.readings = append(l.readings, k)
	}
	return nil
}

func oneReading(where string, table map[string]any) (k thermal.Taught, err error) {
	for _, key := range slices.Sorted(maps.Keys(table)) {
		switch key {
		case "text", "rim", "pads":
			s, ok := table[key].(string)
			if !ok || s == "" {
				return k, badInput("%s: %s wants a text in quotes", where, key)
			}
			*map[string]*string{"text": &k.Text, "rim": &k.RimID, "pads": &k.PadID}[key] = s
		case "mean", "along", "figures", "with":
			named, err := namedNumbers(where+": "+key, table[key])
			if err != nil {
				return k, err
			}
			*map[string]*[]thermal.Named{"mean": &k.Mean, "along": &k.Along, "figures": &k.Figures, "with": &k.With}[key] = named
		default:
			return k, badInput("%s: unknown key %s", where, quoted(key)).hint("readings are written by rimheat learn")
		}
	}
	inputs := thermal.UncertainInputs()
	for _, f := range k.Figures {
		i := slices.IndexFunc(inputs, func(u thermal.Uncertain) bool { return u.ID == f.Name })
		if i < 0 {
			return k, badInput("%s: figures: no uncertain input is called %s", where, quoted(f.Name))
		}
		if lo, hi := inputs[i].Bounds(); !(f.Value >= lo && f.Value <= hi) {
			return k, badInput("%s: figures: %s %s: outside %s to %s", where, f.Name, exact(f.Value), exact(lo), exact(hi))
		}
	}
	for _, need := range []struct {
		key string
		has bool
	}{{"rim", k.RimID != ""}, {"pads", k.PadID != ""}, {"figures", len(k.Figures) > 0}, {"with", len(k.With) > 0}} {
		if !need.has {
			return k, badInput("%s: %s is missing", where, need.key).hint("readings are written by rimheat learn")
		}
	}
	return k, nil
}

func namedNumbers(where string, value any) ([]thermal.Named, error) {
	table, ok := value.(map[string]any)
	if !ok {
		return nil, badInput("%s: wants a table of numbers", where)
	}
	var out []thermal.Named
	for _, name := range slices.Sorted(maps.Keys(table)) {
		switch v := table[name].(type) {
		case float64:
			out = append(out, thermal.Named{Name: name, Value: v})
		case int64:
			out = append(out, thermal.Named{Name: name, Value: float64(v)})
		default:
			return nil, badInput("%s: %s wants a number", where, name)
		}
	}
	return out, nil
}

// readings takes what readings have taught. They hold for the spreads and the
// stated values with which they were learned, and for no others.
func (a answers) readings(s *thermal.Setup) error {
	s.Readings = a.file.readings
	if len(s.Readings) == 0 {
		return nil
	}
	for i, k := range s.Readings {
		where := fmt.Sprintf("%s %d", a.file.where("reading"), i+1)
		for _, f := range k.Figures {
			for _, other := range s.Readings[:i] {
				if slices.ContainsFunc(other.Figures, func(o thermal.Named) bool { return o.Name == f.Name && o.Value != f.Value }) {
					return badInput("%s: learned with another spread for %s than a reading before it", where, f.Name).hint("readings are written by rimheat learn, one on top of the other")
				}
			}
			if v, given := a.file.spreads[f.Name]; given && v != f.Value {
				return badInput("%s: learned with a spread of %s for %s, not %s", where, exact(f.Value), f.Name, exact(v)).hint("learn again from the reading with the spread that holds now")
			}
		}
		for _, w := range s.Wheels {
			if w.Rim.ID == k.RimID && w.Pad.ID != k.PadID {
				return badInput("%s: learned with the pads %s, not %s", where, k.PadID, w.Pad.ID).hint("a reading holds for the pads it was learned with: keep them, or learn again from it")
			}
		}
		for _, w := range k.With {
			n := slices.IndexFunc(numbers(), func(n number) bool { return n.name == w.Name })
			if n < 0 {
				return badInput("%s: %s is no input", where, quoted(w.Name))
			}
			if now := numbers()[n].get(s); !sameStated(now, w.Value) {
				return badInput("%s: learned with %s %s, not %s", where, w.Name, exact(w.Value), exact(now)).hint("a reading holds for what was stated when it was learned: keep %s = %s, or learn again from it", w.Name, exact(w.Value))
			}
		}
	}
	return nil
}

// sameStated says whether two stated values are the same but for rounding.
func sameStated(a, b float64) bool { return math.Abs(a-b) <= 1e-5*math.Abs(b) }

// readingsToml writes them.
func readingsToml(b *strings.Builder, ks []thermal.Taught) {
	for _, k := range ks {
		fmt.Fprintf(b, "\n[[reading]]\ntext = %s\nrim = %s\npads = %s\n", tomlText(k.Text), tomlText(k.RimID), tomlText(k.PadID))
		for _, t := range []struct {
			key, about string
			v          []thermal.Named
		}{
			{"mean", "moved by so many standard deviations of its spread", k.Mean},
			{"along", "narrowed in this direction, all of it for a length of 1", k.Along},
			{"figures", "with these spreads", k.Figures},
			{"with", "and these values stated", k.With},
		} {
			var parts []string
			for _, n := range t.v {
				parts = append(parts, fmt.Sprintf("%s = %s", n.Name, tomlNumber(n.Value)))
			}
			fmt.Fprintf(b, "# %s\n%s = { %s }\n", t.about, t.key, strings.Join(parts, ", "))
		}
	}
}

// tomlNumber writes a number to six digits.
func tomlNumber(v float64) string {
	s := fmt.Sprintf("%.6g", v)
	if !strings.ContainsAny(s, ".e") {
		s += ".0"
	}
	return s
}

// tomlText quotes a text for TOML.
func tomlText(s string) string {
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(clean(s)) + `"`
}
