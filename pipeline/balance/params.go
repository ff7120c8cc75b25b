package balance

import (
	"saltpan/pipeline/cite"
	"saltpan/pipeline/measure"
)

// params is every number from outside that the balance uses.
type params struct {
	nonSweatPerKcal, energyPerKgKm, nonSweatPerHour cite.Param
	scaleOffset, scaleStep                          cite.Param
	floor, drunkFraction, otherFraction             cite.Param
	eatenUnsaid, urineUnsaid, void                  cite.Param
	clothesUnsaid, wrongLink                        cite.Param
	breathFactor, quotient                          cite.Param
	energySpread, uptakeUnsaid, solids              cite.Param
	rest, halfTime, gapFactor                       cite.Param
}

// Params is every parameter of the balance with its source.
func Params() []cite.Param {
	p := parameters()
	return []cite.Param{p.nonSweatPerKcal, p.energyPerKgKm, p.nonSweatPerHour, p.scaleOffset, p.scaleStep,
		p.floor, p.drunkFraction, p.otherFraction, p.eatenUnsaid, p.urineUnsaid, p.void, p.clothesUnsaid, p.wrongLink,
		p.breathFactor, p.quotient, p.energySpread, p.uptakeUnsaid, p.solids, p.rest, p.halfTime, p.gapFactor}
}

func parameters() params {
	p := correctionParams()
	p = withGapParams(withExchangeParams(p))
	p.scaleOffset = cite.New(cite.Param{Name: "balance.scale-offset", U: 0.3, Unit: "kg", Ref: cite.Get("memory"),
		Note: "constant error of a digital home scale; yorkin2013 calls digital scales accurate and gives 0.95 ± 1.9 kg for the zero of dial scales"})
	p.scaleStep = cite.New(cite.Param{Name: "balance.scale-step", Value: 0.1, Unit: "kg", Ref: cite.Get("practice"),
		Note: "step of a scale whose step is not known"})
	p.floor = cite.New(cite.Param{Name: "balance.noted-floor", U: 0.02, Unit: "kg", Ref: cite.Get("practice"),
		Note: "least error of an amount that a person noted, but for an explicit nothing"})
	p.drunkFraction = cite.New(cite.Param{Name: "balance.drunk-fraction", U: 0.05, Unit: "kg/kg", Ref: cite.Get("practice"),
		Note: "error of what was drunk or carried, read off bottles"})
	p.otherFraction = cite.New(cite.Param{Name: "balance.noted-fraction", U: 0.10, Unit: "kg/kg", Ref: cite.Get("memory"),
		Note: "error of food, urine, stool, poured water and clothes as noted"})
	p.eatenUnsaid = cite.New(cite.Param{Name: "balance.eaten-unsaid", U: 0.02, Unit: "kg/h", Ref: cite.Get("memory"),
		Note: "food that a note does not mention: about half a gel an hour"})
	p.urineUnsaid = cite.New(cite.Param{Name: "balance.urine-unsaid", Value: 0.041, U: 0.038, Unit: "kg/h", Ref: cite.Get("rogers1997"),
		Where: "abstract", Note: "13 men over 10.3 h; 97.5 % point 0.115 kg/h; a full bladder emptied between the weigh-ins can be more"})
	p.void = cite.New(cite.Param{Name: "balance.void", Value: 0.3, U: 0.15, Unit: "kg", Ref: cite.Get("memory"),
		Note: "one visit to the toilet of unknown amount"})
	p.clothesUnsaid = cite.New(cite.Param{Name: "balance.clothes-unsaid", U: 0.1, Unit: "kg", Ref: cite.Get("memory"),
		Note: "sweat held in running kit weighed dressed; no measured magnitude was found"})
	p.wrongLink = cite.New(cite.Param{Name: "balance.wrong-link", U: 1, Unit: "kg", Ref: cite.Get("memory"),
		Note: "difference of two weighings of one person that do not belong together; times the doubt about the pair"})
	return p
}

// correctionParams is what leaves the body as breath water and as carbon
// dioxide less oxygen.
func correctionParams() params {
	return params{
		nonSweatPerKcal: cite.New(cite.Param{Name: "balance.nonsweat-per-kcal", Value: shortcut, U: shortcut * 0.5 / measure.K95, Unit: "g/kcal",
			Ref: cite.Get("cheuvront2017"),
			Note: "±50 % at 95 %, over the whole correction: it spans 0.12 g/kcal in hot humid air to 0.25 g/kcal in cold dry air (mitchell1972 " +
				"with gas exchange at R 0.85 to 1.00) and the spread of the energy"}),
		energyPerKgKm: cite.New(cite.Param{Name: "balance.energy-per-kg-km", Value: 1, Unit: "kcal/(kg km)", Ref: cite.Get("margaria1963"),
			Note: "sources span 0.81 to 1.1; that spread is inside balance.nonsweat-per-kcal"}),
		nonSweatPerHour: cite.New(cite.Param{Name: "balance.nonsweat-per-hour", Value: 0.135, U: 0.135 * 0.6 / measure.K95, Unit: "kg/h",
			Ref: cite.Get("mitchell1972"),
			Note: "breath water and gas exchange at 2.5 L/min of oxygen, 105 to 165 g/h from 10 °C 50 % to 35 °C 60 %; ±60 % at 95 %, " +
				"for sports without an energy estimate"}),
	}
}

// withExchangeParams adds what breath water, gas exchange and metabolic water need.
func withExchangeParams(p params) params {
	p.breathFactor = cite.New(cite.Param{Name: "balance.breath-water", Value: 1, U: measure.Uniform(0.07), Unit: "of 0.019 VO2 (44 - Pa) g/min",
		Lo: 1, Hi: 26, RangeUnit: "mmHg", Ref: cite.Get("mitchell1972"),
		Note: "an independent table (iom1996, table 9-2) lies within 7 %, taken as the half width of a rectangle; the upper end of the range is from memory"})
	p.quotient = cite.New(cite.Param{Name: "balance.respiratory-quotient", Value: 0.90, U: 0.03, Unit: "mol/mol",
		Lo: fatQuotient, Hi: carbohydrateQuotient, RangeUnit: "mol/mol", Ref: cite.Get("memory"),
		Note: "seldom measured: 0.85 to 0.95 while running; the ends of the range are those of peronnet1991"})
	p.energySpread = cite.New(cite.Param{Name: "balance.energy-spread", Value: 1, U: 0.10, Unit: "of the energy on foot", Ref: cite.Get("margaria1963"),
		Note: "sources span 0.81 to 1.1 kcal/(kg km); for the water deficit alone"})
	p.uptakeUnsaid = cite.New(cite.Param{Name: "balance.uptake-unsaid", Value: 2.5, U: 2.5 * 0.6 / measure.K95, Unit: "L/min", Ref: cite.Get("memory"),
		Note: "oxygen uptake where neither energy nor distance is known; ±60 % at 95 %, for the water deficit alone"})
	p.solids = cite.New(cite.Param{Name: "balance.food-solids", Value: 0.6, U: measure.Uniform(0.4), Unit: "kg/kg", Ref: cite.Get("memory"),
		Note: "what of the food is not water: fruit 0.2, bars and sweets up to 1; for the water deficit alone"})
	return p
}

// withGapParams adds what sweat between a weigh-in and the start or the stop needs.
func withGapParams(p params) params {
	p.rest = cite.New(cite.Param{Name: "balance.insensible-rate", Value: 0.45 / 24, Unit: "L/h", Ref: cite.Get("iom2005"), Where: "p 83",
		Note: "450 mL a day, 19 g/h, through the skin at rest; its uncertainty is inside balance.gap-sweat"})
	p.halfTime = cite.New(cite.Param{Name: "balance.sweat-half-time", Value: 10, Unit: "min", Ref: cite.Get("memory"),
		Note: "after the stop sweating falls from the session's rate towards that of rest; its uncertainty is inside balance.gap-sweat"})
	p.gapFactor = cite.New(cite.Param{Name: "balance.gap-sweat", Value: 1, U: 0.6 / measure.K95, Unit: "of the sweat in the gaps", Ref: cite.Get("memory"),
		Note: "±60 % at 95 %"})
	return p
}
