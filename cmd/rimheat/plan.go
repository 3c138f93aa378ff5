package main

import (
	"bytes"
	"context"

	"github.com/spf13/cobra"

	"rimheat/route"
	"rimheat/thermal"
)

func newPlan(s streams) *cobra.Command {
	flags := newFlagLayer()
	o := order{inputs: answers{flags: flags, file: newFlagLayer(), draws: drawsToAsk}}
	const easeName = "ease-kmh"
	c := &cobra.Command{
		Use:   "plan ROUTE.gpx",
		Short: "Plan a descent that a rim survives: cooling stops, and another way to brake",
		Long: `Searches, with one rim, for as few cooling stops as it can find, where the road lets
one stop and see, and how long they must be, so that nineteen of twenty draws stay
within every limit; and for the brake habit, the sharing of the brakes and the cruising
cap, not far from the rider's own, that cool best. Standing cools slowly and lets
heat soak into bed, tape and tube, which the plan counts; where the road is level
it tries rolling to and fro instead. It says so when no plan makes the rim fit.
Inputs are those of assess.`,
		Example: `  rimheat plan ROUTE.gpx --rim alu-classic --rider-kg 68 --air-temp 30
  rimheat plan ROUTE.gpx --rim carbon-mid --rim-limit carbon-mid=170 --ease-kmh 50 --samples 100 --json`,
		Args: oneRoute,
		RunE: func(c *cobra.Command, args []string) error {
			if err := o.take(flags, args[0]); err != nil {
				return err
			}
			easeMps := 0.0
			if v, given := flags.numbers[easeName]; given {
				kmh, err := flags.metric(v, rideSpeed, "km/h", 8, 130, "--"+easeName)
				if err != nil {
					return err
				}
				easeMps = kmh / 3.6
			}
			return plan(c.Context(), s, o, easeMps)
		},
		ValidArgsFunction: completeRoute,
	}
	inputFlags(c, flags, &o)
	forOneRim(c)
	for _, refused := range []string{"replay", stopName} {
		c.Flags().Lookup(refused).Hidden = true
	}
	c.Flags().Var(numberFlag{flags, easeName}, easeName, "fastest cap that the rider is at ease with downhill, 8 to 130 km/h: none faster is proposed (default the own cap)")
	describe(c.Flags(), groupRiding, "N", easeName)
	c.Flags().BoolVar(&o.asJSON, "json", false, "print JSON, always metric")
	describe(c.Flags(), groupOut, "", "json")
	return c
}

// plan does one order.
func plan(ctx context.Context, s streams, o order, easeMps float64) error {
	setup, road, err := o.prepared()
	if err != nil {
		return err
	}
	if o.replay {
		return badInput("--replay has no place in a plan, which changes how the road is ridden").hint("rimheat margins takes replays")
	}
	if len(setup.Style.Pauses) > 0 {
		return badInput("--%s has no place in a plan, which looks for stops itself", stopName).hint("leave it out here, and give the plan's stops to rimheat assess")
	}
	if easeMps > 0 && setup.Style.CapMps > easeMps+1e-9 {
		u := screenUnits{imperial: o.inputs.flags.imperial}
		return badInput("--ease-kmh: the cap that is planned, %s, is faster than %s", u.speed(setup.Style.CapMps), u.speed(easeMps)).hint("plan with a lower --cap-kmh")
	}
	p := newProgress(s.err)
	defer p.done()
	p.at("reading the route ...")
	profile, err := route.Load(o.routePath, s.in, road)
	if err != nil {
		return err
	}
	c, err := thermal.PlanCooling(ctx, profile, setup, easeMps, func(stage string) { p.at(stage + " ...") })
	if err != nil {
		return err
	}
	p.done()
	if o.asJSON {
		b, err := indented(c)
		if err != nil {
			return err
		}
		return write(s, b)
	}
	var b bytes.Buffer
	v := o.screen(s)
	v.coolPlan(&b, c)
	return write(s, b.Bytes())
}
