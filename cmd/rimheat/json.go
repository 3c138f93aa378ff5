package main

import (
	"bytes"
	"encoding/json"

	"rimheat/thermal"
)

// assessmentJSON is the assessment for machines: indented, lists never null,
// SI units except °C. A number that is not finite is an error.
func assessmentJSON(a *thermal.Assessment) ([]byte, error) {
	return indented(withoutNulls(*a))
}

// indented writes any value as JSON that ends in a line end.
func indented(v any) ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	if err := e.Encode(v); err != nil {
		return nil, failed("the result cannot be written as JSON: %s", err).hint("without --json the result is printed as text")
	}
	return b.Bytes(), nil
}

// withoutNulls gives a copy whose empty lists are lists.
func withoutNulls(a thermal.Assessment) thermal.Assessment {
	a.Route.Repairs = list(a.Route.Repairs)
	a.Setup.Assumed = list(a.Setup.Assumed)
	a.Descents = list(a.Descents)
	a.Cautions = list(a.Cautions)
	a.Rims = append([]thermal.RimResult{}, a.Rims...)
	for i := range a.Rims {
		r := &a.Rims[i]
		r.Over = list(r.Over)
		r.Descents, r.Soak = list(r.Descents), list(r.Soak)
		r.Limits = append([]thermal.LimitResult{}, r.Limits...)
		for k := range r.Limits {
			r.Limits[k].Over = list(r.Limits[k].Over)
		}
	}
	return a
}

func list[T any](s []T) []T {
	if s == nil {
		return []T{}
	}
	return s
}
