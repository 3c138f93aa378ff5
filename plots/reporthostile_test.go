package plots

import (
	"bytes"
	"math"
	"strings"
	"testing"

	"rimheat/thermal"
)

func TestHostileReports(t *testing.T) {
	t.Parallel()
	for kind, s := range hostileNames() {
		a := cases()["two descents"].reported()
		a.Route.Name, a.Setup.Style = s, s
		for i := range a.Rims {
			r := &a.Rims[i]
			r.Name, r.Material, r.Pad, r.TyreSide, r.PeakWheel = s, s, s, s, s
			r.Risk.Drivers[1].Name = s
			a.Cautions = append(a.Cautions, "On the "+s+" something may fail, "+s+".")
		}
		a.Advice = "Do not take the " + s + " on this road."
		a.Route.Heights.Text, a.Route.Repairs = s, nil
		a.Outlook.Changes[0].Text = s
		a.Setup.Assumed = append(a.Setup.Assumed, s)
		for _, title := range []string{"", s} {
			opt := ReportOptions{Title: title, ShopNote: s + "\n" + s}
			doc, text := page(t, a, opt)
			// The words of a hostile name may stand on the page; what they would do may not.
			for _, no := range []string{"<script", "<img", `onload="`, ` style="`, "\x00", "\x1b", "\u202e", "\u2066", isolate, endIsolate, "\ufffd"} {
				if strings.Contains(text, no) {
					t.Errorf("%s: the page holds %q", kind, no)
				}
			}
			checkBalance(t, kind, text)
			if len(find(doc, "bdi")) < 3 || len(find(doc, "style")) != 1 || len(find(doc, "article")) != 2 {
				t.Errorf("%s: the page is built otherwise", kind)
			}
			if n := len(words(find(doc, "h1")[0])); n > 4*longestShown {
				t.Errorf("%s: the title has %d bytes", kind, n)
			}
			var b bytes.Buffer
			if err := SaveReport(&b, "pdf", a, opt); err != nil {
				t.Fatalf("%s: %v", kind, err)
			}
			checkPaper(t, kind, a, opt)
		}
	}
}

func TestReportWithNumbersThatAreNone(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	a := cases()["five rims"].reported()
	a.Route.DropM, a.Route.HighestM, a.Setup.TotalKg, a.Setup.AirTempC, a.Setup.AtHeightM = nan, inf, nan, nan, inf
	a.Setup.LapseKPerM, a.Setup.WindMps, a.Setup.SunWPerM2, a.Setup.LuggageKg = nan, nan, inf, nan
	a.Descents[0].DropM, a.Descents[1].MeanGrade, a.Descents[2].StartM = nan, inf, nan
	a.Descents[1].Energy.BrakeFrontJ = nan
	a.Rims[0].LimitC, a.Rims[1].MarginK, a.Rims[2].PeakC, a.Rims[2].PeakAtM = nan, nan, nan, inf
	a.Rims[3].Risk.MarginK.P05, a.Rims[3].Risk.TrackC.P95, a.Rims[3].Risk.Chance.P, a.Rims[3].JudgedPeakC = nan, inf, nan, nan
	a.Rims[4].Limits[0].LowC, a.Rims[4].Field.SpokeBedC, a.Rims[4].Field.BedC = nan, nan, inf
	a.Rims[4].Over = []thermal.OverSpan{{StartM: nan, EndM: nan}}
	a.Rims[2].Over = []thermal.OverSpan{{StartM: 10, EndM: nan, StartS: nan, HeightM: nan, DurationS: nan}}
	a.Rims[2].Tyre.HotKPa, a.Rims[2].WallM = nan, nan
	a.Outlook.Changes[0].Rims[0].CoolerK, a.Outlook.Changes[1].Rims[1].MarginK = nan, nan
	a.Outlook.Rests[0].Stops[0] = thermal.CoolStop{AtM: nan, S: inf, Grade: nan}
	doc, text := page(t, a, ReportOptions{})
	checkPage(t, "no numbers", doc, text)
	checkPaper(t, "no numbers", a, ReportOptions{})
	if _, says := find(doc, "article")[0], words(find(doc, "article")[0]); !strings.Contains(says, "No verdict") {
		t.Errorf("a rim without a limit is judged: %q", says)
	}
}
