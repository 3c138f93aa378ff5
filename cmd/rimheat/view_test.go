package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"strings"
	"testing"

	"rimheat/thermal"
)

func text(v textView, a *thermal.Assessment) []byte {
	var b bytes.Buffer
	v.assessment(&b, a)
	return b.Bytes()
}

func TestTextView(t *testing.T) {
	imperial := textView{units: screenUnits{imperial: true}}
	golden(t, "text_metric", text(textView{}, sample()))
	golden(t, "text_imperial", text(imperial, sample()))
	golden(t, "text_flat", text(textView{}, flat()))
}

// A ride with an hour tells the air that it meets, and of which day, beside what
// is assumed; one that meets the same all along tells one temperature.
func TestTextViewDay(t *testing.T) {
	a := sample()
	a.Setup.DayAir = &thermal.DayAir{Start: "11:30", AirMinC: 22, AirMaxC: 40.5, CoolestAt: "06:00", HottestAt: "15:00", CoolestMetC: 30.6, WarmestMetC: 38.2}
	var b bytes.Buffer
	textView{}.setup(&b, a)
	textView{units: screenUnits{imperial: true}}.setup(&b, a)
	a.Setup.CoolestMetC = 38
	textView{}.setup(&b, a)
	golden(t, "text_day", b.Bytes())
	for _, line := range strings.Split(b.String(), "\n") {
		if runes(line) > lineWidth {
			t.Errorf("%d runes: %s", runes(line), line)
		}
	}
	text, err := assessmentJSON(a)
	if err != nil {
		t.Fatal(err)
	}
	var back struct{ Setup map[string]any }
	if err := json.Unmarshal(text, &back); err != nil {
		t.Fatal(err)
	}
	for key, want := range map[string]any{"start": "11:30", "air_min_C": 22.0, "air_max_C": 40.5, "coolest_air_met_C": 38.0, "warmest_air_met_C": 38.2, "air_min_at": "06:00", "air_max_at": "15:00"} {
		if got := back.Setup[key]; got != want {
			t.Errorf("%s is %v, want %v", key, got, want)
		}
	}
}

// Candidates that do not fit beside each other are not left out.
func TestTextViewManyRims(t *testing.T) {
	a := sample()
	for i := range 5 {
		r := a.Rims[0]
		r.ID = fmt.Sprintf("carbon-with-a-long-name-%d", i)
		a.Rims = append(a.Rims, r)
	}
	var b bytes.Buffer
	textView{}.descents(&b, a)
	golden(t, "text_many_rims", b.Bytes())
}

func TestTextViewStaysInsideTheLine(t *testing.T) {
	for _, a := range []*thermal.Assessment{sample(), flat()} {
		for _, line := range strings.Split(string(text(textView{}, a)), "\n") {
			if runes(line) > lineWidth {
				t.Errorf("%d runes: %s", runes(line), line)
			}
			if strings.TrimRight(line, " ") != line {
				t.Errorf("blanks at the end: %q", line)
			}
		}
	}
}

// Nothing in an assessment may steer the terminal, whatever the file said.
func TestTextViewLetsNoControlCharacterThrough(t *testing.T) {
	const bad = "a\x1b[2Jb\x07c\u009b31md\u202ee\u200bf\x00"
	a := sample()
	a.Route.Name, a.Setup.Style, a.Setup.Habit, a.Advice = bad, bad, bad, bad
	a.Cautions = []string{bad}
	a.Route.Repairs[0].Text = bad
	a.Setup.DayAir = &thermal.DayAir{Start: bad, CoolestAt: bad, HottestAt: bad}
	r := &a.Rims[0]
	r.ID, r.Name, r.Material, r.Pad, r.LimitOn, r.LimitSource, r.PeakWheel, r.Verdict = bad, bad, bad, bad, bad, bad, bad, bad
	r.Limits[1].On, r.Limits[1].Source, r.Limits[1].Verdict = bad, bad, bad
	for _, c := range string(text(textView{}, a)) {
		if c != '\n' && clean(string(c)) == "" {
			t.Fatalf("%q got through", c)
		}
	}
}

// Colour adds to the words and takes none away.
func TestColourIsOnlyPaint(t *testing.T) {
	coloured := string(text(textView{palette: palette{on: true}}, sample()))
	if !strings.Contains(coloured, "\x1b[1;31mover\x1b[0m") {
		t.Error("the verdict is not coloured")
	}
	bare := coloured
	for _, sgr := range []string{sgrGood, sgrCare, sgrBad, "0"} {
		bare = strings.ReplaceAll(bare, "\x1b["+sgr+"m", "")
	}
	if bare != string(text(textView{}, sample())) {
		t.Error("without its colour the text differs from the plain one")
	}
}

func TestJSONView(t *testing.T) {
	for name, a := range map[string]*thermal.Assessment{"json_sample": sample(), "json_flat": flat()} {
		got, err := assessmentJSON(a)
		if err != nil {
			t.Fatal(err)
		}
		golden(t, name, got)
		var back thermal.Assessment
		if err := json.Unmarshal(got, &back); err != nil {
			t.Fatal(err)
		}
		if bytes.Contains(got, []byte("null")) {
			t.Errorf("%s: a list is null", name)
		}
		if !bytes.HasSuffix(got, []byte("}\n")) {
			t.Errorf("%s: no line end at the end", name)
		}
	}
}

// The lists that the view fills in are not filled in the assessment itself.
func TestJSONViewLeavesTheAssessment(t *testing.T) {
	a := flat()
	if _, err := assessmentJSON(a); err != nil {
		t.Fatal(err)
	}
	if a.Descents != nil || a.Rims[0].Over != nil || a.Rims[0].Limits[0].Over != nil {
		t.Error("the view changed the assessment")
	}
}

func TestJSONViewRefusesWhatIsNotFinite(t *testing.T) {
	for _, v := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		a := sample()
		a.Rims[1].Limits[0].MarginK = v
		out, err := assessmentJSON(a)
		if err == nil || out != nil {
			t.Errorf("%v: got %d bytes and error %v", v, len(out), err)
		}
	}
}
