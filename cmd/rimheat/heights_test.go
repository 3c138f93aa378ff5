package main

import (
	"encoding/binary"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"rimheat/thermal"
)

// ground is an invented plane that falls to the south-west, metres.
func ground(latDeg, lonDeg float64) float64 { return 3000 + 8000*(latDeg+0.2) + 6000*(lonDeg+27) }

// tileOf writes a tile of 3 arc-seconds with the ground's heights, voids where lacks
// says so.
func tileOf(t *testing.T, dir string, south, west int, lacks func(latDeg, lonDeg float64) bool) {
	t.Helper()
	const side = 1201
	b := make([]byte, 2*side*side)
	for row := range side {
		for col := range side {
			lat, lon := float64(south)+1-float64(row)/(side-1), float64(west)+float64(col)/(side-1)
			v := int16(math.Round(ground(lat, lon)))
			if lacks(lat, lon) {
				v = -32768
			}
			binary.BigEndian.PutUint16(b[2*(row*side+col):], uint16(v))
		}
	}
	name := fmt.Sprintf("S%02dW%03d.hgt", -south, -west)
	if err := os.WriteFile(filepath.Join(dir, name), b, 0o666); err != nil {
		t.Fatal(err)
	}
}

// TestHeightsFromTiles: a route without heights gets those of the tiles, whose height
// is within half a metre of the plane; without the tile it is refused by its name, as
// it is where a void is too wide.
func TestHeightsFromTiles(t *testing.T) {
	full, err := os.ReadFile(road("drag_hill.gpx"))
	if err != nil {
		t.Fatal(err)
	}
	bare := regexp.MustCompile(`<ele>[^<]*</ele>`).ReplaceAllString(string(full), "")
	points := regexp.MustCompile(`lat="([^"]+)" lon="([^"]+)"`).FindAllStringSubmatch(bare, -1)
	at := func(i int) (lat, lon float64) {
		if _, err := fmt.Sscan(points[i][1]+" "+points[i][2], &lat, &lon); err != nil {
			t.Fatal(err)
		}
		return lat, lon
	}
	firstLat, firstLon := at(0)
	lastLat, lastLon := at(len(points) - 1)
	south := int(math.Floor(lastLat))
	never := func(float64, float64) bool { return false }
	dir := t.TempDir()
	for _, lon := range []float64{firstLon, lastLon} {
		tileOf(t, dir, south, int(math.Floor(lon)), never)
	}

	plain := runWith(bare, "assess", "-")
	if plain.code != exitInput || !strings.Contains(plain.errOut, "none of the 785 points has a height") || !strings.Contains(plain.errOut, "--heights") {
		t.Errorf("without tiles: code %d, %s", plain.code, plain.errOut)
	}
	got := runWith(bare, "assess", "-", "--heights", dir, "--json")
	if got.code != exitDone || got.errOut != "" {
		t.Fatalf("code %d, stderr %q", got.code, got.errOut)
	}
	var a thermal.Assessment
	if err := json.Unmarshal([]byte(got.out), &a); err != nil {
		t.Fatal(err)
	}
	want := ground(firstLat, firstLon) - ground(lastLat, lastLon)
	if fell := a.Route.DropM - a.Route.ClimbM; math.Abs(fell-want) > 1 {
		t.Errorf("falls by %.1f m, the ground by %.1f", fell, want)
	}
	told := ""
	for _, r := range a.Route.Repairs {
		told += r.Text + "\n"
	}
	if !strings.Contains(told, "of 3 arc-seconds, about 93 m") {
		t.Errorf("tiles are not told: %s", told)
	}

	empty := t.TempDir()
	tileOf(t, empty, south-1, int(math.Floor(firstLon)), never)
	if got := runWith(bare, "assess", "-", "--heights", empty); got.code != exitInput || !strings.Contains(got.errOut, fmt.Sprintf("S%02dW%03d.hgt", -south, -int(math.Floor(firstLon)))) {
		t.Errorf("without the tile: code %d, %s", got.code, got.errOut)
	}
	midLat, midLon := at(len(points) / 2)
	holed := t.TempDir()
	for _, lon := range []float64{firstLon, lastLon} {
		tileOf(t, holed, south, int(math.Floor(lon)), func(lat, lon float64) bool {
			return math.Hypot(lat-midLat, lon-midLon) < 0.006
		})
	}
	if got := runWith(bare, "assess", "-", "--heights", holed); got.code != exitInput || !strings.Contains(got.errOut, "have no height over") || !strings.Contains(got.errOut, "the elevation tiles have no heights there") {
		t.Errorf("a void of a kilometre: code %d, %s", got.code, got.errOut)
	}
}
