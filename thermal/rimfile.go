package thermal

import (
	"bytes"
	"errors"
	"fmt"
	"maps"
	"math"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"github.com/pelletier/go-toml/v2"
	"github.com/pelletier/go-toml/v2/unstable"

	"rimheat/thermal/air"
	"rimheat/thermal/rim"
)

// GivenByUser marks a number that stands in a rim file or on the command line.
const GivenByUser rim.Basis = "given by the user"

// A RimFileError says what is wrong where in a rim file, and what to do.
// Line is 0 where something is missing.
type RimFileError struct {
	File          string
	Line          int
	Key, What, Do string
}

func (e *RimFileError) Error() string {
	s := e.File
	if e.Line > 0 {
		s += ":" + strconv.Itoa(e.Line)
	}
	if e.Key != "" {
		s += ": " + e.Key
	}
	return s + ": " + e.What
}

// A rimNumber is a numeric key of a rim file.
type rimNumber struct {
	key, unit string
	// lo and hi bound the value in unit, as rim.Section.Validate does.
	lo, hi float64
	at     func(*rim.Section) *float64
}

// rimLengths lists the lengths, millimetres in the file; all must be there.
func rimLengths() []rimNumber {
	return []rimNumber{
		{"outer_width_mm", "mm", 10, 60, func(s *rim.Section) *float64 { return &s.Geometry.OuterWidthM }},
		{"inner_width_mm", "mm", 5, 59, func(s *rim.Section) *float64 { return &s.Geometry.InnerWidthM }},
		{"depth_mm", "mm", 5, 120, func(s *rim.Section) *float64 { return &s.Geometry.DepthM }},
		{"track_height_mm", "mm", 3, 20, func(s *rim.Section) *float64 { return &s.Geometry.TrackHeightM }},
		{"track_below_edge_mm", "mm", 0, 5, func(s *rim.Section) *float64 { return &s.Geometry.TrackBelowEdgeM }},
		{"bed_below_edge_mm", "mm", 2, 15, func(s *rim.Section) *float64 { return &s.Geometry.BedBelowEdgeM }},
		{"bed_mm", "mm", 0.3, 6, func(s *rim.Section) *float64 { return &s.Geometry.BedM }},
		{"flank_mm", "mm", 0.3, 29.5, func(s *rim.Section) *float64 { return &s.Geometry.FlankM }},
		{"spoke_bed_mm", "mm", 0.3, 12, func(s *rim.Section) *float64 { return &s.Geometry.SpokeBedM }},
		{"bead_seat_diameter_mm", "mm", 200, 700, func(s *rim.Section) *float64 { return &s.Geometry.BeadSeatDiameterM }},
	}
}

// rimProperties lists what a material of one's own is made of; the first four
// must be there.
func rimProperties() []rimNumber {
	return []rimNumber{
		{"k_in_plane", "W/(m K)", 0.05, 500, func(s *rim.Section) *float64 { return &s.Material.ConductivityAlong.Value }},
		{"k_through", "W/(m K)", 0.05, 500, func(s *rim.Section) *float64 { return &s.Material.ConductivityThrough.Value }},
		{"density", "kg/m3", 200, 20000, func(s *rim.Section) *float64 { return &s.Material.Density.Value }},
		{"specific_heat", "J/(kg K)", 100, 4000, func(s *rim.Section) *float64 { return &s.Material.SpecificHeat.Value }},
		{"specific_heat_rise", "J/(kg K2)", 0, 10, func(s *rim.Section) *float64 { return &s.Material.SpecificHeatRise.Value }},
		{"emissivity_track", "", 0, 1, func(s *rim.Section) *float64 { return &s.Material.EmissivityTrack.Value }},
		{"emissivity_body", "", 0, 1, func(s *rim.Section) *float64 { return &s.Material.EmissivityBody.Value }},
	}
}

const mustHave = 4 // of rimProperties

// rimTexts lists the keys that are words.
func rimTexts() []string { return []string{"name", "kind", "shape", "material", "resin_class"} }

// RimFileKeys lists every key of a rim file in the order of RimTOML.
func RimFileKeys() []string {
	keys := rimTexts()
	for _, n := range slices.Concat(rimProperties(), rimLengths()) {
		keys = append(keys, n.key)
	}
	return append(keys, "limit_C")
}

// ParseRim reads the text of a rim file; file names it in errors and, without
// folder and ending, the rim. All errors are *RimFileError.
func ParseRim(file string, text []byte) (rim.Section, error) {
	p := rimParser{file: file, values: map[string]any{}}
	text = bytes.TrimPrefix(text, []byte("\xef\xbb\xbf"))
	if err := toml.Unmarshal(text, &p.values); err != nil {
		bad := &RimFileError{File: file, What: strings.TrimPrefix(err.Error(), "toml: ")}
		if d := (*toml.DecodeError)(nil); errors.As(err, &d) {
			bad.Line, _ = d.Position()
		}
		return rim.Section{}, bad
	}
	p.lines = rimLines(text)
	s := rim.Section{
		ID:     strings.TrimSuffix(filepath.Base(file), filepath.Ext(file)),
		Source: "stated in the rim file", Basis: GivenByUser,
	}
	for _, step := range []func(*rim.Section) error{p.known, p.words, p.material, p.lengths, p.fits, p.limit} {
		if err := step(&s); err != nil {
			return rim.Section{}, err
		}
	}
	if err := s.Validate(); err != nil {
		return rim.Section{}, &RimFileError{File: file, What: err.Error()}
	}
	return s, nil
}

// rimLines gives the first line of each key.
func rimLines(text []byte) map[string]int {
	lines := map[string]int{}
	var p unstable.Parser
	p.Reset(text)
	for p.NextExpression() {
		e := p.Expression()
		if e.Kind != unstable.KeyValue && e.Kind != unstable.Table && e.Kind != unstable.ArrayTable {
			continue
		}
		if it := e.Key(); it.Next() {
			if key := string(it.Node().Data); lines[key] == 0 {
				lines[key] = p.Shape(it.Node().Raw).Start.Line
			}
		}
	}
	return lines
}

// A rimParser holds a rim file as TOML sees it.
type rimParser struct {
	file   string
	values map[string]any
	lines  map[string]int
}

func (p rimParser) wrong(key, do, format string, args ...any) error {
	return &RimFileError{File: p.file, Line: p.lines[key], Key: key, What: fmt.Sprintf(format, args...), Do: do}
}

func (p rimParser) has(key string) bool { _, ok := p.values[key]; return ok }

// known refuses the first key that no rim file has.
func (p rimParser) known(*rim.Section) error {
	keys := slices.SortedFunc(maps.Keys(p.values), func(a, b string) int { return p.lines[a] - p.lines[b] })
	for _, k := range keys {
		if !slices.Contains(RimFileKeys(), k) {
			return p.wrong(k, "the keys are "+strings.Join(RimFileKeys(), ", "), "unknown key")
		}
	}
	return nil
}

// word gives a text, which must be one of allowed unless that is empty.
func (p rimParser) word(key string, allowed ...string) (string, error) {
	do := ""
	if len(allowed) > 0 {
		do = fmt.Sprintf("write %s = %q", key, allowed[0])
		for _, a := range allowed[1:] {
			do += fmt.Sprintf(" or %q", a)
		}
	}
	if !p.has(key) {
		return "", p.wrong(key, do, "missing")
	}
	v, ok := p.values[key].(string)
	if !ok || strings.TrimSpace(v) == "" {
		return "", p.wrong(key, do, "wants a text in quotes")
	}
	if len(allowed) > 0 && !slices.Contains(allowed, v) {
		return "", p.wrong(key, do, "%q is none of these", v)
	}
	return v, nil
}

func (p rimParser) words(s *rim.Section) (err error) {
	if s.Name, err = p.word("name"); err != nil {
		return err
	}
	if s.Kind, err = p.word("kind", "clincher", "tubular"); err != nil {
		return err
	}
	shape, err := p.word("shape", string(rim.Box), string(rim.Taper))
	s.Geometry.Shape = rim.Shape(shape)
	return err
}

// number gives a number inside its bounds.
func (p rimParser) number(n rimNumber) (float64, error) {
	var v float64
	switch x := p.values[n.key].(type) {
	case nil:
		return 0, p.wrong(n.key, strings.TrimSpace(fmt.Sprintf("write %s = a number from %g to %g %s", n.key, n.lo, n.hi, n.unit)), "missing")
	case float64:
		v = x
	case int64:
		v = float64(x)
	default:
		return 0, p.wrong(n.key, "", "wants a number")
	}
	if !(v >= n.lo && v <= n.hi) {
		return 0, p.wrong(n.key, "", "%s", strings.TrimSpace(fmt.Sprintf("%g is outside %g to %g %s", v, n.lo, n.hi, n.unit)))
	}
	return v, nil
}

// material takes a built-in material or one of the file's own.
func (p rimParser) material(s *rim.Section) error {
	if p.has("material") {
		built := builtInMaterials()
		id, err := p.word("material", slices.Sorted(maps.Keys(built))...)
		if err != nil {
			return err
		}
		s.Material = built[id]
		for _, n := range rimProperties() {
			if p.has(n.key) {
				return p.wrong(n.key, "leave out one of the two", "contradicts material = %q, which has its own", id)
			}
		}
	} else if err := p.ownMaterial(s); err != nil {
		return err
	}
	var classes []string
	for _, c := range rim.ResinClasses() {
		classes = append(classes, c.ID)
	}
	switch {
	case s.Material.Composite:
		class, err := p.word("resin_class", classes...)
		s.ResinClass = class
		return err
	case p.has("resin_class"):
		return p.wrong("resin_class", "leave it out", "contradicts material = %q, a metal", s.Material.ID)
	}
	return nil
}

// ownMaterial reads a material from its numbers. One with a resin class, that
// conducts unlike along and through the wall, or worse than metals do, is a
// composite. An emissivity that is missing is that of the built-in material of
// its kind, a rise of specific heat that is missing is nought.
func (p rimParser) ownMaterial(s *rim.Section) error {
	all := rimProperties()
	if !slices.ContainsFunc(all[:mustHave], func(n rimNumber) bool { return p.has(n.key) }) {
		built := slices.Sorted(maps.Keys(builtInMaterials()))
		return p.wrong("material", "write material = \""+strings.Join(built, "\" or \"")+"\", or k_in_plane, k_through, density and specific_heat", "missing")
	}
	own := rim.Section{}
	for i, n := range all {
		if i >= mustHave && !p.has(n.key) {
			continue
		}
		v, err := p.number(n)
		if err != nil {
			return err
		}
		*n.at(&own) = v
	}
	m := &own.Material
	// No metal conducts less than some 15 W/(m K) or otherwise along than
	// across: what does is taken for a composite, which needs a resin class.
	m.Composite = p.has("resin_class") || m.ConductivityAlong.Value != m.ConductivityThrough.Value || m.ConductivityThrough.Value < leastMetal
	like := builtInMaterials()["aluminium-6061-t6"]
	m.ID, m.Name = "own-metal", "a metal stated in the rim file"
	if m.Composite {
		like = builtInMaterials()["carbon-epoxy"]
		m.ID, m.Name = "own-composite", "a composite stated in the rim file"
	}
	if !p.has("specific_heat_rise") {
		m.SpecificHeatRise.Basis, m.SpecificHeatRise.Source = rim.CommonPractice, "not stated: held constant"
	}
	for key, q := range map[string]*rim.Quantity{
		"k_in_plane": &m.ConductivityAlong, "k_through": &m.ConductivityThrough, "density": &m.Density,
		"specific_heat": &m.SpecificHeat, "specific_heat_rise": &m.SpecificHeatRise,
	} {
		if p.has(key) {
			q.Source, q.Basis = s.Source, s.Basis
		}
	}
	m.ConductivityAlong.Unit, m.ConductivityThrough.Unit, m.Density.Unit = like.ConductivityAlong.Unit, like.ConductivityThrough.Unit, like.Density.Unit
	m.SpecificHeat.Unit, m.SpecificHeatRise.Unit = like.SpecificHeat.Unit, like.SpecificHeatRise.Unit
	take := func(key string, to *rim.Quantity, otherwise rim.Quantity) {
		if p.has(key) {
			*to = rim.Quantity{Value: to.Value, Unit: "1", Source: s.Source, Basis: s.Basis}
		} else {
			*to = otherwise
		}
	}
	take("emissivity_track", &m.EmissivityTrack, like.EmissivityTrack)
	take("emissivity_body", &m.EmissivityBody, like.EmissivityBody)
	s.Material = *m
	return nil
}

func (p rimParser) lengths(s *rim.Section) error {
	for _, n := range rimLengths() {
		v, err := p.number(n)
		if err != nil {
			return err
		}
		*n.at(s) = shifted(v, -3)
	}
	return nil
}

// leastMetal is the conductivity below which a material is no metal of a rim,
// W/(m K): stainless steel and titanium alloys have some 7-16 but make no rims;
// from memory.
const leastMetal = 20.0

// fits refuses lengths that each could be but not together.
func (p rimParser) fits(s *rim.Section) error {
	g, mm := s.Geometry, func(m float64) float64 { return math.Round(m*1e6) / 1e3 }
	const atLeast = 1e-3 // m, as in rim.Geometry.Validate
	above := max(g.TrackBelowEdgeM+g.TrackHeightM, g.BedBelowEdgeM+g.BedM)
	switch {
	case g.InnerWidthM > g.OuterWidthM-atLeast:
		return p.wrong("inner_width_mm", "the walls need at least 1 mm together", "%g contradicts outer_width_mm = %g", mm(g.InnerWidthM), mm(g.OuterWidthM))
	case g.FlankM > g.OuterWidthM/2-atLeast/2:
		return p.wrong("flank_mm", "it must leave a hollow", "%g contradicts outer_width_mm = %g", mm(g.FlankM), mm(g.OuterWidthM))
	case g.DepthM > g.EdgeRadiusM()-rim.LeastInnerRadiusM:
		return p.wrong("depth_mm", "leave room for a hub", "%g reaches too near the hub of a wheel of bead_seat_diameter_mm = %g", mm(g.DepthM), mm(g.BeadSeatDiameterM))
	case g.DepthM < above+g.SpokeBedM+atLeast:
		return p.wrong("depth_mm", "check it against track, bed and spoke bed", "%g is too little: these lengths need %g", mm(g.DepthM), mm(above+g.SpokeBedM+atLeast))
	}
	return nil
}

// limit reads the rim maker's own limit, if there is one.
func (p rimParser) limit(s *rim.Section) error {
	if !p.has("limit_C") {
		return nil
	}
	v, err := p.number(rimNumber{key: "limit_C", unit: "°C", lo: 40, hi: 400})
	s.MakerLimitK = v + air.ZeroCelsiusK
	return err
}

// RimTOML writes a section as a rim file that ParseRim reads back.
func RimTOML(s rim.Section) []byte {
	var b bytes.Buffer
	line := func(key, v string) { fmt.Fprintf(&b, "%s = %s\n", key, v) }
	number := func(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
	for _, t := range []struct{ key, v string }{{"name", s.Name}, {"kind", s.Kind}, {"shape", string(s.Geometry.Shape)}} {
		line(t.key, quoteTOML(t.v))
	}
	if _, ok := builtInMaterials()[s.Material.ID]; ok {
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

// builtInMaterials lists what the built-in rims are made of, by ID.
func builtInMaterials() map[string]rim.Material {
	out := map[string]rim.Material{}
	for _, s := range rim.Rims() {
		out[s.Material.ID] = s.Material
	}
	return out
}

// massCaution speaks up if no rim has this mass, kg.
func massCaution(kg float64) string {
	if kg >= lightestRimKg && kg <= heaviestRimKg {
		return ""
	}
	return fmt.Sprintf("Geometry and density give a rim of %.0f g; no rim lies outside %.0f to %.0f g (common practice, no source): check the lengths.", kg*1e3, lightestRimKg*1e3, heaviestRimKg*1e3)
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
