package main

import (
	"bytes"
	"strconv"
	"strings"

	"rimheat/thermal"
)

// rigCSV writes the samples as a table with the names of the JSON. The column
// of the pad is empty without pads, that of the rim's share before any braking.
func rigCSV(r *thermal.BenchResult) []byte {
	var b bytes.Buffer
	b.WriteString("t_s,watts,kmh,swept_mean_C,hottest_C,mid_wall_C,inner_wall_C,bed_centre_C,spoke_bed_C,tyre_air_C,tyre_kPa,pad_C,rim_share,track_judged_C,tyre_side_C,in_J,stored_J,lost_J\n")
	for _, s := range r.Samples {
		pad, share := "", ""
		if s.PadC != nil {
			pad = decimals(*s.PadC, 3)
		}
		if s.RimShare != nil {
			share = decimals(*s.RimShare, 5)
		}
		b.WriteString(strings.Join([]string{
			decimals(s.TimeS, 3), decimals(s.Watts, 2), decimals(s.KmH, 2),
			decimals(s.SweptMeanC, 3), decimals(s.HottestC, 3), decimals(s.MidWallC, 3), decimals(s.InnerWallC, 3),
			decimals(s.BedCentreC, 3), decimals(s.SpokeBedC, 3), decimals(s.TyreAirC, 3), decimals(s.TyreKPa, 3),
			pad, share, decimals(s.TrackC, 3), decimals(s.TyreSideC, 3),
			decimals(s.InJ, 3), decimals(s.StoredJ, 3), decimals(s.LostJ, 3),
		}, ",") + "\n")
	}
	return b.Bytes()
}

// decimals writes a number for machines: no thousands, no minus zero.
func decimals(v float64, n int) string {
	s := strconv.FormatFloat(v, 'f', n, 64)
	if strings.HasPrefix(s, "-") && strings.Trim(s, "-0.") == "" {
		return s[1:]
	}
	return s
}
