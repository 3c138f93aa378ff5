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
		b.WriteString("# A skin on the tracks: surface_material and surface_mm. A lower part of another\n")
		b.WriteString("# material: fairing_material and fairing_below_edge_mm, where it begins. What bonds\n")
		b.WriteString("# them: surface_bond_m2K_per_W, fairing_bond_m2K_per_W. resin_class: rimheat parts.\n")
		b.Write(rim.FileText(r))
	}
	return b.Bytes()
}
