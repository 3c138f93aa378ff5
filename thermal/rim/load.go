package rim

import (
	"bytes"
	"embed"
	"fmt"
	"maps"
	"path"
	"slices"
	"strings"
	"sync"

	"github.com/pelletier/go-toml/v2"
)

// data holds the built-in parts: rims in the form of a user's own rim file,
// the rest in tables whose every number has value, range, unit, source and
// mark.
//
//go:embed data
var data embed.FS

// catalogue is what data says.
type catalogue struct {
	materials []Material
	pads      []Pad
	resins    []ResinClass
	sides     []TyreSide
}

// builtIn reads the tables once. They are part of the program: a fault in them
// is a fault of the build, which TestBuiltInParts finds, and not of anybody's
// input.
var builtIn = sync.OnceValue(func() catalogue {
	c, err := loadCatalogue()
	if err != nil {
		panic(err)
	}
	return c
})

var builtInRims = sync.OnceValue(func() []Section {
	rims, err := loadRims()
	if err != nil {
		panic(err)
	}
	return rims
})

// Rims lists the built-in rims by identifier. Every one is invented; its
// lengths lie inside what the trade builds, its mass inside 400-520 g
// (aluminium clincher) and 430-540 g (50 mm carbon clincher), common practice,
// no source. The slice is the caller's own, as are those below.
func Rims() []Section { return slices.Clone(builtInRims()) }

// Materials lists what the built-in rims are made of.
func Materials() []Material { return slices.Clone(builtIn().materials) }

// Pads lists the built-in pad compounds.
func Pads() []Pad { return slices.Clone(builtIn().pads) }

// ResinClasses lists what a composite track is taken to bear. The class
// "unknown" is the project's own assumption.
func ResinClasses() []ResinClass { return slices.Clone(builtIn().resins) }

// TyreSides lists what sits on the tyre side of a rim and what it bears.
func TyreSides() []TyreSide { return slices.Clone(builtIn().sides) }

// datum is a quantity as the tables write it.
type datum struct {
	Value  float64   `toml:"value"`
	Range  []float64 `toml:"range"`
	Unit   string    `toml:"unit"`
	Known  string    `toml:"known"`
	Source string    `toml:"source"`
}

// entry is one part of a table. The keys without value belong to some tables
// only.
type entry struct {
	ID           string           `toml:"id"`
	Name         string           `toml:"name"`
	Kind         string           `toml:"kind"`
	Caution      string           `toml:"caution"`
	Composite    bool             `toml:"composite"`
	ForComposite bool             `toml:"for_composite"`
	Values       map[string]datum `toml:"values"`
}

// fill copies every value to its quantity. A value that is missing, unknown or
// wrong is an error.
func (e entry) fill(to map[string]*Quantity) error {
	for _, name := range slices.Sorted(maps.Keys(e.Values)) {
		d := e.Values[name]
		q := to[name]
		if q == nil {
			return fmt.Errorf("%s: unknown value %s", e.ID, name)
		}
		if len(d.Range) != 2 {
			return fmt.Errorf("%s: %s: range wants two numbers", e.ID, name)
		}
		*q = Quantity{Value: d.Value, Unit: d.Unit, Source: d.Source, Basis: Basis(d.Known), Low: d.Range[0], High: d.Range[1]}
		if err := q.validate(); err != nil {
			return fmt.Errorf("%s: %s: %w", e.ID, name, err)
		}
	}
	for _, name := range slices.Sorted(maps.Keys(to)) {
		if _, ok := e.Values[name]; !ok {
			return fmt.Errorf("%s: %s is missing", e.ID, name)
		}
	}
	return nil
}

// table reads one file of entries.
func table(file, name string) ([]entry, error) {
	text, err := data.ReadFile("data/" + file)
	if err != nil {
		return nil, err
	}
	t := map[string][]entry{}
	d := toml.NewDecoder(bytes.NewReader(text))
	d.DisallowUnknownFields()
	if err := d.Decode(&t); err != nil {
		return nil, fmt.Errorf("%s: %w", file, err)
	}
	if len(t) != 1 || len(t[name]) == 0 {
		return nil, fmt.Errorf("%s: wants tables [[%s]] and nothing else", file, name)
	}
	return t[name], nil
}

func loadCatalogue() (c catalogue, err error) {
	if c.materials, err = loadMaterials(); err != nil {
		return c, err
	}
	if c.pads, err = loadPads(); err != nil {
		return c, err
	}
	if c.resins, err = loadResins(); err != nil {
		return c, err
	}
	c.sides, err = loadSides()
	return c, err
}

func loadMaterials() (ms []Material, err error) {
	entries, err := table("materials.toml", "material")
	for _, e := range entries {
		m := Material{ID: e.ID, Name: e.Name, Composite: e.Composite}
		if err := e.fill(map[string]*Quantity{
			"conductivity_along": &m.ConductivityAlong, "conductivity_through": &m.ConductivityThrough, "density": &m.Density,
			"specific_heat": &m.SpecificHeat, "specific_heat_rise": &m.SpecificHeatRise,
			"emissivity_track": &m.EmissivityTrack, "emissivity_body": &m.EmissivityBody,
			"absorptivity_track": &m.AbsorptivityTrack, "absorptivity_body": &m.AbsorptivityBody,
		}); err != nil {
			return nil, err
		}
		ms = append(ms, m)
	}
	return ms, err
}

func loadPads() (pads []Pad, err error) {
	entries, err := table("pads.toml", "pad")
	for _, e := range entries {
		p := Pad{ID: e.ID, Name: e.Name, ForComposite: e.ForComposite}
		if err := e.fill(map[string]*Quantity{
			"conductivity": &p.Conductivity, "density": &p.Density, "specific_heat": &p.SpecificHeat,
			"length": &p.Length, "height": &p.Height, "thickness": &p.Thickness,
			"friction": &p.Friction, "fade_from_C": &p.FadeFromC, "fade_to_C": &p.FadeToC, "fade_part": &p.FadePart, "wear": &p.Wear,
		}); err != nil {
			return nil, err
		}
		pads = append(pads, p)
	}
	return pads, err
}

// loadResins reads the classes and does the subtraction of the two rules.
func loadResins() (classes []ResinClass, err error) {
	entries, err := table("resins.toml", "resin")
	for _, e := range entries {
		c := ResinClass{ID: e.ID, Name: e.Name}
		if _, plain := e.Values["limit_C"]; plain {
			var q Quantity
			if err := e.fill(map[string]*Quantity{"limit_C": &q}); err != nil {
				return nil, err
			}
			c.LimitC, c.LowC, c.HighC, c.Source, c.Basis = q.Value, q.Low, q.High, q.Source, q.Basis
		} else {
			if err := e.fill(map[string]*Quantity{"wet_C": &c.WetC, "dry_C": &c.DryC}); err != nil {
				return nil, err
			}
			c.LimitC, c.LowC, c.HighC = c.WetC.Value-operationalK, c.WetC.Low-operationalK, c.WetC.High-operationalK
			c.AlarmC, c.AlarmLowC, c.AlarmHighC = c.DryC.Value-alarmK, c.DryC.Low-alarmK, c.DryC.High-alarmK
			c.Source = fmt.Sprintf("wet glass transition less %.0f K (material operational limit, CMH-17 vol. 1); %s", operationalK, c.WetC.Source)
			c.Basis = c.WetC.Basis
		}
		classes = append(classes, c)
	}
	return classes, err
}

func loadSides() (sides []TyreSide, err error) {
	entries, err := table("tyre_sides.toml", "tyre_side")
	for _, e := range entries {
		var q Quantity
		if err := e.fill(map[string]*Quantity{"limit_C": &q}); err != nil {
			return nil, err
		}
		sides = append(sides, TyreSide{e.ID, e.Name, e.Kind, q.Value, q.Low, q.High, q.Source, q.Basis, e.Caution})
	}
	return sides, err
}

// loadRims reads the rims, each a file of the form that users write.
func loadRims() (rims []Section, err error) {
	files, err := data.ReadDir("data/rims")
	if err != nil {
		return nil, err
	}
	for _, f := range files {
		if !strings.HasSuffix(f.Name(), ".toml") {
			continue
		}
		text, err := data.ReadFile(path.Join("data/rims", f.Name()))
		if err != nil {
			return nil, err
		}
		s, err := ParseFile(f.Name(), text)
		if err != nil {
			return nil, err
		}
		rims = append(rims, s)
	}
	return rims, nil
}

// materialByID looks up a built-in material.
func materialByID(id string) (Material, bool) {
	for _, m := range builtIn().materials {
		if m.ID == id {
			return m, true
		}
	}
	return Material{}, false
}
