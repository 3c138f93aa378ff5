package terrain

import (
	"math"
	"testing"
)

// outside are heights that GDAL 3.6.2 (gdalwarp -r bilinear, -et 0, onto cells
// 0.43 of a sample's spacing wide) gives for the two tiles that
// TestAgainstGDAL makes: latitude and longitude in degrees, height in metres.
// The first are of 1 arc-second, the others of 3. GDAL weights the samples
// beside a void likewise, but gives nothing where the nearest is a void: those
// positions are not here.
var outside = []struct{ latDeg, lonDeg, heightM float64 }{
	{46.723874755556, 7.312405392222, 1548.882723},
	{46.723874755556, 7.312763725556, 2301.571865},
	{46.723755311111, 7.312524836667, 948.000890},
	{46.723755311111, 7.312883170000, 1588.654133},
	{46.723635866667, 7.312644281111, 1261.899258},
	{46.723516422222, 7.312405392222, 1446.841362},
	{46.723516422222, 7.312763725556, 1617.550207},
	{-33.344424733333, -70.110931933333, 905.805694},
	{-33.344424733333, -70.110215266667, 2391.718699},
	{-33.344424733333, -70.109498600000, 2327.227893},
	{-33.344783066667, -70.109856933333, 2730.909313},
	{-33.345141400000, -70.110215266667, 2410.462701},
	{-33.345141400000, -70.109498600000, 2296.316349},
	{-33.345499733333, -70.110573600000, 1271.954413},
	{-33.345499733333, -70.109856933333, 1460.005141},
}

func TestAgainstGDAL(t *testing.T) {
	dir := t.TempDir()
	for at, side := range map[square]int{{46, 7}: 3601, {-34, -71}: 1201} {
		write(t, dir, at.String()+".hgt", rawTile(at, side, func(c, r int) int {
			c, r = c-at.lon*(side-1), r-at.lat*(side-1)
			if (c+2*r)%13 == 0 {
				return voidSample
			}
			return 300 + (c*7919+r*104729+c*r*13)%2700
		}))
	}
	tiles, err := Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	// Degrees are rounded to 12 digits behind the point; 5e-13 of a degree is
	// 1e-5 m where heights differ by 2,700 m from sample to sample each way.
	const within = 2e-5
	for _, o := range outside {
		if got := mustHeight(t, tiles, o.latDeg, o.lonDeg); math.Abs(got-o.heightM) > within {
			t.Errorf("%v m at %v, %v; GDAL gives %v", got, o.latDeg, o.lonDeg, o.heightM)
		}
	}
	if n := tiles.Counts(); n.Partial == 0 || n.Partial == n.Heights {
		t.Errorf("voids are to be beside some of the positions: %+v", n)
	}
}
