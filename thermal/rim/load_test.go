package rim

import (
	"slices"
	"testing"
)

// The tables are part of the program; this finds a fault in them before
// anybody meets it.
func TestBuiltInParts(t *testing.T) {
	if _, err := loadCatalogue(); err != nil {
		t.Fatal(err)
	}
	rims, err := loadRims()
	if err != nil {
		t.Fatal(err)
	}
	// Each kind of rim that a rider may ask about is there.
	kinds := map[string]func(Section) bool{
		"carbon clincher, 45 mm and more": func(s Section) bool {
			return s.Material.Composite && s.Geometry.DepthM >= 0.045 && s.Kind == "clincher"
		},
		"carbon clincher, 30-45 mm": func(s Section) bool {
			return s.Material.Composite && s.Geometry.DepthM >= 0.030 && s.Geometry.DepthM < 0.045 && s.Kind == "clincher"
		},
		"carbon clincher below 30 mm":     func(s Section) bool { return s.Material.Composite && s.Geometry.DepthM < 0.030 && s.Kind == "clincher" },
		"carbon tubular":                  func(s Section) bool { return s.Material.Composite && s.Kind == "tubular" },
		"carbon of hot resin":             func(s Section) bool { return s.ResinClass == "epoxy-hot" },
		"aluminium box":                   func(s Section) bool { return !s.HasResin() && s.Geometry.Shape == Box },
		"deep aluminium":                  func(s Section) bool { return !s.HasResin() && s.Geometry.DepthM >= 0.030 },
		"aluminium track, carbon fairing": func(s Section) bool { return !s.Material.Composite && s.Fairing.Material.Composite },
		"skin on a carbon track":          func(s Section) bool { return s.Material.Composite && s.Surface.ThicknessM > 0 },
		"559 mm":                          func(s Section) bool { return s.Geometry.BeadSeatDiameterM == 0.559 },
		"584 mm":                          func(s Section) bool { return s.Geometry.BeadSeatDiameterM == 0.584 },
	}
	for name, is := range kinds {
		if !slices.ContainsFunc(rims, is) {
			t.Errorf("no rim is a %s", name)
		}
	}
	for _, p := range Pads() {
		if err := p.Validate(); err != nil {
			t.Error(err)
		}
	}
	for _, c := range ResinClasses() {
		if c.ID != "unknown" && !(c.AlarmC > c.LimitC && c.WetC.Value < c.DryC.Value) {
			t.Errorf("resin %s: limit %g, alarm %g °C", c.ID, c.LimitC, c.AlarmC)
		}
	}
}

// A caller may scribble on what it was given.
func TestPartsAreTheCallersOwn(t *testing.T) {
	Rims()[0].ID, Pads()[0].ID, ResinClasses()[0].ID, TyreSides()[0].ID, Materials()[0].ID = "x", "x", "x", "x", "x"
	if Rims()[0].ID == "x" || Pads()[0].ID == "x" || ResinClasses()[0].ID == "x" || TyreSides()[0].ID == "x" || Materials()[0].ID == "x" {
		t.Error("a built-in part was changed from outside")
	}
}

// Friction falls between the two temperatures and nowhere else; wear is volume
// over area.
func TestPadFadesAndWears(t *testing.T) {
	p := Pads()[0]
	p.Friction.Value, p.FadeFromC.Value, p.FadeToC.Value, p.FadePart.Value = 0.5, 200, 300, 0.4
	for c, want := range map[float64]float64{20: 0.5, 200: 0.5, 250: 0.35, 300: 0.2, 500: 0.2} {
		if got := p.FrictionAt(c + 273.15); got < want-1e-12 || got > want+1e-12 {
			t.Errorf("friction at %g °C is %g, not %g", c, got, want)
		}
	}
	p.Wear.Value, p.Length.Value, p.Height.Value = 1e-12, 0.05, 0.01
	// 1 MJ at the wheel is 500 kJ at each block: 500 mm3 over 500 mm2.
	if got := p.WearM(1e6); got < 0.999e-3 || got > 1.001e-3 {
		t.Errorf("wear %g m, not 1 mm", got)
	}
}
