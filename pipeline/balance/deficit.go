package balance

import (
	"saltpan/pipeline/measure"
	"saltpan/pipeline/quantity"
	"saltpan/pipeline/record"
)

// deficit is by how much the water in the body fell between the weigh-ins:
//
//	net mass loss + solids eaten − (CO2 − O2) − metabolic water
//
// It follows from the identity of the balance, for all that leaves or enters
// but carbon dioxide, oxygen and solids is water, and burning turns solids into
// gas and water. Stool is counted as water, and water bound to glycogen is no
// store of its own (disputed; see hoffman2018). What water the clothes hold has
// left the body.
func deficit(in Input, p params) measure.Estimate[quantity.Volume] {
	lines, known := bodyMassLoss(in, p)
	if !known {
		return measure.Estimate[quantity.Volume]{}
	}
	energy := energyUsed(in, p)
	r := p.quotient.Value
	burnt := func(r float64) float64 {
		oxygen := Oxygen(energy.Value, r)
		return GasExchange(oxygen, r)/1000 + MetabolicWater(oxidised(oxygen, r)).Kilograms()
	}
	parts := []measure.Term{p.quotient.Estimate().Times(-slope(burnt, r))}
	if energy.Value != 0 {
		parts = append(parts, energy.Times(-burnt(r)/float64(energy.Value)))
	}
	value := quantity.Kilograms(-burnt(r))
	for _, t := range lines {
		value += t.KG.Value
		parts = append(parts, t.KG.Times(1))
	}
	return measure.Combine(method, value.WaterVolume(), parts...)
}

// bodyMassLoss is by how much the body alone got lighter, solids eaten not
// counted, line by line. Out of kit it is known only with what was drunk, for
// that went from the kit into the body.
func bodyMassLoss(in Input, p params) ([]Term, bool) {
	n := in.Note
	out := append([]Term{massLost(in, p)}, clothesWet(in, p)...)
	if weighing(in) == record.Carrying {
		if n.Drunk == nil {
			return nil, false
		}
		out = append(out, carried(n, p)...)
		out = appendNoted(out, "drunk", "drunk out of the kit", n.Drunk, -1, p.drunkFraction, p)
		out = appendNoted(out, "eaten", "eaten out of the kit", n.Eaten, -1, p.otherFraction, p)
	}
	out = appendNoted(out, "clothes-off", "clothes taken off after the first weigh-in", n.ClothesOff, -1, p.otherFraction, p)
	if in.LinkDoubt > 0 {
		out = append(out, linkDoubt(in, p))
	}
	if solids := foodSolids(n, p); solids != nil {
		out = append(out, *solids)
	}
	return out, true
}

// foodSolids is what was eaten and is not water, nil when nothing was said.
func foodSolids(n record.Note, p params) *Term {
	eaten := appendNoted(nil, "eaten", "", n.Eaten, 1, p.otherFraction, p)
	if len(eaten) == 0 {
		return nil
	}
	kg, share := eaten[0].KG, p.solids
	solid := measure.Combine(method, kg.Value*quantity.Mass(share.Value), kg.Times(share.Value), share.Estimate().Times(kg.Value.Kilograms()))
	return &Term{Name: "food-solids", KG: solid, Source: share.Ref.Key}
}

// energyUsed is the session's energy: as given, on foot by the distance, else
// at a usual uptake.
func energyUsed(in Input, p params) measure.Estimate[quantity.Energy] {
	if in.Energy != nil {
		return *in.Energy
	}
	if kcal, known := energyOnFoot(in, p); known {
		return measure.Combine(method, kcal, p.energySpread.Estimate().Times(float64(kcal)))
	}
	perUptake := hours(in.Elapsed) * 60 / Oxygen(1, p.quotient.Value)
	return measure.Combine(method, quantity.Energy(p.uptakeUnsaid.Value*perUptake), p.uptakeUnsaid.Estimate().Times(perUptake))
}
