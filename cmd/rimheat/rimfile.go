package main

import (
	"errors"
	"path/filepath"
	"strings"

	"rimheat/thermal"
	"rimheat/thermal/rim"
)

// maxRimBytes bounds a rim file; a full one has under 1 kB.
const maxRimBytes = 1 << 20

// rimFor looks up a built-in rim or reads a rim file. where says in messages
// who named it.
func rimFor(where, name string) (rim.Section, error) {
	if !isRimFile(name) {
		sec, found := thermal.RimByID(name)
		if !found {
			return sec, notOneOf(where, "rim", name, rimIDs()).hint("a rim of your own is a file whose name ends in .toml")
		}
		return sec, nil
	}
	text, err := readRigFile(where, name, maxRimBytes)
	if err != nil {
		return rim.Section{}, err
	}
	sec, err := rim.ParseFile(name, text)
	if all := (rim.FileErrors)(nil); errors.As(err, &all) {
		return sec, rimFileFailure(name, all)
	}
	return sec, err
}

// rimFileFailure tells everything that is wrong in a rim file.
func rimFileFailure(name string, all rim.FileErrors) *failure {
	if len(all) == 1 {
		f := badInput("%s", all[0])
		if all[0].Do != "" {
			f.hint("%s", all[0].Do)
		}
		return f
	}
	f := badInput("%s: %d mistakes", name, len(all))
	for _, bad := range all {
		do := bad.Do
		if do != "" {
			do = "; " + do
		}
		f.hint("%s%s", bad, do)
	}
	return f
}

// rimPath is where a candidate named in the layer is looked for: a rim file in a
// setup file stands beside it.
func (l *layer) rimPath(name string) string {
	if l.dir == "" || !isRimFile(name) || filepath.IsAbs(name) {
		return name
	}
	return filepath.Join(l.dir, name)
}

// isRimFile tells a file from an identifier.
func isRimFile(name string) bool { return strings.EqualFold(filepath.Ext(name), ".toml") }
