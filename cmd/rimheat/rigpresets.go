package main

import "rimheat/thermal"

func rigPresetNames() []string {
	return ids(thermal.BenchProgrammes(), func(p thermal.BenchProgramme) string { return p.Name })
}
