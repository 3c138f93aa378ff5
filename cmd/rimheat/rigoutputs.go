package main

import "rimheat/plots"

// outputs lists the files that the rig's flags name.
func (o rigOrder) outputs() ([]output, error) {
	texts := o.flags.texts
	return outputsOf([]wanted{
		{"csv", texts["csv"], nil}, {"plot", texts["plot"], plots.Formats()}, {"film-curve", texts["film-curve"], curveFormats()},
	}, o.inputAt)
}

// inputAt says which of the input files a path is, if any.
func (o rigOrder) inputAt(path string) string {
	if duty := o.flags.texts["duty"]; duty != "" && sameFile(duty, path) {
		return "the duty file"
	}
	for _, name := range o.flags.rims {
		if isRimFile(name) && sameFile(name, path) {
			return "the rim file"
		}
	}
	return ""
}
