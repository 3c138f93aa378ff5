package main

import (
	"bytes"

	"github.com/spf13/cobra"

	"rimheat/thermal"
	"rimheat/thermal/ride"
	"rimheat/thermal/rim"
)

func newParts(s streams) *cobra.Command {
	l := newFlagLayer()
	var asJSON, asTOML bool
	c := &cobra.Command{
		Use:   "parts",
		Short: "List rims, pads, tyre sides, resin classes and riding styles with their values and sources",
		Long: `Lists the built-in parts with unit, source and how each number is known:
published, from memory, derived, or common practice without a source. Every
built-in rim is invented.`,
		Example: `  rimheat parts
  rimheat parts --rim carbon-deep
  rimheat parts --rim carbon-deep --toml
  rimheat parts --json`,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) > 0 {
				return badInput("parts takes flags only, not %s", quoted(args[0])).hint("one rim in full: rimheat parts --rim ID")
			}
			return nil
		},
		RunE: func(*cobra.Command, []string) error {
			switch {
			case asTOML && asJSON:
				return badInput("--toml and --json contradict each other").hint("leave out one of the two")
			case asTOML && len(l.rims) == 0:
				return badInput("--toml: no rim given").hint("for example rimheat parts --rim carbon-deep --toml")
			}
			p := builtInParts()
			if len(l.rims) > 0 {
				var err error
				if p, err = oneRim(l.rims[len(l.rims)-1]); err != nil {
					return err
				}
			}
			if asTOML {
				return write(s, p.rimFileText())
			}
			if asJSON {
				out, err := indented(p.forJSON())
				if err != nil {
					return err
				}
				return write(s, out)
			}
			var b bytes.Buffer
			p.print(&b, len(l.rims) > 0)
			return write(s, b.Bytes())
		},
		ValidArgsFunction: cobra.NoFileCompletions,
	}
	c.Flags().SortFlags = false
	c.Flags().Var(rimFlag{l}, "rim", "one rim in full")
	c.Flags().BoolVar(&asJSON, "json", false, "print JSON")
	c.Flags().BoolVar(&asTOML, "toml", false, "print the rim as a rim file, to start one of your own from")
	describe(c.Flags(), "Flags", "ID", "rim")
	_ = c.RegisterFlagCompletionFunc("rim", cobra.FixedCompletions(rimIDs(), cobra.ShellCompDirectiveNoFileComp))
	return c
}

// parts is what the verb shows.
type parts struct {
	rims    []rim.Section
	pads    []rim.Pad
	sides   []rim.TyreSide
	classes []rim.ResinClass
	styles  []ride.Style
}

func builtInParts() parts {
	return parts{rim.Rims(), rim.Pads(), rim.TyreSides(), rim.ResinClasses(), ride.Styles()}
}

// oneRim is a rim with what belongs to it: pads for its material and its resin
// class.
func oneRim(id string) (parts, error) {
	sec, found := thermal.RimByID(id)
	if !found {
		return parts{}, notOneOf("--rim", "rim", id, rimIDs())
	}
	p := parts{rims: []rim.Section{sec}}
	for _, pad := range rim.Pads() {
		if pad.ForComposite == sec.TrackMaterial().Composite {
			p.pads = append(p.pads, pad)
		}
	}
	for _, c := range rim.ResinClasses() {
		if c.ID == sec.ResinClass {
			p.classes = append(p.classes, c)
		}
	}
	return p, nil
}

// materials lists what the rims are made of, each once.
func (p parts) materials() []rim.Material {
	var out []rim.Material
	seen := map[string]bool{}
	for _, r := range p.rims {
		of := []rim.Material{r.Material}
		if r.Surface.ThicknessM > 0 {
			of = append(of, r.Surface.Material)
		}
		if r.HasFairing() {
			of = append(of, r.Fairing.Material)
		}
		for _, m := range of {
			if !seen[m.ID] {
				seen[m.ID] = true
				out = append(out, m)
			}
		}
	}
	return out
}

// A measure is a quantity under its name.
type measure struct {
	name string
	rim.Quantity
}

func materialMeasures(m rim.Material) []measure {
	return []measure{
		{"conductivity along the wall", m.ConductivityAlong},
		{"conductivity through the wall", m.ConductivityThrough},
		{"density", m.Density},
		{"specific heat at 25 °C", m.SpecificHeat},
		{"its rise per kelvin", m.SpecificHeatRise},
		{"emissivity of the track", m.EmissivityTrack},
		{"emissivity of the body", m.EmissivityBody},
		{"absorptivity of the track", m.AbsorptivityTrack},
		{"absorptivity of the body", m.AbsorptivityBody},
	}
}

func padMeasures(p rim.Pad) []measure {
	return []measure{
		{"conductivity", p.Conductivity},
		{"density", p.Density},
		{"specific heat", p.SpecificHeat},
		{"length along the track", p.Length},
		{"height across it", p.Height},
		{"thickness", p.Thickness},
		{"friction, dry and cold", p.Friction},
		{"fades from", p.FadeFromC},
		{"faded at", p.FadeToC},
		{"friction left when faded", p.FadePart},
		{"wear per braking energy", p.Wear},
	}
}

// lengths lists a cross-section, metres.
func lengths(s rim.Section) []measure {
	g := s.Geometry
	of := func(name string, m float64) measure {
		return measure{name, rim.Quantity{Value: m, Unit: "m", Source: s.Source, Basis: s.Basis}}
	}
	ms := []measure{
		of("outer width over the tracks", g.OuterWidthM),
		of("inner width between the walls", g.InnerWidthM),
		of("track wall", g.WallM()),
		of("depth", g.DepthM),
		of("track height", g.TrackHeightM),
		of("track below the edge", g.TrackBelowEdgeM),
		of("rim bed below the edge", g.BedBelowEdgeM),
		of("rim bed", g.BedM),
		of("flank", g.FlankM),
		of("spoke bed", g.SpokeBedM),
		of("bead seat diameter", g.BeadSeatDiameterM),
	}
	if t := s.Surface.ThicknessM; t > 0 {
		ms = append(ms, of("skin of "+s.Surface.Material.ID, t))
	}
	if s.HasFairing() {
		ms = append(ms, of("fairing begins below the edge", s.Fairing.BelowEdgeM))
		ms = append(ms, measure{"resistance of its bond", rim.Quantity{Value: s.Fairing.BondM2KPerW, Unit: "m2 K/W", Source: s.Source, Basis: s.Basis}})
	}
	return ms
}
