package route

import (
	"cmp"
	"slices"
)

// A Span is a stretch of the route whose heights or bends are not to be
// trusted, though the profile goes on through it.
type Span struct {
	// StartM and EndM are distances from the start of the route, metres.
	StartM float64 `json:"start_m"`
	EndM   float64 `json:"end_m"`
	// Why says in a few words what is doubtful, such as "steeper than 30 %".
	Why string `json:"why"`
}

// A doubt is what is known of a doubtful stretch before it is put in words.
type doubt struct {
	startM, endM float64
	gaps         int     // bridged gaps
	longestGapM  float64 // metres
	steps        int     // height steps kept
	highestStepM float64 // metres
	capped       bool    // steeper than MaxGrade
	paces        int     // recorded speeds that no rider makes
	// crossings are tunnels and bridges, the longest of longestCrossingM metres.
	crossings        int
	longestCrossingM float64
}

// doubtful orders the doubts by distance and merges those that overlap or are
// nearer to each other than sameSpotM.
func (c *course) doubtful() []Span {
	slices.SortStableFunc(c.doubts, func(a, b doubt) int { return cmp.Compare(a.startM, b.startM) })
	var merged []doubt
	for _, d := range c.doubts {
		n := len(merged)
		if n == 0 || d.startM-merged[n-1].endM >= sameSpotM {
			merged = append(merged, d)
			continue
		}
		m := &merged[n-1]
		m.endM = max(m.endM, d.endM)
		m.gaps += d.gaps
		m.longestGapM = max(m.longestGapM, d.longestGapM)
		m.steps += d.steps
		m.highestStepM = max(m.highestStepM, d.highestStepM)
		m.capped = m.capped || d.capped
		m.paces += d.paces
		m.crossings += d.crossings
		m.longestCrossingM = max(m.longestCrossingM, d.longestCrossingM)
	}
	spans := make([]Span, len(merged))
	for i := range merged {
		spans[i] = Span{StartM: merged[i].startM, EndM: merged[i].endM, Why: merged[i].why()}
	}
	return spans
}

func (d *doubt) why() string {
	s := ""
	add := func(t string) {
		if s != "" {
			s += ", "
		}
		s += t
	}
	if d.gaps == 1 {
		add("a gap of " + metres(d.longestGapM) + " bridged")
	} else if d.gaps > 1 {
		add(count(d.gaps) + " gaps of up to " + metres(d.longestGapM) + " bridged")
	}
	if d.crossings == 1 {
		add("heights of a tunnel or bridge replaced over " + metres(d.longestCrossingM))
	} else if d.crossings > 1 {
		add("heights of " + count(d.crossings) + " tunnels or bridges replaced over up to " + metres(d.longestCrossingM))
	}
	if d.capped {
		add("steeper than " + percent(MaxGrade))
	}
	if d.steps == 1 {
		add("a height step of " + metres(d.highestStepM))
	} else if d.steps > 1 {
		add(count(d.steps) + " height steps of up to " + metres(d.highestStepM))
	}
	if d.paces > 0 {
		add("a recorded speed that no rider has")
	}
	return s
}
