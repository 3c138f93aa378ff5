// Package ride works out how a planned road is ridden and what the brakes
// must take: the speed at every place, the energy ledger, and the brake duty
// of front and rear wheel over time. Start with NewPlan; Plan.Duty is what
// the rims are heated with. The package does not know what a rim is made of.
//
// The plan obeys three rules. The allowed speed is the least of the rider's
// cruising cap and what the corner's radius allows. A backward pass makes it
// reachable with the rider's comfortable deceleration. A forward pass then
// lets gravity, air, rolling and legs move the bicycle; where they would push
// it past what is allowed, the difference is braking.
package ride
