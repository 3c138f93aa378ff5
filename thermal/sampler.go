package thermal

import (
	"context"
	"errors"
	"fmt"
	"math"
	"runtime"
	"sync"
	"sync/atomic"

	"rimheat/route"
	"rimheat/thermal/air"
	"rimheat/thermal/ride"
	"rimheat/thermal/rim"
	"rimheat/thermal/risk"
)

// The places of a wheel whose highest temperatures a draw keeps.
const (
	atTrack = iota
	atTyreSide
	atFairing
	places
)

// placeOf finds the place that a limit is about.
func placeOf(on string) int {
	switch on {
	case OnTyreSide:
		return atTyreSide
	case OnFairing:
		return atFairing
	}
	return atTrack
}

// A sampler rides one profile in many possible worlds.
type sampler struct {
	profile *route.Profile
	setup   Setup
	doubts  *doubts
	planner *ride.Planner
	// spans are the stretches whose hottest temperatures are kept, in order and
	// apart.
	spans []span
	// cuts is into how many stretches of one length the route is cut for the trails of
	// draws, 0 for none.
	cuts int
	// families hold a reduced model per candidate, nil for the full solver.
	families []*rim.Family
}

// newSampler prepares a setup, which must be valid. families, one for each
// candidate, count for nothing if the setup asks for the full solver.
func newSampler(p *route.Profile, s Setup, families []*rim.Family, spans []span) (*sampler, error) {
	m := &sampler{profile: p, setup: s, spans: spans}
	m.doubts = newDoubts(&m.setup, p.Ride != nil)
	if !s.Sampling.Full {
		m.families = families
	}
	var err error
	m.planner, err = ride.NewPlanner(p, s.Weather)
	return m, err
}

// restyled is the sampler with another style, which takes the air as it is: all but the
// style must be the same.
func (m *sampler) restyled(st ride.Style, spans []span) *sampler {
	out := *m
	out.setup.Style, out.spans = st, spans
	out.doubts = newDoubts(&out.setup, m.profile.Ride != nil)
	return &out
}

// newFamilies makes the reduced models of all candidates.
func newFamilies(ws []Wheel) ([]*rim.Family, error) {
	families, errs := make([]*rim.Family, len(ws)), make([]error, len(ws))
	var wg sync.WaitGroup
	for i, w := range ws {
		wg.Go(func() { families[i], errs[i] = rim.NewFamily(w.Rim, w.Pad, rim.Options{}) })
	}
	wg.Wait()
	return families, errors.Join(errs...)
}

// hottest holds the highest temperatures, °C, of one candidate in one world.
type hottest struct {
	// peaks has entry place*(spans+1)+i for stretch i, the whole ride's last.
	peaks []float64
	// trail is the track's on each of the stretches that the route is cut into, nil
	// where nobody asked for it.
	trail []float32
}

// at gives those of a place.
func (h hottest) at(place int) []float64 {
	n := len(h.peaks) / places
	return h.peaks[place*n : (place+1)*n]
}

// clear makes everything colder than anything.
func (h hottest) clear() {
	for i := range h.peaks {
		h.peaks[i] = math.Inf(-1)
	}
	for i := range h.trail {
		h.trail[i] = float32(math.Inf(-1))
	}
}

// run rides in every world of a design, in parallel, and gives the hottest
// temperatures of [candidate][world]. Each world writes its own place, so that
// the number of cores changes nothing.
func (m *sampler) run(ctx context.Context, design *risk.Design, told func(done int)) ([][]hottest, error) {
	n := design.Len()
	width := places * (len(m.spans) + 1)
	out := make([][]hottest, len(m.setup.Wheels))
	for i := range out {
		peaks, trails := make([]float64, n*width), make([]float32, n*m.cuts)
		out[i] = make([]hottest, n)
		for k := range out[i] {
			out[i][k] = hottest{peaks: peaks[k*width : (k+1)*width], trail: trails[k*m.cuts : (k+1)*m.cuts]}
		}
	}
	err := m.each(ctx, n, told, func(r *rider, k int) error {
		for i := range out {
			out[i][k].clear()
		}
		return r.ride(m.doubts.truth(design.Point(k)), func(i int) hottest { return out[i][k] })
	})
	return out, err
}

// each does one thing for n draws, in parallel, with a rider to each core. told, if
// not nil, hears how many are done.
func (m *sampler) each(ctx context.Context, n int, told func(done int), do func(r *rider, k int) error) error {
	errs := make([]error, n)
	var next, done atomic.Int64
	var wg sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), n) {
		wg.Go(func() {
			r := m.newRider()
			for ctx.Err() == nil {
				k := int(next.Add(1)) - 1
				if k >= n {
					return
				}
				errs[k] = do(r, k)
				if d := done.Add(1); told != nil {
					told(int(d))
				}
			}
		})
	}
	wg.Wait()
	if err := ctx.Err(); err != nil {
		return err
	}
	for k, err := range errs {
		if err != nil {
			return fmt.Errorf("draw %d: %w", k+1, err)
		}
	}
	return nil
}

// A rider rides one world after the other, in memory of its own.
type rider struct {
	m       *sampler
	planner *ride.Planner
	duty    ride.Duty
	reduced []*rim.Reduced
}

func (m *sampler) newRider() *rider {
	r := &rider{m: m, planner: m.planner.Clone()}
	for _, f := range m.families {
		r.reduced = append(r.reduced, f.New())
	}
	return r
}

// ride rides in one world and raises the hottest temperatures of each candidate.
func (r *rider) ride(t truth, of func(candidate int) hottest) error {
	m := r.m
	plan := r.planner.Ride(t.load, t.weather, t.resistance, t.style)
	duty := &r.duty
	if m.families == nil {
		duty = plan.Duty(StandS)
	} else {
		plan.SampleDuty(duty, StandS)
	}
	return r.heat(duty, t, of)
}

// heat takes every candidate through a duty in one world and raises its hottest
// temperatures.
func (r *rider) heat(duty *ride.Duty, t truth, of func(candidate int) hottest) error {
	for i, w := range r.m.setup.Wheels {
		model, err := r.wheel(i, w, t)
		if err != nil {
			return err
		}
		for _, power := range hotterWheels(duty, t.style) {
			if err := heatUp(model, duty, power, t.weather, r.m.spans, of(i)); err != nil {
				return err
			}
		}
	}
	return nil
}

// wheel is the model of one candidate in a world.
func (r *rider) wheel(i int, w Wheel, t truth) (wheelModel, error) {
	h := t.heat[i]
	if r.reduced == nil {
		return rim.NewSolver(w.Rim.At(h.along, h.through), w.Pad.At(h.pads), rim.Options{FilmFactor: h.film})
	}
	return r.reduced[i], r.reduced[i].Tune(rim.Tuning{FilmFactor: h.film, Along: h.along, Through: h.through, Pad: h.pads})
}

// hotterWheels gives the braking power of the wheels that may be the hottest one:
// where both brakes work together it is the one with the larger share throughout,
// by turns it may be either.
func hotterWheels(d *ride.Duty, st ride.Style) [][]float64 {
	switch {
	case st.Habit == ride.Alternate:
		return [][]float64{d.FrontW, d.RearW}
	case st.FrontShare >= 0.5:
		return [][]float64{d.FrontW}
	}
	return [][]float64{d.RearW}
}

// wheelModel is what Solver and Reduced have in common.
type wheelModel interface {
	Reset(tK float64)
	Step(d rim.Drive) error
	State() rim.State
	Judged() rim.Judged
}

// driveOf is step i of a duty as a wheel meets it.
func driveOf(d *ride.Duty, power []float64, w *ride.Weather, i int) rim.Drive {
	on := 0.0
	if power[i] > 0 {
		on = 1 // steps end where a brake is taken or let go
	}
	return rim.Drive{
		DtS: d.DtS[i], PowerW: power[i], OnPart: on, RollMps: d.RollMps[i],
		StreamMps: d.StreamMps[i], AirK: d.AirK[i] + w.RoadAirK, PressurePa: d.PressurePa[i],
		SunWPerM2: sunPart * w.SunWPerM2,
	}
}

// heatUp takes one wheel through the duty and raises what is hottest. A stretch
// counts for the track from its start to its end, for what warms up late on to
// the start of the next one, as in peaksOn.
func heatUp(m wheelModel, d *ride.Duty, power []float64, w ride.Weather, spans []span, hot hottest) error {
	m.Reset(d.AirK[0] + w.RoadAirK)
	tracks, tyres, fairings := hot.at(atTrack), hot.at(atTyreSide), hot.at(atFairing)
	whole := len(spans)
	on, ended := -1, false
	var track sustained
	way := trail{c: hot.trail, lengthM: d.DistM[len(d.DistM)-1], beforeC: d.AirK[0] + w.RoadAirK - air.ZeroCelsiusK}
	for i := range d.DtS {
		if err := m.Step(driveOf(d, power, &w, i)); err != nil {
			return fmt.Errorf("at km %.2f: %w", d.DistM[i]/1000, err)
		}
		st := m.Judged()
		track.step(d.DtS[i], st.SweptK, st.WallK)
		trackC := track.trackK(st.WallK) - air.ZeroCelsiusK
		tyreC, fairingC := st.TyreSideK-air.ZeroCelsiusK, st.FairingK-air.ZeroCelsiusK
		x := d.DistM[i]
		way.step(x, trackC)
		raise := func(i int) {
			tyres[i], fairings[i] = max(tyres[i], tyreC), max(fairings[i], fairingC)
			if !ended || i == whole {
				tracks[i] = max(tracks[i], trackC)
			}
		}
		for on+1 < whole && x > spans[on+1].startM {
			on, ended = on+1, false
			raise(on) // a step may pass over a whole stretch
		}
		if on >= 0 {
			raise(on)
			ended = ended || x > spans[on].endM
		}
		raise(whole)
	}
	return nil
}
