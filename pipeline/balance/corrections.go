package balance

import "saltpan/pipeline/quantity"

// Molar masses in g/mol and the ideal molar volume in L/mol (STPD), as gas
// volumes in exercise are reduced to it. With the densities of the real gases
// the part of carbon dioxide is 0.7 % larger.
const (
	gramsPerMoleCO2  = 44.0095
	gramsPerMoleO2   = 31.9988
	litresPerMoleGas = 22.414
)

// mitchell is grams of water per litre of oxygen and mmHg of vapour pressure,
// and breathedOutMmHg the pressure at which it takes air to be breathed out.
const (
	mitchell        = 0.019
	breathedOutMmHg = 44
)

// shortcut is grams of breath water and gas exchange per kilocalorie.
const shortcut = 0.2

// The ends of the table of the nonprotein respiratory quotient: fat alone and
// carbohydrate alone (peronnet1991).
const (
	fatQuotient          = 0.7036
	carbohydrateQuotient = 0.9961
)

// BreathWater is the water breathed out, in g/min, at an oxygen uptake vo2 in
// L/min (STPD) in air whose water vapour has the pressure air:
//
//	0.019 VO2 (44 − Pa), Pa in mmHg
//
// Source: mitchell1972, as later works state it. Linear in VO2, so an amount
// of oxygen in L gives an amount of water in g. Within 7 % of the independent
// table 9-2 of iom1996, which runs from −20 to 25 °C and 100 to 600 W.
func BreathWater(vo2 float64, air quantity.Pressure) float64 {
	return mitchell * vo2 * (breathedOutMmHg - air.MmHg())
}

// GasExchange is the mass of the carbon dioxide breathed out less that of the
// oxygen taken in, in g/min, at an oxygen uptake vo2 in L/min (STPD) and a
// respiratory quotient r:
//
//	VO2 (44.0095 R − 31.9988) / 22.414
//
// It follows from the molar masses and the ideal molar volume. Below R 0.727
// it is negative: on fat the body gains mass. Linear in VO2 as BreathWater.
func GasExchange(vo2, r float64) float64 {
	return vo2 * (gramsPerMoleCO2*r - gramsPerMoleO2) / litresPerMoleGas
}

// MetabolicWater is the water that burning carbohydrate and fat sets free:
//
//	0.60 carbohydrate + 1.09 fat
//
// Source: nap1994 p 88; from the formulas glucose gives 0.600, palmitate 1.124.
func MetabolicWater(carbohydrate, fat quantity.Mass) quantity.Mass {
	return 0.60*carbohydrate + 1.09*fat
}

// Oxygen is the oxygen in L (STPD) behind an energy at a nonprotein
// respiratory quotient r; an energy per minute gives an uptake per minute:
//
//	E / (4.0372 + 1.1563 R),  0.7036 ≤ R ≤ 0.9961
//
// Source: peronnet1991, as later works state it. Outside the range the end of
// the range is taken.
func Oxygen(energy quantity.Energy, r float64) float64 {
	return float64(energy) / (4.0372 + 1.1563*min(max(r, fatQuotient), carbohydrateQuotient))
}

// Shortcut is breath water and gas exchange together, 0.2 g/kcal. It stands
// for both of them: it is their check and never taken off beside them.
//
// Source: cheuvront2017. It agrees with their sum at R 0.90 and 10 mmHg and is
// 0.123 at R 0.85 and 25 mmHg, 0.25 at R 1.00 and 5 mmHg.
func Shortcut(energy quantity.Energy) quantity.Mass {
	return quantity.Grams(shortcut * float64(energy))
}

// oxidised is the carbohydrate and the fat behind an amount of oxygen in L
// (peronnet1991; protein left out).
func oxidised(oxygen, r float64) (carbohydrate, fat quantity.Mass) {
	co2 := r * oxygen
	return quantity.Grams(4.585*co2 - 3.226*oxygen), quantity.Grams(1.695*oxygen - 1.701*co2)
}
