package main

import (
	"bytes"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"rimheat/plots"
	"rimheat/thermal"
)

// A figure is where --plot goes; the zero figure is none.
type figure struct {
	path, format string
}

// checkFigure refuses, before anything is computed, a file that could not be
// written later.
func checkFigure(path, routePath string) (figure, error) {
	format := strings.ToLower(strings.TrimPrefix(filepath.Ext(path), "."))
	if !slices.Contains(plots.Formats(), format) {
		return figure{}, badInput("--plot %s: the ending names no format", quoted(path)).hint("it must be .%s", strings.Join(plots.Formats(), ", ."))
	}
	if err := checkWritable(path); err != nil {
		return figure{}, badInput("--plot %s: %s", path, reason(err))
	}
	in, inErr := os.Stat(routePath)
	out, outErr := os.Stat(path)
	if inErr == nil && outErr == nil && os.SameFile(in, out) {
		return figure{}, badInput("--plot %s: this is the route file", path)
	}
	return figure{path, format}, nil
}

// draw gives the figure's bytes.
func (f figure) draw(a *thermal.Assessment, imperial bool) ([]byte, error) {
	var b bytes.Buffer
	if err := plots.Save(&b, f.format, a, plots.Options{Imperial: imperial}); err != nil {
		return nil, failed("--plot %s: %s", f.path, err)
	}
	return b.Bytes(), nil
}
