package route

import (
	"errors"

	"rimheat/route/terrain"
)

// heightsFrom takes the heights of all points from elevation tiles; positions in
// voids are left lacking. A missing or damaged tile is an error.
func (c *course) heightsFrom(t *terrain.Tiles) error {
	for i := range c.h {
		h, err := t.HeightAt(c.lat[i], c.lon[i])
		var void *terrain.VoidError
		switch {
		case err == nil:
			c.h[i], c.lacks[i] = h, false
		case errors.As(err, &void):
			c.h[i], c.lacks[i] = 0, true
		default:
			return c.fail(c.line[i], "point "+count(c.number[i])+" near "+atKilometres(c.dist[i])+": "+err.Error(), "")
		}
	}
	for _, n := range t.Notes() {
		c.note("height-tiles", len(c.h), n)
	}
	c.fromTiles = true
	return nil
}
