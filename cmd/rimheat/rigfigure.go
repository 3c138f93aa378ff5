package main

import (
	"bytes"

	"rimheat/plots"
	"rimheat/thermal"
)

// drawBench gives the bytes of a bench run's figure.
func (f rigOutput) drawBench(r *thermal.BenchResult) ([]byte, error) {
	var b bytes.Buffer
	if err := plots.SaveBench(&b, f.format, r); err != nil {
		return nil, failed("--%s %s: %s", f.flag, f.path, err)
	}
	return b.Bytes(), nil
}
