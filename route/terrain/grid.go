package terrain

import (
	"encoding/binary"
	"fmt"
	"io"
	"strings"
)

// Heights outside this range are voids, metres. The lowest land is about
// -430 m, the highest 8,849 m (from memory); beside the form's own -32768,
// other numbers far outside are met with that mean the same.
const (
	minHeightM = -500
	maxHeightM = 9000
)

// leastWeight is the share of a height that must come from samples with
// heights. It takes out what rounding of degrees leaves (1e-10 of a cell) and
// the division by zero, no more.
const leastWeight = 1e-6

// A grid is the heights of one tile, as its file has them.
type grid struct {
	// side is the number of samples on a side.
	side int
	// raw is side x side big-endian heights, metres, the northern row first.
	raw []byte
}

// sampleAt is the height in metres of the column from the west and the row
// from the south, and whether it is one.
func (g *grid) sampleAt(column, row int) (float64, bool) {
	i := 2 * ((g.side-1-row)*g.side + column)
	h := int16(binary.BigEndian.Uint16(g.raw[i:]))
	return float64(h), h >= minHeightM && h <= maxHeightM
}

// support tells how many of the samples around a position had heights.
type support int

const (
	whole   support = iota // all that have a say
	partial                // some
	void                   // none
)

// heightAt interpolates bilinearly at the shares x from the western edge and
// y from the southern edge, 0 to 1. Voids are left out and the other weights
// raised to a sum of one: that stays within the heights around, and is the
// same from both sides of an edge between cells or tiles.
func (g *grid) heightAt(x, y float64) (m float64, s support) {
	column, u := cell(x, g.side)
	row, v := cell(y, g.side)
	// Conversions keep multiplication and addition apart here and in cell, so
	// that all machines round alike.
	weight := [4]float64{float64((1 - u) * (1 - v)), float64(u * (1 - v)), float64((1 - u) * v), float64(u * v)}
	sum, known := 0.0, 0.0
	for i, w := range weight {
		h, ok := g.sampleAt(column+i&1, row+i>>1)
		switch {
		case ok:
			sum += float64(w * h)
			known += w
		case w > 0:
			s = partial
		}
	}
	switch {
	case s == whole:
		return sum, whole
	case known < leastWeight:
		return 0, void
	}
	return sum / known, partial
}

// cell is the interval between samples that the share x of a side lies in, and
// the share of the interval.
func cell(x float64, side int) (i int, share float64) {
	at := float64(x * float64(side-1))
	i = max(0, min(int(at), side-2))
	return i, at - float64(i)
}

// A sizeError is a tile of no size that the form has.
type sizeError struct {
	// bytes is the length, or one byte more than the largest tile.
	bytes int
	sides []int
}

func (e *sizeError) Error() string {
	forms := make([]string, len(e.sides))
	for i, side := range e.sides {
		forms[i] = fmt.Sprintf("%s (%d x %d heights)", count(tileBytes(side)), side, side)
	}
	what := plural(e.bytes, "byte", "bytes")
	if e.bytes > tileBytes(e.sides[len(e.sides)-1]) {
		what = "more than " + plural(e.bytes-1, "byte", "bytes")
	}
	return what + " of heights, where a tile has " + strings.Join(forms, " or ")
}

func tileBytes(side int) int { return 2 * side * side }

// readGrid reads a tile whose side has one of the numbers of samples, which
// ascend, into buf or a longer one. It reads one byte beyond the largest tile
// at most; the end must be met, which also has a packed file's sum checked.
func readGrid(r io.Reader, sides []int, buf []byte) (grid, error) {
	n := 0
	for _, side := range sides {
		want := tileBytes(side)
		if cap(buf) < want+1 {
			buf = append(make([]byte, 0, want+1), buf[:n]...)
		}
		buf = buf[:want+1]
		for n <= want {
			m, err := r.Read(buf[n:])
			n += m
			switch {
			case err == io.EOF && n == want:
				return grid{side: side, raw: buf[:want]}, nil
			case err == io.EOF && n < want:
				return grid{}, &sizeError{n, sides}
			case err != nil && err != io.EOF:
				return grid{}, err
			}
		}
	}
	return grid{}, &sizeError{n, sides}
}
