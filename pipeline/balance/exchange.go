package balance

import (
	"fmt"

	"saltpan/pipeline/measure"
	"saltpan/pipeline/quantity"
)

// corrections is breath water and gas exchange: each for itself where energy
// and vapour pressure are known, else both in one by the shortcut. Never both.
func corrections(in Input, p params) []Term {
	if in.Energy == nil || in.Vapour == nil {
		return []Term{nonSweat(in, p)}
	}
	return exchange(*in.Energy, *in.Vapour, p)
}

// exchange is breath water and gas exchange from the oxygen behind an energy.
func exchange(energy measure.Estimate[quantity.Energy], air measure.Estimate[quantity.Pressure], p params) []Term {
	r, oxygen := p.quotient.Value, Oxygen(energy.Value, p.quotient.Value)
	water := func(r float64) float64 { return BreathWater(Oxygen(energy.Value, r), air.Value) / 1000 }
	gas := func(r float64) float64 { return GasExchange(Oxygen(energy.Value, r), r) / 1000 }
	perMmHg := mitchell * oxygen / 1000
	breath := measure.Combine(method, quantity.Kilograms(-water(r)),
		energy.Times(-BreathWater(Oxygen(1, r), air.Value)/1000),
		air.Times(perMmHg/quantity.HectopascalsPerMmHg),
		p.quotient.Estimate().Times(-slope(water, r)),
		p.breathFactor.Estimate().Times(-water(r)))
	if !p.breathFactor.Within(air.Value.MmHg()) {
		breath.Warnings = append(breath.Warnings, measure.Warning{Code: "outside-validity",
			Text: fmt.Sprintf("the equation of breath water is checked from %g to %g mmHg of water vapour, this air has %.1f", p.breathFactor.Lo, p.breathFactor.Hi, air.Value.MmHg())})
	}
	exchanged := measure.Combine(method, quantity.Kilograms(-gas(r)),
		energy.Times(-GasExchange(Oxygen(1, r), r)/1000),
		p.quotient.Estimate().Times(-slope(gas, r)))
	check := fmt.Sprintf("with breath water and gas exchange %.3f kg, by the shortcut of 0.2 g/kcal %.3f kg", water(r)+gas(r), Shortcut(energy.Value))
	return []Term{
		{Name: "breath", KG: breath, role: absent, Source: p.breathFactor.Ref.Key + " peronnet1991",
			Text: fmt.Sprintf("breath water: %.0f kcal, %.0f L of oxygen, vapour %.1f mmHg; %s", energy.Value, oxygen, air.Value.MmHg(), check)},
		{Name: "gas-exchange", KG: exchanged, role: absent, Source: "peronnet1991 " + p.quotient.Ref.Key,
			Text: fmt.Sprintf("carbon dioxide less oxygen at a respiratory quotient of %.2f; %s", r, check)},
	}
}

// slope is the derivative of a smooth function by central difference.
func slope(f func(float64) float64, x float64) float64 {
	const h = 1e-4
	return (f(x+h) - f(x-h)) / (2 * h)
}

// nonSweat is breath water and carbon dioxide less oxygen by the shortcut: 0.2
// g/kcal (cheuvront2017) of the energy, which on foot is 1 kcal per kilogram
// and kilometre (margaria1963) if no better is known, else a rate per hour.
// The mean mass is taken as exact here: a scale 1 kg off changes the term by
// 0.2 g per kilometre.
func nonSweat(in Input, p params) Term {
	perKcal := p.nonSweatPerKcal
	source := perKcal.Ref.Key
	kcal, known := energyOnFoot(in, p)
	switch {
	case in.Energy != nil:
		kcal = in.Energy.Value // its spread lies within that of the shortcut
	case known:
		source += " " + p.energyPerKgKm.Ref.Key
	default:
		return perHourTerm(in, p)
	}
	kg := measure.Combine(method, -Shortcut(kcal), perKcal.Estimate().Times(-float64(kcal)/1000)) // g to kg
	return Term{Name: "non-sweat", KG: kg, Source: source, role: absent,
		Text: fmt.Sprintf("breath water and gas exchange: %.1f g/kcal of %.0f kcal", perKcal.Value, kcal)}
}

// perHourTerm is the correction per hour, without an energy.
func perHourTerm(in Input, p params) Term {
	hours := in.Elapsed.Hours()
	kg := measure.Combine(method, quantity.Kilograms(-hours*p.nonSweatPerHour.Value), p.nonSweatPerHour.Estimate().Times(-hours))
	return Term{Name: "non-sweat", KG: kg, Source: p.nonSweatPerHour.Ref.Key, role: absent,
		Text: fmt.Sprintf("breath water and gas exchange: %.3f h at a usual rate, no energy estimate", hours)}
}

// energyOnFoot is 1 kcal per kilogram and kilometre, false without a distance.
func energyOnFoot(in Input, p params) (quantity.Energy, bool) {
	if !in.Foot || in.Distance == nil || *in.Distance <= 0 {
		return 0, false
	}
	kg := float64(in.Before.Mass+in.After.Mass) / 2
	return quantity.Energy(p.energyPerKgKm.Value * kg * float64(*in.Distance) / 1000), true
}
