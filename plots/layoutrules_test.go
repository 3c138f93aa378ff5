package plots

import (
	"io"
	"math"
	"slices"
	"testing"

	"rimheat/thermal"
)

// checkFigure holds a figure to the rules of layout that every one must keep.
func checkFigure(t *testing.T, a *thermal.Assessment, sc *scene) {
	t.Helper()
	checkNarrow(t, sc, roleDrawsEdge, roleTick)
	checkLimitsReadAsTheirRims(t, a, sc)
	for _, s := range sc.shapes {
		if s.role != roleRest && s.role != roleGrade || len(s.pts) == 0 {
			continue
		}
		for _, l := range sc.labels {
			if s.box().meets(l.box) {
				t.Errorf("a sign of a %s lies on %q", s.role, l.text)
			}
		}
	}
}

// judged adds what the draws say of each limit.
func judged(a *thermal.Assessment) *thermal.Assessment {
	for i := range a.Rims {
		r := &a.Rims[i]
		for _, l := range r.Limits {
			r.Risk.Limits = append(r.Risk.Limits, thermal.LimitRisk{On: l.On, PeakC: thermal.Percentiles{P05: l.PeakC - 21, P50: l.PeakC, P95: l.PeakC + 33}})
		}
	}
	return a
}

func checkLabelsApart(t *testing.T, sc *scene) {
	t.Helper()
	sheet := rect{4, 4, sc.w - 4, sc.h - 4}
	for i, l := range sc.labels {
		if l.size < 9 {
			t.Errorf("%q is set in %g points", l.text, l.size)
		}
		if !inside(l.box, sheet) {
			t.Errorf("%q leaves the sheet: %v", l.text, l.box)
		}
		for _, m := range sc.labels[:i] {
			if l.box.meets(m.box) {
				t.Errorf("%q %v lies on %q %v", l.text, l.box, m.text, m.box)
			}
		}
	}
}

func checkNoLineThroughLabels(t *testing.T, sc *scene) {
	t.Helper()
	for _, s := range sc.shapes {
		switch s.role {
		case roleTrack, roleTyreSide, roleLimit, roleLeader, roleCrossing, roleOverRoad, roleAxis, roleKey, roleGauge:
		default:
			continue
		}
		for _, l := range sc.labels {
			for k := 1; k < len(s.pts); k++ {
				if l.box.cutBy(s.pts[k-1], s.pts[k]) {
					t.Errorf("a %s line of rim %d runs through %q", s.role, s.rim, l.text)
					break
				}
			}
		}
	}
}

// checkRimsNamed looks for what names each rim: its verdict, or on a part of a page
// its place in the key, a sample, a gauge and a curve.
func checkRimsNamed(t *testing.T, sc *scene, rims int, bare bool) {
	t.Helper()
	if n := len(labelsOf(sc, roleVerdict)); bare && n > 0 {
		t.Errorf("a part of a page has %d lines of verdicts", n)
	}
	for i := range rims {
		tag := tagOf(i, rims)
		if !bare && !slices.ContainsFunc(sc.labels, func(l label) bool { return l.role == roleVerdict && l.rim == i && l.text != tag }) {
			t.Errorf("rim %d has no verdict", i)
		}
		if bare && rims > 1 && !slices.ContainsFunc(sc.labels, func(l label) bool { return l.role == roleKey && l.text == tag }) {
			t.Errorf("rim %d is not in the key", i)
		}
		for _, r := range []role{roleKey, roleGauge} {
			if len(sc.curve(r, i)) < 2 {
				t.Errorf("rim %d has no %s", i, r)
			}
		}
		if rims > 1 && rims < 10 && !slices.ContainsFunc(sc.labels, func(l label) bool { return l.role == roleGauge && l.rim == i && l.text == tag }) {
			t.Errorf("rim %d's gauge has no tag", i)
		}
		if len(sc.curve(roleTrack, i)) < 2 {
			t.Errorf("rim %d has no curve", i)
		}
	}
}

func labelsOf(sc *scene, r role) []label {
	return slices.DeleteFunc(slices.Clone(sc.labels), func(l label) bool { return l.role != r })
}

// heightAt is the curve's height at x, interpolated.
func heightAt(line []xy, x float64) float64 {
	for k := 1; k < len(line); k++ {
		if p, q := line[k-1], line[k]; p.x <= x && x <= q.x && q.x > p.x {
			return p.y + (x-p.x)/(q.x-p.x)*(q.y-p.y)
		}
	}
	return math.NaN()
}

// checkLimitsReadAsTheirRims holds every limit drawn in the panel to the
// rule: a track of another rim rises to it at most where a rim of its own is
// over it, and none rises to a limit of the tyre side anywhere else.
func checkLimitsReadAsTheirRims(t *testing.T, a *thermal.Assessment, sc *scene) {
	t.Helper()
	road := sc.curve(roleRoad, noRim)
	left, right := road[0].x, road[len(road)-1].x
	lines := limitLines(a.Rims)
	for _, s := range sc.shapes {
		if s.role != roleLimit {
			continue
		}
		k := slices.IndexFunc(lines, func(l limitLine) bool { return l.rims[0] == s.rim && l.tyreSide == (len(s.dash) > 0) })
		if k < 0 {
			t.Fatalf("a limit line of rim %d stands for no limit", s.rim)
		}
		l := lines[k]
		for i := range a.Rims {
			if !l.tyreSide && slices.Contains(l.rims, i) {
				continue
			}
			for _, p := range sc.curve(roleTrack, i) {
				if p.x < s.pts[0].x || p.x > s.pts[1].x || p.y < s.pts[0].y {
					continue
				}
				own := slices.ContainsFunc(l.rims, func(r int) bool {
					return slices.ContainsFunc(a.Rims[r].Over, func(o thermal.OverSpan) bool {
						x0, x1 := left+(right-left)*o.StartM/a.Route.DistanceM, left+(right-left)*o.EndM/a.Route.DistanceM
						return p.x > x0-12 && p.x < x1+12
					})
				})
				if !own {
					t.Errorf("%s: rim %d's track rises to a limit of rims %v at x %.0f", a.Route.Name, i, l.rims, p.x)
					break
				}
			}
		}
	}
}

// A refusal is an assessment of which no figure can be drawn, and what is said of it.
type refusal struct {
	format string
	a      *thermal.Assessment
	want   string
}

// checkRefusals holds a way to save a figure to it: the words, and nothing written.
func checkRefusals(t *testing.T, save func(io.Writer, string, *thermal.Assessment, Options) error, cases []refusal) {
	t.Helper()
	for _, c := range cases {
		w := &shut{}
		if err := save(w, c.format, c.a, Options{}); err == nil || err.Error() != c.want || w.calls > 0 {
			t.Errorf("%s: %v, want %s", c.format, err, c.want)
		}
	}
}
