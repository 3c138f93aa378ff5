package rim

import (
	"errors"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"rimheat/thermal/air"
)

// What FileText writes, ParseFile reads back to the last bit. A file cannot say
// where its lengths come from, and its name is the rim's identifier.
func TestRimFilesRoundTrip(t *testing.T) {
	var all []Section
	for _, s := range Rims() {
		all = append(all, s)
		s.MakerLimitK = 161.3 + air.ZeroCelsiusK
		all = append(all, s)
	}
	for _, file := range rimFiles(t) {
		s, err := ParseFile(file, read(t, file))
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, s)
	}
	for _, want := range all {
		got, err := ParseFile("folder/"+want.ID+".toml", FileText(want))
		if err != nil {
			t.Errorf("%s: %v", want.ID, err)
			continue
		}
		want.Source, want.Basis = got.Source, got.Basis
		if _, built := materialByID(want.Material.ID); !built {
			// Values that a file left out are stated in what is written.
			for _, n := range rimProperties() {
				if a, b := *n.at(&got), *n.at(&want); a != b {
					t.Errorf("%s: %s is %v, was %v", want.ID, n.key, a, b)
				}
			}
			want.Material = got.Material
		}
		if got != want {
			t.Errorf("%s: got\n%+v\nwant\n%+v", want.ID, got, want)
		}
	}
}

func rimFiles(t *testing.T) []string {
	t.Helper()
	files, err := filepath.Glob(filepath.Join("..", "..", "testdata", "rims", "*.toml"))
	if err != nil || len(files) < 3 {
		t.Fatalf("rim files %q, %v", files, err)
	}
	return files
}

func read(t *testing.T, file string) []byte {
	t.Helper()
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	return text
}

// ownLaminate is a rim file in which tests replace lines.
const ownLaminate = `name = "laminate"
kind = "clincher"
shape = "box"
k_in_plane = 5
k_through = 0.7
density = 1580
specific_heat = 880
resin_class = "unknown"
outer_width_mm = 24
inner_width_mm = 17
depth_mm = 30
track_height_mm = 9
track_below_edge_mm = 1
bed_below_edge_mm = 6
bed_mm = 1.3
flank_mm = 1
spoke_bed_mm = 2.4
bead_seat_diameter_mm = 622
`

// Every mistake names file, key and, where there is one, line.
func TestFileErrors(t *testing.T) {
	const classes = `write resin_class = "unknown" or "epoxy-130" or "epoxy-180" or "epoxy-hot" or "bismaleimide"`
	for _, c := range []struct{ from, to, want, do string }{
		{"name = \"laminate\"\n", "", "r.toml: name: missing", ""},
		{`"laminate"`, `3`, "r.toml:1: name: wants a text in quotes", ""},
		{`"laminate"`, `" "`, "r.toml:1: name: wants a text in quotes", ""},
		{`"clincher"`, `"clinger"`, `r.toml:2: kind: "clinger" is none of these`, `write kind = "clincher" or "tubular"`},
		{`"box"`, `"round"`, `r.toml:3: shape: "round" is none of these`, `write shape = "box" or "taper"`},
		{"shape = \"box\"\n", "", "r.toml: shape: missing", `write shape = "box" or "taper"`},
		{"density = 1580\n", "", "r.toml: density: missing", "write density = a number from 400 to 9000 kg/m3"},
		{"1580", "-1580", "r.toml:6: density: -1580 is outside 400 to 9000 kg/m3", ""},
		{"1580", "nan", "r.toml:6: density: NaN is outside 400 to 9000 kg/m3", ""},
		{"1580", "+inf", "r.toml:6: density: +Inf is outside 400 to 9000 kg/m3", ""},
		{"1580", `"1580"`, "r.toml:6: density: wants a number", ""},
		{"1580", "[1580]", "r.toml:6: density: wants a number", ""},
		{"k_through = 0.7", "k_through = 0", "r.toml:5: k_through: 0 is outside 0.1 to 450 W/(m K)", ""},
		{"resin_class = \"unknown\"\n", "", "r.toml: resin_class: missing", classes},
		{`"unknown"`, `"glue"`, `r.toml:8: resin_class: "glue" is none of these`, classes},
		{"density = 1580\n", "density = 1580\nmaterial = \"carbon-epoxy\"\n", `r.toml:4: k_in_plane: contradicts material = "carbon-epoxy", which has its own`, "leave out one of the two"},
		{"k_in_plane = 5\nk_through = 0.7\ndensity = 1580\nspecific_heat = 880\n", "material = \"carbon\"\n", `r.toml:4: material: "carbon" is none of these`, `write material = "aluminium-6061-t6" or "basalt-epoxy" or "carbon-epoxy"`},
		{"k_in_plane = 5\nk_through = 0.7\ndensity = 1580\nspecific_heat = 880\n", "material = \"aluminium-6061-t6\"\n", `r.toml:5: resin_class: contradicts material = "aluminium-6061-t6", a metal throughout`, "leave it out"},
		{"k_in_plane = 5\nk_through = 0.7\ndensity = 1580\nspecific_heat = 880\n", "", "r.toml: material: missing", `write material = "aluminium-6061-t6" or "basalt-epoxy" or "carbon-epoxy", or k_in_plane, k_through, density and specific_heat`},
		{"density = 1580\n", "density = 1580\nemissivity_track = 1.2\n", "r.toml:7: emissivity_track: 1.2 is outside 0 to 1", ""},
		{"depth_mm = 30\n", "", "r.toml: depth_mm: missing", "write depth_mm = a number from 5 to 120 mm"},
		{"depth_mm = 30", "depth_mm = -30", "r.toml:11: depth_mm: -30 is outside 5 to 120 mm", ""},
		{"depth_mm = 30", "depth_mm = 0.03", "r.toml:11: depth_mm: 0.03 is outside 5 to 120 mm", ""},
		{"depth_mm = 30", "depth_mm = 12", "r.toml:11: depth_mm: 12 is too little: these lengths need 13.4", "check it against track, bed and spoke bed"},
		{"inner_width_mm = 17", "inner_width_mm = 25", "r.toml:10: inner_width_mm: 25 contradicts outer_width_mm = 24", "the walls need at least 1 mm together"},
		{"flank_mm = 1\n", "flank_mm = 12\n", "r.toml:16: flank_mm: 12 contradicts outer_width_mm = 24", "it must leave a hollow"},
		{"flank_mm = 1\n", "flank_mm = 1\nlimit_C = 20\n", "r.toml:17: limit_C: 20 is outside 40 to 400 °C", ""},
		{"flank_mm = 1\n", "flank_mm = 1\nflank_mm = 2\n", "r.toml:17: key flank_mm is already defined", ""},
		{"flank_mm = 1\n", "flank_mm = 1\nflunk_mm = 2\n", "r.toml:17: flunk_mm: unknown key", "the keys are " + strings.Join(FileKeys(), ", ")},
		{"flank_mm = 1\n", "[flank_mm]\nx = 1\n", "r.toml:16: flank_mm: wants a number", ""},
	} {
		if strings.Count(ownLaminate, c.from) != 1 {
			t.Fatalf("%q stands in the file %d times", c.from, strings.Count(ownLaminate, c.from))
		}
		_, err := ParseFile("r.toml", []byte(strings.Replace(ownLaminate, c.from, c.to, 1)))
		var bad *FileError
		if !errors.As(err, &bad) || bad.Error() != c.want || bad.Do != c.do && c.do != "" {
			t.Errorf("%q for %q: got %v\nwant %s (%s)", c.to, c.from, err, c.want, c.do)
		}
	}
	for _, text := range []string{"", "\x00", "name", "= 3", "[[rim]]\n"} {
		var bad *FileError
		if _, err := ParseFile("r.toml", []byte(text)); !errors.As(err, &bad) || !strings.HasPrefix(bad.Error(), "r.toml:") {
			t.Errorf("%q: %v", text, err)
		}
	}
}

// A material of one's own takes from the built-in one of its kind only what
// may be left out, and says so.
func TestOwnMaterial(t *testing.T) {
	s, err := ParseFile("r.toml", []byte(ownLaminate))
	if err != nil {
		t.Fatal(err)
	}
	m := s.Material
	like, _ := materialByID("carbon-epoxy")
	if !m.Composite || m.EmissivityTrack != like.EmissivityTrack || m.SpecificHeatRise.Value != 0 {
		t.Errorf("composite: %+v", m)
	}
	if m.Density.Value != 1580 || m.Density.Basis != GivenByUser || m.Density.Unit != "kg/m3" {
		t.Errorf("density: %+v", m.Density)
	}
	metal := strings.NewReplacer("resin_class = \"unknown\"\n", "", "k_through = 0.7", "k_through = 150", "k_in_plane = 5", "k_in_plane = 150").Replace(ownLaminate)
	if s, err = ParseFile("r.toml", []byte(metal)); err != nil {
		t.Fatal(err)
	}
	metalLike, _ := materialByID("aluminium-6061-t6")
	if s.Material.Composite || s.Material.EmissivityTrack != metalLike.EmissivityTrack {
		t.Errorf("metal: %+v", s.Material)
	}
}

// A poor conductor without a resin class is no metal: it must not lose the
// limit of its resin.
func TestPoorConductorNeedsResinClass(t *testing.T) {
	text := strings.NewReplacer("resin_class = \"unknown\"\n", "", "k_in_plane = 5", "k_in_plane = 0.7").Replace(ownLaminate)
	if s, err := ParseFile("r.toml", []byte(text)); err == nil || !strings.Contains(err.Error(), "resin_class") {
		t.Errorf("%v, composite %v", err, s.Material.Composite)
	}
}

// The bounds of the file are those of the section: whatever random lengths the
// file accepts the section accepts, and the other way round.
func TestRimFileBoundsAreTheSections(t *testing.T) {
	rng := rand.New(rand.NewPCG(11, 0))
	accepted, refused := 0, 0
	for range 4000 {
		s, err := ParseFile("r.toml", []byte(ownLaminate))
		if err != nil {
			t.Fatal(err)
		}
		text := ownLaminate
		for _, n := range rimLengths() {
			if rng.IntN(4) > 0 {
				continue
			}
			v := n.lo + (n.hi-n.lo)*(1.1*rng.Float64()-0.05)
			old := n.key + " = " + strconv.FormatFloat(shifted(*n.at(&s), 3), 'f', -1, 64) + "\n"
			text = strings.Replace(text, old, n.key+" = "+strconv.FormatFloat(v, 'f', -1, 64)+"\n", 1)
			*n.at(&s) = shifted(v, -3)
		}
		_, err = ParseFile("r.toml", []byte(text))
		if want := s.Validate(); (err == nil) != (want == nil) {
			t.Fatalf("the file says %v, the section %v:\n%s", err, want, text)
		}
		if err == nil {
			accepted++
		} else {
			refused++
		}
	}
	if accepted < 200 || refused < 200 {
		t.Errorf("%d accepted, %d refused: the test says little", accepted, refused)
	}
}

// A composite skin on a metal wall is a rim like others: it needs its class of
// resin, which is about the track.
func TestCompositeSkinOnMetal(t *testing.T) {
	text := strings.NewReplacer("k_in_plane = 5\nk_through = 0.7\ndensity = 1580\nspecific_heat = 880\n",
		"material = \"aluminium-6061-t6\"\nsurface_material = \"basalt-epoxy\"\nsurface_mm = 0.5\n").Replace(ownLaminate)
	s, err := ParseFile("r.toml", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	if !s.ResinInTrack() || s.Material.Composite || s.ResinClass != "unknown" {
		t.Errorf("%+v", s)
	}
	again, err := ParseFile("r.toml", FileText(s))
	if err != nil || again != s {
		t.Errorf("%v\n%+v\n%+v", err, again, s)
	}
	if _, err := ParseFile("r.toml", []byte(strings.Replace(text, "resin_class = \"unknown\"\n", "", 1))); err == nil || !strings.Contains(err.Error(), "resin_class: missing") {
		t.Errorf("without class: %v", err)
	}
	own := strings.NewReplacer("k_in_plane = 5\nk_through = 0.7", "k_in_plane = 150\nk_through = 150\nsurface_material = \"basalt-epoxy\"\nsurface_mm = 0.5").Replace(ownLaminate)
	if s, err = ParseFile("r.toml", []byte(own)); err != nil || s.Material.Composite {
		t.Errorf("a metal of its own numbers under a skin: %v, composite %v", err, s.Material.Composite)
	}
}

// Mistakes of one kind do not hide those of another.
func TestEveryMistakeIsNamed(t *testing.T) {
	for _, c := range []struct {
		edits []string // from, to, ...
		want  []string
	}{
		{[]string{"inner_width_mm = 17", "inner_width_mm = 26", "depth_mm = 30", "depth_mm = 8", "name = ", "colour = \"red\"\nname = "},
			[]string{"colour: unknown", "inner_width_mm: 26 contradicts", "depth_mm: 8 is too little"}},
		{[]string{"specific_heat = 880\n", "", "\"unknown\"", "\"magic\"", "flank_mm = 1\n", "flank_mm = -1\n"},
			[]string{"specific_heat: missing", "resin_class: \"magic\"", "flank_mm: -1"}},
		{[]string{"k_in_plane = 5", "k_in_plane = 160", "k_through = 0.7", "k_through = 160"}, []string{"resin_class: contradicts k_in_plane = k_through = 160"}},
		{[]string{"k_in_plane = 5", "k_in_plane = 0.2"}, []string{"k_through: 0.7 contradicts k_in_plane = 0.2"}},
		{[]string{"specific_heat = 880", "specific_heat = 2500", "density = 1580", "density = 2700"}, []string{"specific_heat: 2500 contradicts density = 2700"}},
		{[]string{"flank_mm = 1\n", "flank_mm = 1\nsurface_material = \"basalt-epoxy\"\nsurface_mm = 0.8\n"}, []string{"surface_mm: 0.8 contradicts flank_mm = 1"}},
	} {
		text := strings.NewReplacer(c.edits...).Replace(ownLaminate)
		_, err := ParseFile("r.toml", []byte(text))
		if err == nil {
			t.Errorf("%q: accepted", c.edits)
			continue
		}
		for _, part := range c.want {
			if !strings.Contains(err.Error(), part) {
				t.Errorf("%q: no word of %q in\n%v", c.edits, part, err)
			}
		}
	}
}
