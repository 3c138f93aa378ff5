package terrain

import (
	"errors"
	"math"
	"slices"
)

// CachedTiles is how many tiles are held in memory, each 26 MB at 1 arc-second
// and 3 MB at 3. Four meet in a corner, so no road near one reads a tile twice.
const CachedTiles = 4

// Tiles is a folder of elevation tiles. It is not for several goroutines at once.
type Tiles struct {
	dir   string
	sides []int
	found map[square]*source
	// unread are the folders in dir that could not be looked into.
	unread []string
	// held are the tiles in memory, the one used last first.
	held   []heldTile
	counts Counts
}

type heldTile struct {
	at   square
	grid grid
}

// Counts tells what HeightAt came to since Open.
type Counts struct {
	// Heights is the number of positions that got a height, and Partial that
	// of those among them for which some samples around were voids.
	Heights, Partial int
	// Voids is the number of positions in voids, and Missing that of those
	// without a tile.
	Voids, Missing int
}

// Counts tells what HeightAt came to since Open.
func (t *Tiles) Counts() Counts { return t.counts }

// HeightAt is the height of the ground in metres at a position in degrees
// (WGS84), bilinear between the four samples around it. Samples that are voids
// are left out, the others weighted by their nearness.
//
// Errors are *PositionError (not on Earth), *MissingTileError (no tile of that
// square), *VoidError (no sample around has a height) and *FileError (the
// square's tile cannot be used; the file is not read again). On the edge of
// squares either tile will do.
func (t *Tiles) HeightAt(latDeg, lonDeg float64) (m float64, err error) {
	if !(latDeg >= -90 && latDeg <= 90 && lonDeg >= -180 && lonDeg <= 180) {
		return 0, &PositionError{latDeg, lonDeg}
	}
	lat, y := split(latDeg)
	lon, x := split(lonDeg)
	// A share of zero may as well be the whole of the square before.
	for south := range 2 {
		for west := range 2 {
			if south == 1 && y != 0 || west == 1 && x != 0 || lat-south > 89 || lat-south < -90 {
				continue
			}
			at := square{lat - south, wrapped(lon - west)}
			g, errHere := t.grid(at)
			if errHere == nil {
				h, s := g.heightAt(x+float64(west), y+float64(south))
				if s != void {
					t.counts.Heights++
					if s == partial {
						t.counts.Partial++
					}
					return h, nil
				}
				errHere = &VoidError{latDeg, lonDeg, t.found[at].files[0].path}
			}
			if err = graver(err, errHere); isFileError(err) {
				return 0, err
			}
		}
	}
	if _, ok := errors.AsType[*VoidError](err); ok {
		t.counts.Voids++
	} else {
		t.counts.Missing++
	}
	return 0, err
}

// graver is the error that says more: a void of a tile that is there before a
// tile that is not, and a damaged file before both.
func graver(before, now error) error {
	_, missing := errors.AsType[*MissingTileError](now)
	if before == nil || isFileError(now) {
		return now
	}
	if _, wasMissing := errors.AsType[*MissingTileError](before); wasMissing && !missing {
		return now
	}
	return before
}

func isFileError(err error) bool {
	_, ok := errors.AsType[*FileError](err)
	return ok
}

// split gives the whole degree at or below, and the share of a degree above it.
func split(deg float64) (whole int, share float64) {
	floor := math.Floor(deg)
	share = deg - floor
	if share >= 1 { // a negative angle so small that it is lost beside 1
		return int(floor) + 1, 0
	}
	return int(floor), share
}

// wrapped brings the western edge of a square to -180 to 179 degrees: east of
// the antimeridian the tiles go on with W180.
func wrapped(lon int) int {
	switch {
	case lon >= 180:
		return lon - 360
	case lon < -180:
		return lon + 360
	}
	return lon
}

// grid gives the heights of a square, good until the next call.
func (t *Tiles) grid(at square) (*grid, error) {
	for i := range t.held {
		if t.held[i].at == at {
			used := t.held[i]
			copy(t.held[1:i+1], t.held[:i])
			t.held[0] = used
			return &t.held[0].grid, nil
		}
	}
	src := t.found[at]
	if src == nil {
		return nil, &MissingTileError{Name: at.String() + ".hgt", Dir: t.dir}
	}
	if src.err != nil {
		return nil, src.err
	}
	src.order(at, t.sides)
	// The memory of the tile not used for longest serves the new one, so that
	// no more than CachedTiles of them ever exist.
	var buf []byte
	if len(t.held) == CachedTiles {
		buf = t.held[CachedTiles-1].grid.raw
		t.held = t.held[:CachedTiles-1]
	}
	g, err := src.files[0].read(at, t.sides, buf)
	if err != nil {
		src.err = err
		return nil, err
	}
	src.side = g.side
	t.held = slices.Insert(t.held, 0, heldTile{at, g})
	return &t.held[0].grid, nil
}
