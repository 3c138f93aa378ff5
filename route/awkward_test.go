package route_test

import (
	"bytes"
	"errors"
	"maps"
	"math"
	"strings"
	"testing"

	"rimheat/route"
	"rimheat/testdata/roads"
)

// An answer is what a file of roads.AwkwardFiles must give.
type answer struct {
	// A refusal: what it must say, whether it knows the line, and a word of
	// what to do.
	refuse, do string
	line       bool
	// Or a profile: its repairs by kind and count, no others; what the doubtful
	// stretches must say, one each; and its name, if not that of the pass.
	repairs map[string]int
	doubt   []string
	name    string
	// The length and the drop, metres, if they are not those of the file's road.
	lengthM, dropM float64
	// unknown tells that no reader can know length and drop.
	unknown bool
	// dropTol is the relative error of the drop, 1 % if 0.
	dropTol float64
}

const (
	passName   = "Awkward pass (invented)"
	latin1Name = "Höhe über dem Paß (invented)"
	// jumpM is 0.045 degrees of latitude at the equator of WGS84 (derived).
	jumpM = 0.045 * 110_574
)

// gapLengthM is the pass with a straight line from the last point before the
// gap to the first after it.
func gapLengthM() float64 {
	d := roads.AwkwardPass()
	a, b := d.Points[599].M, d.Points[1000].M
	x0, y0 := d.Road.PlaneAt(a)
	x1, y1 := d.Road.PlaneAt(b)
	return d.Road.LengthM() - (b - a) + math.Hypot(x1-x0, y1-y0)
}

var awkwardAnswers = map[string]answer{
	"UTF-16, little-endian, with mark":      {},
	"UTF-16, big-endian, with mark":         {},
	"UTF-16, little-endian, without mark":   {},
	"UTF-16, big-endian, without mark":      {},
	"UTF-16 without mark and declaration":   {},
	"UTF-16 with mark declared as UTF-8":    {},
	"UTF-32":                                {refuse: "UTF-32", do: "UTF-8"},
	"byte-order mark":                       {},
	"byte-order mark without declaration":   {},
	"no declaration":                        {},
	"Latin-1 declared as UTF-8":             {repairs: map[string]int{"not-utf-8": 3}, name: latin1Name},
	"Latin-1 without declaration":           {repairs: map[string]int{"not-utf-8": 3}, name: latin1Name},
	"Latin-1 declared right":                {name: latin1Name},
	"CRLF":                                  {},
	"a huge name":                           {name: strings.TrimSpace(strings.Repeat("Awkward pass ", 20))[:route.MaxNameRunes]},
	"an endless name":                       {refuse: "longer than 4 MiB, the limit", do: "export", line: true},
	"control sequences in the name":         {name: "Awkward passlink (invented)"},
	"an escape character in the name":       {refuse: "illegal character code U+001B", do: "export", line: true},
	"an escape character as reference":      {refuse: "illegal character code U+001B", do: "export", line: true},
	"an entity bomb":                        {refuse: "entity &e11; of its own or of another file; such are not read", do: "plain text", line: true},
	"an outside entity":                     {refuse: "entity &x; of its own or of another file; such are not read", do: "plain text", line: true},
	"a bare ampersand":                      {refuse: "a bare & in the text", do: "&amp;", line: true},
	"cut in the middle of a tag":            {refuse: "the file is cut short after point 883", do: "copy or export it again", line: true},
	"waypoints only":                        {refuse: "only waypoints (40), no track and no route", do: "export a track"},
	"missing namespace":                     {},
	"another namespace":                     {},
	"decimal commas in positions":           {refuse: `point 1: lat="-0,1`, do: "with a decimal point", line: true},
	"one height spike":                      {repairs: map[string]int{"height-spike": 1}},
	"three height spikes in a row":          {repairs: map[string]int{"height-spike": 3}},
	"thirty heights of zero":                {repairs: map[string]int{"height-filled": 30}},
	"all heights zero":                      {refuse: "all 1,201 heights are zero, which means unknown", do: "add heights"},
	"a lasting step of 40 m":                {repairs: map[string]int{"height-step": 1, "too-steep": -1}, doubt: []string{"a height step of 41 m"}, dropM: 308 + 40},
	"a lasting step of 60 m":                {refuse: "from 577 m to 516 m of height within 10 m, is after point 1,000 near km 10.0", do: "a wrong step", line: true},
	"whole metres":                          {},
	"every tenth height empty":              {repairs: map[string]int{"height-filled": 120}},
	"every tenth height an empty tag":       {repairs: map[string]int{"height-filled": 120}},
	"every tenth height NaN":                {repairs: map[string]int{"height-filled": 120, "height-unreadable": 120}},
	"every tenth height with a comma":       {repairs: map[string]int{"height-filled": 120, "height-unreadable": 120}},
	"decimal commas in all heights":         {refuse: `none of the 1,201 heights can be read as a number (for example "640,00")`, do: "decimal point", line: true},
	"all heights NaN":                       {refuse: `none of the 1,201 heights can be read as a number (for example "NaN640.00")`, do: "decimal point", line: true},
	"no heights":                            {refuse: "none of the 1,201 points has a height", do: "add heights"},
	"feet, steep":                           {refuse: "are steeper than 30 %, so the heights are wrong", do: "heights in feet", line: true},
	"feet, 7 %":                             {repairs: map[string]int{"very-steep": 1}, unknown: true},
	"feet, mild":                            {unknown: true}, // nothing tells
	"feet, mild, from whole metres":         {repairs: map[string]int{"feet-pattern": 151}, unknown: true},
	"whole feet, mild, from whole metres":   {repairs: map[string]int{"feet-pattern": 151}, unknown: true},
	"feet, mild, high up":                   {repairs: map[string]int{"very-high": -1}, unknown: true},
	"whole feet turned into metres":         {},
	"tunnel under a rounded ridge":          {repairs: map[string]int{"tunnel-or-bridge": 1}, doubt: []string{"heights of a tunnel or bridge replaced over 1,"}, dropTol: 0.02},
	"tunnel under a flat-topped ridge":      {repairs: map[string]int{"tunnel-or-bridge": 1}, doubt: []string{"heights of a tunnel or bridge replaced over 1,"}, dropTol: 0.02},
	"tunnel under a ridge with two tops":    {repairs: map[string]int{"tunnel-or-bridge": 1}, doubt: []string{"heights of a tunnel or bridge replaced over 1,"}, dropTol: 0.02},
	"tunnel under two ridges":               {repairs: map[string]int{"tunnel-or-bridge": 1}, doubt: []string{"heights of a tunnel or bridge replaced over 1,"}, dropTol: 0.02},
	"tunnel on a descent":                   {repairs: map[string]int{"tunnel-or-bridge": 1}, doubt: []string{"heights of a tunnel or bridge replaced over 1,"}, dropTol: 0.02},
	"bridge over a gorge":                   {repairs: map[string]int{"tunnel-or-bridge": 1}, doubt: []string{"heights of a tunnel or bridge replaced over 1"}, dropTol: 0.02},
	"bridge on a descent":                   {repairs: map[string]int{"tunnel-or-bridge": 1}, doubt: []string{"heights of a tunnel or bridge replaced over 1"}, dropTol: 0.02},
	"bridge over a flat-bottomed valley":    {repairs: map[string]int{"tunnel-or-bridge": 1}, doubt: []string{"heights of a tunnel or bridge replaced over 6"}, dropTol: 0.02},
	"a real hill of 25 %":                   {},
	"a real hill of 15 %":                   {},
	"a point 5 km off":                      {repairs: map[string]int{"position-outlier": 1}},
	"a lasting jump of 5 km":                {repairs: map[string]int{"gap": 1}, doubt: []string{"a gap of 4,9"}, lengthM: 12_000 + jumpM},
	"a gap of 400 points":                   {repairs: map[string]int{"gap": 1}, doubt: []string{"a gap of "}, lengthM: gapLengthM()},
	"every point twice":                     {repairs: map[string]int{"duplicate-point": 1201}},
	"out and back":                          {lengthM: 24_000, dropM: 308 + 216},
	"antimeridian eastwards":                {},
	"antimeridian westwards":                {lengthM: 12_000, dropM: 216},
	"a descent at the very start":           {},
	"a descent at the very end":             {},
	"two segments and an empty one between": {},
	"segments of one point":                 {},
	"a segment without length between":      {repairs: map[string]int{"duplicate-point": 3}},
	"a track and a route of the same road":  {repairs: map[string]int{"other-tracks": 1}},
	"a route before its track":              {repairs: map[string]int{"other-tracks": 1}},
	"a route alone":                         {},
	"the track twice":                       {repairs: map[string]int{"other-tracks": 1}},
	"a right clock":                         {},
	"another zone":                          {},
	"mixed zones":                           {},
	"a frozen clock":                        {},
	"a backward clock":                      {},
	"a clock that jumps":                    {},
	"a clock from 1970 and 2100":            {},
	"times that are none":                   {repairs: map[string]int{"time-unreadable": 1201}},
}

// TestAwkwardFiles: every awkward file gives a sane profile with the right
// repairs or a clear refusal.
func TestAwkwardFiles(t *testing.T) {
	missing := maps.Clone(awkwardAnswers)
	for _, f := range roads.AwkwardFiles() {
		delete(missing, f.Name)
		t.Run(f.Name, func(t *testing.T) {
			want, ok := awkwardAnswers[f.Name]
			if !ok {
				t.Fatal("no answer is known for this file")
			}
			p, err := route.Load("-", bytes.NewReader(f.Data), route.Options{})
			if want.refuse != "" {
				clearlyRefused(t, err, want)
				return
			}
			if err != nil {
				t.Fatal(err)
			}
			sound(t, p)
			saneAnswer(t, f, p, want)
		})
	}
	for name := range missing {
		t.Errorf("no awkward file is called %q", name)
	}
}

func clearlyRefused(t *testing.T, err error, want answer) {
	t.Helper()
	var e *route.InputError
	if !errors.As(err, &e) {
		t.Fatalf("%T: %v, want a refusal", err, err)
	}
	if e.File != "-" || !strings.Contains(e.What, want.refuse) || !strings.Contains(e.Do, want.do) || (e.Line > 0) != want.line {
		t.Errorf("line %d: %s; %s; want %+v", e.Line, e.What, e.Do, want)
	}
	if strings.ContainsAny(e.Error(), "\x1b\x07\u009b\u009d") || len(e.Error()) > 600 {
		t.Errorf("a message not fit to print: %.700q", e.Error())
	}
}

func saneAnswer(t *testing.T, f roads.AwkwardFile, p *route.Profile, want answer) {
	t.Helper()
	if want.name == "" {
		want.name = passName
	}
	if p.Name != want.name {
		t.Errorf("name %q, want %q", p.Name, want.name)
	}
	for _, r := range p.Repairs {
		if n, ok := want.repairs[r.Kind]; !ok || n >= 0 && n != r.Count {
			t.Errorf("repair %+v, want %v", r, want.repairs)
		}
	}
	if len(p.Repairs) != len(want.repairs) {
		t.Errorf("repairs %v, want %v", p.Repairs, want.repairs)
	}
	if len(p.Doubtful) != len(want.doubt) {
		t.Fatalf("doubtful %+v, want %q", p.Doubtful, want.doubt)
	}
	for i, d := range p.Doubtful {
		if !strings.Contains(d.Why, want.doubt[i]) {
			t.Errorf("doubtful %+v, want %q", d, want.doubt[i])
		}
	}
	if want.unknown {
		return
	}
	if f.Road != nil {
		if want.lengthM == 0 {
			want.lengthM = f.Road.LengthM()
		}
		if want.dropM == 0 {
			want.dropM = f.Road.DropM()
		}
	}
	if want.dropTol == 0 {
		want.dropTol = 0.01
	}
	if e := p.DistanceM/want.lengthM - 1; math.Abs(e) > 0.005 {
		t.Errorf("length %.1f m, want %.1f m", p.DistanceM, want.lengthM)
	}
	if e := p.DropM/want.dropM - 1; math.Abs(e) > want.dropTol {
		t.Errorf("drop %.1f m, want %.1f m", p.DropM, want.dropM)
	}
}
