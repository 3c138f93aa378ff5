package roads

import (
	"strings"
	"time"
)

// AwkwardTimed is the pass with the time that clock gives each point.
func AwkwardTimed(name string, clock func(i int) string) AwkwardFile {
	d := AwkwardPass()
	var b strings.Builder
	i := 0
	for line := range strings.Lines(string(d.GPX())) {
		if strings.HasPrefix(line, "<trkpt") {
			line = strings.Replace(line, "</trkpt>", "<time>"+clock(i)+"</time></trkpt>", 1)
			i++
		}
		b.WriteString(line)
	}
	return AwkwardFile{name, []byte(b.String()), d.Road}
}

// AwkwardStart is when the timed files begin, and AwkwardStep the time between
// their points where the clock is right: 12 km/h.
var (
	AwkwardStart = time.Date(2031, 6, 1, 8, 0, 0, 0, time.UTC)
	AwkwardStep  = 3 * time.Second
)

// awkwardClocks are the pass with clocks that are wrong or change their zone.
func awkwardClocks() []AwkwardFile {
	at := func(i int) time.Time { return AwkwardStart.Add(time.Duration(i) * AwkwardStep) }
	text := func(t time.Time) string { return t.Format(time.RFC3339) }
	zones := [...]*time.Location{time.UTC, time.FixedZone("", 2*3600), time.FixedZone("", -(9*3600 + 30*60)), time.FixedZone("", 14*3600)}
	return []AwkwardFile{
		AwkwardTimed("a right clock", func(i int) string { return text(at(i)) }),
		AwkwardTimed("another zone", func(i int) string { return text(at(i).In(zones[1])) }),
		AwkwardTimed("mixed zones", func(i int) string { return text(at(i).In(zones[i/5%len(zones)])) }),
		AwkwardTimed("a frozen clock", func(int) string { return text(AwkwardStart) }),
		AwkwardTimed("a backward clock", func(i int) string { return text(at(-i)) }),
		AwkwardTimed("a clock that jumps", func(i int) string { return text(at(i + (i%7-3)*1000)) }),
		AwkwardTimed("a clock from 1970 and 2100", func(i int) string {
			return text(time.Date(1970+130*(i%2), 1, 1, 0, 0, i, 0, time.UTC))
		}),
		AwkwardTimed("times that are none", func(i int) string { return "yesterday" }),
	}
}
