package roads

import (
	"bytes"
	"strings"
)

// stepped is the pass with all heights lowered by downM metres from km 10 on.
func stepped(name string, downM float64) AwkwardFile {
	return changed(name, func(pts []Point) {
		for i := 1000; i < len(pts); i++ {
			pts[i].HeightM -= downM
		}
	})
}

// awkwardHeights are the pass with spoilt heights.
func awkwardHeights() []AwkwardFile {
	d := AwkwardPass()
	lines := func(name string, change func(i int, line string) string) AwkwardFile {
		all := strings.SplitAfter(string(d.GPX()), "\n")
		k := 0
		for i, line := range all {
			if strings.HasPrefix(line, "<trkpt") {
				all[i] = change(k, line)
				k++
			}
		}
		return AwkwardFile{name, []byte(strings.Join(all, "")), d.Road}
	}
	comma := func(_ int, line string) string {
		before, height, _ := strings.Cut(line, "<ele>")
		return before + "<ele>" + strings.Replace(height, ".", ",", 1)
	}
	height := func(text string) func(i int, line string) string {
		return func(i int, line string) string {
			if i%10 != 3 {
				return line
			}
			before, rest, _ := strings.Cut(line, "<ele>")
			_, after, _ := strings.Cut(rest, "</ele>")
			return before + text + after
		}
	}
	return []AwkwardFile{
		changed("one height spike", func(pts []Point) { pts[750].HeightM += 200 }),
		changed("three height spikes in a row", func(pts []Point) {
			for i := 750; i < 753; i++ {
				pts[i].HeightM -= 200
			}
		}),
		changed("thirty heights of zero", func(pts []Point) {
			for i := 700; i < 730; i++ {
				pts[i].HeightM = 0
			}
		}),
		refused(changed("all heights zero", func(pts []Point) {
			for i := range pts {
				pts[i].HeightM = 0
			}
		})),
		stepped("a lasting step of 40 m", 40),
		refused(stepped("a lasting step of 60 m", 60)),
		changed("whole metres", func(pts []Point) { StairSteps(pts, 1) }),
		lines("every tenth height empty", height("<ele></ele>")),
		lines("every tenth height an empty tag", height("<ele/>")),
		lines("every tenth height NaN", height("<ele>NaN</ele>")),
		lines("every tenth height with a comma", height("<ele>700,25</ele>")),
		refused(lines("decimal commas in all heights", comma)),
		refused(AwkwardFile{Name: "all heights NaN", Data: bytes.ReplaceAll(d.GPX(), []byte("<ele>"), []byte("<ele>NaN"))}),
		refused(spoilt("no heights", "<ele>", "<!--", "</ele>", "-->")),
	}
}
