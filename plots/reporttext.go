package plots

import (
	"fmt"

	"rimheat/thermal"
)

// reportText is all that the handout says, in the order in which it is read.
type reportText struct {
	Title, Question string
	Facts           []string
	// Note is the shop's, paragraphs of lines.
	Note   [][]string
	Cards  []reportCard
	Advice string
	Terms  []reportItem
	// Descents and Crossings tell where on the route, Why what for.
	Descents       []reportTable
	Crossings, Why []string
	// Changes and Rests are what the outlook says, Ideas what is said without one.
	Changes      []reportTable
	Rests, Ideas []string
	OnTheRoad    []string
	Checks       []reportItem
	// Maker puts the rim's maker first.
	Maker    string
	Basis    []reportItem
	Cautions []string
}

// A reportItem is a word or a few and what is said of them.
type reportItem struct{ Name, Text string }

// A reportTable has a heading for each column; the first cell of a row heads it.
type reportTable struct {
	Caption string
	Head    []string
	Rows    [][]string
	// Numbers says that the cells are numbers, set to the right.
	Numbers bool
}

// question is what the handout answers.
const question = "Will the brakes overheat these wheels on this road?"

// text gathers all that is said.
func (r *reporter) text() reportText {
	t := reportText{
		Title: r.title(), Question: question, Facts: r.facts(), Advice: r.told(r.says().Advice), Terms: r.terms(),
		Descents: r.descentTables(), Crossings: r.crossings(), Why: r.why(),
		Checks: r.checks(),
		Basis:  r.basis(), Note: noteLines(r.opt.ShopNote, r.tf),
	}
	for i := range r.a.Rims {
		t.Cards = append(t.Cards, r.card(i))
	}
	if o := r.a.Outlook; o != nil {
		t.Changes, t.Rests = r.changeTables(o), r.rests(o)
	} else {
		t.Ideas = r.ideas()
	}
	t.OnTheRoad, t.Maker, t.Cautions = r.cautions()
	return t
}

// facts is the road and the ride in a line.
func (r *reporter) facts() []string {
	s, d := r.a.Setup, r.a.Route
	var out []string
	add := func(ok bool, text string) {
		if ok {
			out = append(out, text)
		}
	}
	add(d.DistanceM > 0 && finite(d.DistanceM), r.distance(d.DistanceM)+" long")
	add(finite(d.DropM), r.height(d.DropM)+" down in all")
	add(finite(d.HighestM), "highest point "+r.height(d.HighestM))
	add(s.TotalKg > 0 && finite(s.TotalKg), r.mass(s.TotalKg)+" with rider, bicycle and luggage"+r.ifAssumed("rider-kg", "bike-kg"))
	switch day := s.DayAir; {
	case day != nil:
		out = append(out, fmt.Sprintf("air %s to %s on the way, starting at %s", cell(r.u.temp(day.CoolestMetC), 0), r.temp(day.WarmestMetC), r.word(day.Start)))
	case finite(s.AirTempC):
		out = append(out, "air "+r.temp(s.AirTempC)+" at "+r.height(s.AtHeightM)+r.ifAssumed("air-temp"))
	}
	return out
}

// ifAssumed says so if nobody gave one of the inputs.
func (r *reporter) ifAssumed(inputs ...string) string {
	for _, in := range inputs {
		if r.assumed(in) {
			return " (assumed)"
		}
	}
	return ""
}

// terms explains the words of the trade, once.
func (r *reporter) terms() []reportItem {
	out := []reportItem{
		{"Brake track", "the side of the rim that the pads rub on"},
		{"Tyre side", "where tube, tape or tyre touch the rim"},
		{"Limit", "what a part is taken to bear; assumed, within a range, where its maker's figure is not known"},
	}
	if !r.u.imperial {
		out = append(out, reportItem{"K (kelvin)", "one degree Celsius of difference"})
	}
	out = append(out, reportItem{"Central estimate", "all at its middle value"})
	return append(out, reportItem{"Draws", r.varied()})
}

// varied says what the draws are and what was drawn.
func (r *reporter) varied() string {
	d := r.a.Sampling
	if d == nil {
		return "none were made: these are central estimates alone"
	}
	var parts []string
	for _, in := range d.Inputs {
		if s := r.word(in.Name); s != "" {
			parts = append(parts, s)
		}
	}
	what := ""
	if len(parts) > 0 {
		what = " (" + listed(parts) + ")"
	}
	return fmt.Sprintf("the ride computed %s times (seed %d) with what nobody knows exactly varied%s; other ranges in brackets hold nine of ten", samples(d), d.Seed, what)
}

// samples says how many draws there are, "" for none.
func samples(d *thermal.SamplingSummary) string {
	if d == nil {
		return ""
	}
	return cell(float64(d.Samples), 0)
}
