package plots

import (
	"bytes"
	"encoding/csv"
	"errors"
	"math"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode"

	"rimheat/route"
	"rimheat/testdata/roads"
	"rimheat/thermal"
)

// A historyFile is a history as it is read back, by column.
type historyFile struct {
	names []string
	cells map[string][]string
}

// saveHistory writes a history that must keep the rules of the format.
func saveHistory(t testing.TB, a *thermal.Assessment) historyFile {
	t.Helper()
	var b bytes.Buffer
	if err := SaveHistory(&b, a, Options{}); err != nil {
		t.Fatal(err)
	}
	if !bytes.HasSuffix(b.Bytes(), []byte("\n")) || bytes.ContainsAny(b.Bytes(), "\r\"\ufeff") {
		t.Error("the lines do not end in a line feed alone, or there are quotes or a mark")
	}
	r := csv.NewReader(&b)
	all, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	f := historyFile{names: all[0], cells: map[string][]string{}}
	for _, row := range all[1:] {
		for i, cell := range row {
			v, err := strconv.ParseFloat(cell, 64)
			if cell != "" && (err != nil || !finite(v) || strings.ContainsAny(cell, "eE+")) || strings.HasPrefix(cell, "-0") && strings.Trim(cell, "-0.") == "" {
				t.Fatalf("the cell %q in %s", cell, f.names[i])
			}
			f.cells[f.names[i]] = append(f.cells[f.names[i]], cell)
		}
	}
	if len(f.cells) != len(f.names) || len(all)-1 != len(a.Trace.DistM) {
		t.Errorf("%d names, %d of them different, %d rows for %d places", len(f.names), len(f.cells), len(all)-1, len(a.Trace.DistM))
	}
	return f
}

// highest is the highest value of some columns, as it is written.
func (f historyFile) highest(t testing.TB, columns ...string) string {
	t.Helper()
	best, text := math.Inf(-1), ""
	for _, c := range columns {
		if len(f.cells[c]) == 0 {
			t.Fatalf("no column %s in %v", c, f.names)
		}
		for _, cell := range f.cells[c] {
			if v, err := strconv.ParseFloat(cell, 64); err == nil && v > best {
				best, text = v, cell
			}
		}
	}
	return text
}

// samePeaks holds the columns' highest values to the assessment's peaks.
func samePeaks(t *testing.T, name string, a *thermal.Assessment) {
	t.Helper()
	f := saveHistory(t, a)
	hundredth := func(c float64) string { return strconv.FormatFloat(c, 'f', 2, 64) }
	for i := range a.Rims {
		r := &a.Rims[i]
		both := func(place string) []string {
			return []string{place + "_front_" + r.ID + "_C", place + "_rear_" + r.ID + "_C"}
		}
		peaks := map[string]float64{"track": r.PeakC, "surface": r.SurfacePeakC, "contact": r.ContactPeakC, "tyre_side": r.TyreSidePeakC, "spoke_bed": r.SpokeBedPeakC}
		for _, l := range r.Limits {
			peaks[strings.ReplaceAll(l.On, " ", "_")] = l.PeakC
		}
		for place, c := range peaks {
			if got := f.highest(t, both(place)...); got != hundredth(c) {
				t.Errorf("%s: %s of %s comes to %s, its peak is %s", name, place, r.ID, got, hundredth(c))
			}
		}
		if got := f.highest(t, "track_"+r.PeakWheel+"_"+r.ID+"_C"); got != hundredth(r.PeakC) {
			t.Errorf("%s: the %s wheel of %s comes to %s", name, r.PeakWheel, r.ID, got)
		}
		// And it stands where the peak is: at the first place not before it.
		k := slices.IndexFunc(a.Trace.DistM, func(m float64) bool { return m >= r.PeakAtM })
		if got := f.cells["track_"+r.PeakWheel+"_"+r.ID+"_C"][k]; got != hundredth(r.PeakC) {
			t.Errorf("%s: %s has %s where it peaks at %s", name, r.ID, got, hundredth(r.PeakC))
		}
	}
}

// TestHistoryHoldsThePeaks: planned, with a rest, ending in a stop, and recorded.
func TestHistoryHoldsThePeaks(t *testing.T) {
	a, _ := demoRide(t, "carbon-deep", "alu-classic", "alu-track")
	if len(a.Trace.Stands) != 1 {
		t.Fatal("no rest")
	}
	samePeaks(t, "down to the end", a)
	for file, replay := range map[string]bool{"two_passes_hot": false, "recorded_hill": true} {
		p, err := route.Load(filepath.Join("..", "testdata", file+".gpx"), nil, route.Options{Replay: replay})
		if err != nil {
			t.Fatal(err)
		}
		s := thermal.DefaultSetup()
		s.Style.Habit = "pulse"
		if a, err = thermal.Assess(p, s); err != nil {
			t.Fatal(err)
		}
		samePeaks(t, file, a)
	}
}

// TestHistoryRows works the rule out on five places: steps that end between them, on
// them, several at once, none, a rest, and what comes after the end.
func TestHistoryRows(t *testing.T) {
	a := &thermal.Assessment{Rims: []thermal.RimResult{{ID: "rim"}}}
	a.Trace = thermal.Trace{DistM: []float64{0, 10, 20, 30, 40}, TimeS: []float64{0, 2, 4, 106, 108}, Grade: []float64{0, -0.1, math.NaN(), math.Inf(1), -1e-9}}
	h := &a.Rims[0].Front
	for _, s := range [][3]float64{ // s, m, °C
		{1, 5, 30}, {1.5, 7.5, 50}, {3, 15, 42}, // rows at 0 m, 10 m
		{5, 20, 40}, {50, 20, 61}, {104, 20, 22}, // at the rest of 100 s, until 104 s
		{108, 40, 62}, {300, 40, 70}, {700, 40, 25}, // the end, and after it
	} {
		h.TimeS, h.DistM, h.TrackC = append(h.TimeS, s[0]), append(h.DistM, s[1]), append(h.TrackC, s[2])
	}
	h.SurfaceC = []float64{math.NaN(), 60, math.Inf(1)}
	f := saveHistory(t, a)
	for column, want := range map[string][]string{
		// 0 m: before the end of the first step. 10 m: 50 °C on the way, more than the
		// 47.33 °C on arrival. 20 m: the rest. 30 m: halfway in time from 22 to 62 °C.
		"track_front_rim_C":   {"30.00", "50.00", "61.00", "42.00", "70.00"},
		"surface_front_rim_C": {"", "60.00", "", "", ""},
		"contact_front_rim_C": {"", "", "", "", ""},
		"track_rear_rim_C":    {"", "", "", "", ""},
		"grade":               {"0.00000", "-0.10000", "", "", "0.00000"},
		"lat_deg":             {"", "", "", "", ""},
		"time_s":              {"0.00", "2.00", "4.00", "106.00", "108.00"},
	} {
		if got := f.cells[column]; !slices.Equal(got, want) {
			t.Errorf("%s: %q, want %q", column, got, want)
		}
	}
}

// What the draws say of a stretch stands in all its rows.
func TestHistoryOfDraws(t *testing.T) {
	a := &thermal.Assessment{Rims: []thermal.RimResult{{ID: "drawn"}, {ID: "not"}, {ID: "torn"}}}
	a.Trace.DistM = []float64{0, 10, 20, 30, 40}
	a.Rims[0].Along = &thermal.Along{DistM: []float64{10, 30}, P05C: []float64{1, 2}, P50C: []float64{3, math.NaN()}, P95C: []float64{5, 6}}
	a.Rims[2].Along = &thermal.Along{P05C: []float64{1}, P50C: []float64{3, 4}}
	f := saveHistory(t, a)
	for column, want := range map[string][]string{
		"track_p05_drawn_C": {"1.00", "1.00", "2.00", "2.00", "2.00"},
		"track_p50_drawn_C": {"3.00", "3.00", "", "", ""},
		"track_p95_drawn_C": {"5.00", "5.00", "6.00", "6.00", "6.00"},
		"track_p50_not_C":   nil,
		"track_p50_torn_C":  nil,
	} {
		if got := f.cells[column]; !slices.Equal(got, want) {
			t.Errorf("%s: %q, want %q", column, got, want)
		}
	}
}

// The columns are a format that others read: their names and order are kept.
func TestHistoryColumns(t *testing.T) {
	a := &thermal.Assessment{Rims: []thermal.RimResult{{ID: "carbon-deep"}, {ID: "alu-track"}}}
	a.Trace.DistM = []float64{0, 10}
	a.Rims[0].Along = &thermal.Along{P05C: []float64{1}, P50C: []float64{1}, P95C: []float64{1}}
	a.Rims[1].Front.FairingC, a.Rims[1].Rear.FairingC = []float64{}, []float64{}
	want := "distance_m time_s height_m grade lat_deg lon_deg speed_mps air_C front_brake_W rear_brake_W"
	for _, rim := range []string{"carbon-deep", "alu-track"} {
		for _, wheel := range []string{"front", "rear"} {
			for _, place := range []string{"track", "surface", "contact", "tyre_side", "spoke_bed"} {
				want += " " + place + "_" + wheel + "_" + rim + "_C"
			}
			if rim == "alu-track" {
				want += " fairing_" + wheel + "_alu-track_C"
			}
		}
		if rim == "carbon-deep" {
			want += " track_p05_carbon-deep_C track_p50_carbon-deep_C track_p95_carbon-deep_C"
		}
	}
	if got := strings.Join(saveHistory(t, a).names, " "); got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
}

func TestHistoryHostileNames(t *testing.T) {
	for _, name := range hostileNames() {
		checkHostileHistory(t, name)
	}
}

// checkHostileHistory puts a name into the line of names, three times.
func checkHostileHistory(t *testing.T, name string) {
	t.Helper()
	a := cases()["very short"].whole()
	a.Rims = append(a.Rims, a.Rims[0])
	for i := range a.Rims {
		a.Rims[i].ID, a.Rims[i].Name = name, name
	}
	for _, n := range saveHistory(t, a).names {
		// Any program that guesses at separators or formulas must find a plain word.
		if len([]rune(n)) > 100 || !unicode.IsLetter([]rune(n)[0]) || strings.ContainsAny(n, " =+@;|'`\t") || strings.ContainsFunc(n, unicode.IsControl) {
			t.Errorf("%.40q: a column is called %q", name, n)
		}
	}
}

func TestHistoryErrors(t *testing.T) {
	a := roadOf("two descents")
	for name, c := range map[string]*thermal.Assessment{
		"no assessment": nil, "no trace": {Rims: a.Rims}, "no rim": {Trace: a.Trace},
	} {
		var b bytes.Buffer
		if err := SaveHistory(&b, c, Options{}); err == nil || !strings.Contains(err.Error(), name) || b.Len() > 0 {
			t.Errorf("%s: %v, %d bytes", name, err, b.Len())
		}
	}
	for _, room := range []int{0, 70_000} {
		if err := SaveHistory(&fullAfter{room}, a, Options{}); !errors.Is(err, errFull) {
			t.Errorf("a disk of %d bytes: %v", room, err)
		}
	}
}

// Units stay metric, and every case comes out whole and the same again.
func TestHistoryOfAllCases(t *testing.T) {
	t.Parallel()
	for name, in := range cases() {
		a := in.whole()
		saveHistory(t, a)
		var one, two bytes.Buffer
		if err := errors.Join(SaveHistory(&one, a, Options{}), SaveHistory(&two, a, Options{Imperial: true})); err != nil || !bytes.Equal(one.Bytes(), two.Bytes()) {
			t.Errorf("%s: %v, or other bytes in imperial units", name, err)
		}
	}
}

// BenchmarkSaveHistory writes a ride of 200 km with two rims.
func BenchmarkSaveHistory(b *testing.B) {
	p, err := route.Read(bytes.NewReader(roads.Mountain(200_000, 20, 1).GPX()), "mountain", route.Options{})
	if err != nil {
		b.Fatal(err)
	}
	profile, err := route.NewProfile(p, route.Options{})
	if err != nil {
		b.Fatal(err)
	}
	a, err := thermal.Assess(profile, thermal.DefaultSetup())
	if err != nil {
		b.Fatal(err)
	}
	var out bytes.Buffer
	for b.Loop() {
		out.Reset()
		if err := SaveHistory(&out, a, Options{}); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(len(a.Trace.DistM)), "rows")
	b.ReportMetric(float64(out.Len()), "bytes")
}
