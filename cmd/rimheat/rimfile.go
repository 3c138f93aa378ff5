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
	text, err := readRigFile("rim", name, maxRimBytes)
	if err != nil {
		return rim.Section{}, err
	}
	sec, err := thermal.ParseRim(name, text)
	if bad := (*thermal.RimFileError)(nil); errors.As(err, &bad) {
		f := badInput("%s", bad)
		if bad.Do != "" {
			f.hint("%s", bad.Do)
		}
		return sec, f
	}
	return sec, err
}

// isRimFile tells a file from an identifier.
func isRimFile(name string) bool { return strings.EqualFold(filepath.Ext(name), ".toml") }
