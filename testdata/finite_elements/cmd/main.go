// Command cmd draws the cases on which the section solver is held against
// finite elements, and runs them:
//
//	go run ./testdata/finite_elements/cmd
//
// It writes cases/NAME.txt (input) and, with FreeFem++ installed (Debian
// packages freefem++ and libfreefem++), cases/NAME.out (samples). Nine cases
// are named; twenty are drawn from the bounds below with a fixed seed.
package main

import (
	"fmt"
	"log"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
)

const dir = "testdata/finite_elements"

// section is a box section and its material, SI units.
type section struct {
	outer, inner, depth, track, trackBelow, bedBelow, bed, flank, spokeBed float64
	kAlong, kThrough, rhoC                                                 float64
}

// load is how it is heated and cooled.
type load struct {
	film, flux, on, off, heat, coolFilm, end, dt, every float64
}

func write(name string, s section, l load) error {
	text := fmt.Sprintf("%.6f %.6f %.6f %.6f %.6f %.6f %.6f %.6f %.6f %.6f\n%.4f %.4f %.0f %.3f %.1f %g %g %g %.3f %g %g %g\n",
		s.outer, s.inner, s.depth, s.track, s.trackBelow, s.bedBelow, s.bed, s.flank, s.spokeBed, 0.311+s.bedBelow,
		s.kAlong, s.kThrough, s.rhoC, l.film, l.flux, l.on, l.off, l.heat, l.coolFilm, l.end, l.dt, l.every)
	return os.WriteFile(filepath.Join(dir, "cases", name+".txt"), []byte(text), 0o644)
}

func steady(film, flux float64) load { return load{film, flux, 1e4, 0, 900, film, 900, 1, 30} }
func pulses(film, flux, on, off float64) load {
	return load{film, flux, on, off, 240, film, 240, 0.5, 2}
}
func coolDown(film, flux float64) load { return load{film, flux, 1e4, 0, 600, 9, 1200, 1, 30} }

func main() {
	log.SetFlags(0)
	var names []string
	add := func(name string, s section, l load) {
		if err := write(name, s, l); err != nil {
			log.Fatal(err)
		}
		names = append(names, name)
	}
	const mm = 1e-3
	deep := section{25.6 * mm, 19 * mm, 50 * mm, 9 * mm, mm, 6.5 * mm, 1.2 * mm, 0.9 * mm, 2.8 * mm, 4, 0.65, 1.55e6}
	shallow := section{24 * mm, 18 * mm, 26 * mm, 9 * mm, mm, 6 * mm, 1.4 * mm, 1.2 * mm, 2.5 * mm, 3, 0.5, 1.48e6}
	metal := section{22 * mm, 18.4 * mm, 22 * mm, 9 * mm, mm, 6.5 * mm, 1.1 * mm, mm, 1.4 * mm, 167, 167, 2.4192e6}
	for _, c := range []struct {
		name string
		s    section
	}{{"deep_carbon", deep}, {"shallow_carbon", shallow}, {"aluminium", metal}} {
		add(c.name+"_steady", c.s, steady(55, 10e3))
		add(c.name+"_pulses", c.s, pulses(70, 34e3, 6, 8))
		add(c.name+"_cooling", c.s, coolDown(55, 10e3))
	}
	for k := range 20 {
		rng := rand.New(rand.NewPCG(2026, uint64(k)))
		in := func(lo, hi float64) float64 { return lo + (hi-lo)*rng.Float64() }
		isMetal := k%4 == 3
		wall := in(2.2*mm, 4.2*mm)
		if isMetal {
			wall = in(1.6*mm, 2.4*mm)
		}
		s := section{
			outer: in(20*mm, 30*mm), depth: in(20*mm, 60*mm), track: in(7.5*mm, 11*mm), trackBelow: in(0.5*mm, 2*mm),
			bedBelow: in(5.5*mm, 7*mm), bed: in(0.9*mm, 1.6*mm), flank: in(0.8*mm, min(1.6*mm, wall-0.4*mm)), spokeBed: in(1.5*mm, 4.5*mm),
			kAlong: in(2.5, 6), kThrough: in(0.5, 0.9), rhoC: in(1.35e6, 1.9e6),
		}
		s.inner = s.outer - 2*wall
		// The bed lies above the lower border of the track, as in rims.
		s.bedBelow = min(s.bedBelow, s.track+s.trackBelow-s.bed-0.4*mm)
		if isMetal {
			s.kAlong = in(120, 200)
			s.kThrough, s.rhoC = s.kAlong, in(2.3e6, 2.6e6)
		}
		l := steady(in(25, 110), in(3e3, 16e3))
		switch k % 3 {
		case 1:
			l = pulses(in(25, 110), in(10e3, 45e3), 2*float64(1+rng.IntN(4)), 2*float64(2+rng.IntN(4)))
		case 2:
			l = coolDown(in(25, 110), in(3e3, 16e3))
		}
		add(fmt.Sprintf("drawn_%02d", k), s, l)
	}
	solver, err := exec.LookPath("FreeFem++")
	if err != nil {
		log.Print("FreeFem++ is not installed: only the inputs were written")
		return
	}
	for _, name := range names {
		base := filepath.Join(dir, "cases", name)
		out, err := exec.Command(solver, "-nw", "-v", "0", filepath.Join(dir, "section.edp"), "-in", base+".txt").Output()
		if err != nil {
			log.Fatalf("%s: %v", name, err)
		}
		if err := os.WriteFile(base+".out", out, 0o644); err != nil {
			log.Fatal(err)
		}
		log.Print(name)
	}
}
