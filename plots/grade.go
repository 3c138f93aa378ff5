package plots

import "image/color"

// roleGrade is a piece of road of one class of grade.
const roleGrade role = "grade"

// gradeLeast is the width of the parts that the grade is averaged over, points.
const gradeLeast = 2.5

// gradeClasses are the grades of the road down from which on each class reaches, the
// steepest last.
var gradeClasses = [...]float64{0.03, 0.06, 0.09, 0.12}

// gradeTexts name the classes, %.
var gradeTexts = [...]string{"3–6", "6–9", "9–12", "over 12"}

// gradeInk is the grey of a class, darker the steeper.
func gradeInk(class int) color.NRGBA {
	return rgb([...]uint32{0xE2E4E6, 0xC0C4C8, 0x959BA1, 0x555C63}[class])
}

// A gradePiece is a stretch of road, metres, of one class.
type gradePiece struct {
	fromM, toM float64
	class      int
}

// gradePieces puts the mean grade of each of n equal parts of the road into its
// class. Parts alike are joined; road that is flatter or climbs is in none.
func gradePieces(grade series, endM float64, n int) []gradePiece {
	if len(grade.v) < 2 {
		return nil
	}
	var out []gradePiece
	k, dropM := 0, 0.0 // the point that comes next, and what the road drops up to it
	dropTo := func(m float64) float64 {
		for k+1 < len(grade.v)-1 && grade.distM[k+1] <= m {
			dropM -= grade.mean(k) * (grade.distM[k+1] - grade.distM[k])
			k++
		}
		return dropM - grade.mean(k)*(max(grade.distM[k], min(m, grade.distM[k+1]))-grade.distM[k])
	}
	before := dropTo(0)
	for i := range n {
		from, to := endM*float64(i)/float64(n), endM*float64(i+1)/float64(n)
		drop := dropTo(to)
		down := (drop - before) / (to - from)
		before = drop
		class := -1
		for j, least := range gradeClasses {
			if down >= least {
				class = j
			}
		}
		if class < 0 {
			continue
		}
		if m := len(out); m > 0 && out[m-1].class == class && out[m-1].toM == from {
			out[m-1].toM = to
			continue
		}
		out = append(out, gradePiece{from, to, class})
	}
	return out
}

// mean is the middle of the values at entry k and the next.
func (s series) mean(k int) float64 { return (s.v[k] + s.v[k+1]) / 2 }

// gradeStrip draws the grade of the road down as a strip of greys.
func (c *composer) gradeStrip(strip rect) {
	if len(c.grades) == 0 {
		return
	}
	for _, p := range c.grades {
		c.sc.area(roleGrade, noRim, rect{c.x(p.fromM), strip.y0, c.x(p.toM), strip.y1}, gradeInk(p.class))
	}
	c.sc.write(c.tf, roleGrade, noRim, c.note(), "grade", strip.x0-6, (strip.y0+strip.y1)/2-midLetters*c.size, alignRight)
}

// gradeKey is the strip's key: a box of each class with its bounds in it.
func (c *composer) gradeKey() keyItem {
	const pad, under, over = 5.0, 2.6, 10.2
	w := 0.0
	for _, t := range gradeTexts {
		w += c.tf.width(t, c.note()) + 2*pad
	}
	return keyItem{text: "% downhill", sampleW: w, draw: func(b rect) {
		x := b.x0
		for k, t := range gradeTexts {
			st := c.text()
			if k == len(gradeTexts)-1 {
				st.ink = c.pal.paper
			}
			tw := c.tf.width(t, st) + 2*pad
			c.sc.area(roleKey, noRim, rect{x, b.y0 - under, x + tw, b.y0 + over}, gradeInk(k))
			c.sc.write(c.tf, roleKey, noRim, st, t, x+pad, b.y0+1, alignLeft)
			x += tw
		}
	}}
}
