package thermal

import (
	"cmp"
	"context"
	"errors"
	"slices"
	"sync"

	"rimheat/route"
	"rimheat/thermal/rim"
	"rimheat/thermal/risk"
)

// designBlocks is the number of Latin hypercubes that the draws are made of: what
// they differ by is the sampling error.
const designBlocks = 10

// draw rides the profile in as many possible worlds as the setup asks for and
// puts into the assessment what they say. families are the candidates' reduced models,
// nil for the full solver.
func (a *Assessment) draw(ctx context.Context, p *route.Profile, s Setup, families []*rim.Family, told func(done, of int)) (*drawn, error) {
	d, err := design(s.Sampling)
	if err != nil {
		return nil, err
	}
	m, err := newSampler(p, s, families, spansOf(p.Descents))
	if err != nil {
		return nil, err
	}
	m.cuts = min(mostCuts, len(p.DistM)-1)
	hot, err := m.run(ctx, d, func(done int) {
		if told != nil {
			told(done, d.Len())
		}
	})
	if err != nil {
		return nil, err
	}
	a.Sampling = m.summary(d.Len())
	fits, err := risk.NewExpansion(d)
	if err != nil {
		return nil, err
	}
	left := &drawn{design: d, families: families, leastK: make([][]float64, len(a.Rims))}
	errs := make([]error, len(a.Rims))
	var wg sync.WaitGroup
	for i := range a.Rims {
		r := &a.Rims[i]
		wg.Go(func() {
			o := outcomes{m: m, design: d, hot: hot[i], limits: r.Limits}
			if r.Risk, errs[i] = o.risk(fits); errs[i] == nil {
				left.leastK[i] = o.leastK
				r.settle()
				r.Along = alongOf(hot[i], p.DistM[len(p.DistM)-1])
				_, r.PeakInDoubt = doubtOf(p, r)
			}
		})
	}
	wg.Wait()
	return left, errors.Join(errs...)
}

// design makes the draws of a sampling.
func design(s Sampling) (*risk.Design, error) {
	return risk.NewDesign(designBlocks, (s.Samples+designBlocks-1)/designBlocks, draws, s.Seed)
}

// summary tells what is drawn, leaving out what cannot differ.
func (m *sampler) summary(n int) *SamplingSummary {
	s := &m.setup
	sum := &SamplingSummary{Samples: n, Seed: s.Sampling.Seed, Full: s.Sampling.Full}
	for _, u := range uncertainTable() {
		i := firstDrawOf(u.ID)
		figure := m.doubts.figure[i]
		if least, _ := u.Bounds(); figure <= least || !m.matters(u.ID) {
			continue
		}
		_, given := s.Sampling.Spread[u.ID]
		sum.Inputs = append(sum.Inputs, Drawn{
			ID: u.ID, Name: u.Name, Kind: u.Kind, Unit: u.Unit, Figure: figure,
			Assumed: !given && s.assumed(u.ID), GivenSpread: given, Known: u.Known, Source: u.Source,
		})
	}
	return sum
}

// matters says whether any candidate hangs on an uncertain limit.
func (m *sampler) matters(id string) bool {
	if id != "limit" && id != "tyre-limit" {
		return true
	}
	for _, w := range m.setup.Wheels {
		for _, l := range limitsOf(w) {
			if l.LowC < l.HighC && (l.On == OnTyreSide) == (id == "tyre-limit") {
				return true
			}
		}
	}
	return false
}

// risk sums up what the draws gave for one candidate.
func (o *outcomes) risk(fits *risk.Expansion) (*Risk, error) {
	whole := len(o.m.spans)
	all := o.margins()
	least := o.least(all)
	o.leastK = least[whole]
	r := &Risk{Chance: o.chance(least[whole]), MarginK: o.percentiles(least[whole]), TrackC: o.percentiles(o.peaks(atTrack, whole))}
	for l := range o.limits {
		m := all[l][whole]
		r.Limits = append(r.Limits, LimitRisk{
			On: o.limits[l].On, Chance: o.chance(m), MarginK: o.percentiles(m), PeakC: o.percentiles(o.peaks(placeOf(o.limits[l].On), whole)),
		})
	}
	for i := range whole {
		r.Descents = append(r.Descents, DescentRisk{Index: i, TrackC: o.percentiles(o.peaks(atTrack, i)), Chance: o.chance(least[i])})
	}
	if o.err == nil {
		o.err = o.drivers(r, all[r.deciding()][whole], fits)
	}
	return r, o.err
}

// deciding is the limit most likely to be reached, of those as likely the one
// with the least margin in half of the draws.
func (r *Risk) deciding() int {
	worst := 0
	for i, l := range r.Limits {
		w := r.Limits[worst]
		if cmp.Or(cmp.Compare(l.Chance.P, w.Chance.P), cmp.Compare(w.MarginK.P50, l.MarginK.P50)) > 0 {
			worst = i
		}
	}
	return worst
}

// drivers finds on which inputs a margin hangs.
func (o *outcomes) drivers(r *Risk, marginK []float64, fits *risk.Expansion) error {
	fit, err := fits.Fit(marginK)
	if err != nil {
		return err
	}
	var ids []string
	var groups [][]int
	for i, id := range drawInputs() {
		k := slices.Index(ids, id)
		if k < 0 {
			ids, groups = append(ids, id), append(groups, nil)
			k = len(ids) - 1
		}
		groups[k] = append(groups[k], i)
	}
	r.Explained = fit.Explained
	indices, err := fit.Indices(groups)
	if err != nil {
		return err
	}
	for k, x := range indices {
		u, _ := uncertainByID(ids[k])
		r.Drivers = append(r.Drivers, Driver{ID: u.ID, Name: u.Name, First: x.First.Value, FirstSE: x.First.SE, Total: x.Total.Value, TotalSE: x.Total.SE})
	}
	slices.SortStableFunc(r.Drivers, func(a, b Driver) int { return cmp.Compare(b.Total, a.Total) })
	return nil
}

// settle draws the verdict from the risk.
func (r *RimResult) settle() {
	for i, l := range r.Risk.Limits {
		r.Limits[i].Verdict = l.Chance.Verdict()
	}
	r.hangOn(r.Limits[r.Risk.deciding()])
	r.Verdict = r.Risk.Chance.Verdict()
}

// Verdict puts a chance of reaching a limit into a word.
func (c Chance) Verdict() Verdict {
	switch {
	case c.P >= OverChance:
		return Over
	case c.P >= MarginalChance:
		return Marginal
	}
	return Within
}
