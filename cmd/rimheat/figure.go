package main

import (
	"bytes"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"rimheat/plots"
)

// A figure is where a flag's figure goes; the zero figure is none.
type figure struct {
	flag, path, format string
}

// checkFigure refuses, before anything is computed, a file that could not be
// written later. No path gives no figure.
func checkFigure(flag, path, routePath string) (figure, error) {
	if path == "" {
		return figure{}, nil
	}
	format := strings.ToLower(strings.TrimPrefix(filepath.Ext(path), "."))
	if !slices.Contains(plots.Formats(), format) {
		return figure{}, badInput("--%s %s: the ending names no format", flag, quoted(path)).hint("it must be .%s", strings.Join(plots.Formats(), ", ."))
	}
	if err := checkWritable(path); err != nil {
		return figure{}, badInput("--%s %s: %s", flag, path, reason(err))
	}
	in, inErr := os.Stat(routePath)
	out, outErr := os.Stat(path)
	if inErr == nil && outErr == nil && os.SameFile(in, out) {
		return figure{}, badInput("--%s %s: this is the route file", flag, path)
	}
	return figure{flag, path, format}, nil
}

// bytes gives the figure's bytes as save draws it.
func (f figure) bytes(save func(w io.Writer, format string) error) ([]byte, error) {
	var b bytes.Buffer
	if err := save(&b, f.format); err != nil {
		return nil, failed("--%s %s: %s", f.flag, f.path, err)
	}
	return b.Bytes(), nil
}

// write puts the figure into its file.
func (f figure) write(data []byte) error {
	if err := writeFile(f.path, data); err != nil {
		return failed("--%s %s: %s", f.flag, f.path, reason(err))
	}
	return nil
}
