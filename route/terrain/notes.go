package terrain

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"
)

// metresPerArcSecond is the length of one second of latitude, metres, derived:
// pi/648000 of the Earth's mean radius of 6,371 km (from memory). On the
// ellipsoid it is 30.7 to 31.0 m. Eastward it shrinks with the cosine of latitude.
const metresPerArcSecond = math.Pi / 648000 * 6_371_000

// A Tile is one that heights were taken from.
type Tile struct {
	// Name is the square's, as in N46E007.
	Name string
	// File is where it was read, and Others are files of the same square that
	// were not: those less fine, or else packed.
	File   string
	Others []string
	// SpacingArcSec is the angle between samples, arc-seconds.
	SpacingArcSec float64
}

// SpacingM is the distance between samples along the meridian, metres.
func (t Tile) SpacingM() float64 { return t.SpacingArcSec * metresPerArcSecond }

// Used lists the tiles read so far, by name.
func (t *Tiles) Used() []Tile {
	var used []Tile
	for at, src := range t.found {
		if src.side == 0 {
			continue
		}
		tile := Tile{Name: at.String(), File: src.files[0].path, SpacingArcSec: 3600 / float64(src.side-1)}
		for _, f := range src.files[1:] {
			tile.Others = append(tile.Others, f.path)
		}
		used = append(used, tile)
	}
	slices.SortFunc(used, func(a, b Tile) int { return cmp.Compare(a.Name, b.Name) })
	return used
}

// Notes says in sentences, without full stop, what the user should know of the
// heights given so far: their spacing, files passed over, voids, folders that
// could not be looked into.
func (t *Tiles) Notes() []string {
	var notes []string
	used := t.Used()
	perSpacing := make(map[float64]int)
	for _, u := range used {
		perSpacing[u.SpacingArcSec]++
	}
	for _, side := range slices.Backward(t.sides) {
		arcSec := 3600 / float64(side-1)
		if n := perSpacing[arcSec]; n > 0 {
			notes = append(notes, "heights from "+plural(n, "elevation tile", "elevation tiles")+" of "+spacing(arcSec))
		}
	}
	for _, u := range used {
		if len(u.Others) > 0 {
			notes = append(notes, u.Name+" was read from "+u.File+", not from "+strings.Join(u.Others, ", "))
		}
	}
	if n := t.counts.Partial; n > 0 {
		notes = append(notes, plural(n, "height", "heights")+" beside voids of the tiles, from fewer than four samples")
	}
	if n := t.counts.Voids; n > 0 {
		notes = append(notes, plural(n, "position", "positions")+" in voids of the tiles, without height")
	}
	for _, f := range t.unread {
		notes = append(notes, "the folder "+f+" could not be looked into for tiles")
	}
	return notes
}

// spacing words the distance between samples, as "1 arc-second, about 31 m".
func spacing(arcSec float64) string {
	unit := " arc-seconds"
	if arcSec == 1 {
		unit = " arc-second"
	}
	return strconv.FormatFloat(arcSec, 'g', 4, 64) + unit + ", about " + count(int(math.Round(arcSec*metresPerArcSecond))) + " m"
}

// count formats n, not negative, with a comma between thousands.
func count(n int) string {
	s := strconv.Itoa(n)
	for i := len(s) - 3; i > 0; i -= 3 {
		s = s[:i] + "," + s[i:]
	}
	return s
}

func plural(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return count(n) + " " + many
}
