package terrain

import (
	"fmt"
	"strings"
)

// A square is the south-west corner of a tile, whole degrees: latitude -90 to
// 89, longitude -180 to 179.
type square struct{ lat, lon int }

func (s square) String() string {
	ns, lat := 'N', s.lat
	if lat < 0 {
		ns, lat = 'S', -lat
	}
	ew, lon := 'E', s.lon
	if lon < 0 {
		ew, lon = 'W', -lon
	}
	return fmt.Sprintf("%c%02d%c%03d", ns, lat, ew, lon)
}

// nameLength is the length of a square's name, bytes.
const nameLength = len("N46E007")

// squareOf reads the square at the start of a file's name, in letters of
// either case, and tells whether there is one. What follows the name must
// begin with a mark, so that N46E0071.hgt is none.
func squareOf(file string) (square, bool) {
	if len(file) < nameLength {
		return square{}, false
	}
	if len(file) > nameLength && isAlphanumeric(file[nameLength]) {
		return square{}, false
	}
	lat, okLat := number(file[1:3])
	lon, okLon := number(file[4:7])
	if !okLat || !okLon {
		return square{}, false
	}
	switch file[0] {
	case 'N', 'n':
	case 'S', 's':
		lat = -lat
	default:
		return square{}, false
	}
	switch file[3] {
	case 'E', 'e':
	case 'W', 'w':
		lon = -lon
	default:
		return square{}, false
	}
	s := square{lat, lon}
	// The name must come back the same: no N90, E180, S00 or W000.
	if lat < -90 || lat > 89 || lon < -180 || lon > 179 || !strings.EqualFold(s.String(), file[:nameLength]) {
		return square{}, false
	}
	return s, true
}

// number reads digits and nothing else.
func number(digits string) (n int, ok bool) {
	for i := range len(digits) {
		d := digits[i]
		if d < '0' || d > '9' {
			return 0, false
		}
		n = 10*n + int(d-'0')
	}
	return n, true
}

func isAlphanumeric(b byte) bool {
	return b >= '0' && b <= '9' || b >= 'a' && b <= 'z' || b >= 'A' && b <= 'Z'
}

// A packing is how a tile lies in its file.
type packing int

// In the order of preference among files of the same spacing.
const (
	plain packing = iota
	gzipped
	zipped
)

// packingOf tells from a file's name how a tile is packed, and whether it can
// be a tile at all.
func packingOf(file string) (packing, bool) {
	file = strings.ToLower(file)
	switch {
	case strings.HasSuffix(file, ".hgt"):
		return plain, true
	case strings.HasSuffix(file, ".hgt.gz"):
		return gzipped, true
	case strings.HasSuffix(file, ".zip"):
		return zipped, true
	}
	return 0, false
}
