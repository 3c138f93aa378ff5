package main

import (
	"io"

	"rimheat/plots"
	"rimheat/route"
	"rimheat/thermal"
)

// A product is a file that assess can make of an assessment.
type product struct {
	flag, help string
	// endings that its file may have, nil for any.
	endings []string
	// draws says that there is nothing to show without draws, outlook that it shows
	// what would change the answer.
	draws, outlook bool
	save           func(w io.Writer, format string, m made) error
}

// made is what products are made of.
type made struct {
	a       *thermal.Assessment
	profile *route.Profile
	opt     plots.Options
	// title and note are the shop's own words for the report.
	title, note string
}

// reasonsName, reportName, titleName and noteName are flags.
const reasonsName, reportName, titleName, noteName = "reasons", "report", "title", "shop-note"

// products lists what assess can make, in the order of its help.
func products() []product {
	drawn := func(save func(io.Writer, string, *thermal.Assessment, plots.Options) error) func(io.Writer, string, made) error {
		return func(w io.Writer, format string, m made) error { return save(w, format, m.a, m.opt) }
	}
	return []product{
		{flag: reportName, help: "write a page for a customer, or all figures on pages", endings: plots.ReportFormats(), outlook: true, save: func(w io.Writer, format string, m made) error {
			return plots.SaveReport(w, format, m.a, plots.ReportOptions{Options: m.opt, Title: m.title, ShopNote: m.note})
		}},
		{flag: "plot", help: "draw temperature, height and grade along the route", endings: plots.Formats(), save: drawn(plots.Save)},
		{flag: "map", help: "draw the route from above by temperature, for the rim that is worst placed", endings: plots.Formats(), outlook: true, save: drawn(plots.SaveRouteMap)},
		{flag: "section", help: "draw the rims cut through when their brake tracks are hottest", endings: plots.Formats(), save: drawn(plots.SaveSections)},
		{flag: "energy", help: "draw where the energy of each descent went", endings: plots.Formats(), save: drawn(plots.SaveEnergy)},
		{flag: reasonsName, help: "draw on what the answer hangs", endings: plots.Formats(), draws: true, save: drawn(plots.SaveReasons)},
		{flag: "gpx-out", help: "write the route with waypoints: limits, hottest places, stops, descents", endings: []string{"gpx"}, outlook: true, save: func(w io.Writer, _ string, m made) error { return plots.SaveGPX(w, m.a, m.profile.Track, m.opt) }},
		{flag: "csv", help: "write the history along the route as a table, metric always", endings: []string{"csv"}, save: func(w io.Writer, _ string, m made) error { return plots.SaveHistory(w, m.a, m.opt) }},
	}
}

// ordered is a product that the order asks for.
type ordered struct {
	product
	to output
}

// products lists what the order asks to make. A setup whose products show what would
// change the answer is told to find that out.
func (o order) products(setup *thermal.Setup) ([]ordered, error) {
	texts := o.inputs.flags.texts
	var all []wanted
	for _, p := range products() {
		all = append(all, wanted{p.flag, texts[p.flag], p.endings})
	}
	files, err := outputsOf(all, o.inputAt)
	if err != nil {
		return nil, err
	}
	setup.Outlook = o.changes
	var out []ordered
	for _, f := range files {
		for _, p := range products() {
			if p.flag == f.flag {
				out = append(out, ordered{p, f})
				setup.Outlook = setup.Outlook || p.outlook
				if p.draws && setup.Sampling.Samples == 0 {
					return nil, badInput("--%s: nothing is drawn with --%s 0", p.flag, samplesName)
				}
			}
		}
	}
	for _, name := range []string{titleName, noteName} {
		if _, given := texts[name]; given && texts[reportName] == "" {
			return nil, badInput("--%s: it belongs to a report", name).hint("add --%s FILE.html", reportName)
		}
	}
	return out, nil
}
