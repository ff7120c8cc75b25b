package balance

import (
	"math"
	"time"

	"saltpan/pipeline/measure"
	"saltpan/pipeline/quantity"
)

// apart takes the sweat in the gaps out of the sweat between the weigh-ins and
// gives the session's own rate. Before the start it is the insensible rate of
// rest r; after the stop it falls from the session's rate ρ towards r by half
// every half-time, as if ρ held for T and r for the rest of the gaps, L:
//
//	gap = f (r L + ρ T),  T = half-time/ln 2 · (1 − 2^(−gap after/half-time)),  L = gap before + gap after − T
//	ρ elapsed = sweat − gap, so ρ = (sweat − f r L) / (elapsed + f T)
//
// f is 1 ± 60 %. The half-time of 10 min is from memory, r from iom2005 p 83.
func apart(sweat measure.Estimate[quantity.Volume], in Input, p params) (measure.Estimate[quantity.Rate], measure.Estimate[quantity.Volume]) {
	elapsed := in.Elapsed.Hours()
	falling := fallingHours(in.GapAfter, p.halfTime.Value)
	resting := hours(in.GapBefore) + hours(in.GapAfter) - falling
	rho := (sweat.Value.Litres() - p.rest.Value*resting) / (elapsed + falling)
	gap := p.rest.Value*resting + rho*falling
	f, whole := p.gapFactor.Estimate(), elapsed+falling
	rate := measure.Combine(method, quantity.Rate(rho), sweat.Times(1/whole), f.Times(-gap/whole))
	inGaps := measure.Combine(method, quantity.Litres(gap), sweat.Times(falling/whole), f.Times(gap*elapsed/whole))
	return rate, inGaps
}

// fallingHours is the time at the full rate that gives as much as a rate
// falling by half every halfTime minutes over the gap.
func fallingHours(gap time.Duration, halfTime float64) float64 {
	h := halfTime / 60
	return h / math.Ln2 * (1 - math.Exp2(-hours(gap)/h))
}

func hours(d time.Duration) float64 { return max(0, d).Hours() }
