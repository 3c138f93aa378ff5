package main

import (
	"bytes"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// A wanted is a flag that may name a file to be written.
type wanted struct {
	flag, path string
	// endings that the file may have, nil for any.
	endings []string
}

// An output is a file that a flag names; format is its ending in lower case.
type output struct{ flag, path, format string }

// outputsOf lists the files to be written. It refuses, before anything is computed, one
// that could not be written later, that two flags name, or that is one of the inputs;
// inputAt says which of them a path is, "" for none.
func outputsOf(all []wanted, inputAt func(path string) string) ([]output, error) {
	var out []output
	for _, w := range all {
		if w.path == "" {
			continue
		}
		format := strings.ToLower(strings.TrimPrefix(filepath.Ext(w.path), "."))
		if w.path == "-" {
			return nil, badInput("--%s -: it is written to a file, not to standard output", w.flag).hint("name a file; --json goes to standard output")
		}
		if w.endings != nil && !slices.Contains(w.endings, format) {
			return nil, badInput("--%s %s: the ending names no format", w.flag, quoted(w.path)).hint("it must be .%s", strings.Join(w.endings, ", ."))
		}
		if err := checkWritable(w.path); err != nil {
			return nil, badInput("--%s %s: %s", w.flag, w.path, reason(err))
		}
		for _, other := range out {
			if sameFile(other.path, w.path) {
				return nil, badInput("--%s and --%s name the same file", other.flag, w.flag).hint("give each its own")
			}
		}
		if what := inputAt(w.path); what != "" {
			return nil, badInput("--%s %s: this is %s", w.flag, w.path, what)
		}
		out = append(out, output{w.flag, w.path, format})
	}
	return out, nil
}

// bytes gives what save writes.
func (f output) bytes(save func(w io.Writer, format string) error) ([]byte, error) {
	var b bytes.Buffer
	if err := save(&b, f.format); err != nil {
		return nil, failed("--%s %s: %s", f.flag, f.path, err)
	}
	return b.Bytes(), nil
}

// write puts the file in place, whole or not at all.
func (f output) write(data []byte) error {
	if err := writeFile(f.path, data); err != nil {
		return failed("--%s %s: %s", f.flag, f.path, reason(err))
	}
	return nil
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

// inputAt says which of the order's input files a path is, "" for none.
func (o order) inputAt(path string) string {
	if o.routePath != "-" && sameFile(o.routePath, path) {
		return "the route file"
	}
	if setup := o.inputs.flags.texts["setup"]; setup != "" && sameFile(setup, path) {
		return "the setup file"
	}
	for _, l := range o.inputs.layers() {
		for _, name := range l.rims {
			if isRimFile(name) && sameFile(l.rimPath(name), path) {
				return "the rim file"
			}
		}
	}
	return ""
}
