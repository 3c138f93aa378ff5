package rim

import (
	"bytes"
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode"

	"rimheat/thermal/air"
)

// FileText writes a section as a rim file that ParseFile reads back.
func FileText(s Section) []byte {
	var b bytes.Buffer
	line := func(key, v string) { fmt.Fprintf(&b, "%s = %s\n", key, v) }
	number := func(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
	for _, t := range []struct{ key, v string }{{"name", s.Name}, {"kind", s.Kind}, {"shape", string(s.Geometry.Shape)}} {
		line(t.key, quoteTOML(t.v))
	}
	if _, ok := materialByID(s.Material.ID); ok {
		line("material", quoteTOML(s.Material.ID))
	} else {
		for _, n := range rimProperties() {
			line(n.key, number(*n.at(&s)))
		}
	}
	if s.ResinClass != "" {
		line("resin_class", quoteTOML(s.ResinClass))
	}
	for _, n := range rimLengths() {
		line(n.key, number(shifted(*n.at(&s), 3)))
	}
	if s.Surface.ThicknessM > 0 {
		line("surface_material", quoteTOML(s.Surface.Material.ID))
		line("surface_mm", number(shifted(s.Surface.ThicknessM, 3)))
		if r := s.Surface.BondM2KPerW; r > 0 {
			line("surface_bond_m2K_per_W", number(r))
		}
	}
	if s.HasFairing() {
		line("fairing_material", quoteTOML(s.Fairing.Material.ID))
		line("fairing_below_edge_mm", number(shifted(s.Fairing.BelowEdgeM, 3)))
		if r := s.Fairing.BondM2KPerW; r > 0 {
			line("fairing_bond_m2K_per_W", number(r))
		}
	}
	if s.MaxGaugePa != 0 {
		line("max_pressure_kPa", number(shifted(s.MaxGaugePa, -3)))
	}
	if s.MakerLimitK != 0 {
		line("limit_C", number(math.Round((s.MakerLimitK-air.ZeroCelsiusK)*1e6)/1e6))
	}
	return b.Bytes()
}

// shifted moves the decimal point, so that 25.6 mm and 0.0256 m are each
// other to the last bit.
func shifted(v float64, by int) float64 {
	mantissa, exponent, _ := strings.Cut(strconv.FormatFloat(v, 'e', -1, 64), "e")
	e, err := strconv.Atoi(exponent)
	if err != nil {
		return v // Inf and NaN have no point to move
	}
	out, _ := strconv.ParseFloat(fmt.Sprintf("%se%d", mantissa, e+by), 64)
	return out
}

// quoteTOML writes a basic string of TOML; control characters, which a name
// does not need and TOML escapes otherwise than Go, become blanks.
func quoteTOML(s string) string {
	clean := strings.Map(func(r rune) rune {
		if unicode.IsControl(r) {
			return ' '
		}
		return r
	}, strings.ToValidUTF8(s, ""))
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(clean) + `"`
}
