package terrain

import (
	"math"
	"math/rand/v2"
	"testing"
)

// A bilinear surface of the samples' columns and rows is its own bilinear
// interpolation, so these heights are exact but for rounding (derived): a
// degree near 180 is rounded by up to 1.4e-14, which is 8.5e-13 of the spacing
// in a tile of 61 x 61, and the surfaces here rise by 65 m from sample to
// sample at most each way: 1.1e-10 m. exactM is about ten times that, metres.
const exactM = 1e-9

// someSquares has one in each quarter of the Earth and beside its seams.
var someSquares = []square{{46, 7}, {-1, -72}, {-34, 18}, {40, -106}, {0, 0}, {-1, -1}, {0, -1}, {-1, 0}, {10, 179}, {10, -180}, {-90, 3}, {89, 3}}

func TestPlaneIsExact(t *testing.T) {
	const side, n = 61, 60
	for _, at := range someSquares {
		z := func(c, r int) int { return 2000 + 7*(c-at.lon*n) - 11*(r-at.lat*n) }
		tiles := withTiles(t, side, z, at)
		rng := rand.New(rand.NewPCG(1, 2))
		for range 500 {
			lat, lon := float64(at.lat)+rng.Float64(), float64(at.lon)+rng.Float64()
			want := 2000 + 7*n*(lon-float64(at.lon)) - 11*n*(lat-float64(at.lat))
			if got := mustHeight(t, tiles, lat, lon); math.Abs(got-want) > exactM {
				t.Fatalf("%v at %v, %v: %v m, want %v", at, lat, lon, got, want)
			}
		}
	}
}

func TestHyperbolicParaboloidIsExact(t *testing.T) {
	const side, n = 61, 60
	for _, at := range someSquares {
		z := func(c, r int) int {
			x, y := c-at.lon*n, r-at.lat*n
			return 4000 + 3*x - 5*y - x*y
		}
		tiles := withTiles(t, side, z, at)
		rng := rand.New(rand.NewPCG(3, 4))
		for range 500 {
			lat, lon := float64(at.lat)+rng.Float64(), float64(at.lon)+rng.Float64()
			x, y := n*(lon-float64(at.lon)), n*(lat-float64(at.lat))
			want := 4000 + 3*x - 5*y - x*y
			if got := mustHeight(t, tiles, lat, lon); math.Abs(got-want) > exactM {
				t.Fatalf("%v at %v, %v: %v m, want %v", at, lat, lon, got, want)
			}
		}
	}
}

func TestSamplesComeBack(t *testing.T) {
	// Rows, columns and bytes in any other order would not give these.
	at := square{46, 7}
	z := func(c, r int) int { return (37*c + 101*r) % 1000 }
	tiles := withTiles(t, 5, z, at)
	for r := range 5 {
		for c := range 5 {
			lat, lon := 46+float64(r)/4, 7+float64(c)/4
			if got, want := mustHeight(t, tiles, lat, lon), float64(z(7*4+c, 46*4+r)); got != want {
				t.Errorf("sample %d, %d: %v m, want %v", c, r, got, want)
			}
		}
	}
	if got, want := tiles.Counts(), (Counts{Heights: 25}); got != want {
		t.Errorf("counts %+v, want %+v", got, want)
	}
}

func TestBelowSea(t *testing.T) {
	tiles := withTiles(t, 5, func(c, r int) int { return -427 }, square{31, 35})
	if got := mustHeight(t, tiles, 31.4, 35.4); math.Abs(got+427) > exactM {
		t.Errorf("%v m", got)
	}
}

// TestSeams walks over the edges of squares: the heights on the edge are those
// of either tile, and those beside it differ by no more than the slope allows.
func TestSeams(t *testing.T) {
	const side, n = 61, 60
	// Rough and the same everywhere on Earth; columns go round in 360 degrees.
	rough := func(c, r int) int {
		c = ((c % (360 * n)) + 360*n) % (360 * n)
		return 1000 + (c*7919+r*104729+c*r*13)%200
	}
	const slope = 2 * 2 * 400 * n // metres per degree, more than any there
	for _, corner := range []struct{ lat, lon float64 }{{47, 8}, {0, 0}, {-33, -70}, {0, -72}, {51, 0}, {10, 180}, {-10, 180}, {0, 180}} {
		south, west := int(corner.lat)-1, int(corner.lon)-1
		east := wrapped(int(corner.lon))
		around := []square{{south, west}, {south, east}, {south + 1, west}, {south + 1, east}}
		all := withTiles(t, side, rough, around...)
		for i := -n; i <= 3*n; i++ {
			along := float64(i) / (2 * n) * 0.99
			for _, p := range [][4]float64{{corner.lat, corner.lon + along, 1, 0}, {corner.lat + along, corner.lon, 0, 1}} {
				if p[0] >= corner.lat+1 || p[1] >= corner.lon+1 {
					continue
				}
				lat, lon := p[0], east180(p[1])
				on := mustHeight(t, all, lat, lon)
				const d = 1e-7
				for _, sign := range []float64{-1, 1} {
					beside := mustHeight(t, all, lat+sign*d*p[2], east180(p[1]+sign*d*p[3]))
					if math.Abs(beside-on) > slope*d {
						t.Fatalf("at %v, %v: %v m on the edge and %v m beside it", lat, lon, on, beside)
					}
				}
			}
		}
		// With any one of the tiles alone, corner and edges are the same to the bit.
		for _, s := range around {
			one := withTiles(t, side, rough, s)
			for _, p := range [][2]float64{{corner.lat, corner.lon}, {corner.lat, float64(s.lon) + 0.3}, {float64(s.lat) + 0.7, corner.lon}} {
				if got, want := mustHeight(t, one, p[0], p[1]), mustHeight(t, all, p[0], p[1]); got != want {
					t.Errorf("%v alone at %v: %v m, of four %v", s, p, got, want)
				}
			}
		}
	}
}

// east180 goes on beyond the antimeridian.
func east180(lon float64) float64 {
	if lon > 180 {
		return lon - 360
	}
	return lon
}

func TestAntimeridianAndPoles(t *testing.T) {
	z := func(c, r int) int { return 100 + ((c%1440)+1440)%1440 }
	tiles := withTiles(t, 5, z, square{10, -180}, square{10, 179})
	if a, b := mustHeight(t, tiles, 10.5, 180), mustHeight(t, tiles, 10.5, -180); a != b || a != 100+720 {
		t.Errorf("%v m at 180 and %v m at -180, want 820", a, b)
	}
	west := withTiles(t, 5, z, square{10, 179})
	for _, lon := range []float64{180, -180} {
		if got := mustHeight(t, west, 10.5, lon); got != 100+720 {
			t.Errorf("%v m at %v from the tile west of it, want 820", got, lon)
		}
	}
	flat := func(h int) surface { return func(c, r int) int { return h } }
	north := withTiles(t, 5, flat(12), square{89, 7})
	if got := mustHeight(t, north, 90, 7.5); got != 12 {
		t.Errorf("%v m at the pole", got)
	}
	south := withTiles(t, 5, flat(2800), square{-90, 7})
	if got := mustHeight(t, south, -90, 7.5); got != 2800 {
		t.Errorf("%v m at the pole", got)
	}
}

// TestNextToNothing: an angle just below zero is in the square south or west
// of it, though adding one degree rounds to the square's far edge.
func TestNextToNothing(t *testing.T) {
	z := func(c, r int) int { return 500 + 10*c + 100*r }
	for _, at := range []square{{0, 0}, {-1, -1}} {
		tiles := withTiles(t, 5, z, at)
		for _, tiny := range []float64{-1e-300, -1e-20, math.Copysign(0, -1), 0} {
			if got := mustHeight(t, tiles, tiny, tiny); got != 500 {
				t.Errorf("%v at %v: %v m, want 500", at, tiny, got)
			}
		}
	}
}

func TestNotOnEarth(t *testing.T) {
	tiles := withTiles(t, 5, func(c, r int) int { return 5 }, square{46, 7})
	nan, inf := math.NaN(), math.Inf(1)
	for _, p := range [][2]float64{{nan, 7}, {46, nan}, {inf, 7}, {46, -inf}, {90.0001, 7}, {-91, 7}, {46, 180.01}, {46, -181}, {1e300, -1e300}} {
		_, err := tiles.HeightAt(p[0], p[1])
		if _, ok := err.(*PositionError); !ok {
			t.Errorf("%v: %v", p, err)
		}
	}
	_, err := tiles.HeightAt(90.5, 7)
	if want := "no position on Earth: latitude 90.5, longitude 7; latitude is -90 to 90 degrees and longitude -180 to 180"; err == nil || err.Error() != want {
		t.Errorf("%v, want %s", err, want)
	}
	if got := tiles.Counts(); got != (Counts{}) {
		t.Errorf("counts %+v", got)
	}
}
