package plots

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"rimheat/thermal"
)

// Options sets how a figure reads.
type Options struct {
	// Imperial gives miles, feet and °F instead of kilometres, metres and °C.
	Imperial bool
	// bare leaves away what the page says that the figure is a part of: title,
	// verdicts and the remarks at the foot.
	bare bool
}

// Formats lists the formats that Save knows. The slice is the caller's own.
func Formats() []string { return []string{"png", "svg", "pdf"} }

// Save draws the assessment and writes the figure to w in the named format,
// one of Formats. The figure is 7.5 inches wide and about 8.5 high, higher with many
// rims; a PNG is 1200 pixels wide. Nothing is written unless the whole figure could be
// drawn. It is an error if the assessment has no
// trace of at least two places or no rim.
func Save(w io.Writer, format string, a *thermal.Assessment, opt Options) error {
	if a == nil {
		return errors.New("no assessment to draw a figure of")
	}
	return save(w, format, func(tf *typeface) (*scene, error) { return compose(a, opt, tf) })
}

// save composes a scene and writes it to w in the named format, one of Formats.
func save(w io.Writer, format string, compose func(*typeface) (*scene, error)) error {
	if !slices.Contains(Formats(), format) {
		return fmt.Errorf("figure format %q is none of %s", format, strings.Join(Formats(), ", "))
	}
	tf, err := newTypeface(format == "svg")
	if err != nil {
		return err
	}
	sc, err := compose(tf)
	if err != nil {
		return err
	}
	return write(w, format, sc, tf)
}

// write paints a scene in the format and hands it on whole.
func write(w io.Writer, format string, sc *scene, tf *typeface) error {
	var buf bytes.Buffer
	var err error
	switch format {
	case "png":
		err = paintPNG(&buf, sc, tf)
	case "svg":
		err = paintSVG(&buf, sc)
	case "pdf":
		err = paintPDF(&buf, sc)
	}
	if err != nil {
		return fmt.Errorf("draw figure as %s: %w", format, err)
	}
	_, err = w.Write(buf.Bytes())
	return err
}
