package thermal

import (
	"fmt"
	"testing"
	"time"

	"rimheat/route"
)

func TestLook(t *testing.T) {
	for _, f := range []string{"two_passes_hot", "long_ride_mild", "drag_hill", "flat_loop"} {
		for _, style := range []string{"cautious", "steady", "brisk"} {
			t0 := time.Now()
			p, err := route.Load("../testdata/"+f+".gpx", nil, route.Options{})
			if err != nil {
				t.Fatal(err)
			}
			t1 := time.Now()
			s := DefaultSetup()
			s.Load.RiderKg, s.Load.BikeKg, s.Load.LuggageKg = 78, 8.5, 2
			s.Weather.AirTempK = 273.15 + 38
			if f == "long_ride_mild" {
				s.Weather.AirTempK = 293.15
				s.Load.RiderKg, s.Load.LuggageKg = 76.5, 0
			}
			s.Style, _ = StyleByID(style)
			a, err := Assess(p, s)
			if err != nil {
				t.Fatal(err)
			}
			fmt.Printf("%s %s: %.1f km, drop %.0f, %.2f h, load %v assess %v steps %d\n", f, style, p.DistanceM/1e3, p.DropM, a.Route.DurationS/3600, t1.Sub(t0), time.Since(t1), len(a.Rims[0].Front.TimeS))
			e := a.Energy
			in := e.PotentialJ + e.PedalJ
			fmt.Printf("   ledger pot %.0f ped %.0f air %.0f roll %.0f f %.0f r %.0f kin %.0f kJ resid %.2e\n", e.PotentialJ/1e3, e.PedalJ/1e3, e.AirJ/1e3, e.RollingJ/1e3, e.BrakeFrontJ/1e3, e.BrakeRearJ/1e3, e.KineticJ/1e3, e.ResidualJ()/in)
			for i, d := range a.Descents {
				fmt.Printf("   descent %d km %.1f len %.1f drop %.0f mean %.1f%% steep %.1f%% %.0f s %.0f km/h brakes %.0f kJ = %.0f%%", i, d.StartM/1e3, (d.EndM-d.StartM)/1e3, d.DropM, d.MeanGrade*100, d.SteepestGrade*100, d.DurationS, (d.EndM-d.StartM)/d.DurationS*3.6, d.Energy.BrakesJ()/1e3, 100*d.Energy.BrakesJ()/d.Energy.PotentialJ)
				for _, r := range a.Rims {
					x := r.Descents[i]
					fmt.Printf(" | %s F %.0f R %.0f surf %.0f con %.0f tyre %.0f spoke %.0f air %.0f", r.ID, x.FrontPeakC, x.RearPeakC, x.SurfacePeakC, x.ContactPeakC, x.TyreSidePeakC, x.SpokeBedPeakC, x.AirC)
				}
				fmt.Println()
			}
			for _, r := range a.Rims {
				fmt.Printf("   %s %s margin %.1f peak %.1f at %.1f %s share %.4f heat %.2e over %d\n", r.ID, r.Verdict, r.MarginK, r.PeakC, r.PeakAtM/1e3, r.PeakWheel, r.RimShare, (r.Heat.InJ-r.Heat.StoredJ-r.Heat.LostJ)/r.Heat.InJ, len(r.Over))
			}
			fmt.Println("  ", a.Advice)
		}
	}
}
