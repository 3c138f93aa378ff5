package rim

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"github.com/pelletier/go-toml/v2"
	"github.com/pelletier/go-toml/v2/unstable"

	"rimheat/thermal/air"
)

// A FileError says what is wrong where in a rim file, and what to do.
// Line is 0 where something is missing.
type FileError struct {
	File          string
	Line          int
	Key, What, Do string
}

func (e *FileError) Error() string {
	s := e.File
	if e.Line > 0 {
		s += ":" + strconv.Itoa(e.Line)
	}
	if e.Key != "" {
		s += ": " + e.Key
	}
	return s + ": " + e.What
}

// FileErrors are all that is wrong in a rim file, in the order of its lines,
// with what is missing last.
type FileErrors []*FileError

func (es FileErrors) Error() string {
	var lines []string
	for _, e := range es {
		lines = append(lines, e.Error())
	}
	return strings.Join(lines, "\n")
}

// Unwrap lets errors.As find the first.
func (es FileErrors) Unwrap() []error {
	var out []error
	for _, e := range es {
		out = append(out, e)
	}
	return out
}

// ParseFile reads the text of a rim file; file names it in errors and, without
// folder and ending, the rim. The error is FileErrors.
func ParseFile(file string, text []byte) (Section, error) {
	p := &rimParser{file: file, values: map[string]any{}}
	text = bytes.TrimPrefix(text, []byte("\xef\xbb\xbf"))
	if err := toml.Unmarshal(text, &p.values); err != nil {
		bad := &FileError{File: file, What: strings.TrimPrefix(err.Error(), "toml: ")}
		if d := (*toml.DecodeError)(nil); errors.As(err, &d) {
			bad.Line, _ = d.Position()
		}
		return Section{}, FileErrors{bad}
	}
	p.lines = rimLines(text)
	s := Section{
		ID:     strings.TrimSuffix(filepath.Base(file), filepath.Ext(file)),
		Source: "stated in the rim file", Basis: GivenByUser,
	}
	p.known()
	p.words(&s)
	p.material(&s)
	p.layers(&s)
	p.lengths(&s)
	p.extras(&s)
	p.resin(&s)
	if !p.badLength { // lengths that are wrong alone cannot be compared
		p.fits(&s)
	}
	if len(p.errs) == 0 {
		if err := s.Validate(); err != nil {
			p.errs = FileErrors{{File: file, What: err.Error()}}
		}
	}
	if len(p.errs) > 0 {
		slices.SortStableFunc(p.errs, func(a, b *FileError) int {
			if (a.Line == 0) != (b.Line == 0) {
				return b.Line - a.Line
			}
			return a.Line - b.Line
		})
		return Section{}, p.errs
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

// A rimParser holds a rim file as TOML sees it, and what is wrong in it.
type rimParser struct {
	file   string
	values map[string]any
	lines  map[string]int
	errs   FileErrors
	// badLength says that a length is missing or out of bounds.
	badLength bool
}

func (p *rimParser) wrong(key, do, format string, args ...any) {
	p.errs = append(p.errs, &FileError{File: p.file, Line: p.lines[key], Key: key, What: fmt.Sprintf(format, args...), Do: do})
}

func (p *rimParser) has(key string) bool { _, ok := p.values[key]; return ok }

// known refuses the keys that no rim file has.
func (p *rimParser) known() {
	for k := range p.values {
		if !slices.Contains(FileKeys(), k) {
			p.wrong(k, "the keys are "+strings.Join(FileKeys(), ", "), "unknown key")
		}
	}
}

// word gives a text, which must be one of allowed unless that is empty.
func (p *rimParser) word(key string, allowed ...string) (string, bool) {
	do := ""
	if len(allowed) > 0 {
		do = fmt.Sprintf("write %s = %q", key, allowed[0])
		for _, a := range allowed[1:] {
			do += fmt.Sprintf(" or %q", a)
		}
	}
	if !p.has(key) {
		p.wrong(key, do, "missing")
		return "", false
	}
	v, ok := p.values[key].(string)
	if !ok || strings.TrimSpace(v) == "" {
		p.wrong(key, do, "wants a text in quotes")
		return "", false
	}
	if len(allowed) > 0 && !slices.Contains(allowed, v) {
		p.wrong(key, do, "%q is none of these", v)
		return "", false
	}
	return v, true
}

func (p *rimParser) words(s *Section) {
	s.Name, _ = p.word("name")
	s.Kind, _ = p.word("kind", "clincher", "tubular")
	shape, _ := p.word("shape", string(Box), string(Taper))
	s.Geometry.Shape = Shape(shape)
	if p.has("source") {
		s.Source, _ = p.word("source")
	}
	if p.has("known") {
		var marks []string
		for _, b := range bases() {
			marks = append(marks, string(b))
		}
		known, _ := p.word("known", marks...)
		s.Basis = Basis(known)
	}
}

// number gives a number inside its bounds.
func (p *rimParser) number(n rimNumber) (float64, bool) {
	var v float64
	switch x := p.values[n.key].(type) {
	case nil:
		p.wrong(n.key, strings.TrimSpace(fmt.Sprintf("write %s = a number from %g to %g %s", n.key, n.lo, n.hi, n.unit)), "missing")
		return 0, false
	case float64:
		v = x
	case int64:
		v = float64(x)
	default:
		p.wrong(n.key, "", "wants a number")
		return 0, false
	}
	if !(v >= n.lo && v <= n.hi) {
		p.wrong(n.key, "", "%s", strings.TrimSpace(fmt.Sprintf("%g is outside %g to %g %s", v, n.lo, n.hi, n.unit)))
		return 0, false
	}
	return v, true
}

func materialIDs() []string {
	var ids []string
	for _, m := range builtIn().materials {
		ids = append(ids, m.ID)
	}
	slices.Sort(ids)
	return ids
}

// builtInMaterial reads the name of a built-in material.
func (p *rimParser) builtInMaterial(key string) Material {
	id, ok := p.word(key, materialIDs()...)
	if !ok {
		return Material{}
	}
	m, _ := materialByID(id)
	return m
}

// material takes a built-in material or one of the file's own.
func (p *rimParser) material(s *Section) {
	if !p.has("material") {
		p.ownMaterial(s)
		return
	}
	s.Material = p.builtInMaterial("material")
	for _, n := range rimProperties() {
		if s.Material.ID != "" && p.has(n.key) {
			p.wrong(n.key, "leave out one of the two", "contradicts material = %q, which has its own", s.Material.ID)
		}
	}
}

// layers reads a skin on the track and a fairing.
func (p *rimParser) layers(s *Section) {
	if p.has("surface_material") {
		s.Surface.Material = p.builtInMaterial("surface_material")
	}
	if p.has("fairing_material") {
		s.Fairing.Material = p.builtInMaterial("fairing_material")
	}
	for _, of := range []struct{ material, value, do string }{
		{"surface_material", "surface_mm", "name the layer's material: surface_material = \"basalt-epoxy\", say"},
		{"surface_material", "surface_bond_m2K_per_W", "name the layer's material: surface_material = \"basalt-epoxy\", say"},
		{"fairing_material", "fairing_below_edge_mm", "name the fairing's material: fairing_material = \"carbon-epoxy\", say"},
		{"fairing_material", "fairing_bond_m2K_per_W", "name the fairing's material: fairing_material = \"carbon-epoxy\", say"},
	} {
		if p.has(of.value) && !p.has(of.material) {
			p.wrong(of.value, of.do, "belongs to %s, which is missing", of.material)
		}
	}
	if p.has("fairing_material") && !p.has("fairing_below_edge_mm") {
		p.wrong("fairing_below_edge_mm", "write where the fairing begins: fairing_below_edge_mm = 20, say", "missing, though fairing_material is there")
	}
	if p.has("surface_material") && !p.has("surface_mm") {
		p.wrong("surface_mm", "write the layer's thickness: surface_mm = 0.5, say", "missing, though surface_material is there")
	}
}

// resin reads the class of resin, which every composite wall, track or fairing
// must have.
func (p *rimParser) resin(s *Section) {
	var classes []string
	for _, c := range ResinClasses() {
		classes = append(classes, c.ID)
	}
	switch {
	case s.Material.ID == "": // that is said already, but the word can be wrong too
		if p.has("resin_class") {
			p.word("resin_class", classes...)
		}
	case s.HasResin():
		s.ResinClass, _ = p.word("resin_class", classes...)
	case p.has("resin_class"):
		do := "leave it out"
		if !p.has("material") {
			do = "leave it out if this is a metal; of a laminate state k_through, which is lower than k_in_plane"
		}
		p.wrong("resin_class", do, "contradicts %s, a metal throughout", p.materialWords(s))
	}
}

// materialWords says what the file says of the material.
func (p *rimParser) materialWords(s *Section) string {
	if p.has("material") {
		return fmt.Sprintf("material = %q", s.Material.ID)
	}
	return fmt.Sprintf("k_in_plane = k_through = %g", s.Material.ConductivityThrough.Value)
}

// ownMaterial reads a material from its numbers. One that conducts unlike along
// and through the wall, or worse than metals do, is a composite. An emissivity
// or absorptivity that is missing is that of the built-in material of its kind,
// a rise of specific heat that is missing is nought.
func (p *rimParser) ownMaterial(s *Section) {
	all := rimProperties()
	if !slices.ContainsFunc(all[:mustHave], func(n rimNumber) bool { return p.has(n.key) }) {
		p.wrong("material", "write material = \""+strings.Join(materialIDs(), "\" or \"")+"\", or k_in_plane, k_through, density and specific_heat", "missing")
		return
	}
	own := Section{}
	good := true
	for i, n := range all {
		if i >= mustHave && !p.has(n.key) {
			continue
		}
		v, ok := p.number(n)
		good = good && ok
		*n.at(&own) = v
	}
	if !good {
		return
	}
	m := &own.Material
	if v := m.Density.Value * m.SpecificHeat.Value; v < leastHeatPerM3K || v > mostHeatPerM3K {
		p.wrong("specific_heat", "check both: solids store 1.2e6 to 4e6", "%g contradicts density = %g: together %.3g J/(m3 K), which no solid has", m.SpecificHeat.Value, m.Density.Value, v)
		return
	}
	// No metal of a rim conducts less than leastMetal or otherwise along than
	// across: what does is taken for a composite, which needs a resin class.
	m.Composite = m.ConductivityAlong.Value != m.ConductivityThrough.Value || m.ConductivityThrough.Value < leastMetal
	if m.ConductivityThrough.Value > m.ConductivityAlong.Value {
		p.wrong("k_through", "check both: heat runs along a laminate better than through it", "%g contradicts k_in_plane = %g", m.ConductivityThrough.Value, m.ConductivityAlong.Value)
		return
	}
	like, _ := materialByID("aluminium-6061-t6")
	m.ID, m.Name = "own-metal", "a metal stated in the rim file"
	if m.Composite {
		like, _ = materialByID("carbon-epoxy")
		m.ID, m.Name = "own-composite", "a composite stated in the rim file"
	}
	if !p.has("specific_heat_rise") {
		m.SpecificHeatRise.Basis, m.SpecificHeatRise.Source = CommonPractice, "not stated: held constant"
	}
	for key, q := range map[string]*Quantity{
		"k_in_plane": &m.ConductivityAlong, "k_through": &m.ConductivityThrough, "density": &m.Density,
		"specific_heat": &m.SpecificHeat, "specific_heat_rise": &m.SpecificHeatRise,
	} {
		if p.has(key) {
			q.Source, q.Basis = "stated in the rim file", GivenByUser
		}
	}
	m.ConductivityAlong.Unit, m.ConductivityThrough.Unit, m.Density.Unit = like.ConductivityAlong.Unit, like.ConductivityThrough.Unit, like.Density.Unit
	m.SpecificHeat.Unit, m.SpecificHeatRise.Unit = like.SpecificHeat.Unit, like.SpecificHeatRise.Unit
	take := func(key string, to *Quantity, otherwise Quantity) {
		if p.has(key) {
			*to = Quantity{Value: to.Value, Unit: "1", Source: "stated in the rim file", Basis: GivenByUser}
		} else {
			*to = otherwise
		}
	}
	take("emissivity_track", &m.EmissivityTrack, like.EmissivityTrack)
	take("emissivity_body", &m.EmissivityBody, like.EmissivityBody)
	take("absorptivity_track", &m.AbsorptivityTrack, like.AbsorptivityTrack)
	take("absorptivity_body", &m.AbsorptivityBody, like.AbsorptivityBody)
	s.Material = *m
}

func (p *rimParser) lengths(s *Section) {
	for _, n := range rimLengths() {
		v, ok := p.number(n)
		p.badLength = p.badLength || !ok
		*n.at(s) = shifted(v, -3)
	}
}

// extras reads the numbers that may be left out, into SI.
func (p *rimParser) extras(s *Section) {
	for _, n := range rimExtras() {
		if !p.has(n.key) {
			continue
		}
		v, ok := p.number(n)
		switch {
		case !ok:
			continue
		case n.unit == "mm":
			v = shifted(v, -3)
		case n.unit == "kPa":
			v = shifted(v, 3)
		case n.unit == "°C":
			v += air.ZeroCelsiusK
		}
		*n.at(s) = v
	}
}

// leastMetal is the conductivity below which a material is no metal of a rim,
// W/(m K): stainless steel and titanium alloys have some 7-16 but make no rims;
// from memory.
const leastMetal = 20.0

// fits refuses lengths that each could be but not together.
func (p *rimParser) fits(s *Section) {
	g, mm := s.Geometry, func(m float64) float64 { return math.Round(m*1e6) / 1e3 }
	const atLeast = 1e-3 // m, as in Geometry.Validate
	above := max(g.TrackBelowEdgeM+g.TrackHeightM, g.BedBelowEdgeM+g.BedM)
	thin := g.InnerWidthM > g.OuterWidthM-atLeast
	if thin {
		p.wrong("inner_width_mm", "the walls need at least 1 mm together", "%g contradicts outer_width_mm = %g", mm(g.InnerWidthM), mm(g.OuterWidthM))
	}
	if g.FlankM > g.OuterWidthM/2-atLeast/2 {
		p.wrong("flank_mm", "it must leave a hollow", "%g contradicts outer_width_mm = %g", mm(g.FlankM), mm(g.OuterWidthM))
	}
	switch {
	case g.DepthM > g.EdgeRadiusM()-LeastInnerRadiusM:
		p.wrong("depth_mm", "leave room for a hub", "%g reaches too near the hub of a wheel of bead_seat_diameter_mm = %g", mm(g.DepthM), mm(g.BeadSeatDiameterM))
	case g.DepthM < above+g.SpokeBedM+atLeast:
		p.wrong("depth_mm", "check it against track, bed and spoke bed", "%g is too little: these lengths need %g", mm(g.DepthM), mm(above+g.SpokeBedM+atLeast))
	}
	if from, to := g.fairingFrom(); s.HasFairing() && !(s.Fairing.BelowEdgeM >= from-1e-9 && s.Fairing.BelowEdgeM <= to+1e-9) && from < to && s.Fairing.BelowEdgeM > 0 {
		p.wrong("fairing_below_edge_mm", "it must begin below track and bed and above the spoke bed", "%g is outside %g to %g with these lengths", mm(s.Fairing.BelowEdgeM), mm(from), mm(to))
	}
	if t := s.Surface.ThicknessM; t > g.WallM()-leastWallM && !thin {
		p.wrong("surface_mm", "it must leave 0.3 mm of wall under it", "%g contradicts walls of %g mm", mm(t), mm(g.WallM()))
	} else if t > g.FlankM-leastWallM+1e-9 {
		p.wrong("surface_mm", "the flank hangs on the wall under the layer: it must be 0.3 mm thicker", "%g contradicts flank_mm = %g", mm(t), mm(g.FlankM))
	}
}
