package plots

import (
	"fmt"

	"rimheat/thermal"
)

// reported is the invented ride with all that a handout says: inputs, parts, advice,
// cautions and what would change the answer.
func (in invented) reported() *thermal.Assessment {
	a := in.whole()
	s := &a.Setup
	s.RiderKg, s.BikeKg, s.TotalKg, s.AtHeightM = 75, 9, 84, 240
	s.LapseKPerM, s.Humidity, s.TyreKPa, s.CdAM2, s.Crr = 0.0065, 0.4, 600, 0.36, 0.005
	s.Style, s.CapMps, s.CornerG, s.BrakeG, s.FrontShare, s.Habit, s.PedalW = "steady", 40/3.6, 0.3, 0.2, 0.65, "drag", 170
	s.Assumed = []string{"luggage-kg", "air-temp-at", "lapse", "wind", "humidity", "sun", "road-air", "cda", "crr", "rim", "pads", "tyre-side", "tyre-kpa"}
	a.Sampling.Inputs = []thermal.Drawn{{Name: "cooling by moving air"}, {Name: "total mass"}, {Name: "wind"}}
	a.Route.LowestM, a.Route.HighestM, a.Route.Points = 240, 1390, 4887
	a.Route.Heights.Text = "show no noise to speak of"
	for i := range a.Rims {
		r := &a.Rims[i]
		r.Material, r.Pad, r.WallM = "aluminium", "rubber for aluminium tracks", 0.0016
		if r.Composite {
			r.Material, r.Pad, r.WallM = "woven carbon fibre in epoxy", "cork blend for carbon tracks", 0.0033
		}
		r.TyreSide = "butyl tube over woven cotton tape"
		most := 850.0
		r.Tyre = thermal.TyreHeat{ColdKPa: 600, HotKPa: 631 + float64(i), MaxKPa: &most, MaxOf: "rim"}
	}
	a.Advice = "Do not take the first rim on this road ridden like this: it passes a limit."
	a.Cautions = inventedCautions("120 °C")
	a.Imperial = thermal.Words{Advice: a.Advice, Cautions: inventedCautions("248 °F")}
	a.Outlook = inventedOutlook(a)
	return a
}

func inventedCautions(limit string) []string {
	return []string{
		"On the first rim the track would pass its limit: have it inspected.",
		"The limit of " + limit + " for the resin of a carbon track (resin unknown) is assumed, not known.",
		"The rim maker's limits and instructions, local rules, and the judgement of a qualified mechanic come before anything printed here.",
		"Rain and worn pads are not in the model.",
		"On the road: brake with both brakes, and before bends. Never touch a hot rim.",
	}
}

// inventedOutlook are made-up changes and stops; pads apply to carbon alone.
func inventedOutlook(a *thermal.Assessment) *thermal.Outlook {
	o := &thermal.Outlook{}
	for i := range a.Rims {
		left := a.Rims[i].MarginK
		for _, l := range a.Rims[i].Limits {
			left = min(left, l.MarginK)
		}
		o.Planned = append(o.Planned, thermal.ChangedRim{RimID: a.Rims[i].ID, Applies: true, MarginK: left})
	}
	for k, c := range []thermal.Change{
		{ID: "lighter", Text: "10 kg less on the bicycle", Imperial: "22 lb less on the bicycle"},
		{ID: "cooler", Text: "5 K cooler air", Imperial: "9 °F cooler air"},
		{ID: "slower", Text: "at most 30 km/h", Imperial: "at most 19 mph"},
		{ID: "pads", Text: "hard rubber pads", Imperial: "hard rubber pads"},
	} {
		for i := range a.Rims {
			r := &a.Rims[i]
			cooler := float64(4*k-3) + float64(i)
			c.Rims = append(c.Rims, thermal.ChangedRim{RimID: r.ID, Applies: c.ID != "pads" || r.Composite, CoolerK: cooler, PeakC: r.JudgedPeakC - cooler, MarginK: r.MarginK + cooler})
		}
		o.Changes = append(o.Changes, c)
	}
	o.Rests = []thermal.RestAdvice{{
		RimID: a.Rims[0].ID, Draws: 200, Chance: thermal.Chance{P: 0.31},
		Stops: []thermal.CoolStop{{AtM: 21000, S: 900, Grade: -0.05}, {AtM: 30000, S: 1200, Grade: -0.09}},
	}}
	if n := len(a.Rims); n > 1 {
		o.Rests = append(o.Rests, thermal.RestAdvice{RimID: a.Rims[n-1].ID, Draws: 200, Serves: true, Chance: thermal.Chance{P: 0.04}, Stops: []thermal.CoolStop{{AtM: 30500, S: 600}}})
	}
	return o
}

// shopNote is a made-up note of two paragraphs.
const shopNote = "Ask at the counter about wheels to lend.\nWe measure walls for nothing.\n\nOpen from 9 to 6."

// hostileNames try to break out of a page, to hide text or to overflow it.
func hostileNames() map[string]string {
	long := ""
	for k := range 2000 {
		long += fmt.Sprintf("W%04d", k)
	}
	return map[string]string{
		"markup":      `</title></style><script>alert(1)</script><img src=http://x.invalid onerror=x>"'&amp;&#60;b&#62; {{.}} ]]> <!-- -->`,
		"control":     "A\x1b[31mred\x00\u202eroad\u2066x\u2069\u2069\u2068\n\r\t<b>&\xff\u0301\u0301\u0301\u0301",
		"long":        long,
		"from right":  "הדרך אל ההר 42 <b>",
		"no letters":  "\u200f\u2068\x00\ufffd",
		"attribute":   `" onload="x" style="color:red`,
		"high planes": "\U0001F6B2\U0010FFFF\uFFFE 山の道",
	}
}
