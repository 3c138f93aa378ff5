package plots

import (
	"bytes"
	"math"
	"math/rand/v2"
	"testing"

	"rimheat/thermal"
)

// randomDraws scatters what the draws say, with entries that are none, and adds rests.
func randomDraws(rng *rand.Rand, a *thermal.Assessment) *thermal.Assessment {
	for i := range a.Rims {
		r := &a.Rims[i]
		r.Risk.TrackC.P95 += 200 * rng.Float64()
		if rng.IntN(6) == 0 {
			r.Along = nil
			continue
		}
		wide := 60 * rng.Float64()
		for k := range r.Along.P95C {
			r.Along.P95C[k] += wide * rng.Float64()
			if rng.IntN(50) == 0 {
				r.Along.P05C[k] = math.NaN()
			}
		}
	}
	for range rng.IntN(30) {
		a.Trace.Stands = append(a.Trace.Stands, thermal.Stand{AtM: 1.1 * a.Route.DistanceM * (rng.Float64() - 0.05), S: 4000 * rng.Float64() * rng.Float64()})
	}
	return a
}

// TestLayoutOfRandomRides draws up rides of all lengths with random rims and
// limits, and holds the layout to the same rules as the hand-made cases.
func TestLayoutOfRandomRides(t *testing.T) {
	t.Parallel()
	const seed, rides = 7, 120
	for k := range rides {
		rng := rand.New(rand.NewPCG(seed, uint64(k)))
		in := invented{
			name:     "Random ride (invented)",
			lengthM:  200 * math.Exp(7.5*rng.Float64()),
			descents: rng.IntN(30), pulse: rng.IntN(2) == 0,
		}
		for range 1 + rng.IntN(7) {
			in.rims = append(in.rims, inventedRim{
				name: "Invented rim, 30 mm", riseK: 200 * rng.Float64(), lagM: 100 + 3000*rng.Float64(),
				limitC: 60 + 100*rng.Float64(), tyreSide: rng.IntN(2) == 0, assumed: rng.IntN(2) == 0,
			})
		}
		a := in.assessment()
		if rng.IntN(3) > 0 {
			a = randomDraws(rng, in.whole())
		}
		checkFigure(t, a, mustCompose(t, a, Options{Imperial: rng.IntN(2) == 0, bare: rng.IntN(3) == 0}, false))
		if t.Failed() {
			t.Fatalf("ride %d: %+v", k, in)
		}
	}
}

// TestRandomNames feeds letters from all over Unicode to every format.
func TestRandomNames(t *testing.T) {
	const seed, names = 8, 24
	a := cases()["one descent"].assessment()
	for k := range names {
		rng := rand.New(rand.NewPCG(seed, uint64(k)))
		var rs []rune
		for range 60 {
			rs = append(rs, rune(rng.IntN(0x30000)>>rng.IntN(10)))
		}
		a.Route.Name, a.Rims[k%2].Name = string(rs), string(rs[20:])
		for _, viewers := range []bool{false, true} {
			sc := mustCompose(t, a, Options{}, viewers)
			checkLabelsApart(t, sc)
			checkNoLineThroughLabels(t, sc)
		}
		for _, format := range []string{"svg", "pdf"} {
			var buf bytes.Buffer
			if err := Save(&buf, format, a, Options{}); err != nil {
				t.Fatalf("%s of %q: %v", format, a.Route.Name, err)
			}
			if format == "svg" {
				checkSVG(t, a.Route.Name, buf.Bytes())
			}
		}
	}
}
