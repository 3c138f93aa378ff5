package plots

import (
	"cmp"
	"math"
	"slices"
)

// cut divides a scene so that its upper part is at most so high, where only blank
// paper lies.
func (s *scene) cut(most float64) (upper, lower *scene, ok bool) {
	type span struct{ lo, hi float64 }
	var busy []span
	for _, sh := range s.shapes {
		if sh.role == rolePaper {
			continue
		}
		b := span{math.Inf(1), math.Inf(-1)}
		for _, q := range sh.pts {
			b = span{min(b.lo, q.y-sh.width), max(b.hi, q.y+sh.width)}
		}
		busy = append(busy, b)
	}
	for _, l := range s.labels {
		busy = append(busy, span{l.box.y0, l.box.y1})
	}
	// Panels that share the road's axis stay together.
	if s.curve(roleRoad, noRim) != nil {
		one := span{math.Inf(1), math.Inf(-1)}
		for _, sh := range s.shapes {
			switch sh.role {
			case roleRoad, roleGrid, roleAxis, roleTick, roleDescent, roleTrack, roleGauge:
				for _, q := range sh.pts {
					one = span{min(one.lo, q.y), max(one.hi, q.y)}
				}
			}
		}
		for _, l := range s.labels {
			if l.role == roleTick || l.role == roleAxis {
				one = span{min(one.lo, l.box.y0), max(one.hi, l.box.y1)}
			}
		}
		busy = append(busy, one)
	}
	slices.SortFunc(busy, func(a, b span) int { return cmp.Compare(b.hi, a.hi) })
	// From above down: the widest gap between what ends lowest so far and what comes
	// next. A part of half a page or less is not worth a page.
	at, low, widest := math.NaN(), s.h, 1.0
	for _, b := range busy {
		mid := (b.hi + low) / 2
		if low < s.h && low-b.hi > widest && s.h-mid <= most && s.h-mid >= most/2 {
			at, widest = mid, low-b.hi
		}
		low = min(low, b.lo)
	}
	if !finite(at) {
		return nil, nil, false
	}
	upper, lower = &scene{w: s.w, h: s.h - at}, &scene{w: s.w, h: at}
	for _, sh := range s.shapes {
		switch {
		case sh.role == rolePaper:
		case sh.pts[0].y > at:
			moved := sh
			moved.pts = nil
			for _, q := range sh.pts {
				moved.pts = append(moved.pts, xy{q.x, q.y - at})
			}
			upper.add(moved)
		default:
			lower.add(sh)
		}
	}
	for _, l := range s.labels {
		if l.at.y > at {
			l.at.y, l.box.y0, l.box.y1 = l.at.y-at, l.box.y0-at, l.box.y1-at
			upper.labels = append(upper.labels, l)
			continue
		}
		lower.labels = append(lower.labels, l)
	}
	return upper, lower, true
}
