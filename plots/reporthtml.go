package plots

import (
	_ "embed" // for the page
	"html/template"
	"io"
	"regexp"
	"strings"
)

//go:embed report.tmpl
var reportTemplate string

//go:embed report.css
var reportStyle string

// A reportPage is what the template shows.
type reportPage struct {
	reportText
	Style                       template.CSS
	Descent, Sections, RouteMap pageFigure
	Cards                       []pageCard
	// LongNote notes take the whole width of a printed page.
	LongNote bool
	// Many cards are set closer.
	Many bool
}

// A pageFigure is a picture as the page holds it.
type pageFigure struct {
	SVG              template.HTML
	Caption, Missing string
}

// A pageCard is the answer for a rim with its signs.
type pageCard struct {
	reportCard
	Symbol, Mark template.HTML
}

// html writes the page.
func (r *reporter) html(w io.Writer) error {
	t, err := template.New("report").Funcs(template.FuncMap{"prose": prose, "plain": withoutMarks}).Parse(reportTemplate)
	if err != nil {
		return err
	}
	p := reportPage{
		reportText: r.text(), Style: template.CSS(reportStyle),
		Descent: onPage(r.descentFigure(true)), Sections: onPage(r.sectionFigure(true)), RouteMap: onPage(r.mapFigure(true)),
	}
	p.Many = r.many()
	p.LongNote = noteLength(p.Note) > longNote
	for _, c := range p.reportText.Cards {
		p.Cards = append(p.Cards, pageCard{c, template.HTML(icon(symbolShapes(c.Rim))), template.HTML(icon(markOf(c.Verdict)))})
	}
	return t.Execute(w, p)
}

// onPage makes a picture a part of the page. The painter has escaped all text
// in it.
func onPage(f reportFigure) pageFigure {
	if f.sc == nil {
		return pageFigure{Missing: f.missing}
	}
	svg := svgPicture{sc: f.sc, title: f.title, about: f.about, prefix: f.id, inline: true}.bytes()
	return pageFigure{SVG: template.HTML(svg), Caption: f.caption}
}

// numberUnit finds a number and its unit, and a place's name and its number, which
// a line must not end between.
var numberUnit = regexp.MustCompile(`(\d) ((?:°C|°F|%)|(?:K|km/h|mph|km|mi|mm|m|ft|kg|lb|kJ|bar|psi|min|s|h|W|g)\b)|\b(km|mile|CdA|Crr) (\d)`)

// flagName finds the name of a flag, which a line must not end inside.
var flagName = regexp.MustCompile(`--[a-z]+(?:-[a-z]+)*`)

// tie is the blank that no line ends at.
const tie = "\u00a0"

// tied ties numbers to their units, untied takes that back.
func tied(s string) string   { return numberUnit.ReplaceAllString(s, "$1$3"+tie+"$2$4") }
func untied(s string) string { return strings.ReplaceAll(s, tie, " ") }

// prose sets a sentence: text is escaped, names are kept from turning the rest
// about, and numbers are tied to their units.
func prose(s string) template.HTML {
	s = flagName.ReplaceAllString(template.HTMLEscapeString(tied(s)), `<span class="flag">$0</span>`)
	return template.HTML(strings.NewReplacer(isolate, "<bdi>", endIsolate, "</bdi>").Replace(s))
}
