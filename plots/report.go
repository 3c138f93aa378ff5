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

// ReportOptions sets how the handout reads.
type ReportOptions struct {
	Options
	// Title stands over the handout, "" for the route's name.
	Title string
	// ShopNote is what a shop adds in its own words, its lines kept as they are;
	// "" for none.
	ShopNote string
}

// ReportFormats lists the formats that SaveReport knows. The slice is the
// caller's own.
func ReportFormats() []string { return []string{"html", "pdf"} }

// SaveReport writes the handout of an assessment to w in the named format, one of
// ReportFormats. "html" is a page in plain words for whoever rides, one file that
// fetches and runs nothing, made for a telephone's screen and for two pages of A4
// or Letter. "pdf" is the same answer with the whole figures on pages, A4 or with
// Imperial Letter. A figure that cannot be drawn is left out and the page says so.
// Nothing is written unless the whole handout could be made. It is an error if
// the assessment has no rim.
func SaveReport(w io.Writer, format string, a *thermal.Assessment, opt ReportOptions) error {
	switch {
	case !slices.Contains(ReportFormats(), format):
		return fmt.Errorf("report format %q is none of %s", format, strings.Join(ReportFormats(), ", "))
	case a == nil:
		return errors.New("no assessment to write a report of")
	case len(a.Rims) == 0:
		return errors.New("the assessment has no rim to report on")
	}
	tf, err := newTypeface(format == "html")
	if err != nil {
		return err
	}
	r := newReporter(a, opt, tf)
	var buf bytes.Buffer
	if format == "html" {
		err = r.html(&buf)
	} else {
		err = r.pdf(&buf)
	}
	if err != nil {
		return fmt.Errorf("write the report as %s: %w", format, err)
	}
	_, err = w.Write(buf.Bytes())
	return err
}

// A reporter puts one assessment into words. It converts units and computes
// nothing.
type reporter struct {
	a   *thermal.Assessment
	opt ReportOptions
	u   units
	tf  *typeface
	// names are the rims' names as they can be shown.
	names []string
}

func newReporter(a *thermal.Assessment, opt ReportOptions, tf *typeface) *reporter {
	if clean(opt.Title) != "" {
		// Figures are headed like the page.
		titled := *a
		titled.Route.Name = opt.Title
		a = &titled
	}
	r := &reporter{a: a, opt: opt, u: units{imperial: opt.Imperial}, tf: tf}
	for i := range a.Rims {
		r.names = append(r.names, shortened(tf.rimName(&a.Rims[i], i)))
	}
	return r
}

// title is the handout's: the one given, else the route's name.
func (r *reporter) title() string {
	return shortened(r.tf.routeName(r.a.Route.Name))
}

// tag is the letter of a rim; with a single rim, which has none, "".
func (r *reporter) tag(i int) string { return tagOf(i, len(r.a.Rims)) }

// called is how sentences name a rim: by its letter where there is one.
func (r *reporter) called(i int) string {
	if t := r.tag(i); t != "" {
		return t
	}
	return "the rim"
}

// says is the advice and the cautions in the reader's units.
func (r *reporter) says() thermal.Words {
	if r.opt.Imperial {
		return r.a.Imperial
	}
	return thermal.Words{Advice: r.a.Advice, Cautions: r.a.Cautions}
}
