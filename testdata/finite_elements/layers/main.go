// Command layers draws the cases of layered sections on which the section
// solver is held against finite elements, and runs them:
//
//	go run ./testdata/finite_elements/layers
//
// It writes layered/NAME.txt (input) and, with FreeFem++ installed (Debian
// packages freefem++ and libfreefem++), layered/NAME.out (samples).
package main

import (
	"fmt"
	"log"
	"os"
	"os/exec"
	"path/filepath"
)

const dir = "testdata/finite_elements"

// matter is what a part is made of: conductivity along and through, W/(m K),
// density times specific heat, J/(m3 K).
type matter struct{ along, through, rhoC float64 }

func (m matter) String() string { return fmt.Sprintf("%g %g %g", m.along, m.through, m.rhoC) }

var (
	carbon = matter{4, 0.65, 1.55e6}
	basalt = matter{0.6, 0.38, 1.71e6}
	metal  = matter{167, 167, 2.4192e6}
)

func main() {
	log.SetFlags(0)
	// Outer and inner width, depth, track and its distance from the edge,
	// distance of the bed from the edge, bed, flank, spoke bed, radius of the
	// edge, metres.
	const deep = "0.0256 0.019 0.05 0.009 0.001 0.0065 0.0012 0.0009 0.0028 0.3175"
	const faired = "0.022 0.0188 0.045 0.009 0.001 0.0065 0.0012 0.0010 0.0018 0.3175"
	const none = "1 4 0.65 1.55e6"
	for _, c := range []struct{ name, text string }{
		{"basalt_skin_pulses", fmt.Sprintln(deep, carbon, 0.0005, basalt, none, "60 30e3 6 8 240 60 240 0.5 2")},
		{"metal_skin_steady", fmt.Sprintln(deep, carbon, 0.0008, metal, none, "55 10e3 1e4 0 900 55 900 1 30")},
		{"carbon_fairing_steady", fmt.Sprintln(faired, metal, "0 4 0.65 1.55e6", 0.020, carbon, "55 10e3 1e4 0 900 55 900 1 30")},
		{"skin_and_fairing_cooling", fmt.Sprintln(faired, metal, 0.0004, basalt, 0.018, carbon, "55 8e3 1e4 0 600 9 1200 1 30")},
	} {
		base := filepath.Join(dir, "layered", c.name)
		if err := os.WriteFile(base+".txt", []byte(c.text), 0o644); err != nil {
			log.Fatal(err)
		}
		solver, err := exec.LookPath("FreeFem++")
		if err != nil {
			log.Print("FreeFem++ is not installed: only the input was written")
			continue
		}
		out, err := exec.Command(solver, "-nw", "-v", "0", filepath.Join(dir, "layers.edp"), "-in", base+".txt").Output()
		if err != nil {
			log.Fatalf("%s: %v\n%s", c.name, err, out)
		}
		if err := os.WriteFile(base+".out", out, 0o644); err != nil {
			log.Fatal(err)
		}
		log.Print(c.name)
	}
}
