package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/pelletier/go-toml/v2"
	"github.com/pelletier/go-toml/v2/unstable"

	"rimheat/thermal"
)

// maxSetupBytes is the greatest size of a setup file; a full one has under
// 2 kB.
const maxSetupBytes = 1 << 20

// textInputs lists the inputs that are words.
func textInputs() []string {
	return []string{startName, "pads", "tyre-side", "style", "brake-habit", "track"}
}

// commandLineOnly lists the flags that a setup file cannot hold.
func commandLineOnly() []string {
	names := []string{"setup", "json", "changes", "strict", titleName, noteName, heightsName, smoothName, "raw-heights", "replay", samplesName, seedName, "full"}
	for _, p := range products() {
		names = append(names, p.flag)
	}
	return names
}

// readSetupFile reads a TOML file whose keys are names of flags:
//
//	rider-kg = 78
//	rim = ["carbon-deep", "alu-deep"]
//	[rim-limit]
//	carbon-deep = 160
//
// Values are metric unless the file says imperial = true.
func readSetupFile(path string) (*layer, error) {
	text, err := readSmall(path)
	if err != nil {
		return nil, err
	}
	return parseSetup(path, text)
}

// parseSetup reads the text of a setup file; path is for messages.
func parseSetup(path string, text []byte) (*layer, error) {
	text = bytes.TrimPrefix(text, []byte("\xef\xbb\xbf"))
	values := map[string]any{}
	if err := toml.Unmarshal(text, &values); err != nil {
		return nil, tomlFailure(path, err)
	}
	lines, err := keyLines(text)
	if err != nil {
		return nil, badInput("%s: %s", path, err)
	}
	l := newFlagLayer()
	l.dir = filepath.Dir(path)
	l.where = func(name string) string { return fmt.Sprintf("%s:%d: %s", path, lines[name], name) }
	keys := slices.SortedFunc(maps.Keys(values), func(a, b string) int {
		if lines[a] != lines[b] {
			return lines[a] - lines[b]
		}
		return strings.Compare(a, b)
	})
	for _, key := range keys {
		if err := l.take(key, values[key], lines); err != nil {
			return nil, err
		}
	}
	return l, nil
}

func readSmall(path string) ([]byte, error) {
	if path == "" {
		return nil, badInput("--setup: the value is empty")
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, badInput("--setup %s: %s", path, reason(err))
	}
	defer f.Close()
	text, err := io.ReadAll(io.LimitReader(f, maxSetupBytes+1))
	switch {
	case err != nil:
		return nil, badInput("--setup %s: %s", path, reason(err))
	case len(text) > maxSetupBytes:
		return nil, badInput("--setup %s: larger than 1 MiB, this is no setup file", path)
	}
	return text, nil
}

// take puts one key of the file into the layer.
func (l *layer) take(key string, value any, lines map[string]int) error {
	for _, n := range numbers() {
		if key == n.name {
			return l.takeNumber(key, value, func(v float64) { l.numbers[key] = v })
		}
	}
	switch {
	case slices.Contains(textInputs(), key):
		s, ok := value.(string)
		if key == "track" && !ok {
			// A track may be named by its number.
			if i, isInt := value.(int64); isInt {
				s, ok = fmt.Sprint(i), true
			}
		}
		if !ok || s == "" {
			return badInput("%s: wants a text in quotes", l.where(key))
		}
		l.texts[key] = s
	case key == "rim":
		return l.takeRims(value)
	case key == "rim-limit":
		return l.takeLimits(value, lines)
	case key == stopName:
		return l.takeStops(value)
	case key == "spread":
		return l.takeSpreads(value, lines)
	case key == "reading":
		return l.takeReadings(value)
	case key == "imperial":
		b, ok := value.(bool)
		if !ok {
			return badInput("%s: wants true or false", l.where(key))
		}
		l.imperial = b
	case slices.Contains(commandLineOnly(), key):
		return badInput("%s: belongs on the command line, as --%s", l.where(key), key)
	default:
		return unknownKey(l.where(key), key)
	}
	return nil
}

func (l *layer) takeNumber(key string, value any, put func(float64)) error {
	switch v := value.(type) {
	case float64:
		put(v)
	case int64:
		put(float64(v))
	default:
		return badInput("%s: wants a number", l.where(key))
	}
	return nil
}

func (l *layer) takeRims(value any) error {
	wrong := badInput("%s: wants a list of texts", l.where("rim")).hint(`for example rim = ["carbon-deep", "alu-deep"]`)
	list, ok := value.([]any)
	if !ok || len(list) == 0 {
		return wrong
	}
	for _, v := range list {
		s, ok := v.(string)
		if !ok || s == "" {
			return wrong
		}
		l.rims = append(l.rims, s)
	}
	return nil
}

func (l *layer) takeLimits(value any, lines map[string]int) error {
	table, ok := value.(map[string]any)
	if !ok {
		return badInput("%s: wants a table of rims", l.where("rim-limit")).hint("for example rim-limit.carbon-deep = 160")
	}
	for _, id := range slices.Sorted(maps.Keys(table)) {
		key := "rim-limit." + id
		if lines[key] == 0 { // an inline table has one line for all
			lines[key] = lines["rim-limit"]
		}
		err := l.takeNumber(key, table[id], func(v float64) {
			l.limits = append(l.limits, rimLimit{rim: id, value: v, where: l.where(key)})
		})
		if err != nil {
			return err
		}
	}
	return nil
}

// takeSpreads takes the figures of uncertain inputs; they are metric always.
func (l *layer) takeSpreads(value any, lines map[string]int) error {
	table, ok := value.(map[string]any)
	if !ok {
		return badInput("%s: wants a table of uncertain inputs", l.where("spread")).hint("for example spread.air-temp = 2")
	}
	inputs := thermal.UncertainInputs()
	for _, id := range slices.Sorted(maps.Keys(table)) {
		key := "spread." + id
		if lines[key] == 0 { // an inline table has one line for all
			lines[key] = lines["spread"]
		}
		i := slices.IndexFunc(inputs, func(u thermal.Uncertain) bool { return u.ID == id })
		if i < 0 {
			var ids []string
			for _, u := range inputs {
				ids = append(ids, u.ID)
			}
			f := badInput("%s: no uncertain input is called %s", l.where(key), quoted(id))
			if near := nearest(id, ids); len(near) > 0 {
				return f.hint("did you mean %s?", either(near))
			}
			return f.hint("they are %s", listed(ids))
		}
		if err := l.takeNumber(key, table[id], func(v float64) { l.spreads[id] = v }); err != nil {
			return err
		}
		if lo, hi := inputs[i].Bounds(); !(l.spreads[id] >= lo && l.spreads[id] <= hi) {
			return badInput("%s %s: outside %s to %s", l.where(key), exact(l.spreads[id]), exact(lo), exact(hi)).hint("%s", spreadHint(inputs[i]))
		}
	}
	return nil
}

// spreadHint says what the figure of an uncertain input means.
func spreadHint(u thermal.Uncertain) string {
	switch u.Kind {
	case thermal.ByFactor:
		return "nineteen in twenty lie within the value times or divided by it; 1 means certain"
	case thermal.ByRange:
		return "the part of the range in the tables of parts; 0 means certain"
	}
	unit := u.Unit
	if unit == "1" {
		unit = "parts of the braking"
	}
	return "nineteen in twenty lie within the value plus or minus it, in " + unit + "; 0 means certain"
}

// unknownKey words a key that is no input.
func unknownKey(where, key string) *failure {
	names := append(inputNames(), startName, stopName, "rim-limit", "spread", "reading", "track", "imperial")
	f := badInput("%s: unknown key", where)
	if near := nearest(key, names); len(near) > 0 {
		return f.hint("did you mean %s?", either(near))
	}
	return f.hint("the keys are the names of the flags without dashes: rimheat assess --help lists them")
}

// tomlFailure words a file that is no TOML.
func tomlFailure(path string, err error) *failure {
	var d *toml.DecodeError
	if errors.As(err, &d) {
		line, _ := d.Position()
		return badInput("%s:%d: %s", path, line, strings.TrimPrefix(d.Error(), "toml: "))
	}
	return badInput("%s: %s", path, strings.TrimPrefix(err.Error(), "toml: "))
}

// keyLines gives the first line of each key and of each table header, by its
// dotted path.
func keyLines(text []byte) (map[string]int, error) {
	lines := map[string]int{}
	var (
		p      unstable.Parser
		prefix string
	)
	p.Reset(text)
	for p.NextExpression() {
		e := p.Expression()
		isKey := e.Kind == unstable.KeyValue
		if !isKey && e.Kind != unstable.Table && e.Kind != unstable.ArrayTable {
			continue
		}
		path := ""
		if isKey {
			path = prefix
		}
		for it := e.Key(); it.Next(); {
			if path != "" {
				path += "."
			}
			path += string(it.Node().Data)
			if lines[path] == 0 {
				lines[path] = p.Shape(it.Node().Raw).Start.Line
			}
		}
		if !isKey {
			prefix = path
		}
	}
	return lines, p.Error()
}
