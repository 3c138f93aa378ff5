package main

import (
	"os"
	"path/filepath"
	"slices"
	"strings"

	"rimheat/plots"
)

// A rigOutput is a file that a flag of the rig names.
type rigOutput struct{ flag, path, format string }

// outputs lists the files to be written. It refuses, before anything is
// computed, one that could not be written later, that is one of the inputs or
// that two flags name.
func (o rigOrder) outputs() ([]rigOutput, error) {
	var out []rigOutput
	for _, c := range []struct {
		flag    string
		formats []string // nil takes any ending
	}{{"csv", nil}, {"plot", plots.Formats()}, {"film-curve", curveFormats()}} {
		path := o.flags.texts[c.flag]
		if path == "" {
			continue
		}
		format := strings.ToLower(strings.TrimPrefix(filepath.Ext(path), "."))
		if path == "-" {
			return nil, badInput("--%s -: it is written to a file, not to standard output", c.flag).hint("for example --%s RIG.csv; --json goes to standard output", c.flag)
		}
		if c.formats != nil && !slices.Contains(c.formats, format) {
			return nil, badInput("--%s %s: the ending names no format", c.flag, quoted(path)).hint("it must be .%s", strings.Join(c.formats, ", ."))
		}
		if err := checkWritable(path); err != nil {
			return nil, badInput("--%s %s: %s", c.flag, path, reason(err))
		}
		for _, other := range out {
			if sameFile(other.path, path) {
				return nil, badInput("--%s and --%s name the same file", other.flag, c.flag).hint("give each its own")
			}
		}
		if what := o.inputAt(path); what != "" {
			return nil, badInput("--%s %s: this is %s", c.flag, path, what)
		}
		out = append(out, rigOutput{c.flag, path, format})
	}
	return out, nil
}

// inputAt says which of the input files a path is, if any.
func (o rigOrder) inputAt(path string) string {
	if duty := o.flags.texts["duty"]; duty != "" && sameFile(duty, path) {
		return "the duty file"
	}
	for _, name := range o.flags.rims {
		if isRimFile(name) && sameFile(name, path) {
			return "the rim file"
		}
	}
	return ""
}

// sameFile tells whether two names are of one file, which need not be there
// yet: then they are the same name in the same folder, however the folder is
// spelt. A link that leads nowhere is replaced when it is written to, so it
// counts by its own name.
func sameFile(a, b string) bool {
	sa, errA := os.Stat(a)
	sb, errB := os.Stat(b)
	if errA == nil && errB == nil {
		return os.SameFile(sa, sb)
	}
	if (errA == nil) != (errB == nil) {
		return false
	}
	da, errA := os.Stat(filepath.Dir(a))
	db, errB := os.Stat(filepath.Dir(b))
	return errA == nil && errB == nil && os.SameFile(da, db) && filepath.Base(a) == filepath.Base(b)
}

// write puts the files in place, each whole or not at all.
func (f rigOutput) write(data []byte) error {
	if err := writeFile(f.path, data); err != nil {
		return failed("--%s %s: %s", f.flag, f.path, reason(err))
	}
	return nil
}
