package main

import (
	"rimheat/route"
	"rimheat/thermal"
)

// sample is an assessment made up by hand for the views. Its numbers belong
// together only as far as the views show them side by side; no ride gave them.
func sample() *thermal.Assessment {
	first := thermal.Energy{PotentialJ: 468e3, PedalJ: 0, AirJ: 92e3, RollingJ: 34.5e3, BrakeFrontJ: 217e3, BrakeRearJ: 117e3, KineticJ: 7.5e3}
	second := thermal.Energy{PotentialJ: 1011e3, PedalJ: 12e3, AirJ: 240e3, RollingJ: 61e3, BrakeFrontJ: 465e3, BrakeRearJ: 250e3, KineticJ: 7e3}
	rimMaxKPa, alarmC, sharpestM := 850.0, 190.0, 9.3
	return &thermal.Assessment{
		Route: thermal.RouteSummary{
			Name: "Invented \x1b[31mpass\x07 road", DistanceM: 52340, ClimbM: 1240.4, DropM: 1739.6, LowestM: 412, HighestM: 1873.2,
			DurationS: 8054, Points: 2310,
			Repairs: []route.Repair{
				{Kind: "height-spike", Count: 3, Text: "3 heights that stuck out were replaced"},
				{Kind: "same-place", Count: 1204, Text: "1,204 points at the place of the one before were left out"},
			},
		},
		Setup: thermal.SetupSummary{
			RiderKg: 78, BikeKg: 8.5, LuggageKg: 0, TotalKg: 86.5, AirTempC: 38, AtHeightM: 412, LapseKPerM: 0.0065,
			WindMps: 2.5, WindFrom: 270, Humidity: 0.4, CdAM2: 0.36, Crr: 0.005, SunWPerM2: 700, RoadAirK: 3, TyreKPa: 620,
			Style: "Steady: holds a comfortable speed, brakes before bends", CapMps: 40 / 3.6, CornerG: 0.3, BrakeG: 0.2, FrontShare: 0.65,
			Habit: "drag", PedalW: 170,
			Assumed: []string{"luggage-kg", "air-temp-at", "lapse", "humidity", "pads", "tyre-side", "cda", "crr"},
		},
		Descents: []thermal.Descent{
			{StartM: 12400, EndM: 20610, DropM: 551.5, MeanGrade: -0.0672, SteepestGrade: -0.0981, Hairpins: 12, SharpestCornerM: &sharpestM, DurationS: 860.4, Energy: first},
			{StartM: 33020, EndM: 47950, DropM: 1188.1, MeanGrade: -0.0796, SteepestGrade: -0.1312, DurationS: 3661, Energy: second},
		},
		Energy: thermal.Energy{PotentialJ: 423.6e3, PedalJ: 1274e3, AirJ: 512e3, RollingJ: 219e3, BrakeFrontJ: 627e3, BrakeRearJ: 338e3, KineticJ: 1e3},
		Rims: []thermal.RimResult{
			{
				ID: "carbon-deep", Name: "50 mm deep carbon clincher", Material: "woven carbon fibre in epoxy", MassKg: 0.4683, WallM: 0.0033, Pad: "cork blend for carbon tracks",
				LimitC: 120, LimitOn: "track", LimitSource: "assumed: no figure from the rim's maker", LimitAssumed: true, Verdict: thermal.Over,
				PeakC: 142.6, PeakAtM: 47210, PeakWheel: "front", Composite: true, PoorCooling: &thermal.PoorCooling{Factor: 1.5, On: "track", LimitC: 120, PeakC: 165.1, MarginK: -45.1}, SurfacePeakC: 158.3, ContactPeakC: 177.8, TyreSidePeakC: 98.4, SpokeBedPeakC: 62, MarginK: -22.6, JudgedPeakC: 142.6,
				Over: []thermal.OverSpan{
					{StartM: 41230, EndM: 44000, StartS: 5520, DurationS: 262, HeightM: 1131.7},
					{StartM: 46020, EndM: 47800, StartS: 6110, DurationS: 130, HeightM: 707},
				},
				Limits: []thermal.LimitResult{
					{On: "track", LimitC: 120, Source: "assumed: no figure from the rim's maker", Assumed: true, PeakC: 142.6, PeakAtM: 47210, Wheel: "front", MarginK: -22.6, Verdict: thermal.Over, AlarmC: &alarmC, Band: thermal.Caution},
					{On: "tyre side", LimitC: 110, Source: "butyl 110-120 °C for long, 150 °C for short; cotton tape over 150 °C", Assumed: true, PeakC: 98.4, PeakAtM: 47330, Wheel: "front", MarginK: 11.6, Verdict: thermal.Marginal},
				},
				Descents: []thermal.RimDescent{
					{Index: 0, FrontPeakC: 108.7, RearPeakC: 80.2, SurfacePeakC: 119.2, ContactPeakC: 131, TyreSidePeakC: 77.9, SpokeBedPeakC: 51, AirC: 36},
					{Index: 1, FrontPeakC: 142.6, RearPeakC: 99.5, SurfacePeakC: 158.3, ContactPeakC: 177.8, TyreSidePeakC: 98.4, SpokeBedPeakC: 62, AirC: 37},
				},
				RimShare: 0.93, Heat: thermal.HeatBalance{InJ: 890e3, StoredJ: 40e3, LostJ: 850e3},
				Pads: thermal.PadHeat{PeakC: 203, FrictionCold: 0.45, FrictionHot: 0.4, WearM: 0.00061},
				Tyre: thermal.TyreHeat{AirPeakC: 57, ColdKPa: 620, HotKPa: 664, MaxKPa: &rimMaxKPa, MaxOf: "rim"},
				Soak: []thermal.SoakPlace{{Place: "rim bed", ThenC: 71.2, PeakC: 76.9, AfterS: 95}, {Place: "tyre air", ThenC: 52, PeakC: 52.3, AfterS: 40}},
			},
			{
				ID: "alu-classic", Name: "22 mm aluminium clincher", Material: "aluminium 6061-T6", MassKg: 0.4417, WallM: 0.0018, Pad: "rubber for aluminium tracks",
				LimitC: 110, LimitOn: "tyre side", LimitSource: "butyl 110-120 °C for long, 150 °C for short; cotton tape over 150 °C", LimitAssumed: true, Verdict: thermal.Within,
				PeakC: 94.1, PeakAtM: 47250, PeakWheel: "front", PeakInStop: true, PoorCooling: &thermal.PoorCooling{Factor: 1.5, On: "tyre side", LimitC: 110, PeakC: 102.9, MarginK: 7.1}, SurfacePeakC: 98, ContactPeakC: 110.2, TyreSidePeakC: 92.6, SpokeBedPeakC: 89, MarginK: 17.4, JudgedPeakC: 92.6,
				Limits: []thermal.LimitResult{
					{On: "tyre side", LimitC: 110, Source: "butyl 110-120 °C for long, 150 °C for short; cotton tape over 150 °C", Assumed: true, PeakC: 92.6, PeakAtM: 47260, Wheel: "front", MarginK: 17.4, Verdict: thermal.Within},
				},
				Descents: []thermal.RimDescent{
					{Index: 0, FrontPeakC: 79.4, RearPeakC: 61.3, SurfacePeakC: 82, ContactPeakC: 90, TyreSidePeakC: 78.8, SpokeBedPeakC: 76, AirC: 36},
					{Index: 1, FrontPeakC: 94.1, RearPeakC: 70.5, SurfacePeakC: 98, ContactPeakC: 110.2, TyreSidePeakC: 92.6, SpokeBedPeakC: 89, AirC: 37},
				},
				RimShare: 0.98, Heat: thermal.HeatBalance{InJ: 940e3, StoredJ: 30e3, LostJ: 910e3},
				Pads: thermal.PadHeat{PeakC: 97, FrictionCold: 0.55, FrictionHot: 0.55, WearM: 0.00018},
				Tyre: thermal.TyreHeat{AirPeakC: 54, ColdKPa: 620, HotKPa: 658},
			},
		},
		Advice: "Take the aluminium rim on this road, or stop for ten minutes before the second descent.",
		Imperial: thermal.Words{
			Advice:   "Take the aluminium rim on this road: it is 31 °F cooler.",
			Cautions: []string{"Cautions in miles and °F."},
		},
		Cautions: []string{
			"The limit of carbon-deep is assumed; the maker's figure decides.",
			"How well the air cools a rim is uncertain, and the temperatures with it: treat a margin of less than 15 K as none, and look at what changes when the air is hotter or the load is heavier than planned.",
		},
	}
}

// flat is an assessment of a road without a descent.
func flat() *thermal.Assessment {
	a := sample()
	a.Route.Name, a.Route.Repairs = "", nil
	a.Descents, a.Cautions = nil, nil
	a.Setup.WindMps = 0
	a.Setup.Assumed = []string{"rider-kg", "wind", "wind-from"}
	a.Rims = a.Rims[1:]
	r := &a.Rims[0]
	r.Descents, r.Over, r.PeakC, r.JudgedPeakC, r.MarginK = nil, nil, 38, 38, 72
	r.Limits[0].PeakC, r.Limits[0].MarginK = 38, 72
	a.Advice = "Any of these rims will do."
	return a
}
