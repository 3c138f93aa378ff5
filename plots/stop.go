package plots

import "math"

// nameStop writes "stop" at the upright stroke at the very end of a curve
// whose peak lies there: the road ends, and the rim warms on while the rider
// brakes to a stand. Of several such rims the hottest gets the word.
func (c *composer) nameStop(panel rect) {
	const word, gap, step = "stop", 5.0, 1.0
	best := xy{y: math.Inf(-1)}
	for i := range c.a.Rims {
		line := c.sc.curve(roleTrack, i)
		if n := len(line); c.a.Rims[i].PeakInStop && n > 0 && line[n-1].y > best.y {
			best = line[n-1]
		}
	}
	if !finite(best.y) {
		return
	}
	busy := newObstacles(c.sc, panel)
	w, h := c.tf.width(word, c.note()), c.size*ascender
	for y := best.y - h/2; y > panel.y0+3; y -= step {
		if at := (xy{best.x - gap - w, y}); busy.free(at, w, h) {
			c.sc.write(c.tf, roleStop, noRim, c.note(), word, at.x, at.y, alignLeft)
			return
		}
	}
}
