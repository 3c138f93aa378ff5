package plots

import "strings"

// cases are the roads and rims that every figure must stand.
func cases() map[string]invented {
	two := []inventedRim{deepCarbon(104), classicAlu(60)}
	return map[string]invented{
		"two descents":      {name: "Two hot passes (invented)", lengthM: 42000, descents: 2, rims: two},
		"two in imperial":   {name: "Two hot passes (invented)", lengthM: 42000, descents: 2, rims: two},
		"no descents":       {name: "Flat lap (invented)", lengthM: 30000, flat: true, rims: two},
		"one descent":       {name: "One hill (invented)", lengthM: 9000, descents: 1, rims: two},
		"twelve descents":   {name: "Twelve hills (invented)", lengthM: 150000, descents: 12, rims: two},
		"sixty descents":    {name: "Sixty hills (invented)", lengthM: 150000, descents: 60, rims: two},
		"one rim":           {name: "One rim (invented)", lengthM: 42000, descents: 2, rims: two[:1]},
		"one tyre side":     {name: "One rim (invented)", lengthM: 42000, descents: 2, rims: []inventedRim{classicAlu(150)}},
		"five rims":         {name: "Five rims (invented)", lengthM: 42000, descents: 3, rims: fiveRims()},
		"five rims pulsing": {name: "Five rims (invented)", lengthM: 150000, descents: 9, rims: fiveRims(), pulse: true},
		"twelve rims":       {name: "Twelve rims (invented)", lengthM: 42000, descents: 3, rims: append(append(fiveRims(), fiveRims()...), two...)},
		"never reached":     {name: "Gentle road (invented)", lengthM: 42000, descents: 2, rims: []inventedRim{deepCarbon(40), classicAlu(20)}},
		"late crossing":     {name: "Ends hot (invented)", lengthM: 22000, descents: 1, rims: lateRims()},
		"ends in a stop":    {name: "Ends in a stop (invented)", lengthM: 9000, descents: 1, stop: true, rims: []inventedRim{deepCarbon(50), classicAlu(40)}},
		"two limits": {name: "Two limits (invented)", lengthM: 42000, descents: 2, rims: []inventedRim{
			{name: "Carbon with its maker's limit, 45 mm", riseK: 120, lagM: 900, limitC: 121, tyreSide: true, assumed: true, trackLimitC: 180}, classicAlu(60),
		}},
		"foreign limits": {name: "Foreign limits (invented)", lengthM: 42000, descents: 2, rims: []inventedRim{
			{name: "Carbon that passes all", riseK: 140, lagM: 700, limitC: 130}, {name: "Carbon that stays below", riseK: 80, lagM: 900, limitC: 140}, classicAlu(100),
		}},
		"very short":     {name: "Ramp (invented)", lengthM: 200, descents: 1, rims: []inventedRim{deepCarbon(60), classicAlu(30)}},
		"very long":      {name: "Two days (invented)", lengthM: 400000, descents: 14, rims: two},
		"no name":        {lengthM: 42000, descents: 2, rims: two},
		"long name":      {name: strings.Repeat("Over the hills and far away ", 360), lengthM: 42000, descents: 2, rims: two},
		"long word":      {name: strings.Repeat("W", 10000), lengthM: 42000, descents: 2, rims: two},
		"right to left":  {name: "הדרך אל ההר 42 (invented)", lengthM: 42000, descents: 2, rims: two},
		"missing glyphs": {name: "山の道 over the 峠 pass", lengthM: 42000, descents: 2, rims: two},
		"only missing":   {name: "山の道", lengthM: 42000, descents: 2, rims: two},
		"hostile names": {name: "A\x1b[31mred\x00\u202eroad\n<b>&\xff\u0301\u0301\u0301\u0301 Vršič", lengthM: 42000, descents: 2, rims: []inventedRim{
			{name: strings.Repeat("Very long rim name ", 40), riseK: 112, lagM: 900, limitC: 120},
			{name: "\x1b\x00", riseK: 60, lagM: 900, limitC: 118, assumed: true},
		}},
	}
}
