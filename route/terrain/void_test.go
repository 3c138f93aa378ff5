package terrain

import (
	"math"
	"strings"
	"testing"
)

// withVoids is a tile of 5 x 5 samples at N46E007 in which the corners of the
// cell from (1, 1) to (2, 2) have the heights given, in the order south-west,
// south-east, north-west, north-east; all others are 9000 m to be noticed.
func withVoids(t *testing.T, corners [4]int) *Tiles {
	return withTiles(t, 5, func(c, r int) int {
		c, r = c-4*7-1, r-4*46-1
		if c < 0 || c > 1 || r < 0 || r > 1 {
			return 9000
		}
		return corners[c+2*r]
	}, square{46, 7})
}

func TestVoidCorners(t *testing.T) {
	const v = voidSample
	// u and v are the shares of the cell, eastward and northward; wanted are
	// heights by hand from the weights that are left.
	for _, c := range []struct {
		corners [4]int
		u, v    float64
		want    float64
	}{
		{[4]int{100, 200, 300, v}, 0.5, 0.5, 200},
		{[4]int{100, 200, 300, v}, 0.25, 0.5, (0.375*100 + 0.125*200 + 0.375*300) / 0.875},
		{[4]int{v, 200, 300, 400}, 0.25, 0.25, (0.1875*200 + 0.1875*300 + 0.0625*400) / 0.4375},
		{[4]int{v, 200, v, 400}, 0.1, 0.25, 0.75*200 + 0.25*400},
		{[4]int{100, v, v, 400}, 0.5, 0.25, (0.375*100 + 0.125*400) / 0.5},
		{[4]int{v, v, v, 400}, 0.01, 0.01, 400},
		// A number far outside the heights of land means a void too.
		{[4]int{100, 200, 300, -9999}, 0.5, 0.5, 200},
		{[4]int{100, 200, 300, 32767}, 0.5, 0.5, 200},
	} {
		tiles := withVoids(t, c.corners)
		got := mustHeight(t, tiles, 46.25+c.v/4, 7.25+c.u/4)
		if math.Abs(got-c.want) > exactM {
			t.Errorf("%v at %v, %v: %v m, want %v", c.corners, c.u, c.v, got, c.want)
		}
		if n := tiles.Counts(); n != (Counts{Heights: 1, Partial: 1}) {
			t.Errorf("%v: counts %+v", c.corners, n)
		}
	}
}

func TestVoidWithoutSay(t *testing.T) {
	// On the western edge of the cell the void in its east takes no part.
	tiles := withVoids(t, [4]int{100, voidSample, 300, voidSample})
	if got := mustHeight(t, tiles, 46.375, 7.25); got != 200 {
		t.Errorf("%v m", got)
	}
	if n := tiles.Counts(); n != (Counts{Heights: 1}) {
		t.Errorf("counts %+v", n)
	}
}

func TestAllVoid(t *testing.T) {
	const v = voidSample
	for _, c := range []struct {
		corners [4]int
		u, v    float64
	}{
		{[4]int{v, v, v, v}, 0.5, 0.5},
		{[4]int{v, 200, 300, 400}, 0, 0},
		{[4]int{v, 200, v, 400}, 0, 0.5},
	} {
		tiles := withVoids(t, c.corners)
		_, err := tiles.HeightAt(46.25+c.v/4, 7.25+c.u/4)
		void, ok := err.(*VoidError)
		if !ok || !strings.HasSuffix(void.File, "N46E007.hgt") || void.LatDeg != 46.25+c.v/4 || void.LonDeg != 7.25+c.u/4 {
			t.Fatalf("%v: %#v", c.corners, err)
		}
		for _, word := range []string{"N46E007.hgt: no height (void) at latitude 46.", "longitude 7.", "; use tiles whose voids are filled"} {
			if !strings.Contains(err.Error(), word) {
				t.Errorf("%q lacks %q", err, word)
			}
		}
		if n := tiles.Counts(); n != (Counts{Voids: 1}) {
			t.Errorf("%v: counts %+v", c.corners, n)
		}
	}
}

// TestVoidSeenFromBothSides: along the edge between a height and a void, both
// cells give the same, and heights keep within those around.
func TestVoidSeenFromBothSides(t *testing.T) {
	z := func(c, r int) int {
		if (3*c+5*r)%7 == 0 {
			return voidSample
		}
		return 1000 + (7919*c+104729*r)%300
	}
	tiles := withTiles(t, 61, z, square{46, 7})
	const d = 1e-9 // degrees; at most 300 m / (0.1 of a cell) * 60 cells/degree * d = 2e-4 m
	for column := 1; column < 60; column++ {
		for k := range 40 {
			lat := 46 + 0.1 + (float64(k)+0.1+0.8*float64(k%5)/5)/60
			on, west, east := 7+float64(column)/60, 7+float64(column)/60-d, 7+float64(column)/60+d
			a, errA := tiles.HeightAt(lat, west)
			b, errB := tiles.HeightAt(lat, east)
			c, errC := tiles.HeightAt(lat, on)
			if errA != nil || errB != nil || errC != nil {
				continue // both samples of the edge are voids
			}
			if math.Abs(a-b) > 1e-3 || math.Abs(a-c) > 1e-3 {
				t.Fatalf("%v m, %v m and %v m at %v, %v", a, c, b, lat, on)
			}
			if c < 1000 || c >= 1300 {
				t.Fatalf("%v m at %v, %v", c, lat, on)
			}
		}
	}
	if n := tiles.Counts(); n.Partial < 1000 || n.Heights-n.Partial < 1000 {
		t.Errorf("too few cells with and without voids were tried: %+v", n)
	}
}

func TestVoidOnTheEdgeOfOneTile(t *testing.T) {
	// N46E008 lacks its western column; N46E007 has it.
	dir := t.TempDir()
	flat := func(c, r int) int { return 700 }
	write(t, dir, "N46E007.hgt", rawTile(square{46, 7}, 5, flat))
	write(t, dir, "N46E008.hgt", rawTile(square{46, 8}, 5, func(c, r int) int {
		if c == 8*4 {
			return voidSample
		}
		return 700
	}))
	tiles := openSmall(t, dir)
	if got := mustHeight(t, tiles, 46.3, 8); math.Abs(got-700) > exactM {
		t.Errorf("%v m", got)
	}
	if n := tiles.Counts(); n != (Counts{Heights: 1}) {
		t.Errorf("counts %+v", n)
	}
	// A void of a tile that is there says more than a tile that is not.
	if err := func() error { _, err := openSmallOf(t, dir, "N46E008.hgt").HeightAt(46.3, 8); return err }(); err == nil {
		t.Error("a height from a void")
	} else if _, ok := err.(*VoidError); !ok {
		t.Errorf("%v", err)
	}
}
