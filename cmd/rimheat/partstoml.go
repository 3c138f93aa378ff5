package main

import (
	"bytes"
	"fmt"

	"rimheat/thermal/rim"
)

// rimFileText writes one rim as a rim file to start one's own from.
func (p parts) rimFileText() []byte {
	var b bytes.Buffer
	for _, r := range p.rims {
		fmt.Fprintf(&b, "# %s, %s.\n", r.Name, r.Source)
		b.WriteString("# Lengths in mm. limit_C = N, in °C, adds the limit that the rim's maker gives.\n")
		b.Write(rim.FileText(r))
	}
	return b.Bytes()
}
