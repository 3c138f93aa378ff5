// Command cmd writes the committed demonstration routes. Run it from the
// top of the repository.
package main

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"

	"rimheat/testdata/roads"
)

func main() {
	dir := flag.String("dir", "testdata", "`folder` to write to")
	flag.Parse()
	name, fixes := roads.RecordedHill()
	recorded := filepath.Join(*dir, "recorded_hill.gpx")
	if err := os.WriteFile(recorded, roads.TimedGPX(name, roads.InventedRide, fixes), 0o644); err != nil {
		fmt.Fprintln(os.Stderr, "roads:", err)
		os.Exit(1)
	}
	fmt.Printf("%s: %d points\n", recorded, len(fixes))
	for _, d := range roads.Committed() {
		path := filepath.Join(*dir, d.File)
		if err := os.WriteFile(path, d.GPX(), 0o644); err != nil {
			fmt.Fprintln(os.Stderr, "roads:", err)
			os.Exit(1)
		}
		fmt.Printf("%s: %d points, %.1f km, climb %.0f m, drop %.0f m\n", path, len(d.Points), d.Road.LengthM()/1000, d.Road.ClimbM(), d.Road.DropM())
	}
}
